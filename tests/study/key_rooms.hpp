#pragma once
/// @file
/// Rooms that the recorded answers of keys are asked of: the examples, rooms thrown at random, and
/// plain ones with one thing more.

#include <string>
#include <utility>

#include "flax_road.hpp"
#include "support/random_location.hpp"
#include "worked_room.hpp"

namespace keyhour::study {

/// A location of the examples by the path of its file, without the ending.
inline site::Location example(const std::string& name) {
    auto read = read::read_location(KEYHOUR_LOCATIONS "/" + name + ".toml");
    if (!read) throw std::runtime_error{name + " is not sound"};
    return *std::move(read);
}

/// A room thrown at random, with settings and a date.
struct ThrownRoom {
    site::Location location;
    KeySettings settings;
    site::LocalDate date;  ///< on which it is asked about

    explicit ThrownRoom(int seed) : date{date::year{2026} / (1 + seed % 12) / (1 + seed * 7 % 28)} {
        test::Dice dice{static_cast<std::uint64_t>(seed)};
        location = test::random_location(dice);
        settings = test::random_settings(dice);
    }
};

/// The worked room behind two walls with a gap between them, 30 m high, ten metres out and straight
/// out from the window's middle: at each bearing the sun comes through at another time.
inline site::Location behind_gap(double gap_m, double within_deg, double faces_deg = 240) {
    WorkedRoom worked;
    worked.radius_m = 0.01;
    worked.faces_deg = faces_deg;
    worked.within_deg = within_deg;
    site::Location l = worked.location();
    const auto wall = room::wall_frame(l.room->floor, 0);
    for (const double side : {-1.0, 1.0}) {
        const auto at = [&](double aside, double out) {
            return wall.left_corner + (3 + side * (gap_m / 2 + aside)) * wall.u +
                   (10 + out) * wall.n;
        };
        l.room->buildings.push_back(
            {side < 0 ? "left" : "right", {at(0, 0), at(40, 0), at(40, 0.05), at(0, 0.05)}, 60});
    }
    return l;
}

/// A skyline as high all round.
inline site::Horizon rim(double altitude_deg) {
    return site::Horizon{{{Angle::degrees(0), Angle::degrees(altitude_deg)},
                          {Angle::degrees(180), Angle::degrees(altitude_deg)}}};
}

inline site::Horizon skyline(const std::vector<std::pair<double, double>>& points_deg) {
    std::vector<site::HorizonPoint> points;
    for (const auto& [bearing, altitude] : points_deg)
        points.push_back({Angle::degrees(bearing), Angle::degrees(altitude)});
    return site::Horizon{points};
}

inline KeySettings all_angles(double coverage = 0.95) {
    KeySettings s;
    s.coverage = coverage;
    s.key_angle_deg[0] = 0;
    s.key_angle_deg[1] = 180;
    s.altitude_deg[0] = 0;
    s.altitude_deg[1] = 90;
    return s;
}

}  // namespace keyhour::study
