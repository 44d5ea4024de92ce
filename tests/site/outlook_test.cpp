#include "keyhour/site/outlook.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "keyhour/site/plan_frame.hpp"
#include "support/dice.hpp"

using namespace keyhour;
using namespace keyhour::site;
using keyhour::test::Dice;
using room::Point2;
using room::Point3;

namespace {

using namespace date::literals;
constexpr LocalDate summer = 2026_y / 7 / 1, winter = 2026_y / 1 / 15;

Azimuth bearing(double degrees) {
    return {wrapped_turn(Angle::degrees(degrees))};
}

double altitude(const Outlook& outlook, double towards) {
    return outlook.top_at(bearing(towards)).altitude.above_horizon.in_degrees();
}

/// A yard without a room: +y is true north.
Location yard() {
    Location place;
    place.site.observer = {Angle::degrees(52), Angle::degrees(-1), 60};
    return place;
}

room::Building block(const char* name, double x0, double y0, double x1, double y1, double high) {
    return {name, {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}, high, {}};
}

Tree lime(Point2 at) {
    Tree tree;
    tree.name = "lime";
    tree.footprint = round_crown(at, 8);
    tree.height_m = 14;
    tree.opacity = 0.85;
    tree.bare_opacity = 0.3;
    tree.first_leaf = date::May;
    tree.last_leaf = date::October;
    return tree;
}

double degrees_of(double rise, double run) {
    return std::atan2(rise, run) * 180 / std::numbers::pi;
}

}  // namespace

TEST_CASE("a wall's top stands at atan of height over distance, nearest edge first", "[site]") {
    Location place = yard();
    place.buildings_without_room.push_back(block("mill", -20, 10, 20, 30, 9.6));
    const Outlook outlook{place, Point3{0, 0, 1.6}, summer};
    CHECK(altitude(outlook, 0) == Approx(degrees_of(8, 10)));
    // A straight wall towards bearing b: the distance grows by 1 / cos b.
    for (const double b : {-60.0, -33.0, 12.5, 45.0, 63.0})
        CHECK(altitude(outlook, b) ==
              Approx(degrees_of(8, 10 / std::cos(b * std::numbers::pi / 180))));
    CHECK(outlook.words(outlook.top_at(bearing(0))) == "building mill");
    CHECK(outlook.top_at(bearing(180)) == Outlook::Top{});
    CHECK(outlook.words(outlook.top_at(bearing(180))) == "horizon");
    // atan(20 / 10) = 63.43 degrees is where the wall ends.
    CHECK(altitude(outlook, 63.4) > 19);
    CHECK(altitude(outlook, 63.5) == 0);
}

TEST_CASE("the highest of skyline, buildings and trees is told", "[site]") {
    Location place = yard();
    place.site.horizon = Horizon{{{Angle::degrees(0), Angle::degrees(10)}}};
    place.buildings_without_room = {block("shed", -5, 20, 5, 25, 4.6),
                                    block("tower", -1, 60, 1, 62, 31.6)};
    place.trees.push_back(lime({0, -30}));
    const Outlook outlook{place, Point3{0, 0, 1.6}, summer};
    CHECK(outlook.words(outlook.top_at(bearing(0))) == "building tower");
    CHECK(altitude(outlook, 0) == Approx(degrees_of(30, 60)));
    CHECK(outlook.words(outlook.top_at(bearing(8))) == "skyline");  // the shed stays below
    CHECK(altitude(outlook, 8) == Approx(10));
    CHECK(outlook.words(outlook.top_at(bearing(180))) == "tree lime");
    CHECK(outlook.top_at(bearing(180)).index == 0);
    place.site.horizon_source.kind = HorizonSource::Kind::terrain;
    const Outlook hills{place, Point3{0, 0, 1.6}, summer};
    CHECK(hills.words(hills.top_at(bearing(90))) == "ridge");
}

TEST_CASE("a bare tree lets the sun through, weakened", "[site]") {
    Location place = yard();
    place.trees.push_back(lime({0, -30}));
    const Outlook leafy{place, Point3{0, 0, 1.6}, summer}, bare{place, Point3{0, 0, 1.6}, winter};
    CHECK(altitude(leafy, 180) == Approx(degrees_of(12.4, 26)).margin(0.3));
    CHECK(altitude(bare, 180) == 0);
    CHECK(leafy.passes(bearing(180), {Angle::degrees(10)}) == 1);  // it is closed: no light at all
    CHECK(bare.passes(bearing(180), {Angle::degrees(10)}) == Approx(0.7));
    CHECK(bare.passes(bearing(180), {Angle::degrees(40)}) == 1);
    CHECK(bare.passes(bearing(90), {Angle::degrees(10)}) == 1);
    place.trees.push_back(lime({0, -60}));
    const Outlook row{place, Point3{0, 0, 1.6}, winter};
    CHECK(row.passes(bearing(180), {Angle::degrees(5)}) == Approx(0.49));
}

