#pragma once
/// @file
/// The project's sun with somebody else's delta T: for comparison with sources that use their own.

#include "keyhour/sun/geocentric.hpp"
#include "keyhour/sun/time_scales.hpp"

namespace keyhour::sun {

/// The sun at UT1 = t when TT - UT1 is delta_t_s: the stars' moment is shifted, the Earth's turning
/// is not. (The offset of sidereal time moves 0.000002 arcsec a second: left as it is.)
inline ApparentVector sun_with_delta_t(Instant t, double delta_t_s) {
    const Seconds shift{delta_t_s - delta_t(t).count()};
    ApparentVector sun = apparent_vector(t + shift);
    sun.sidereal_turns = apparent_vector(t).sidereal_turns;
    return sun;
}

}  // namespace keyhour::sun
