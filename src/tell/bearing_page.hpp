#pragma once
/// @file
/// The page of keyhour bearing: the answer first, details by name.

#include <cstddef>
#include <string>
#include <vector>

#include "keyhour/site/location.hpp"
#include "keyhour/site/units.hpp"
#include "tell/bearing_document.hpp"
#include "tell/detail.hpp"
#include "tell/paragraph.hpp"

namespace keyhour::tell {

/// Beside the report, what a page needs.
struct BearingPage {
    const BearingReport& report;
    const site::Location& location;
    std::string day;  ///< of the proposals: "today, from now on", "Wed 11 February 2026"
    /// How whoever reads it says what the clock was: with a file of observations in that file.
    std::string observations_file;
    std::vector<std::string> read_back;     ///< the whole of it
    std::vector<std::string> questions;     ///< about the location or an observation
    std::vector<std::string> observations;  ///< each in words
    site::Units units = site::Units::metres;
    Details shown;
    std::string show_words;  ///< "observations, shifts, ..."
};

/// @param columns  of the line: its table has more words where there is room
[[nodiscard]] Paragraphs bearing_page(const BearingPage& page, std::size_t columns);

}  // namespace keyhour::tell
