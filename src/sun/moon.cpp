#include "keyhour/sun/moon.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "apparent_place.hpp"
#include "keyhour/sun/time_scales.hpp"
#include "keyhour/sun/trigonometry.hpp"
#include "moon_terms.hpp"
#include "nutation.hpp"

namespace keyhour::sun {

namespace {

constexpr double full_turn = 2 * std::numbers::pi;
constexpr double degree = std::numbers::pi / 180;
constexpr double metres_per_au = 149597870700.0;  // IAU 2012, resolution B2

/// The moon's radius. Source: IAU/IAG working group on cartographic coordinates.
constexpr double moon_radius_km = 1737.4;

/// Meeus's arguments, in turns: L' (mean longitude, light time of 0.7 arcsec taken off), D, M, M',
/// F. Powers of t that stay below 0.01 arcsec, 1800-2200, are left out.
struct Arguments {
    double longitude, elongation, sun_anomaly, moon_anomaly, latitude_argument;

    explicit Arguments(double t)
        : longitude{in_turns(218.3164477 + t * (481267.88123421 + t * (-0.0015786 + t / 538841)))},
          elongation{in_turns(297.8501921 + t * (445267.1114034 + t * (-0.0018819 + t / 545868)))},
          sun_anomaly{in_turns(357.5291092 + t * (35999.0502909 - t * 0.0001536))},
          moon_anomaly{in_turns(134.9633964 + t * (477198.8675055 + t * (0.0087414 + t / 69699)))},
          latitude_argument{in_turns(93.2720950 + t * (483202.0175233 - t * 0.0036539))} {}

    [[nodiscard]] double of(const lunar::Multiples& m) const {
        return m[0] * elongation + m[1] * sun_anomaly + m[2] * moon_anomaly +
               m[3] * latitude_argument;
    }
    static double in_turns(double degrees) { return degrees / 360; }
};

/// Mean ecliptic and equinox of date.
struct EclipticMoon {
    double longitude, latitude;  // radians
    double distance_m;
};

double sine_of_turns(double turns) {
    return cosine_of_turns(turns - 0.25);
}

/// Terms with the sun's anomaly shrink with the eccentricity of the Earth's path, E (Meeus 47.6).
struct Eccentricity {
    double power[3];
    explicit Eccentricity(double t)
        : power{1, 1 - t * (0.002516 + t * 0.0000074),
                (1 - t * (0.002516 + t * 0.0000074)) * (1 - t * (0.002516 + t * 0.0000074))} {}
    [[nodiscard]] double of(const lunar::Multiples& m) const {
        return power[m[1] < 0 ? -m[1] : m[1]];
    }
};

EclipticMoon ecliptic_moon(double centuries) {
    const double t = centuries;
    const Arguments arguments{t};
    const Eccentricity eccentricity{t};
    const double L = arguments.longitude, F = arguments.latitude_argument,
                 M = arguments.moon_anomaly;
    const double A1 = (119.75 + 131.849 * t) / 360;    // Venus
    const double A2 = (53.09 + 479264.290 * t) / 360;  // Jupiter
    const double A3 = (313.45 + 481266.484 * t) / 360;

    double longitude = 0.003958 * sine_of_turns(A1) + 0.001962 * sine_of_turns(L - F) +
                       0.000318 * sine_of_turns(A2);
    double distance = 385000560;
    for (const lunar::LongitudeTerm& term : lunar::longitude_and_distance) {
        const auto [sine, cosine] = sine_cosine_of_turns(arguments.of(term.of));
        const double e = eccentricity.of(term.of);
        longitude += term.longitude_udeg / 1e6 * e * sine;
        distance += term.distance_m * e * cosine;
    }
    double latitude = -0.002235 * sine_of_turns(L) + 0.000382 * sine_of_turns(A3) +
                      0.000175 * (sine_of_turns(A1 - F) + sine_of_turns(A1 + F)) +
                      0.000127 * sine_of_turns(L - M) - 0.000115 * sine_of_turns(L + M);
    for (const lunar::LatitudeTerm& term : lunar::latitude)
        latitude += term.latitude_udeg / 1e6 * eccentricity.of(term.of) *
                    sine_of_turns(arguments.of(term.of));
    return {fraction_of_turn(L) * full_turn + longitude * degree, latitude * degree, distance};
}

Angle positive_angle(double radians) {
    return wrapped_turn(Angle::radians(radians));
}

double dot(const ApparentVector& a, const ApparentVector& b) {
    return a.x * b.x + a.y * b.y + a.z * b.z;
}

/// Angle between two vectors, 0..pi, exact for small ones too.
double between(const ApparentVector& a, const ApparentVector& b) {
    const double x = a.y * b.z - a.z * b.y, y = a.z * b.x - a.x * b.z, z = a.x * b.y - a.y * b.x;
    return arctangent(std::sqrt(x * x + y * y + z * z), dot(a, b));
}

void add_phase(GeocentricMoon& moon, const ApparentVector& sun, double moon_longitude,
               SineCosine obliquity) {
    const double sun_longitude =
        arctangent(sun.y * obliquity.cosine + sun.z * obliquity.sine, sun.x);
    moon.longitude_from_sun = positive_angle(moon_longitude - sun_longitude);
    moon.elongation = Angle::radians(between(moon.vector, sun));
    const ApparentVector& m = moon.vector;
    const ApparentVector to_earth{-m.x, -m.y, -m.z, 0};
    const ApparentVector to_sun{sun.x - m.x, sun.y - m.y, sun.z - m.z, 0};
    const double phase_angle = between(to_earth, to_sun);
    moon.phase_angle = Angle::radians(phase_angle);
    moon.illuminated_fraction = 0.5 + 0.5 * sine_cosine(phase_angle).cosine;
}

/// Observer to moon, au, airless.
LevelVector topocentric_moon(const Place& place, const ApparentVector& moon) {
    // What the observer sees of a body at the Earth's centre: the way there and, towards the east,
    // the observer's own speed in units of light's.
    const LevelVector centre = place.topocentric(ApparentMotion{}).at;
    const Observer& o = place.observer();
    const auto [s, c] =
        sine_cosine_of_turns(moon.sidereal_turns + o.longitude.in_radians() / full_turn);
    const auto [sin_latitude, cos_latitude] = sine_cosine(o.latitude.in_radians());
    const double x = c * moon.x + s * moon.y, y = c * moon.y - s * moon.x;
    const double distance = std::sqrt(dot(moon, moon));
    return {.east = y + centre.east * distance,
            .north = cos_latitude * moon.z - sin_latitude * x + centre.north,
            .up = cos_latitude * x + sin_latitude * moon.z + centre.up};
}

double norm(const LevelVector& v) {
    return std::sqrt(v.east * v.east + v.north * v.north + v.up * v.up);
}

/// Radians above the level, airless.
double altitude_of(const LevelVector& v) {
    return arctangent(v.up, std::sqrt(v.east * v.east + v.north * v.north));
}

double semi_diameter(double distance_km) {
    return std::asin(moon_radius_km / distance_km);
}

/// How far the moon's upper limb stands above the horizon of the almanacs, radians.
class MoonWatch {
public:
    MoonWatch(const Track& track, const Place& place) noexcept : track_{track}, place_{place} {}

