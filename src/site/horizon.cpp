#include "keyhour/site/horizon.hpp"

#include <algorithm>

#include "skyline_of.hpp"

namespace keyhour::site {

Horizon::Horizon(std::vector<HorizonPoint> points) : points_{std::move(points)} {
    for (HorizonPoint& p : points_)
        p.bearing = wrapped_turn(p.bearing);
    std::sort(points_.begin(), points_.end(),
              [](const HorizonPoint& a, const HorizonPoint& b) { return a.bearing < b.bearing; });
}

Altitude Horizon::altitude_at(Azimuth azimuth) const noexcept {
    return skyline_of(points_, azimuth);
}

}  // namespace keyhour::site
