#include "keyhour/study/bearings.hpp"

#include <cmath>

namespace keyhour::study {
namespace {

room::PlanTurn turned(const room::Room& room, Angle by) {
    return room::PlanTurn{{wrapped_turn(room::plan_bearing(room).from_north + by)}};
}

}  // namespace

Bearings::Bearings(const room::Room& room) : stated{turned(room, {})} {
    constexpr double step_deg = 0.5;
    const double within = room.bearing.within.in_degrees();
    const int steps = static_cast<int>(std::ceil(within / step_deg - 1e-9));
    for (int i = steps; i > 0; --i) {
        const Angle by = Angle::degrees(within * i / steps);
        all.push_back(turned(room, -by));
        all.push_back(turned(room, by));
    }
    all.push_back(stated);
    // Every fourth of them, 2 degrees apart, always with both ends; a pair to each side.
    for (int i = 0; i < steps; i += 4) {
        some.push_back(all[static_cast<std::size_t>(2 * i)]);
        some.push_back(all[static_cast<std::size_t>(2 * i + 1)]);
    }
}

}  // namespace keyhour::study
