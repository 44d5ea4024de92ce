#include "keyhour/sun/track.hpp"

#include <array>
#include <cmath>

#include "apparent_place.hpp"
#include "keyhour/sun/trigonometry.hpp"

namespace keyhour::sun {

namespace {

constexpr std::size_t points = TrackNode::degree + 1;

/// Coefficients of Chebyshev's polynomials: [j][k] is that of s^k in T_j.
struct ChebyshevPolynomials {
    std::array<std::array<double, points>, points> coefficient{};

    constexpr ChebyshevPolynomials() {
        coefficient[0][0] = 1;
        coefficient[1][1] = 1;
        for (std::size_t j = 2; j < points; ++j) {  // T_j = 2 s T_(j-1) - T_(j-2)
            for (std::size_t k = 0; k <= j; ++k) {
                coefficient[j][k] =
                    (k > 0 ? 2 * coefficient[j - 1][k - 1] : 0) - coefficient[j - 2][k];
            }
        }
    }
};

constexpr ChebyshevPolynomials chebyshev;

/// cos(j pi (i + 1/2) / points): the j-th polynomial at the i-th of the points.
double chebyshev_at_point(std::size_t j, std::size_t i) {
    return sine_cosine_of_turns(static_cast<double>(j * (2 * i + 1)) / (4.0 * points)).cosine;
}

/// The piece of the track in the middle of which TT is middle_s: interpolation at Chebyshev's
/// points.
TrackNode node_around(double middle_s) {
    std::array<std::array<Pair, 2>, points> value;
    for (std::size_t i = 0; i < points; ++i) {
        const ApparentPlace p =
            apparent_place(middle_s + 0.5 * node_span_s * chebyshev_at_point(1, i));
        value[i][0] = Pair{p.x, p.y};
        value[i][1] = Pair{p.z, p.sidereal_offset};
    }
    TrackNode node;
    for (std::size_t j = 0; j < points; ++j) {
        Pair weight[2] = {};  // of T_j
        for (std::size_t i = 0; i < points; ++i) {
            const double share = (j == 0 ? 1.0 : 2.0) / points * chebyshev_at_point(j, i);
            for (std::size_t q = 0; q < 2; ++q)
                weight[q] += share * value[i][q];
        }
        for (std::size_t k = 0; k <= j; ++k) {
            for (std::size_t q = 0; q < 2; ++q) {
                node.coefficient[k][q] += chebyshev.coefficient[j][k] * weight[q];
            }
        }
    }
    return node;
}

}  // namespace

Track::Track(Instant from, Instant to, std::span<const TrackNode> nodes) noexcept
    : from_{from}, to_{to}, first_tt_s_{tt_seconds_since_j2000(from)}, nodes_{nodes} {}

std::size_t Track::nodes_needed(Instant from, Instant to) noexcept {
    if (!is_served(from) || !is_served(to) || !(from < to)) return 0;
    const double span_s = tt_seconds_since_j2000(to) - tt_seconds_since_j2000(from);
    return static_cast<std::size_t>(std::ceil(span_s / node_span_s));
}

std::optional<Track> Track::build(Instant from, Instant to, std::span<TrackNode> nodes) noexcept {
    const std::size_t needed = nodes_needed(from, to);
    if (needed == 0 || nodes.size() < needed) return std::nullopt;
    const Track track{from, to, nodes.first(needed)};
    for (std::size_t i = 0; i < needed; ++i) {
        nodes[i] = node_around(track.first_tt_s_ + (static_cast<double>(i) + 0.5) * node_span_s);
    }
    return track;
}

ApparentMotion Track::motion(Instant t) const noexcept {
    const auto [node, s] = where(t);
    Pair xy = node->coefficient[TrackNode::degree][0], xy_rate = {};
    Pair z_offset = node->coefficient[TrackNode::degree][1], z_offset_rate = {};
    for (std::size_t k = TrackNode::degree; k-- > 0;) {
        xy_rate = xy_rate * s + xy;
        xy = xy * s + node->coefficient[k][0];
        z_offset_rate = z_offset_rate * s + z_offset;
        z_offset = z_offset * s + node->coefficient[k][1];
    }
    constexpr double per_second = 2 / node_span_s;
    constexpr double earth_rotation = 1.00273781191135448 / seconds_per_day;
    return {
        .at = {xy[0], xy[1], z_offset[0], earth_rotation_turns(t) + z_offset[1]},
        .rate = {xy_rate[0] * per_second, xy_rate[1] * per_second, z_offset_rate[0] * per_second,
                 earth_rotation + z_offset_rate[1] * per_second}};
}

GeocentricSun Track::at(Instant t) const noexcept {
    return as_angles(vector(t), t);
}

void Track::horizontals(const Place& place, Instant first, Seconds step,
                        std::span<Horizontal> out) const noexcept {
    const auto at_step = [&](std::size_t i) {
        return vector(first + static_cast<double>(i) * step);
    };
    std::size_t i = 0;
#ifndef __OPTIMIZE_SIZE__  // where flash is dear, one by one: the digits are the same
    for (; i + 1 < out.size(); i += 2) {
        const auto two = place.horizontals(at_step(i), at_step(i + 1));
        out[i] = two[0];
        out[i + 1] = two[1];
    }
#endif
    for (; i < out.size(); ++i)
        out[i] = place.horizontal(at_step(i));
}

}  // namespace keyhour::sun
