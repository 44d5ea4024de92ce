#include "keyhour/study/sun_turns.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "radians.hpp"
#include "search_times.hpp"

namespace keyhour::study {
namespace {

struct Knot {
    Instant at;
    double declination;
};

/// The sun's lowest point near t: where the hour angle is pi.
Knot lowest_point(const SunPath& path, Instant t) {
    Knot knot{};
    const double longitude = path.place().observer().longitude.in_radians();
    // The solar day differs from 24 h by half a minute at most, so each step leaves a 2000th part.
    for (int i = 0; i < 3; ++i) {
        const sun::ApparentVector v = path.vector(t);
        const double past =
            std::remainder(2 * pi * (v.sidereal_turns - std::floor(v.sidereal_turns)) + longitude -
                               std::atan2(v.y, v.x) - pi,
                           2 * pi);
        knot = {t, std::atan2(v.z, std::hypot(v.x, v.y))};
        t = t - (past / (2 * pi)) * one_day;
    }
    return {t, knot.declination};
}

/// Coefficients of the cubic through four values at h = -3 pi, -pi, pi, 3 pi.
void fit(double a, double b, double c, double d, double (&out)[4]) {
    const double even = (b + c) / 2, odd = (c - b) / 2;
    const double even_far = (a + d) / 2, odd_far = (d - a) / 2;
    out[2] = (even_far - even) / (8 * pi * pi);
    out[0] = even - out[2] * pi * pi;
    out[3] = (odd_far / 3 - odd) / (8 * pi * pi * pi);
    out[1] = odd / pi - out[3] * pi * pi;
}

}  // namespace

std::vector<SunTurn> sun_turns(const SunPath& path, Instant from, Instant to) {
    // The cubic takes a knot beyond either end of its turn; and days of the sun are not all as
    // long, so that the nearest to half a day before may lie after.
    Knot begin = lowest_point(path, from - 0.5 * one_day);
    if (from < begin.at) begin = lowest_point(path, begin.at - one_day);
    std::vector<Knot> knots{lowest_point(path, begin.at - one_day), begin};
    while (knots.size() < 4 || (knots.end() - 2)->at < to)
        knots.push_back(lowest_point(path, knots.back().at + one_day));
    std::vector<SunTurn> out;
    for (std::size_t i = 0; i + 3 < knots.size(); ++i) {
        const Knot *k = &knots[i], &first = k[1], &second = k[2];
        SunTurn turn;
        turn.begins = first.at;
        fit(k[0].declination, first.declination, second.declination, k[3].declination,
            turn.declination);
        fit((k[0].at - first.at).count(), 0, (second.at - first.at).count(),
            (k[3].at - first.at).count(), turn.time_s);
        constexpr double bulge = 2e-5;  // at a solstice the way rises above both ends
        turn.lowest = std::min(first.declination, second.declination) - bulge;
        turn.highest = std::max(first.declination, second.declination) + bulge;
        out.push_back(turn);
    }
    return out;
}

SkyFrame::SkyFrame(const SunPath& path)
    : weather_{path.place().weather()},
      sin_latitude_{sin(path.place().observer().latitude)},
      cos_latitude_{cos(path.place().observer().latitude)} {
    // Of a body at no distance the place leaves its own offset; the motion counts at 1 au, and
    // `topocentric` takes half of it at none.
    const LevelVector none = path.place().topocentric(sun::ApparentVector{});
    offset_ = {2 * none.east, none.north, none.up};
}

SkyFrame::Height SkyFrame::height(double apparent) const noexcept {
    double airless = apparent;
    for (int i = 0; i < 6; ++i) {
        const double next =
            apparent - sun::refraction(Altitude{Angle::radians(airless)}, weather_).in_radians();
        if (std::abs(next - airless) < 1e-8) break;
        airless = next;
    }
    return {std::sin(airless), std::cos(airless)};
}

SkyFrame::Point SkyFrame::point(double azimuth, const Height& height) const noexcept {
    const double east = height.cosine * std::sin(azimuth) - offset_.east;
    const double north = height.cosine * std::cos(azimuth) - offset_.north;
    const double up = height.sine - offset_.up;
    const double x = cos_latitude_ * up - sin_latitude_ * north;
    const double z = sin_latitude_ * up + cos_latitude_ * north;
    return {std::atan2(-east, x), std::atan2(z, std::hypot(east, x))};
}

}  // namespace keyhour::study
