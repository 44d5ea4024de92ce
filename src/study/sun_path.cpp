#include "keyhour/study/sun_path.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace keyhour::study {

std::shared_ptr<const SharedTrack> SharedTrack::make(Instant from, Instant to) {
    auto shared = std::make_shared<SharedTrack>();
    shared->nodes_.resize(sun::Track::nodes_needed(from, to));
    shared->track_ = sun::Track::build(from, to, shared->nodes_);
    if (!shared->track_) return nullptr;
    return shared;
}

SunPath::SunPath(const site::Site& site, std::shared_ptr<const SharedTrack> shared)
    : shared_{std::move(shared)}, place_{site.observer, site.weather}, horizon_{site.horizon} {}

Moment SunPath::at(Instant t) const {
    constexpr double degrees_per_radian = 180 / std::numbers::pi;
    Moment m;
    m.at = t;
    m.toward = place_.direction(shared_->track().vector(t), true);
    m.altitude_deg = std::asin(std::clamp(m.toward.up, -1.0, 1.0)) * degrees_per_radian;
    m.above_skyline_deg = m.altitude_deg;
    if (!horizon_.is_level() && m.altitude_deg > 0) {
        const Angle azimuth =
            wrapped_turn(Angle::radians(std::atan2(m.toward.east, m.toward.north)));
        const Altitude skyline = horizon_.altitude_at({azimuth});
        m.above_skyline_deg -= std::max(0.0, skyline.above_horizon.in_degrees());
    }
    return m;
}

sun::Position SunPath::position(Instant t) const {
    return place_.position(shared_->track().at(t));
}

sun::ApparentVector SunPath::vector(Instant t) const {
    return t >= from() && t <= to() ? shared_->track().vector(t) : sun::apparent_vector(t);
}

std::vector<Moment> SunPath::samples(Instant from, Instant to, Seconds step) const {
    std::vector<Moment> out;
    out.reserve(static_cast<std::size_t>((to - from) / step) + 2);
    for (std::size_t i = 0;; ++i) {
        const Instant t = from + static_cast<double>(i) * step;
        if (t >= to) break;
        out.push_back(at(t));
    }
    out.push_back(at(to));
    return out;
}

}  // namespace keyhour::study
