#pragma once
/// @file
/// An angle is a type: degrees and radians do not mix, and an altitude is not an azimuth.

#include <cmath>
#include <compare>
#include <numbers>

namespace keyhour {

/// A plane angle of any finite size. Made by a named factory, read by a named getter, so that the
/// unit stands at every use; a bare number is never an angle.
class Angle {
public:
    constexpr Angle() = default;
    /// 1 degree is pi / 180.
    static constexpr Angle degrees(double d) { return Angle{d * (std::numbers::pi / 180)}; }
    /// Kept as it is: reading it back gives the same double.
    static constexpr Angle radians(double r) { return Angle{r}; }
    /// A 3600th of a degree.
    static constexpr Angle arcseconds(double s) { return degrees(s / 3600); }
    [[nodiscard]] constexpr double in_degrees() const { return rad_ * (180 / std::numbers::pi); }
    [[nodiscard]] constexpr double in_radians() const { return rad_; }
    [[nodiscard]] constexpr double in_arcseconds() const { return in_degrees() * 3600; }

    // Sums are not brought back into a turn: see wrapped_turn.
    constexpr Angle operator-() const { return Angle{-rad_}; }
    friend constexpr Angle operator+(Angle a, Angle b) { return Angle{a.rad_ + b.rad_}; }
    friend constexpr Angle operator-(Angle a, Angle b) { return Angle{a.rad_ - b.rad_}; }
    friend constexpr Angle operator*(double k, Angle a) { return Angle{k * a.rad_}; }
    friend constexpr Angle operator/(Angle a, double k) { return Angle{a.rad_ / k}; }
    friend constexpr auto operator<=>(Angle, Angle) = default;

private:
    explicit constexpr Angle(double r) : rad_{r} {}
    double rad_ = 0;  // radians
};

/// Found by the type of their argument: sin(a), not std::sin(a.in_radians()).
inline double sin(Angle a) {
    return std::sin(a.in_radians());
}
inline double cos(Angle a) {
    return std::cos(a.in_radians());
}
inline double tan(Angle a) {
    return std::tan(a.in_radians());
}

/// Height of a direction above the level plane, -90..90 degrees.
struct Altitude {
    Angle above_horizon;  ///< positive upward
    friend constexpr auto operator<=>(Altitude, Altitude) = default;
};

/// Direction in the level plane, clockwise from true north, 0 <= azimuth < 360 degrees.
struct Azimuth {
    Angle from_north;  ///< east is 90 degrees
    friend constexpr auto operator<=>(Azimuth, Azimuth) = default;
};

/// The same direction brought into 0 <= a < 360 degrees. Exact but for the last bit.
[[nodiscard]] inline Angle wrapped_turn(Angle a) noexcept {
    constexpr double turn = 2 * std::numbers::pi;
    const double r = std::fmod(a.in_radians(), turn);
    const double wrapped = r < 0 ? r + turn : r;
    return Angle::radians(wrapped >= turn ? 0 : wrapped);
}

/// The same direction brought into -180 <= a < 180 degrees: a difference of bearings.
[[nodiscard]] inline Angle wrapped_half_turn(Angle a) noexcept {
    return wrapped_turn(a + Angle::degrees(180)) - Angle::degrees(180);
}

}  // namespace keyhour
