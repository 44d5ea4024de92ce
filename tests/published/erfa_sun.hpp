#pragma once
/// @file
/// The reference: the sun by ERFA's full models, with no code of the project's own.
///
/// Earth: epv00 (VSOP2000 shortened, Moisson & Bretagnon 2001; within 0.005 arcsec of DE405,
/// 1900-2100). Axis: IAU 2006 precession with IAU 2000A nutation (X, Y series). Apparent place for
/// the observer by apco (the observer's own place and speed), ab (aberration), atioq (horizon).
/// UT1 = UTC, no polar motion, no air.

#include <erfa.h>
#include <erfam.h>

#include <array>
#include <cmath>

#include "keyhour/sun/instant.hpp"
#include "keyhour/sun/observer.hpp"

namespace erfa_sun {

constexpr double unix_epoch_jd = 2440587.5;

/// Unit vector to the sun, east, north, up.
using Direction = std::array<double, 3>;

struct Sight {
    Direction direction;
    double hour_angle_rad;  ///< local, west positive, -pi..pi
    double declination_rad;
    double distance_au;

    [[nodiscard]] double altitude_rad() const { return std::asin(direction[2]); }
};

/// @param delta_t_s  TT - UT1
inline Sight sight(keyhour::Instant t, double delta_t_s, const keyhour::Observer& observer) {
    const double ut_day = t.unix_s() / ERFA_DAYSEC;
    const double tt_day = ut_day + delta_t_s / ERFA_DAYSEC;
    double earth_helio[2][3], earth_bary[2][3];
    eraEpv00(unix_epoch_jd, tt_day, earth_helio, earth_bary);
    double x, y;
    eraXy06(unix_epoch_jd, tt_day, &x, &y);
    eraASTROM astrom;
    eraApco(unix_epoch_jd, tt_day, earth_bary, earth_helio[0], x, y,
            eraS06(unix_epoch_jd, tt_day, x, y), eraEra00(unix_epoch_jd, ut_day),
            observer.longitude.in_radians(), observer.latitude.in_radians(), observer.elevation_m,
            0, 0, 0, 0, 0, &astrom);

    // The sun where it was one light time ago, from the observer.
    double earlier_helio[2][3], earlier_bary[2][3];
    const double light_day = astrom.em * ERFA_AULT / ERFA_DAYSEC;
    eraEpv00(unix_epoch_jd, tt_day - light_day, earlier_helio, earlier_bary);
    double from_observer[3];
    for (int i = 0; i < 3; ++i) {
        from_observer[i] = earlier_bary[0][i] - earlier_helio[0][i] - astrom.eb[i];
    }
    double distance, unit[3], aberrated[3], intermediate[3];
    eraPn(from_observer, &distance, unit);
    eraAb(unit, astrom.v, astrom.em, astrom.bm1, aberrated);
    eraRxp(astrom.bpn, aberrated, intermediate);
    double ri, di, azimuth, zenith_distance, hour_angle, declination, ascension;
    eraC2s(intermediate, &ri, &di);
    eraAtioq(ri, di, &astrom, &azimuth, &zenith_distance, &hour_angle, &declination, &ascension);
    return {{std::sin(zenith_distance) * std::sin(azimuth),
             std::sin(zenith_distance) * std::cos(azimuth), std::cos(zenith_distance)},
            hour_angle,
            declination,
            distance};
}

/// Delta T by ERFA's own conversion of UTC (before 1960: TAI = UTC).
inline double delta_t_s(keyhour::Instant t) {
    double tai1, tai2, tt1, tt2;
    const double day = t.unix_s() / ERFA_DAYSEC;
    eraUtctai(unix_epoch_jd, day, &tai1, &tai2);
    eraTaitt(tai1, tai2, &tt1, &tt2);
    return ((tt1 - unix_epoch_jd) + (tt2 - day)) * ERFA_DAYSEC;
}

}  // namespace erfa_sun
