#include "keyhour/sun/events.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "keyhour/sun/trigonometry.hpp"

namespace keyhour::sun {

namespace {

/// How far the sun stands above the altitude asked for, and how fast that grows: au and au a
/// second along the vertical, zero with the altitude.
struct Clearance {
    Instant at;
    double height = 0;
    double rate = 0;

    [[nodiscard]] bool above() const noexcept { return height >= 0; }
};

/// One altitude at one place.
class Watch {
public:
    Watch(const Track& track, const Place& place, Altitude altitude) noexcept
        : track_{track},
          place_{place},
          sine_{sine_cosine(altitude.above_horizon.in_radians()).sine} {}

    [[nodiscard]] Clearance operator()(Instant t) const noexcept {
        const LevelMotion sun = place_.topocentric(track_.motion(t));
        const LevelVector &v = sun.at, &w = sun.rate;
        const double distance = std::sqrt(v.east * v.east + v.north * v.north + v.up * v.up);
        const double receding = (v.east * w.east + v.north * w.north + v.up * w.up) / distance;
        return {t, v.up - sine_ * distance, w.up - sine_ * receding};
    }

private:
    const Track& track_;
    const Place& place_;
    double sine_;
};

constexpr double day_turning_per_s = 2 * std::numbers::pi / seconds_per_day;

/// First guess of the root between a and b, in seconds after a: during a day the height is nearly
/// M + C cos(w t) + S sin(w t), w being a turn a day. The height and rate at a and the height at b
/// give M, C and S.
double first_guess_s(const Clearance& a, const Clearance& b) {
    const double span_s = (b.at - a.at).count();
    const double x = day_turning_per_s * span_s;
    const auto [s, c] = sine_cosine(x);
    const double S = a.rate / day_turning_per_s;
    const double C = (b.height - a.height - S * s) / (c - 1);
    const double M = a.height - C;
    const double swing = std::sqrt(C * C + S * S);
    if (!(std::fabs(M) < swing)) return 0.5 * span_s;
    // M + swing cos(w t - phase) = 0, on the side where it goes the way that b lies from a.
    const double phase = arctangent(S, C);
    const double half = arctangent(std::sqrt(swing * swing - M * M), -M);
    const double angle = b.height > a.height ? phase - half : phase + half;
    const double turns = fraction_of_turn(angle / (2 * std::numbers::pi));
    return (turns < 0 ? turns + 1 : turns) * seconds_per_day;
}

/// The root between a and b, which stand on different sides: Newton's steps, kept within the
/// bracket.
Instant root(const Watch& watch, Clearance a, Clearance b) {
    constexpr double enough_s = 1e-3;  // the step after it would be a millionth of it
    const bool rising = b.above();
    const double guess_s = first_guess_s(a, b);
    Instant t = a.at + Seconds{guess_s};
    for (int step = 0; step < 60; ++step) {
        if (!(t > a.at && t < b.at)) t = a.at + 0.5 * (b.at - a.at);
        const Clearance now = watch(t);
        (now.above() == rising ? b : a) = now;
        const Seconds move{-now.height / now.rate};
        t = t + move;
        const bool inside = t > a.at && t < b.at;
        if (inside && std::fabs(move.count()) < enough_s) return t;
        if ((b.at - a.at).count() < enough_s) return b.at;
    }
    return b.at;
}

/// Can the sun, on the same side at a and b, have been on the other between them? Around its
/// turning point the curve stays inside its tangents; `margin` (au) widens them.
bool may_have_turned(const Clearance& a, const Clearance& b, double margin) {
    const bool towards = a.above() ? a.rate < 0 && b.rate > 0 : a.rate > 0 && b.rate < 0;
    if (!towards) return false;
    const double span_s = (b.at - a.at).count();
    const double meet_s = (b.height - a.height - b.rate * span_s) / (a.rate - b.rate);
    const double reach = a.height + a.rate * meet_s;
    return a.above() ? reach < margin : reach > -margin;
}

/// The highest (or lowest) point between a and b, as far as it decides whether the altitude is
/// crossed: the first point found on the other side will do, and none is sought out of reach.
Clearance turning_point(const Watch& watch, Clearance a, Clearance b) {
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

/// Writes crossings down, as long as there is room, and remembers that there was one.
class Record {
public:
    Record(const Watch& watch, Instant to, std::span<Crossing> out) noexcept
        : watch_{watch}, last_s_{std::nextafter(to.unix_s(), -1e300)}, out_{out} {}

    /// One crossing between a and b, if they stand on different sides.
    void between(const Clearance& a, const Clearance& b) noexcept {
        if (a.above() == b.above()) return;
        crossed_ = true;
        if (count_ == out_.size()) return;
        const double at_s = root(watch_, a, b).unix_s();
        out_[count_++] = {Instant::from_unix_s(std::min(at_s, last_s_)), b.above()};
    }

    [[nodiscard]] std::size_t count() const noexcept { return count_; }
    [[nodiscard]] bool crossed() const noexcept { return crossed_; }

private:
    const Watch& watch_;
    double last_s_;  // the last instant before `to`
    std::span<Crossing> out_;
    std::size_t count_ = 0;
    bool crossed_ = false;
};

/// Distance of the samples between which one turning point is looked for. Near a pole the year's
/// climb rivals the day's swing and two turning points can come close together.
double sample_step_s(const Place& place) {
    const bool polar = std::fabs(place.observer().latitude.in_degrees()) > 88.8;
    return polar ? 3600 : 6 * 3600;
}

/// Local hour angle of the sun, in turns, -0.5..0.5.
double hour_angle_turns(const Track& track, double longitude_turns, Instant t) {
    const ApparentVector sun = track.vector(t);
    const double ascension = arctangent(sun.y, sun.x) * (0.5 / std::numbers::pi);
    return fraction_of_turn(sun.sidereal_turns + longitude_turns - ascension);
}

}  // namespace

Crossings crossings(const Track& track, const Place& place, Altitude altitude, Instant from,
                    Instant to, std::span<Crossing> out) noexcept {
    const Watch watch{track, place, altitude};
    Record record{watch, to, out};
    const Seconds step{sample_step_s(place)};
    constexpr double margin = 1e-3;  // 0.06 degree
    const Clearance first = watch(from);
    for (Clearance a = first; a.at < to;) {
        const Clearance b = watch(std::min(a.at + step, to));
        if (a.above() == b.above() && may_have_turned(a, b, margin)) {
            const Clearance turn = turning_point(watch, a, b);
            record.between(a, turn);
            record.between(turn, b);
        } else {
            record.between(a, b);
        }
        a = b;
    }
    const Side kept = first.above() ? Side::always_above : Side::always_below;
    return {record.count(), record.crossed() ? Side::crosses : kept};
}

std::size_t transits(const Track& track, const Place& place, Instant from, Instant to,
                     std::span<Instant> out) noexcept {
    const double longitude_turns =
        place.observer().longitude.in_radians() * (0.5 / std::numbers::pi);
    const double at_start = hour_angle_turns(track, longitude_turns, from);
    const double ahead = at_start > 0 ? 1 - at_start : -at_start;  // turns until the first
    std::size_t count = 0;
    Instant guess = from + Seconds{ahead * seconds_per_day};
    while (count < out.size()) {
        // The hour angle grows by one turn a day within 30 s: each step leaves 0.0004 of its error.
        for (int step = 0; step < 3; ++step) {
            guess =
                guess - Seconds{hour_angle_turns(track, longitude_turns, guess) * seconds_per_day};
        }
        if (!(guess < to)) break;
        out[count++] = std::max(guess, from);
        guess = guess + Seconds{seconds_per_day};
    }
    return count;
}

}  // namespace keyhour::sun
