#pragma once
/// @file
/// A location on a date: trees open and close with their leaves.

#include <vector>

#include "keyhour/site/location.hpp"

namespace keyhour::site {

/// Dates over which every tree keeps its state.
struct Season {
    LocalDate first, last;  ///< inclusive
};

/// The stretches of first..last, ascending, without gaps; one where there are no trees.
/// @pre first <= last
[[nodiscard]] std::vector<Season> seasons(const Location& location, LocalDate first,
                                          LocalDate last);

/// The location with its trees standing among the buildings, in the order of `trees` and of kind
/// tree. One that lets direct sun through on the date has no footprint and stands in nobody's way:
/// it keeps its place, so that an index means the same tree all year.
/// @pre the location comes from its file, not from here
[[nodiscard]] Location in_season(const Location& location, LocalDate date);

}  // namespace keyhour::site
