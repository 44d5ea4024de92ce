#pragma once
// The table of keyhour bearing.

#include <iosfwd>
#include <string>

#include "keyhour/site/location.hpp"
#include "tell/bearing_document.hpp"

namespace keyhour::cli {

/// "shadow 2, Tue 10 February 2026 12:20 (UTC+00:00): from ..., sun 182 true, 22 degrees high".
[[nodiscard]] std::string in_words(const study::Observation& observation,
                                   const site::Location& location, const study::SunPath& path);

/// @param day  of the proposals, and whether the rest of today alone was looked at
void print_bearing(const tell::BearingReport& report, const site::Location& location,
                   const std::string& day, std::ostream& out);

}  // namespace keyhour::cli
