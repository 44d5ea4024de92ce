#include "keyhour/site/horizon.hpp"

#include <algorithm>

namespace keyhour::site {

Horizon::Horizon(std::vector<HorizonPoint> points) : points_{std::move(points)} {
    for (HorizonPoint& p : points_)
        p.bearing = wrapped_turn(p.bearing);
    std::sort(points_.begin(), points_.end(),
              [](const HorizonPoint& a, const HorizonPoint& b) { return a.bearing < b.bearing; });
}

Altitude Horizon::altitude_at(Azimuth azimuth) const noexcept {
    if (points_.empty()) return {};
    const Angle bearing = wrapped_turn(azimuth.from_north);
    const auto after =
        std::upper_bound(points_.begin(), points_.end(), bearing,
                         [](Angle b, const HorizonPoint& p) { return b < p.bearing; });
    const HorizonPoint& right = after == points_.end() ? points_.front() : *after;
    const HorizonPoint& left = after == points_.begin() ? points_.back() : *(after - 1);
    const Angle span = wrapped_turn(right.bearing - left.bearing);
    if (!(span > Angle{})) return {left.altitude};  // a single point: the same all round
    const double k = wrapped_turn(bearing - left.bearing).in_radians() / span.in_radians();
    return {left.altitude + k * (right.altitude - left.altitude)};
}

}  // namespace keyhour::site
