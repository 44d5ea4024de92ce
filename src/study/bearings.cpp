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
    constexpr double wide_step_deg = 2;
    const int wide_steps = static_cast<int>(std::ceil(within / wide_step_deg - 1e-9));
    for (int i = wide_steps; i > 0; --i) {
        const Angle by = Angle::degrees(within * i / wide_steps);
        some.push_back(turned(room, -by));
        some.push_back(turned(room, by));
    }
}

}  // namespace keyhour::study
