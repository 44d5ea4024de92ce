#pragma once
/// @file
/// Recces thrown at random, for what is asked of bearings and clocks.

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <string>

#include "keyhour/room/scene.hpp"
#include "keyhour/study/bearing.hpp"
#include "support/dice.hpp"

namespace keyhour::study {

/// A room thrown at random and what two people saw there of its bearing, by plain geometry that
/// knows nothing of the code that reads it. Their tape, compass and map err evenly within what they
/// state; the clock by as much as it is told to.
class Recce {
public:
    explicit Recce(std::uint64_t seed) : dice{seed} {
        do {
            throw_room();
            throw_day();
        } while (!see());
    }

    /// As noted by a clock that was so much fast.
    std::vector<Observation> noted(double fast_s) const { return with_clock_fast(seen, -fast_s); }

    tl::expected<BearingAnswer, std::vector<std::string>> answer(double fast_s) const {
        return bearing_of_wall(location, *path, {0, noted(fast_s)});
    }

    double truth() const { return location.room->bearing.faces.in_degrees(); }
    double other_offset_s() const {
        const auto offset = [&](double days) {
            return static_cast<double>(
                location.site.zone.at(noon + Seconds{86400 * days}).utc_offset.count());
        };
        return offset(182) - offset(0);
    }

    site::Location location;
    std::optional<SunPath> path;
    std::vector<Observation> seen;

private:
    static constexpr double degree = std::numbers::pi / 180;

    double off(double within) { return dice.between(-within, within); }

    void throw_room() {
        room::Room r;
        const double a = dice.between(4, 9), b = dice.between(4, 9);
        r.floor = {{0, 0}, {a, 0}, {a, b}, {0, b}};
        r.walls = {"one", "two", "three", "four"};
        r.height_m = 3;
        r.bearing.wall = 0;
        r.bearing.faces = Angle::degrees(dice.between(0, 360));
        for (std::size_t wall = 0; wall < 4; ++wall) {
            room::Window w;
            w.name = "window " + std::to_string(wall + 1);
            w.wall = wall;
            w.left_m = dice.between(0.5, 1.5);
            w.width_m = dice.between(0.8, 1.6);
            w.sill_m = dice.between(0.6, 1.0);
            w.height_m = dice.between(1.2, 1.8);
            w.reveal_m = dice.between(0.05, 0.35);
            r.windows.push_back(w);
        }
        location.room = std::move(r);
    }

    void throw_day() {
        const double north = dice.chance(0.5) ? 1 : -1;
        const double latitude = north * dice.between(5, 62);
        const int hours = dice.whole(-10, 11);
        location.site.observer.latitude = Angle::degrees(latitude);
        location.site.observer.longitude = Angle::degrees(15 * hours + dice.between(-7, 7));
        const std::string west = std::to_string(-hours), ahead = std::to_string(-hours - 1);
        std::string tz = "STD" + west;
        const bool half = dice.chance(0.1);
        if (half)
            tz += ":30";
        else if (dice.chance(0.7))
            tz += "DST" + ahead + (latitude > 0 ? ",M3.5.0,M10.5.0/3" : ",M10.1.0,M4.1.0/3");
        const auto zone = site::Zone::named(tz);
        if (!zone) FAIL(zone.error());
        location.site.zone = *zone;
        noon =
            Instant::from_unix_s(1767225600 + 86400.0 * dice.whole(3, 360) + 3600.0 * (12 - hours));
        path.emplace(location.site,
                     SharedTrack::make(noon - Seconds{3 * 86400}, noon + Seconds{3 * 86400}));
    }

    room::Point3 sun(Instant t) const {
        return room::PlanTurn{room::plan_bearing(*location.room)}.to_plan(path->at(t).toward);
    }
    bool is_up(Instant t) const { return path->at(t).altitude_deg > 4; }

    /// The sun as the middle of a soft edge shows it, a little turned.
    room::Point3 seen_sun(Instant t) {
        const double by = off(edge_within.in_degrees()) * degree;
        const room::Point3 v = sun(t);
        return {v.x * std::cos(by) + v.y * std::sin(by), v.y * std::cos(by) - v.x * std::sin(by),
                v.z};
    }
    ClockTime noting(Instant t, double within_s) {
        return {t + Seconds{clock_s + off(within_s)}, within_s};
    }

    bool see() {
        seen.clear();
        clock_s = off(usual_clock_within_s);
        const Instant around = noon + Seconds{3600 * dice.between(-4.5, 4.5)};
        const auto then = [&] { return around + Seconds{3600 * dice.between(-1.5, 1.5)}; };
        return see_compass() && see_map() && see_graze(around) && see_shadow(then()) &&
               see_corner(then);
    }

