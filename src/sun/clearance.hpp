#pragma once
/// @file
/// How far a body stands above an altitude, and when it comes through it: the search that
/// events.cpp makes, on any curve that a callable of Instant gives.

#include <algorithm>
#include <cmath>

#include "keyhour/sun/instant.hpp"

namespace keyhour::sun {

/// How far the sun stands above the altitude asked for, and how fast that grows: au and au a
/// second along the vertical, zero with the altitude.
struct Clearance {
    Instant at;
    double height;
    double rate;

    [[nodiscard]] bool above() const noexcept { return height >= 0; }
};

/// First guess of the root between a and b, which stand on different sides, in seconds after a:
/// exact for a height that swings evenly once in 86,400 s.
/// @pre b.at is less than 86,400 s after a.at
/// @return  anything, or NaN, where a and b are too near for it
[[nodiscard]] double first_guess_s(const Clearance& a, const Clearance& b) noexcept;

/// Can the sun, on the same side at a and b, have been on the other between them? Around its
/// turning point the curve stays inside its tangents; `margin` (au) widens them.
[[nodiscard]] bool may_have_turned(const Clearance& a, const Clearance& b, double margin) noexcept;

/// The root between a and b, which stand on different sides: Newton's steps, kept within the
/// bracket.
template <class Watch>
Instant root(const Watch& watch, Clearance a, Clearance b) noexcept {
    constexpr double enough_s = 1e-3;  // the step after it would be a millionth of it
    const bool rising = b.above();
    Instant t = a.at + Seconds{first_guess_s(a, b)};
    for (int step = 0; step < 60; ++step) {
        if (!(t > a.at && t < b.at)) t = a.at + 0.5 * (b.at - a.at);  // NaN too
        const Clearance now = watch(t);
        (now.above() == rising ? b : a) = now;
        const Seconds move{-now.height / now.rate};
        t = t + move;
        // The ends are in it: a root that is met to the last bit is one of them now.
        const bool inside = t >= a.at && t <= b.at;
        if (inside && std::fabs(move.count()) < enough_s) return t;
        if ((b.at - a.at).count() < enough_s) return b.at;
    }
    return b.at;
}

/// The highest (or lowest) point between a and b, as far as it decides whether the altitude is
/// crossed: the first point found on the other side will do, and none is sought out of reach.
template <class Watch>
Clearance turning_point(const Watch& watch, Clearance a, Clearance b) noexcept {
    constexpr double close_s = 1;  // the sun's height changes by 0.0005 arcsec around the point
    const bool side = a.above();
    Clearance now = a;
    do {
        // The rate's zero by proportion, kept off the ends so that both sides close in.
        const double share = std::clamp(a.rate / (a.rate - b.rate), 0.05, 0.95);
        now = watch(a.at + share * (b.at - a.at));
        if (now.above() != side) break;
        ((now.rate > 0) == (a.rate > 0) ? a : b) = now;
    } while ((b.at - a.at).count() > close_s && may_have_turned(a, b, 0));
    return now;
}

}  // namespace keyhour::sun
