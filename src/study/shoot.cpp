#include "keyhour/study/shoot.hpp"

#include <algorithm>
#include <cmath>

#include "keyhour/site/geodesic.hpp"
#include "keyhour/study/visit.hpp"

namespace keyhour::study {
namespace {

site::Coordinates coordinates_of(const ShootPlace& place) {
    const Observer& o = place.location.site.observer;
    return {o.latitude, o.longitude};
}

}  // namespace

std::optional<int> set_up_minutes(const ShootScene& scene, int crew) noexcept {
    if (scene.set_up.empty()) return 0;
    std::optional<int> out;
    for (const site::TaskMinutes& minutes : scene.set_up)
        if (minutes.crew <= crew) out = static_cast<int>(std::ceil(minutes.minutes));
    return out;
}

int move_minutes(const Shoot& shoot, std::size_t from, std::size_t to) {
    if (from == to) return 0;
    for (const ShootMove& move : shoot.moves)
        if ((move.from == from && move.to == to) || (move.from == to && move.to == from))
            return static_cast<int>(move.length.count());
    const double metres =
        site::line_between(coordinates_of(shoot.places[from]), coordinates_of(shoot.places[to]))
            .length_m *
        VisitSettings{}.detour;
    return static_cast<int>(std::ceil(metres / (shoot.rules.speed_kmh / 0.06))) +
           static_cast<int>(shoot.rules.load.count());
}

}  // namespace keyhour::study
