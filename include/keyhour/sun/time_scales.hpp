#pragma once
/// @file
/// From the clock's time scale (UTC, taken as the Earth's turning, UT1) to the planets' (TT).

#include <array>
#include <cstddef>

#include "keyhour/sun/instant.hpp"
#include "keyhour/sun/trigonometry.hpp"

namespace keyhour::sun {

/// From this instant (00:00 UTC of the day named) TAI is ahead of UTC by so many seconds.
struct LeapSecondStep {
    double from_unix_s;
    double tai_minus_utc_s;
};

/// Rows ascend; the last holds until another is announced (IERS Bulletin C: add a row then).
/// Source: IERS Bulletin C and its table of TAI-UTC, as carried by ERFA 2.0.0 (dat.c).
extern const std::array<LeapSecondStep, 28> leap_second_steps;

/// TT - TAI, by definition (IAU 1991).
inline constexpr double tt_minus_tai_s = 32.184;

/// Delta T before the leap seconds: TT - UT1 from polynomials fitted to history.
/// Any t before 1972 gives an answer; the fits are meant for 1800 and later.
/// Error: some 0.1 s after 1900, 1 s before. Where it meets the leap seconds (1972-01-01) it is
/// 0.07 s above them: 0.003 arcsec of the sun.
/// Source: Espenak & Meeus, Five Millennium Canon of Solar Eclipses, NASA/TP-2006-214141 (2006),
/// section 2.5.
[[nodiscard]] Seconds delta_t_before_leap_seconds(Instant t) noexcept;

/// Delta T = TT - UTC (UT1 = UTC is assumed; they differ by less than 0.9 s).
/// Before 1972 the polynomials, from 1972 the leap seconds + 32.184 s.
/// After the last leap second known its value stays, to the end of the years served: clocks are
/// what users type, TT - UTC changes by decree only, and the published extrapolation (93 s in
/// 2050) already exceeds what was observed since by 5 s in 2025. An error of 25 s moves the sun
/// by 1 arcsec among the stars.
[[nodiscard]] inline Seconds delta_t(Instant t) noexcept {
    if (t.unix_s() < leap_second_steps.front().from_unix_s) return delta_t_before_leap_seconds(t);
    std::size_t step = leap_second_steps.size() - 1;
    while (t.unix_s() < leap_second_steps[step].from_unix_s)
        --step;
    return Seconds{leap_second_steps[step].tai_minus_utc_s + tt_minus_tai_s};
}

/// The moment as TT, in seconds since 2000-01-01T12:00 TT (J2000.0).
[[nodiscard]] inline double tt_seconds_since_j2000(Instant t) noexcept {
    constexpr double noon_of_2000_01_01 = 946728000;
    return t.unix_s() - noon_of_2000_01_01 + delta_t(t).count();
}

inline constexpr double seconds_per_day = 86400;
inline constexpr double seconds_per_julian_century = 36525 * seconds_per_day;

/// The Earth's turning since 2000-01-01T12:00 UT1: the Earth rotation angle, in turns, any whole
/// number added. Source: Capitaine, Guinot & McCarthy (2000), A&A 355, 398; IERS Conventions
/// (2010), eq. 5.15.
[[nodiscard]] inline double earth_rotation_turns(Instant t) noexcept {
    const double days = (t.unix_s() - 946728000) * (1 / seconds_per_day);
    // Whole days add whole turns: leaving them out keeps the digits of the rest.
    return fraction_of_turn(days) + (0.7790572732640 + 0.00273781191135448 * days);
}

}  // namespace keyhour::sun
