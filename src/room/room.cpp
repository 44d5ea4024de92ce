#include "keyhour/room/room.hpp"

#include "opening_maker.hpp"

namespace keyhour::room {

double half_size(const Mark& mark) noexcept {
    if (!mark.box_m) return mark.radius_m;
    return std::hypot((*mark.box_m)[0], (*mark.box_m)[1], (*mark.box_m)[2]) / 2;
}

std::string words(const Building& building) {
    return (building.kind == Building::Kind::tree ? "tree " : "building ") + building.name;
}

WallFrame wall_frame(const Ring& floor, std::size_t wall) noexcept {
    return wall_frame_of(floor, wall);
}

Azimuth plan_bearing(const Room& room) noexcept {
    const WallFrame frame = wall_frame(room.floor, room.bearing.wall);
    const Angle from_y = Angle::radians(std::atan2(frame.n.x, frame.n.y));
    return {wrapped_turn(room.bearing.faces_true().from_north - from_y)};
}

Azimuth wall_faces(const Room& room, std::size_t wall) noexcept {
    const WallFrame frame = wall_frame(room.floor, wall);
    const Angle from_y = Angle::radians(std::atan2(frame.n.x, frame.n.y));
    return {wrapped_turn(plan_bearing(room).from_north + from_y)};
}

}  // namespace keyhour::room
