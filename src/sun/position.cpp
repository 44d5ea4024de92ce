#include "keyhour/sun/position.hpp"

#include <cmath>
#include <numbers>

#include "keyhour/sun/time_scales.hpp"
#include "keyhour/sun/trigonometry.hpp"
#include "saemundsson.hpp"

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

double altitude_of(const LevelVector& v) {
    return arctangent(v.up, std::sqrt(v.east * v.east + v.north * v.north));
}

Azimuth azimuth_of(const LevelVector& v) {
    const double a = arctangent(v.east, v.north);
    const double positive = a < 0 ? a + turn : a;
    return {Angle::radians(positive < turn ? positive : 0)};
}

Altitude altitude_angle(double radians) {
    return {Angle::radians(radians)};
}

/// Level frame of a vector in the local meridian's axes: x where meridian and equator meet, y east,
/// z to the pole.
LevelVector levelled(double x, double y, double z, double sin_latitude, double cos_latitude) {
    return {.east = y,
            .north = cos_latitude * z - sin_latitude * x,
            .up = cos_latitude * x + sin_latitude * z};
}

}  // namespace

Angle refraction(Altitude true_altitude, const Weather& weather) noexcept {
    return Angle::radians(
        saemundsson(true_altitude.above_horizon.in_radians(), refraction_factor(weather)));
}

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

LevelVector Place::topocentric(const ApparentVector& sun) const noexcept {
    const auto [s, c] = sine_cosine_of_turns(sun.sidereal_turns + longitude_turns_);
    // The distance, within 0.0002 of itself: r = (1 + r^2) / 2 near 1.
    const double distance = 0.5 + 0.5 * (sun.x * sun.x + sun.y * sun.y + sun.z * sun.z);
    return levelled(c * sun.x + s * sun.y - axis_distance_,
                    c * sun.y - s * sun.x + speed_ * distance, sun.z - equator_distance_,
                    sin_latitude_, cos_latitude_);
}

LevelVector Place::topocentric_rate(const ApparentVector& sun,
                                    const ApparentVector& rate) const noexcept {
    const auto [s, c] = sine_cosine_of_turns(sun.sidereal_turns + longitude_turns_);
    const double x = c * sun.x + s * sun.y, y = c * sun.y - s * sun.x;
    const double turning = rate.sidereal_turns * turn;
    return levelled(c * rate.x + s * rate.y + turning * y, c * rate.y - s * rate.x - turning * x,
                    rate.z, sin_latitude_, cos_latitude_);
}

Horizontal Place::horizontal(const ApparentVector& sun) const noexcept {
    const LevelVector v = topocentric(sun);
    const double altitude = altitude_of(v);
    return {
        .azimuth = azimuth_of(v),
        .true_altitude = altitude_angle(altitude),
        .apparent_altitude = altitude_angle(altitude + saemundsson(altitude, refraction_factor_))};
}

LevelVector Place::direction(const ApparentVector& sun, bool lifted) const noexcept {
    const LevelVector v = topocentric(sun);
    const double level = std::sqrt(v.east * v.east + v.north * v.north);
    const double whole = length(v);
    if (!lifted || level == 0) return {v.east / whole, v.north / whole, v.up / whole};
    const auto [s, c] = sine_cosine(saemundsson(arctangent(v.up, level), refraction_factor_));
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
