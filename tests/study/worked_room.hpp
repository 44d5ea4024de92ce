#pragma once
/// @file
/// A plain room with one window: 52 N 0 E, wall facing 225 true, window 1.20 x 1.50 m, sill 0.90,
/// reveal 0.30, mark 2.5 m in on the centre line, 1.2 m high.

#include "keyhour/site/location.hpp"

namespace keyhour::study {

struct WorkedRoom {
    double faces_deg = 225, reveal_m = 0.30, sill_m = 0.90, radius_m = 0.15, within_deg = 2;
    double sideways_m = 0, latitude_deg = 52;
    std::optional<std::array<double, 3>> box_m;

    [[nodiscard]] site::Location location() const {
        site::Location l;
        l.site.name = "worked room";
        l.site.observer = {Angle::degrees(latitude_deg), {}, 0};
        room::Room r;
        r.floor = {{0, 0}, {6, 0}, {6, 6}, {0, 6}};
        r.walls = {"window", "right", "back", "left"};
        r.height_m = 3;
        r.bearing.faces = Angle::degrees(faces_deg);
        r.bearing.within = Angle::degrees(within_deg);
        room::Window w;
        w.name = "window";
        w.left_m = 2.4;
        w.width_m = 1.2;
        w.sill_m = sill_m;
        w.height_m = 1.5;
        w.reveal_m = reveal_m;
        r.windows = {w};
        r.marks = {{"mark", {3 + sideways_m, 2.5}, 1.2, radius_m, box_m}};
        l.room = r;
        return l;
    }
};

}  // namespace keyhour::study
