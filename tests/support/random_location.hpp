#pragma once
/// @file
/// Locations thrown at random, for the clean key: rooms with marks in beams of the sun, over a
/// skyline.

#include "keyhour/site/location.hpp"
#include "keyhour/study/clean_key.hpp"
#include "support/random_room.hpp"

namespace keyhour::test {

inline site::Horizon random_horizon(Dice& dice) {
    std::vector<site::HorizonPoint> points;
    const int n = dice.chance(0.4) ? 0 : dice.whole(1, 9);
    for (int i = 0; i < n; ++i)
        points.push_back({Angle::degrees((i + dice.unit()) * 360 / n),
                          Angle::degrees(dice.chance(0.2) ? 0 : dice.between(0, 15))});
    return site::Horizon{points};
}

/// One in ten near a pole, or at it.
inline Angle random_latitude(Dice& dice) {
    if (!dice.chance(0.1)) return Angle::degrees(dice.between(-80, 80));
    const double pole = dice.chance(0.5) ? 90 : -90;
    return Angle::degrees(pole * dice.between(0.95, 1));
}

/// Any latitude, the poles too; marks in beams of the sun, some with a camera.
inline site::Location random_location(Dice& dice) {
    site::Location location;
    location.site.observer.latitude = random_latitude(dice);
    location.site.observer.longitude = Angle::degrees(dice.between(-180, 180));
    location.site.observer.elevation_m = dice.between(0, 3000);
    location.site.horizon = random_horizon(dice);
    room::Room room = random_room(dice);
    room.bearing.within = Angle::degrees(dice.chance(0.15) ? 0 : dice.between(0.5, 6));
    std::vector<room::Point3> suns;
    for (int i = 0; i < 4; ++i)
        suns.push_back(random_sun(dice, room));
    add_marks(dice, room, 3, suns);
    for (std::size_t mark = 0; mark < room.marks.size(); ++mark) {
        if (dice.chance(0.3)) continue;
        room::Camera camera;
        camera.name = numbered("camera", mark);
        const double angle = dice.between(0, 6.28), away = dice.between(0.5, 3);
        camera.at = room.marks[mark].at + away * room::Point2{std::cos(angle), std::sin(angle)};
        camera.height_m = dice.between(0.3, 2.2);
        camera.aims_at = mark;
        room.cameras.push_back(camera);
    }
    location.room = room;
    return location;
}

inline study::KeySettings random_settings(Dice& dice) {
    study::KeySettings s;
    if (dice.chance(0.5)) return s;
    s.coverage = dice.chance(0.2) ? 0.995 : dice.between(0.3, 0.99);
    if (dice.chance(0.1)) s.coverage = 1;
    s.key_angle_deg[0] = dice.chance(0.3) ? 0 : dice.between(0, 60);
    s.key_angle_deg[1] = dice.chance(0.3) ? 180 : dice.between(70, 180);
    s.altitude_deg[0] = dice.between(0, 15);
    s.altitude_deg[1] = dice.chance(0.3) ? 90 : dice.between(30, 80);
    return s;
}

}  // namespace keyhour::test
