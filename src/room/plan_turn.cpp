#include "keyhour/room/scene.hpp"

namespace keyhour::room {

PlanTurn::PlanTurn(Azimuth bearing_of_y) noexcept
    : sin_{sin(bearing_of_y.from_north)}, cos_{cos(bearing_of_y.from_north)} {}

}  // namespace keyhour::room