    [[nodiscard]] double operator()(Instant t) const noexcept {
        constexpr double horizontal_refraction = 34 * degree / 60;
        const GeocentricMoon moon = geocentric_moon(t, track_.vector(t));
        const LevelVector v = topocentric_moon(place_, moon.vector);
        return altitude_of(v) + horizontal_refraction +
               semi_diameter(norm(v) * metres_per_au / 1000);
    }

private:
    const Track& track_;
    const Place& place_;
};

struct Sight {
    Instant at;
    double height;
    [[nodiscard]] bool above() const { return height >= 0; }
};

/// Between a and b, which stand on different sides: secant steps kept within the bracket.
Instant crossing(const MoonWatch& watch, Sight a, Sight b) {
    for (int i = 0; i < 60 && (b.at - a.at).count() > 0.1; ++i) {
        const double share = i % 3 == 2 ? 0.5 : a.height / (a.height - b.height);
        const Instant t = a.at + std::clamp(share, 1e-4, 1 - 1e-4) * (b.at - a.at);
        const Sight now{t, watch(t)};
        (now.above() == a.above() ? a : b) = now;
    }
    return b.at;
}

/// The turning point of the parabola through three sights at even steps, if it lies within them.
std::optional<Instant> vertex(const Sight& a, const Sight& b, const Sight& c) {
    const double bend = a.height - 2 * b.height + c.height;
    const double slope = 0.5 * (a.height - c.height);
    if (!(std::fabs(slope) < std::fabs(bend))) return std::nullopt;
    return b.at + slope / bend * (b.at - a.at);
}

}  // namespace

GeocentricMoon geocentric_moon(Instant t, const ApparentVector& sun) noexcept {
    const double centuries = tt_seconds_since_j2000(t) / seconds_per_julian_century;
    const EclipticMoon m = ecliptic_moon(centuries);
    const Nutation n = nutation(centuries);
    const double longitude = m.longitude + n.longitude;
    const SineCosine obliquity = sine_cosine(mean_obliquity(centuries) + n.obliquity);
    const auto [sl, cl] = sine_cosine(longitude);
    const auto [sb, cb] = sine_cosine(m.latitude);
    const double r = m.distance_m / metres_per_au;
    GeocentricMoon moon;
    moon.vector = {r * cb * cl, r * (cb * sl * obliquity.cosine - sb * obliquity.sine),
                   r * (cb * sl * obliquity.sine + sb * obliquity.cosine), sun.sidereal_turns};
    moon.right_ascension = positive_angle(arctangent(moon.vector.y, moon.vector.x));
    moon.declination = Angle::radians(std::asin(moon.vector.z / r));
    moon.distance_km = m.distance_m / 1000;
    add_phase(moon, sun, longitude, obliquity);
    return moon;
}

GeocentricMoon geocentric_moon(Instant t) noexcept {
    return geocentric_moon(t, apparent_vector(t));
}

MoonPosition moon_position(const Place& place, const GeocentricMoon& moon) noexcept {
    const LevelVector v = topocentric_moon(place, moon.vector);
    const Altitude airless{Angle::radians(altitude_of(v))};
    const double distance_km = norm(v) * metres_per_au / 1000;
    return {.azimuth = {positive_angle(arctangent(v.east, v.north))},
            .true_altitude = airless,
            .apparent_altitude = {airless.above_horizon + refraction(airless, place.weather())},
            .semi_diameter = Angle::radians(semi_diameter(distance_km)),
            .distance_km = distance_km};
}

Crossings moon_crossings(const Track& track, const Place& place, Instant from, Instant to,
                         std::span<Crossing> out) noexcept {
    const MoonWatch watch{track, place};
    std::size_t count = 0;
    bool crossed = false;
    const auto note = [&](const Sight& a, const Sight& b) {
        if (a.above() == b.above()) return;
        crossed = true;
        if (count < out.size()) out[count++] = {crossing(watch, a, b), b.above()};
    };
    const Sight first{from, watch(from)};
    constexpr double longest_step_s = 3600;
    const double steps = std::ceil(std::max((to - from).count(), 1.0) / longest_step_s);
    const Seconds step = (to - from) / steps;
    // The sight before the range may lie outside the track: the parabola begins within.
    Sight a = first;
    for (int i = 1; i <= static_cast<int>(steps) && from < to; ++i) {
        const Sight b{from + static_cast<double>(i) * step,
                      watch(from + static_cast<double>(i) * step)};
        // A short visit on the other side: does the curve turn between a and b?
        const Instant middle = a.at + 0.5 * step;
        constexpr double near = 4 * degree;  // an hour's bend of the path, some 2 degrees, and room
        if (a.above() == b.above() && std::fabs(a.height) < near && std::fabs(b.height) < near) {
            const Sight m{middle, watch(middle)};
            const std::optional<Instant> top = vertex(a, m, b);
            const Sight turn_sight = top ? Sight{*top, watch(*top)} : m;
            note(a, turn_sight);
            note(turn_sight, b);
        } else {
            note(a, b);
        }
        a = b;
    }
    const Side kept = first.above() ? Side::always_above : Side::always_below;
    return {count, crossed ? Side::crosses : kept};
}

std::optional<QuarterInstant> next_quarter(Instant t) noexcept {
    if (!is_served(t)) return std::nullopt;
    const double now = geocentric_moon(t).longitude_from_sun.in_degrees();
    const double quarter = std::floor(now / 90) + 1;  // 1..4
    constexpr double synodic_month_s = 29.530588861 * seconds_per_day;
    constexpr double mean_rate = 360 / synodic_month_s;  // degrees a second
    Instant at = t;
    // The true rate stays within a fifth of the mean one: each step leaves a fifth of the error.
    for (int i = 0; i < 13; ++i) {
        if (!is_served(at)) return std::nullopt;
        const Angle ahead = wrapped_half_turn(geocentric_moon(at).longitude_from_sun -
                                              Angle::degrees(quarter * 90));
        at = at - Seconds{ahead.in_degrees() / mean_rate};
    }
    return QuarterInstant{at, static_cast<Quarter>(static_cast<int>(quarter) % 4)};
}

}  // namespace keyhour::sun
