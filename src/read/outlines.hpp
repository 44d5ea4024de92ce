#pragma once
/// @file
/// Areas and pieces of outlines on the plan, worked out by Clipper to a micrometre.

#include <vector>

#include "keyhour/room/plan.hpp"

namespace keyhour::read {

/// Area inside both outlines, m2.
[[nodiscard]] double shared_area_m2(const room::Ring& first, const room::Ring& second);

/// Area inside the first and outside the second, m2.
[[nodiscard]] double area_outside_m2(const room::Ring& first, const room::Ring& second);

/// An outline with holes as outlines without: cut straight up through the middle of each hole.
/// Together they cover what the whole covers.
[[nodiscard]] std::vector<room::Ring> without_holes(const room::Ring& outer,
                                                    const std::vector<room::Ring>& holes);

}  // namespace keyhour::read
