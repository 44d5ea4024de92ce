#include "keyhour/site/tree.hpp"

#include <cmath>
#include <numbers>

namespace keyhour::site {

bool in_leaf(const Tree& tree, LocalDate date) noexcept {
    const bool wraps = tree.last_leaf < tree.first_leaf;
    const bool begun = date.month() >= tree.first_leaf, goes_on = date.month() <= tree.last_leaf;
    return wraps ? begun || goes_on : begun && goes_on;
}

double opacity_on(const Tree& tree, LocalDate date) noexcept {
    return in_leaf(tree, date) ? tree.opacity : tree.bare_opacity;
}

bool is_closed(const Tree& tree, LocalDate date) noexcept {
    return opacity_on(tree, date) >= closed_from_opacity;
}

room::Ring round_crown(room::Point2 middle, double diameter_m) {
    constexpr int corners = 16;
    constexpr double step = 2 * std::numbers::pi / corners;
    // A regular polygon of n corners has the area n/2 r^2 sin(2 pi / n).
    const double radius =
        diameter_m / 2 * std::sqrt(2 * std::numbers::pi / (corners * std::sin(step)));
    room::Ring ring;
    for (int i = 0; i < corners; ++i)
        ring.push_back(middle + radius * room::Point2{std::cos(i * step), std::sin(i * step)});
    return ring;
}

}  // namespace keyhour::site