TEST_CASE("buildings and the room's body turn with the plan, the skyline does not", "[site]") {
    Location place = yard();
    place.site.horizon = Horizon{{{Angle::degrees(100), Angle::degrees(3)},
                                  {Angle::degrees(110), Angle::degrees(5)},
                                  {Angle::degrees(120), Angle::degrees(3)}}};
    room::Room room;
    room.floor = {{0, 0}, {6, 0}, {6, 4}, {0, 4}};
    room.walls = {"street", "yard", "back", "party"};
    room.height_m = 3;
    room.floor_above_ground_m = 0.4;
    room.bearing.faces = Angle::degrees(196);  // of the wall at y = 0
    room.buildings.push_back(block("barn", -2, -30, 8, -20, 8));
    place.room = room;
    const Outlook outlook{place, Point3{3, -10, 1.2}, summer};
    // -y lies towards 196 degrees, +y towards 16.
    CHECK(outlook.words(outlook.top_at(bearing(196))) == "building barn");
    CHECK(altitude(outlook, 196) == Approx(degrees_of(8 - 0.4 - 1.2, 10)));
    CHECK(outlook.words(outlook.top_at(bearing(16))) == "own walls outside");
    CHECK(altitude(outlook, 16) == Approx(degrees_of(3 - 1.2, 10)));
    CHECK(altitude(outlook, 110) == Approx(5));
    CHECK(outlook.words(outlook.top_at(bearing(110))) == "skyline");
}

TEST_CASE("from a roof, what lies below the eye hides nothing above the level", "[site]") {
    Location place = yard();
    place.buildings_without_room = {block("house", -5, -5, 5, 5, 6),
                                    block("shed", 10, -5, 20, 5, 3)};
    const Outlook roof{place, Point3{0, 0, 7.6}, summer};
    CHECK(roof.top_at(bearing(90)) == Outlook::Top{});
    const Outlook inside{place, Point3{0, 0, 1.6}, summer};
    CHECK(altitude(inside, 123) == Approx(90));
    CHECK(inside.words(inside.top_at(bearing(123))) == "building house");
    // Terrain that falls away: the edge of the roof is then what the eye sees last.
    place.site.horizon = Horizon{{{Angle::degrees(0), Angle::degrees(-30)}}};
    place.site.horizon_source.kind = HorizonSource::Kind::terrain;
    const Outlook falling{place, Point3{0, 0, 7.6}, summer};
    CHECK(altitude(falling, 0) == Approx(degrees_of(-1.6, 5)));
    CHECK(altitude(falling, 90) == Approx(degrees_of(-4.6, 20)));
}

TEST_CASE("the top agrees with a search along each ray through random outlines", "[site]") {
    Dice dice{7};
    for (int round = 0; round < 15; ++round) {
        Location place = yard();
        for (int k = 0; k < 4; ++k) {
            room::Building b;
            b.height_m = dice.between(3, 20);
            const Point2 middle{dice.between(-60, 60), dice.between(-60, 60)};
            const double size = dice.between(3, 12);
            for (int i = 0; i < 7; ++i) {  // a star, so often not convex
                const double turn = 2 * std::numbers::pi * i / 7;
                b.footprint.push_back(middle + size * dice.between(0.3, 1) *
                                                   Point2{std::cos(turn), std::sin(turn)});
            }
            if (!room::contains(b.footprint, {0, 0})) place.buildings_without_room.push_back(b);
        }
        const Outlook outlook{place, Point3{0, 0, 1.6}, summer};
        for (int i = 0; i < 20; ++i) {
            const double towards = dice.between(0, 360), turn = towards * std::numbers::pi / 180;
            double highest = 0;
            for (double d = 0.5; d < 110; d += 0.02)
                for (const auto& b : place.buildings_without_room)
                    if (room::contains(b.footprint, {d * std::sin(turn), d * std::cos(turn)}))
                        highest = std::max(highest, degrees_of(b.height_m - 1.6, d));
            const double found = altitude(outlook, towards);
            CAPTURE(round, towards, found, highest);
            // A step of the search is 2 cm; it may also step over a corner's tip.
            CHECK(found >= highest - 1e-9);
            if (highest > 0) CHECK(found - highest < 0.5);
        }
    }
}

TEST_CASE("spots have their place on the plan whichever way they are given", "[site]") {
    Location place = yard();
    place.room.emplace();
    place.room->floor = {{0, 0}, {6, 0}, {6, 4}, {0, 4}};
    place.room->walls = {"a", "b", "c", "d"};
    place.room->bearing.faces = Angle::degrees(196);
    place.room->floor_above_ground_m = 0.5;
    const PlanFrame frame{place};
    CHECK(frame.bearing_of_y().from_north.in_degrees() == Approx(16));
    Dice dice{3};
    for (int i = 0; i < 50; ++i) {
        const Point2 p{dice.between(-9000, 9000), dice.between(-9000, 9000)};
        const Point2 q = frame.on_plan(frame.on_earth(p));
        CHECK(room::length(p - q) < 1e-4);
    }
    Spot spot;
    const Coordinates there = frame.on_earth({30, -12});
    spot.position = Observer{there.latitude, there.longitude, 0};
    const Point3 eye = eye_of(place, spot);
    CHECK(eye.x == Approx(30));
    CHECK(eye.y == Approx(-12));
    CHECK(eye.z == Approx(1.6 - 0.5));
    const Observer seen = observer_at(place, spot);
    CHECK(seen.elevation_m == 60);
    CHECK(seen.latitude.in_degrees() == Approx(there.latitude.in_degrees()).margin(1e-12));
}
