#pragma once
/// @file
/// A plain room with one window, and suns before it.

#include <utility>
#include <vector>

#include "keyhour/study/mark_light.hpp"

namespace keyhour::study {

/// The worked example of the house's note on levels: 7.2 x 4.6 x 3.1 m, one window of 1.4 x 1.6 m
/// in the long wall, which is y = 0; its outward normal is -y.
struct Workshop {
    double reveal_m = 0;
    room::Glass glass = room::Glass::single_pane;
    room::Cover cover = room::Cover::open;
    room::Bars bars{};
    site::AirClass air = site::AirClass::normal;
    std::vector<room::Building> buildings{};
    std::vector<site::HorizonPoint> horizon{};
    std::vector<room::Camera> cameras{};

    [[nodiscard]] site::Location location() const {
        site::Location l;
        l.site.name = "workshop";
        l.site.observer = {Angle::degrees(52), {}, 0};
        l.site.air = air;
        l.site.horizon = site::Horizon{horizon};
        room::Room r;
        r.floor = {{0, 0}, {7.2, 0}, {7.2, 4.6}, {0, 4.6}};
        r.walls = {"street", "yard", "back", "party"};
        r.height_m = 3.1;
        r.bearing.faces = Angle::degrees(180);
        room::Window w;
        w.name = "window";
        w.left_m = 2.9;
        w.width_m = 1.4;
        w.sill_m = 0.75;
        w.height_m = 1.6;
        w.reveal_m = reveal_m;
        w.glass = glass;
        w.cover = cover;
        w.bars = bars;
        r.windows = {w};
        r.marks = {{"before the window", {3.6, 2.5}, 1.55, 0.15, {}},
                   {"in the beam", {5.0, 2.5}, 0.6, 0.15, {}}};
        r.buildings = buildings;
        r.cameras = cameras;
        l.room = r;
        return l;
    }
};

/// A location, and its light.
struct Lit {
    site::Location location;
    RoomStudy study;
    RoomLight light;
    explicit Lit(site::Location l)
        : location{std::move(l)},
          study{location, SharedTrack::make(Instant::from_unix_s(1774000000),
                                            Instant::from_unix_s(1774200000))},
          light{study} {}
    Lit(const Lit&) = delete;
    Lit& operator=(const Lit&) = delete;
    [[nodiscard]] MarkLight at(const SunNow& sun) const { return light.at(0, 0, sun); }
};

/// The sun so high, so far to the right of the window's outward normal as one looks out.
inline SunNow sun_at(double altitude_deg, double aside_deg) {
    const Angle h = Angle::degrees(altitude_deg), a = Angle::degrees(aside_deg);
    // Looking out along -y, right is -x.
    return {{-cos(h) * sin(a), -cos(h) * cos(a), sin(h)}, {{h}, {h}, 0, 1}, altitude_deg > 0};
}

}  // namespace keyhour::study