    bool see_compass() {
        seen.push_back({"compass", "",
                        WallBearing{0, Angle::degrees(truth() + off(3)),
                                    Needle{Angle{}, Angle::degrees(0.4)}, Angle::degrees(3)}});
        return true;
    }

    bool see_map() {
        const double along = (truth() + 90) * degree, length = dice.between(30, 80);
        const Angle latitude = location.site.observer.latitude;
        // On the WGS 84 ellipsoid: radii of curvature in the meridian and across it.
        const double e2 = 0.00669437999014, q = 1 - e2 * sin(latitude) * sin(latitude);
        const double meridian = 6378137 * (1 - e2) / std::pow(q, 1.5),
                     across = 6378137 / std::sqrt(q);
        const auto place = [&](double metres) {
            const double north = metres * std::cos(along) + off(usual_map_within_m),
                         east = metres * std::sin(along) + off(usual_map_within_m);
            return site::Coordinates{
                latitude + Angle::radians(north / meridian),
                location.site.observer.longitude + Angle::radians(east / (across * cos(latitude)))};
        };
        seen.push_back(
            {"map", "",
             MapLine{0, place(-length / 2), place(length / 2), true, usual_map_within_m}});
        return true;
    }

    /// The next moment, within six hours, at which the sun crosses the plane of some wall.
    bool see_graze(Instant from) {
        const double turned = off(edge_within.in_degrees());
        const auto before = [&](Instant t, std::size_t wall) {
            const room::Point2 n = room::wall_frame(location.room->floor, wall).n;
            const room::Point3 s = sun(t);
            const double by = turned * degree;
            return n.x * (s.x * std::cos(by) + s.y * std::sin(by)) +
                   n.y * (s.y * std::cos(by) - s.x * std::sin(by));
        };
        for (double s = -3 * 3600; s < 3 * 3600; s += 20)
            for (std::size_t wall = 0; wall < 4; ++wall) {
                const Instant t = from + Seconds{s}, next = t + Seconds{20};
                if (!is_up(t) || (before(t, wall) > 0) == (before(next, wall) > 0)) continue;
                const bool begins = before(next, wall) > 0;
                seen.push_back({"graze", "",
                                Graze{wall, begins ? Graze::Sun::begins : Graze::Sun::ends,
                                      noting(t + Seconds{10}, usual_graze_within_s)}});
                return true;
            }
        return false;
    }

    bool see_shadow(Instant t) {
        if (!is_up(t) || path->at(t).altitude_deg > 75) return false;
        const room::Point3 s = seen_sun(t);
        const room::Point2 from{2, 1},
            to = from - (dice.between(0.6, 1.5) / std::hypot(s.x, s.y)) * room::Point2{s.x, s.y};
        const auto taped = [&](room::Point2 p) {
            return room::Point2{p.x + off(0.01), p.y + off(0.01)};
        };
        seen.push_back(
            {"shadow", "",
             ShadowLine{taped(from), taped(to), true, usual_shadow_within_m, noting(t, 30)}});
        return true;
    }

    /// Where the light that just passes the inner edges of sill and jamb reaches the floor.
    bool see_corner(const auto& then) {
        for (int tries = 0; tries < 40; ++tries) {
            const Instant t = then();
            const std::size_t w = dice.index(4);
            if (!is_up(t)) continue;
            const room::Window& window = location.room->windows[w];
            const room::WallFrame wall = room::wall_frame(location.room->floor, window.wall);
            const room::Point3 s = seen_sun(t);
            const double u = dot(room::Point2{s.x, s.y}, wall.u),
                         n = dot(room::Point2{s.x, s.y}, wall.n);
            if (n < 0.15) continue;
            const bool left = dice.chance(0.5);
            // The jamb on the sun's far side casts by its inner edge, the other by its outer one.
            const double depth =
                left == (u > 0) ? 0 : window.reveal_m + off(usual_opening_within_m);
            const double jamb_m = window.left_m + off(usual_left_within_m) +
                                  (left ? 0 : window.width_m + off(usual_opening_within_m));
            const room::Point2 jamb = wall.left_corner + jamb_m * wall.u + depth * wall.n;
            const double inside = (window.sill_m + off(usual_opening_within_m)) * n / s.z;
            const room::Point2 at = jamb - ((inside + depth) / n) * room::Point2{s.x, s.y};
            if (inside < 0.2 || !room::contains(location.room->floor, at)) continue;
            PatchCorner c;
            c.window = w;
            c.by_head = false;
            c.by_left = left;
            c.at = {at.x + off(0.02), at.y + off(0.02), 0};
            c.within_m = usual_corner_within_m;
            c.time = noting(t, 30);
            seen.push_back({"corner", "", c});
            return true;
        }
        return false;
    }

    test::Dice dice;
    Instant noon;
    double clock_s = 0;
};

}  // namespace keyhour::study
