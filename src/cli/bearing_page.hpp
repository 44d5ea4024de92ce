#pragma once
// The page of keyhour bearing: the answer first, details by name.

#include <iosfwd>
#include <string>
#include <vector>

#include "keyhour/site/location.hpp"
#include "tell/bearing_document.hpp"
#include "tell/detail.hpp"

namespace keyhour::cli {

/// Beside the report, what a page needs.
struct BearingPage {
    const tell::BearingReport& report;
    const site::Location& location;
    std::string day;  ///< of the proposals: "today, from now on", "Wed 11 February 2026"
    /// How whoever reads it says what the clock was: with a file of observations in that file.
    std::string observations_file;
    std::vector<std::string> read_back;  ///< the whole of it
    std::vector<std::string> questions;  ///< about the location or an observation
    tell::Details shown;
    std::string show_words;  ///< "observations, shifts, ..."
};

void print_bearing(const BearingPage& page, std::ostream& out);

}  // namespace keyhour::cli
