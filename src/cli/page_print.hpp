#pragma once
// The page on paper: printed to PDF by a browser that runs without a window.

#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

#include "failure.hpp"
#include "sheet_folder.hpp"

namespace keyhour::cli {

/// sheet.pdf beside each sheet.html of `files`. Where no browser is at hand, rsvg-convert makes one
/// PDF of the drawings alone, an A4 page each; with neither it is a failure that says so.
/// @param out  gets the names of what was written
/// @param err  is told that the drawings alone were printed
[[nodiscard]] std::optional<Failure> print_pages(const std::string& folder,
                                                 const std::vector<SheetFile>& files, bool force,
                                                 std::ostream& out, std::ostream& err);

}  // namespace keyhour::cli
