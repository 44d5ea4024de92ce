#pragma once
/// @file
/// Where the sun stands for an observer. What a loop over instants calls is defined here, so that
/// it is compiled into the loop.

#include <array>
#include <numbers>

#include "keyhour/sun/geocentric.hpp"
#include "keyhour/sun/observer.hpp"
#include "keyhour/sun/refraction.hpp"
#include "keyhour/sun/trigonometry.hpp"

namespace keyhour::sun {

/// The sun as one observer has it at one instant.
struct Position {
    Azimuth azimuth;             ///< topocentric
    Altitude true_altitude;      ///< topocentric, airless
    Altitude apparent_altitude;  ///< topocentric, lifted by refraction
    Angle right_ascension;       ///< geocentric apparent
    Angle declination;           ///< geocentric apparent
    Angle equation_of_time;      ///< as in GeocentricSun
    Angle angular_diameter;      ///< topocentric
    double distance_au = 0;      ///< geocentric
};

/// Azimuth and altitudes alone: what a search over many instants asks for.
struct Horizontal {
    Azimuth azimuth;                            ///< topocentric, from true north
    Altitude true_altitude, apparent_altitude;  ///< airless; lifted by refraction
};

/// A vector in the observer's level frame and its change a second.
struct LevelMotion {
    LevelVector at;    ///< east, north, up
    LevelVector rate;  ///< a second
};

/// What depends on the observer alone, computed once.
class Place {
public:
    /// @param observer  latitude -90..90 degrees; other figures as they are
    /// @param weather   as for refraction()
    explicit Place(const Observer& observer, const Weather& weather = {}) noexcept;

    [[nodiscard]] const Observer& observer() const noexcept { return observer_; }
    [[nodiscard]] const Weather& weather() const noexcept { return weather_; }

    /// Full position from a geocentric place of the sun.
    [[nodiscard]] Position position(const GeocentricSun& sun) const noexcept;

    /// Unit vector to the sun, airless (lifted = false) or along the refracted ray.
    [[nodiscard]] LevelVector direction(const GeocentricSun& sun,
                                        bool lifted = true) const noexcept;

    /// The same from a vector: faster, for loops.
    [[nodiscard]] LevelVector direction(const ApparentVector& sun,
                                        bool lifted = true) const noexcept;

    /// Azimuth and both altitudes, topocentric.
    [[nodiscard]] Horizontal horizontal(const ApparentVector& sun) const noexcept;

    /// Two at once, for less than the price of two.
    [[nodiscard]] std::array<Horizontal, 2> horizontals(const ApparentVector& one,
                                                        const ApparentVector& two) const noexcept;

    /// Observer to sun's centre, au, airless, the observer's own speed (diurnal aberration)
    /// included. Parallax and the observer's height are those of the WGS 84 ellipsoid.
    [[nodiscard]] LevelVector topocentric(const ApparentVector& sun) const noexcept;

    /// The same and how fast it changes, au a second.
    [[nodiscard]] LevelMotion topocentric(const ApparentMotion& sun) const noexcept;

private:
    // Number: a double, or a Pair of instants side by side.
    template <class Number>
    struct LevelOf {
        Number east, north, up;  // au
    };
    template <class Number>
    struct AnglesOf {
        Number from_north, altitude, lifted;  // radians
    };

    /// Level frame of a vector in the local meridian's axes: x where meridian and equator meet, y
    /// east, z to the pole.
    template <class Number>
    [[nodiscard]] LevelOf<Number> levelled(Number x, Number y, Number z) const noexcept;
    /// The same from the observer's own place, its motion added (diurnal aberration).
    template <class Number>
    [[nodiscard]] LevelOf<Number> seen_from_here(Number x, Number y, Number z,
                                                 Number sidereal_turns) const noexcept;
    template <class Number>
    [[nodiscard]] AnglesOf<Number> angles(const LevelOf<Number>& v) const noexcept;
    [[nodiscard]] static Horizontal as_horizontal(double from_north, double altitude,
                                                  double lifted) noexcept;

    Observer observer_;
    Weather weather_;
    double sin_latitude_ = 0, cos_latitude_ = 1;
    double axis_distance_ = 0, equator_distance_ = 0;  // of the observer, in au
    double speed_ = 0;              // of the observer, eastward, in units of light's
    double longitude_turns_ = 0;    // east positive
    double refraction_factor_ = 1;  // density of the air against the formula's
};

template <class Number>
Place::LevelOf<Number> Place::levelled(Number x, Number y, Number z) const noexcept {
    return {.east = y,
            .north = cos_latitude_ * z - sin_latitude_ * x,
            .up = cos_latitude_ * x + sin_latitude_ * z};
}

template <class Number>
Place::LevelOf<Number> Place::seen_from_here(Number x, Number y, Number z,
                                             Number sidereal_turns) const noexcept {
    const auto [s, c] = sine_cosine_of_turns(sidereal_turns + longitude_turns_);
    // The distance, within 0.0002 of itself: r = (1 + r^2) / 2 near 1.
    const Number distance = 0.5 + 0.5 * (x * x + y * y + z * z);
    return levelled<Number>(c * x + s * y - axis_distance_, c * y - s * x + speed_ * distance,
                            z - equator_distance_);
}

template <class Number>
Place::AnglesOf<Number> Place::angles(const LevelOf<Number>& v) const noexcept {
    const Number level = square_root(v.east * v.east + v.north * v.north);
    const Number altitude = arctangent<Number>(v.up, level);
    return {.from_north = arctangent<Number>(v.east, v.north),
            .altitude = altitude,
            .lifted = altitude + saemundsson<Number>(altitude, v.up, level, refraction_factor_)};
}

inline Horizontal Place::as_horizontal(double from_north, double altitude, double lifted) noexcept {
    constexpr double turn = 2 * std::numbers::pi;
    const double azimuth = from_north < 0 ? from_north + turn : from_north;
    return {.azimuth = {Angle::radians(azimuth < turn ? azimuth : 0)},
            .true_altitude = {Angle::radians(altitude)},
            .apparent_altitude = {Angle::radians(lifted)}};
}

inline LevelVector Place::topocentric(const ApparentVector& sun) const noexcept {
    const auto v = seen_from_here(sun.x, sun.y, sun.z, sun.sidereal_turns);
    return {v.east, v.north, v.up};
}

inline Horizontal Place::horizontal(const ApparentVector& sun) const noexcept {
    const auto a = angles(seen_from_here(sun.x, sun.y, sun.z, sun.sidereal_turns));
    return as_horizontal(a.from_north, a.altitude, a.lifted);
}

inline std::array<Horizontal, 2> Place::horizontals(const ApparentVector& one,
                                                    const ApparentVector& two) const noexcept {
    const auto a = angles(seen_from_here(Pair{one.x, two.x}, Pair{one.y, two.y}, Pair{one.z, two.z},
                                         Pair{one.sidereal_turns, two.sidereal_turns}));
    return {as_horizontal(a.from_north[0], a.altitude[0], a.lifted[0]),
            as_horizontal(a.from_north[1], a.altitude[1], a.lifted[1])};
}

}  // namespace keyhour::sun
