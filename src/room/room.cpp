#include "keyhour/room/room.hpp"

namespace keyhour::room {

double half_size(const Mark& mark) noexcept {
    if (!mark.box_m) return mark.radius_m;
    return std::hypot((*mark.box_m)[0], (*mark.box_m)[1], (*mark.box_m)[2]) / 2;
}

std::string words(const Building& building) {
    return (building.kind == Building::Kind::tree ? "tree " : "building ") + building.name;
}

WallFrame wall_frame(const Ring& floor, std::size_t wall) noexcept {
    const Point2 a = floor[wall], b = floor[(wall + 1) % floor.size()];
    const double width = length(b - a);
    const Point2 d = (1 / width) * (b - a);
    // Walking counter-clockwise the room lies to the left, so outside is to the right; who stands
    // inside and looks out then has the end of the wall at the left hand.
    if (signed_area(floor) > 0) return {b, {-d.x, -d.y}, {d.y, -d.x}, width};
    return {a, d, {-d.y, d.x}, width};
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
