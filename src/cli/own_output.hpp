#pragma once
// What an output may take the place of: nothing that a command reads, and nothing that keyhour did
// not write.

#include <optional>
#include <string>
#include <vector>

#include "failure.hpp"

namespace keyhour::cli {

/// Did keyhour write this file, and nobody add to it? An empty file has nothing to lose. All of it
/// is looked at: the beginning and the end of a drawing, a page, a calendar or a PDF ("keyhour
/// light sheet"); every record of CSV under one of keyhour's own heads, as many fields as that has;
/// every line of JSON, which begins with the member "keyhour"; every row of a table.
/// @param torn  the last line may be cut off, as a killed run leaves it
[[nodiscard]] bool is_own_output(const std::string& path, bool torn = false);

/// May this file be written, as far as that shows beforehand? Says why not: it is a folder or lies
/// in none, a run is writing it, it is one of the inputs (whatever `force` says), it was not
/// written by keyhour or belongs to an interrupted run (unless `force`).
/// @param inputs  what the command reads: compared by device and inode, not by name
[[nodiscard]] std::optional<Failure> may_write(const std::string& path, bool force,
                                               const std::vector<std::string>& inputs);

/// The same file, whatever its names? False where one of them is not there.
[[nodiscard]] bool is_same_file(const std::string& a, const std::string& b);

[[nodiscard]] Failure is_an_input(const std::string& path);

}  // namespace keyhour::cli
