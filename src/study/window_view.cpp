#include "window_view.hpp"

#include <algorithm>
#include <cmath>

#include "keyhour/study/clean_key.hpp"

namespace keyhour::study {

WindowView window_view(const RoomStudy& study, std::size_t window, std::size_t mark,
                       std::size_t camera) {
    const room::Room& room = study.room();
    const room::Mark& of = room.marks[mark];
    const room::Point3 centre{of.at.x, of.at.y, of.height_m};
    room::Patch opening;
    opening.outlines = {study.scene().corners(window)};
    return {room::key_angle(room, room.cameras[camera], study.scene().middle(window) - centre)
                .in_degrees(),
            room::in_frame(room, room.cameras[camera], opening)};
}

double off_usual_angle(double key_angle_deg) {
    const auto& [least, most] = KeySettings{}.key_angle_deg;
    const double angle = std::abs(key_angle_deg);
    return std::max({0.0, least - angle, angle - most});
}

}  // namespace keyhour::study
