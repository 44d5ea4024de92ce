#pragma once
/// @file
/// How far a compass needle points away from true north.

#include <optional>
#include <string>
#include <tl/expected.hpp>

#include "keyhour/sun/observer.hpp"

namespace keyhour::site {

/// Years for which the World Magnetic Model 2025 holds: first <= year < last.
inline constexpr double magnetic_first_year = 2025.0;
inline constexpr double magnetic_last_year = 2030.0;

/// Horizontal strength of the field below which a compass needs care, or is useless, in nT
/// (blackout and caution zones of the WMM2025 technical report, as quoted in public repositories).
inline constexpr double compass_careful_below_nt = 6000;
inline constexpr double compass_useless_below_nt = 2000;

struct MagneticField {
    Angle declination;  ///< of the needle from true north, east positive, -180..180 degrees
    double horizontal_nt = 0;
    double north_nt = 0, east_nt = 0, down_nt = 0;
    /// One standard deviation of the declination, local steel not included: WMM2025 technical
    /// report, equation 43, as quoted in public repositories.
    Angle uncertainty;
    [[nodiscard]] bool compass_useless() const { return horizontal_nt < compass_useless_below_nt; }
    [[nodiscard]] bool compass_needs_care() const {
        return horizontal_nt < compass_careful_below_nt;
    }
};

/// The field of the World Magnetic Model 2025 at an observer, within 0.001 nT of the model.
/// @param decimal_year  2026.5 is the middle of 2026
/// @return the field, or a message when the model does not hold for the year
[[nodiscard]] tl::expected<MagneticField, std::string> magnetic_field(const Observer& observer,
                                                                      double decimal_year);

/// Add this to a magnetic bearing to get a true one.
/// @return the declination, or a message: year not served, or the field too weak for a compass
[[nodiscard]] tl::expected<Angle, std::string> declination(const Observer& observer,
                                                           double decimal_year);

/// A year's drift of the declination from the model beyond its years, one standard deviation: a
/// judgement of this project, as the model's own rate is still applied up to its last year.
inline constexpr Angle drift_a_year = Angle::degrees(0.1);
/// So many years to either side of its own the model still serves, with a warning.
inline constexpr double magnetic_years_beyond = 5;

/// What turns a compass reading into a true bearing.
struct CompassCorrection {
    Angle declination;  ///< add this to the reading; east positive
    Angle uncertainty;  ///< one standard deviation, local steel not included
    std::optional<std::string> warning;
};

/// The correction for a reading of any year near the model's: outside its five years that of the
/// nearest, with a warning; where the field is weak, with another.
/// @return the correction, or a message: year too far off, or the field too weak for a compass
[[nodiscard]] tl::expected<CompassCorrection, std::string> compass_correction(
    const Observer& observer, double decimal_year);

}  // namespace keyhour::site
