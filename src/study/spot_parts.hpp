#pragma once
/// @file
/// What the light at a spot and its doubt share.

#include <cmath>

#include "keyhour/site/outlook.hpp"
#include "keyhour/study/sun_path.hpp"

namespace keyhour::study {

inline Azimuth azimuth_of(const LevelVector& v) {
    return {wrapped_turn(Angle::radians(std::atan2(v.east, v.north)))};
}

/// The site seen from the spot, its skyline level: outlooks say what is in the way.
inline site::Site level_site_at(const site::Site& site, const site::Spot& spot) {
    site::Site here = site;
    if (spot.position) {
        here.observer.latitude = spot.position->latitude;
        here.observer.longitude = spot.position->longitude;
    }
    here.horizon = {};
    return here;
}

/// How far the sun stands above what is before it, degrees.
inline double clearance_deg(const Moment& m, const site::Outlook& outlook) {
    return m.altitude_deg -
           outlook.top_at(azimuth_of(m.toward)).altitude.above_horizon.in_degrees();
}

/// Between samples of a spot's light the sun moves half a degree: 8 m at 1 km.
inline constexpr Seconds spot_step{120};
/// The same where things stand near, an eighth: gaps between buildings show it for less.
inline constexpr Seconds near_spot_step{30};

inline Seconds step_over(const site::Outlook& outlook) {
    return outlook.has_things_near() ? near_spot_step : spot_step;
}

}  // namespace keyhour::study
