#include "keyhour/sun/geocentric.hpp"

#include <cmath>
#include <numbers>

#include "apparent_place.hpp"
#include "keyhour/sun/time_scales.hpp"
#include "keyhour/sun/trigonometry.hpp"

namespace keyhour::sun {

namespace {

constexpr double two_pi = 2 * std::numbers::pi;

/// The angle of so many turns, in 0..360 degrees.
Angle angle_of_turns(double turns) {
    const double f = fraction_of_turn(turns);
    const double positive = f < 0 ? f + 1 : f;
    return Angle::radians(positive < 1 ? positive * two_pi : 0);
}

}  // namespace

ApparentVector apparent_vector(Instant t) noexcept {
    const ApparentPlace place = apparent_place(tt_seconds_since_j2000(t));
    return {place.x, place.y, place.z, earth_rotation_turns(t) + place.sidereal_offset};
}

GeocentricSun as_angles(const ApparentVector& sun, Instant t) noexcept {
    const double across2 = sun.x * sun.x + sun.y * sun.y;
    const double ascension = arctangent(sun.y, sun.x) / two_pi;
    // Hour angle at Greenwich is apparent solar time less 12 h; UTC counts mean solar time.
    const double mean_time = (t.unix_s() - 12 * 3600) / seconds_per_day;
    return {.right_ascension = angle_of_turns(ascension),
            .declination = Angle::radians(arctangent(sun.z, std::sqrt(across2))),
            .distance_au = std::sqrt(across2 + sun.z * sun.z),
            .sidereal_time = angle_of_turns(sun.sidereal_turns),
            .equation_of_time = Angle::radians(
                two_pi * fraction_of_turn(sun.sidereal_turns - ascension - mean_time))};
}

ApparentVector as_vector(const GeocentricSun& sun) noexcept {
    const auto [sin_a, cos_a] = sine_cosine(sun.right_ascension.in_radians());
    const auto [sin_d, cos_d] = sine_cosine(sun.declination.in_radians());
    return {sun.distance_au * cos_d * cos_a, sun.distance_au * cos_d * sin_a,
            sun.distance_au * sin_d, sun.sidereal_time.in_radians() / two_pi};
}

GeocentricSun geocentric_sun(Instant t) noexcept {
    return as_angles(apparent_vector(t), t);
}

}  // namespace keyhour::sun
