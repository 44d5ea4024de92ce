#include "keyhour/sun/events.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "clearance.hpp"
#include "keyhour/sun/trigonometry.hpp"

namespace keyhour::sun {

namespace {

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
        // au^2 a second, as good as au: the distance is 1 within 2 %, and receding slow.
        const double receding = v.east * w.east + v.north * w.north + v.up * w.up;
        return {t, v.up - sine_ * distance, w.up - sine_ * receding};
    }

private:
    const Track& track_;
    const Place& place_;
    double sine_;
};

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
