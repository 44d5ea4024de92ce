#pragma once
/// @file
/// A tree outside: an upright prism that lets more light through when its leaves are gone.

#include <optional>
#include <string>

#include "keyhour/room/plan.hpp"
#include "keyhour/site/zone.hpp"

namespace keyhour::site {

/// Share of light that a crown in leaf keeps back, and a bare one, unless the file says otherwise.
/// Common practice, no source.
inline constexpr double usual_opacity = 0.8, usual_bare_opacity = 0.3;

/// From this opacity on a tree counts as closed: it stops direct sun as a building does. Below it
/// direct sun passes, weakened. A judgement of this project, no source; the read-back says it.
inline constexpr double closed_from_opacity = 0.5;

struct Tree {
    std::string name;
    room::Ring footprint;                      ///< of the crown, on the plan
    double height_m = 0;                       ///< above the ground
    double opacity = usual_opacity;            ///< in leaf, 0..1: the share of light kept back
    double bare_opacity = usual_bare_opacity;  ///< without leaves, 0..1
    /// First and last month in leaf, both counted whole; over the new year where last < first.
    date::month first_leaf{1}, last_leaf{12};
    std::optional<double> within_m{};  ///< of its place, each way on the plan; nothing: the usual
};

[[nodiscard]] bool in_leaf(const Tree& tree, LocalDate date) noexcept;

/// The share of light that it keeps back on the date, 0..1.
[[nodiscard]] double opacity_on(const Tree& tree, LocalDate date) noexcept;

/// Does it stop direct sun on the date?
[[nodiscard]] bool is_closed(const Tree& tree, LocalDate date) noexcept;

/// A round crown as a polygon of equal area with sixteen corners, so that neither its shadow's
/// width nor its area is off by more than 2 %.
/// @param diameter_m  above 0
[[nodiscard]] room::Ring round_crown(room::Point2 middle, double diameter_m);

}  // namespace keyhour::site
