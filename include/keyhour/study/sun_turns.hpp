#pragma once
/// @file
/// The sun's way over a range of dates, turn by turn, in hour angle and declination: there the
/// ways of all days lie side by side, nearly level.

#include <vector>

#include "keyhour/study/sun_path.hpp"

namespace keyhour::study {

/// One turn of the sun, from its lowest to its next lowest: hour angle h from -pi to pi.
struct SunTurn {
    double declination[4];           ///< radians: a cubic in h
    double time_s[4];                ///< after `begins`: a cubic in h
    Instant begins;                  ///< at h = -pi
    double lowest = 0, highest = 0;  ///< declination on the way

    /// @param h  hour angle, -pi..pi
    [[nodiscard]] double declination_at(double h) const noexcept {
        return ((declination[3] * h + declination[2]) * h + declination[1]) * h + declination[0];
    }
    [[nodiscard]] Instant time_at(double h) const noexcept {
        return begins + Seconds{((time_s[3] * h + time_s[2]) * h + time_s[1]) * h + time_s[0]};
    }
};

/// The turns that cover from..to, geocentric; within 0.01 s and 0.1 arcsecond of the path.
[[nodiscard]] std::vector<SunTurn> sun_turns(const SunPath& path, Instant from, Instant to);

/// Turns directions as light goes, over the ground at one site, into geocentric hour angle and
/// declination: air, parallax and the observer's own motion taken off.
class SkyFrame {
public:
    /// @param path  whose observer and weather count
    explicit SkyFrame(const SunPath& path);

    struct Height {
        double sine, cosine;  ///< of the airless altitude
    };
    struct Point {
        double hour_angle;   ///< -pi..pi
        double declination;  ///< radians
    };
    /// @param apparent  altitude, radians
    [[nodiscard]] Height height(double apparent) const noexcept;
    /// @param azimuth  from true north, radians
    [[nodiscard]] Point point(double azimuth, const Height& height) const noexcept;
    /// Sine of the declination, airless and without parallax: for bounds.
    [[nodiscard]] double sine_of_declination(double cosine_of_azimuth,
                                             const Height& h) const noexcept {
        return sin_latitude_ * h.sine + cos_latitude_ * h.cosine * cosine_of_azimuth;
    }

private:
    Weather weather_;
    double sin_latitude_, cos_latitude_;
    LevelVector offset_;  ///< what the observer's place and motion add to a distance of 1
};

}  // namespace keyhour::study
