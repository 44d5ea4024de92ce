#include "keyhour/sun/position.hpp"

#include <cmath>
#include <numbers>

#include "keyhour/sun/time_scales.hpp"
#include "keyhour/sun/trigonometry.hpp"

namespace keyhour::sun {

namespace {

constexpr double turn = 2 * std::numbers::pi;
constexpr double au_m = 149597870700.0;  // IAU 2012, resolution B2
constexpr double light_time_s = au_m / 299792458.0;

/// Source: WGS 84, NIMA TR8350.2 (2000), table 3.1.
constexpr double equatorial_radius_m = 6378137.0, flattening = 1 / 298.257223563;
constexpr double earth_rotation_per_s = 7.292115e-5;  // radians

/// The sun's semi-diameter at 1 au. Source: Auwers (1891), as the almanacs use it.
constexpr double semi_diameter_at_1_au = Angle::arcseconds(959.63).in_radians();

double length(const LevelVector& v) {
    return std::sqrt(v.east * v.east + v.north * v.north + v.up * v.up);
}

double level_length(const LevelVector& v) {
    return std::sqrt(v.east * v.east + v.north * v.north);
}

}  // namespace

Place::Place(const Observer& observer, const Weather& weather) noexcept
    : observer_{observer},
      weather_{weather},
      longitude_turns_{observer.longitude.in_radians() / turn},
      refraction_factor_{refraction_factor(weather)} {
    const auto [s, c] = sine_cosine(observer.latitude.in_radians());
    sin_latitude_ = s;
    cos_latitude_ = c;
    constexpr double e2 = flattening * (2 - flattening);
    const double normal_m = equatorial_radius_m / std::sqrt(1 - e2 * s * s);
    axis_distance_ = (normal_m + observer.elevation_m) * c / au_m;
    equator_distance_ = ((1 - e2) * normal_m + observer.elevation_m) * s / au_m;
    speed_ = earth_rotation_per_s * axis_distance_ * light_time_s;
}

LevelMotion Place::topocentric(const ApparentMotion& sun) const noexcept {
    const auto [s, c] = sine_cosine_of_turns(sun.at.sidereal_turns + longitude_turns_);
    const double x = c * sun.at.x + s * sun.at.y, y = c * sun.at.y - s * sun.at.x;
    const double turning = turn * sun.rate.sidereal_turns;  // radians a second
    // Diurnal aberration: within 2 % of itself at distance 1.
    const auto at = levelled(x - axis_distance_, y + speed_, sun.at.z - equator_distance_);
    const auto rate = levelled(c * sun.rate.x + s * sun.rate.y + turning * y,
                               c * sun.rate.y - s * sun.rate.x - turning * x, sun.rate.z);
    return {{at.east, at.north, at.up}, {rate.east, rate.north, rate.up}};
}

LevelVector Place::direction(const ApparentVector& sun, bool lifted) const noexcept {
    const LevelVector v = topocentric(sun);
    const double level = level_length(v);
    const double whole = length(v);
    if (!lifted || level == 0) return {v.east / whole, v.north / whole, v.up / whole};
    const auto [s, c] =
        sine_cosine(saemundsson(arctangent(v.up, level), v.up, level, refraction_factor_));
    const double kept = (level * c - v.up * s) / (level * whole);  // of the level part
    return {v.east * kept, v.north * kept, (v.up * c + level * s) / whole};
}

LevelVector Place::direction(const GeocentricSun& sun, bool lifted) const noexcept {
    return direction(as_vector(sun), lifted);
}

Position Place::position(const GeocentricSun& sun) const noexcept {
    const ApparentVector vector = as_vector(sun);
    const Horizontal h = horizontal(vector);
    const double semi_diameter = semi_diameter_at_1_au / length(topocentric(vector));
    return {.azimuth = h.azimuth,
            .true_altitude = h.true_altitude,
            .apparent_altitude = h.apparent_altitude,
            .right_ascension = sun.right_ascension,
            .declination = sun.declination,
            .equation_of_time = sun.equation_of_time,
            .angular_diameter = Angle::radians(2 * semi_diameter),
            .distance_au = sun.distance_au};
}

}  // namespace keyhour::sun
