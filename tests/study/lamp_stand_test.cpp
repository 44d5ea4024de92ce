// Where a lamp outside a window must stand, and what it gives: against closed forms.

#include "keyhour/study/lamp_stand.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "flax_road.hpp"
#include "keyhour/light/glass.hpp"
#include "keyhour/study/lamp_report.hpp"
#include "worked_room.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;
using room::Point2;
using room::Point3;

namespace {

site::Lamp spot_lamp() {
    site::Lamp lamp;
    lamp.name = "key";
    lamp.photometry = light::DataSheet{.reading = {12000, 5},
                                       .beam = Angle::degrees(24),
                                       .field = {},
                                       .second_reading = {},
                                       .face_diameter_m = 0.3};
    lamp.face_diameter_m = 0.3;
    lamp.stand_max_m = 3.6;
    return lamp;
}

/// Unit vector from the mark outward, so far off square to the wall y = 0 and so high.
Point3 outward(double aside_deg, double high_deg) {
    const double a = Angle::degrees(aside_deg).in_radians(),
                 h = Angle::degrees(high_deg).in_radians();
    return {std::sin(a) * std::cos(h), -std::cos(a) * std::cos(h), std::sin(h)};
}

double degrees_between(Point3 a, Point3 b) {
    return Angle::radians(std::acos(dot(a, b) / std::sqrt(dot(a, a) * dot(b, b)))).in_degrees();
}

struct Stage {
    site::Location location = WorkedRoom{}.location();
    site::Lamp lamp = spot_lamp();
    StandWish wish;

    room::Room& room() { return *location.room; }
    StandAnswer find() { return find_stand(room::Scene{room()}, lamp, wish); }
    LampLight light(const StandPlace& place) {
        return light_from(room::Scene{room()}, lamp, wish, place);
    }
};

bool is_against(const StandPlace& place, Hindrance what) {
    return std::any_of(place.obstacles.begin(), place.obstacles.end(),
                       [&](const Obstacle& o) { return o.what == what; });
}

}  // namespace

TEST_CASE("a low sun's direction is matched as far out as the stand goes", "[study][lamp]") {
    Stage s;
    s.wish.toward = outward(6, 12);
    const StandAnswer a = s.find();
    REQUIRE(a.wanted.is_reachable());
    CHECK_FALSE(a.nearest);
    const Point3 ray = a.wanted.at - Point3{3, 2.5, 1.2};
    CHECK(degrees_between(ray, s.wish.toward) < 1e-5);
    // 3.6 m of stand, mark at 1.2 m, 12 degrees: 2.4 / sin 12 = 11.54 m.
    CHECK(a.wanted.distance_m == Approx(2.4 / std::sin(12 * std::numbers::pi / 180)));
    CHECK(a.wanted.height_above_ground_m == Approx(3.6));
    CHECK(a.wanted.off_wall_m == Approx(a.wanted.distance_m * -s.wish.toward.y - 2.5 - 0.3));
    CHECK(a.wanted.coverage == Approx(1));

    const LampLight l = s.light(a.wanted);
    CHECK(l.tilt.in_degrees() == Approx(-12));
    // It stands to the left of a person inside who looks out (x runs to the left there), and looks
    // back across the square by six degrees. Wall y = 0 faces 225: inward is 45.
    CHECK(std::abs(l.pan.in_degrees()) == Approx(6));
    CHECK(degrees_between({std::sin(l.bearing.from_north.in_radians()),
                           std::cos(l.bearing.from_north.in_radians()), 0},
                          {std::sin(Angle::degrees(45).in_radians()),
                           std::cos(Angle::degrees(45).in_radians()), 0}) == Approx(6));
}

TEST_CASE("level at the mark: inverse square, glass, coverage", "[study][lamp]") {
    Stage s;
    for (const double distance : {4.0, 6.0, 9.0}) {
        s.wish.toward = outward(8, 5);
        s.wish.distance_m = distance;
        const StandAnswer a = s.find();
        REQUIRE(a.wanted.is_reachable());
        const LampLight l = s.light(a.wanted);
        CHECK(l.bare_lx == Approx(12000 * 25 / (distance * distance)));
        const double cosine =
            std::cos(8 * std::numbers::pi / 180) * std::cos(5 * std::numbers::pi / 180);
        CHECK(std::cos(l.incidence.in_radians()) == Approx(cosine));
        CHECK(l.level_lx ==
              Approx(l.bare_lx * light::transmittance(light::Panes::one, l.incidence)));
        // Fall-off: 2 log2 of the distances; the mark is 0.15 m in radius.
        CHECK(l.fall_off_across_mark_stops ==
              Approx(2 * std::log2((distance + 0.15) / (distance - 0.15))));
        CHECK(l.spread_across_mark.in_radians() == Approx(2 * std::asin(0.15 / distance)));
        CHECK(l.too_near == false);
    }
}

TEST_CASE("a stand that may be off: the level moves by the inverse square", "[study][lamp]") {
    Stage s;
    s.wish.toward = outward(0, 10);
    s.wish.distance_m = 6;
    const StandPlace place = s.find().wanted;
    REQUIRE(place.is_reachable());
    const double within = 0.2, level = s.light(place).level_lx;
    const StandDoubt doubt = stand_doubt(room::Scene{s.room()}, s.lamp, s.wish, place, within);
    // The corner that lies farthest out, and that farthest in: all lit, and the glass passes the
    // same to a part in a thousand at so small angles.
    CHECK(doubt.least_coverage == Approx(1));
    CHECK(doubt.most_coverage == Approx(1));
    const Point3 mark{3, 2.5, 1.2};
    double nearest = 1e9, farthest = 0;
    for (const double x : {-within, within})
        for (const double y : {-within, within})
            for (const double z : {-within, within}) {
                const Point3 d = place.at + Point3{x, y, z} - mark;
                nearest = std::min(nearest, std::sqrt(dot(d, d)));
                farthest = std::max(farthest, std::sqrt(dot(d, d)));
            }
    nearest = std::min(nearest, 6 - within * 0.99);  // or straight in
    CHECK(doubt.most_lx / level == Approx(36 / (nearest * nearest)).epsilon(0.003));
    CHECK(doubt.least_lx / level == Approx(36 / (farthest * farthest)).epsilon(0.003));

    // At the edge of the light half a step aside loses the mark.
    s.room().windows[0].width_m = 0.5;
    s.room().windows[0].left_m = 2.75;
    const StandPlace narrow = s.find().place() ? *s.find().place() : place;
    const StandDoubt lost = stand_doubt(room::Scene{s.room()}, s.lamp, s.wish, narrow, 0.5);
    CHECK(lost.least_coverage < narrow.coverage - 0.05);
    CHECK(lost.least_lx < doubt.least_lx);
}

TEST_CASE("what enters is intensity times the opening's solid angle", "[study][lamp]") {
    // A lamp so wide that its light is even over the window, square on, no glass.
    Stage s;
    s.room().windows[0].glass = room::Glass::none;
    s.room().windows[0].reveal_m = 0;
    s.lamp.photometry = light::DataSheet{.reading = {1000, 1},
                                         .beam = Angle::degrees(170),
                                         .field = {},
                                         .second_reading = {},
                                         .face_diameter_m = 0};
    s.wish.toward = outward(0, 0);
    s.wish.distance_m = 12.5;  // 10 m off the window
    const StandAnswer a = s.find();
    REQUIRE(a.wanted.off_wall_m == Approx(10));
    const LampLight l = s.light(a.wanted);
    // The window's middle is at 1.65 m, the lamp at 1.2: 1000 cd x area x cos / r2.
    const double r2 = 100 + 0.45 * 0.45;
    CHECK(l.entering_lm == Approx(1000 * 1.2 * 1.5 * 10 / std::pow(r2, 1.5)).epsilon(0.01));
    CHECK(l.given_back_lx > 0);
    // No more is absorbed than enters: mean level x area x (1 - reflectance) <= what came in.
    CHECK(l.given_back_lx * (2 * 36 + 4 * 6 * 3) * (1 - 0.55) <= l.entering_lm);
}

TEST_CASE("a high sun is out of a stand's reach, and the nearest thing is told", "[study][lamp]") {
    Stage s;
    s.wish.toward = outward(0, 24);  // the head lets no more than some 19 degrees in
    s.lamp.stand_max_m = 2.6;
    const StandAnswer a = s.find();
    CHECK_FALSE(a.wanted.is_reachable());
    REQUIRE(a.nearest);
    CHECK(a.nearest->is_reachable());
    CHECK(a.nearest->height_above_ground_m <= 2.6 + 1e-5);
    CHECK(a.nearest->coverage >= 0.95);
    CHECK(a.place() == &*a.nearest);
    const Point3 mark{3, 2.5, 1.2};
    CHECK(degrees_between(a.nearest->at - mark, s.wish.toward) == Approx(a.nearest_off_deg));
    // No random place that can be reached comes nearer; half as far counts as two degrees.
    const auto cost = [](double off_deg, double distance) {
        return off_deg + 2 * std::log2(15 / std::min(distance, 15.0));
    };
    const double least = cost(a.nearest_off_deg, a.nearest->distance_m);
    const room::Scene scene{s.room()};
    for (int i = 0; i < 4000; ++i) {
        const double u = std::fmod(i * 0.618033988749, 1), v = std::fmod(i * 0.754877666, 1),
                     w = std::fmod(i * 0.569840291, 1);
        const Point3 at{3 + 4 * (u - 0.5), -0.6 - 5 * v * v, 2.6 - 1.5 * w * w};
        const StandPlace place = judge_stand(scene, s.lamp, s.wish, at);
        if (place.is_reachable())
            CHECK(cost(degrees_between(at - mark, s.wish.toward), place.distance_m) >
                  least - 0.3);  // the search's distances are steps
    }
}

TEST_CASE("each thing that keeps a lamp from a place is named", "[study][lamp]") {
    Stage s;
    s.room().buildings = {{"shed", {{-4, -9}, {10, -9}, {10, -7}, {-4, -7}}, 6, {}}};
    const room::Scene scene{s.room()};
    const auto judge = [&](Point3 at) { return judge_stand(scene, s.lamp, s.wish, at); };
    CHECK(judge({3, -4, 1.8}).is_reachable());
    CHECK(is_against(judge({3, 4, 1.8}), Hindrance::behind_wall));
    CHECK(is_against(judge({3, 4, 1.8}), Hindrance::in_own_walls));
    CHECK(is_against(judge({3, -0.2, 1.8}), Hindrance::behind_wall));
    CHECK(is_against(judge({3, -0.5, 1.3}), Hindrance::too_near_wall));
    CHECK(is_against(judge({3, -8, 1.8}), Hindrance::in_building));
    CHECK(is_against(judge({3, -4, -0.2}), Hindrance::below_ground));
    CHECK(is_against(judge({3, -4, 3.7}), Hindrance::above_stand));
    const StandPlace behind = judge({3, -12, 1.8});
    REQUIRE(is_against(behind, Hindrance::not_covered));
    CHECK(behind.obstacles.back().edge == room::LimitingEdge{room::Edge::building, 0});
    CHECK(study::words(behind.obstacles.back(), s.room(), s.lamp) ==
          "building shed keeps its light from the mark");
    const StandPlace aside = judge({9, -1.5, 1.8});
    REQUIRE(is_against(aside, Hindrance::not_covered));
    CHECK(aside.coverage == 0);
    // Ground that falls by a metre: the same lamp is a metre higher above it.
    s.wish.ground_below_m = 1;
    CHECK(judge({3, -4, 1.8}).height_above_ground_m == Approx(2.8));
    CHECK(is_against(judge({3, -4, 2.7}), Hindrance::above_stand));
    CHECK(judge({3, -4, -0.2}).obstacles.front().what == Hindrance::not_covered);
}

TEST_CASE("a lamp far away differs from the sun by next to nothing", "[study][lamp]") {
    Stage s;
    s.lamp.stand_max_m.reset();
    s.wish.toward = outward(8, 10);
    s.wish.distance_m = 10000;
    s.wish.farthest_m = 20000;
    const StandAnswer a = s.find();
    REQUIRE(a.wanted.is_reachable());
    const room::Scene scene{s.room()};
    const auto far =
        difference(scene, s.lamp, s.wish, a.wanted, s.wish.toward, Angle::degrees(0.53), 0.1);
    CHECK(far.lamp_m2 == Approx(far.sun_m2).epsilon(1e-3));
    CHECK(*far.centroid_apart_m < 1e-3);
    CHECK(far.growth == Approx(1).epsilon(1e-3));
    // And one nearby grows as similar triangles say; from `alike_from_m` on by a tenth at most.
    s.wish.distance_m = 5;
    const StandAnswer near = s.find();
    const auto d =
        difference(scene, s.lamp, s.wish, near.wanted, s.wish.toward, Angle::degrees(0.53), 0.1);
    CHECK(d.growth > 1.5);
    CHECK(d.lamp_m2 > d.sun_m2);
    s.wish.distance_m = d.alike_from_m;
    const auto there = difference(scene, s.lamp, s.wish, s.find().wanted, s.wish.toward,
                                  Angle::degrees(0.53), 0.1);
    CHECK(there.growth == Approx(1.1));
}

TEST_CASE("a lamp through one window is seen to enter the next", "[study][lamp]") {
    Stage s;
    room::Window second = s.room().windows[0];
    second.name = "second";
    second.left_m = 4.2;
    s.room().windows.push_back(second);
    s.wish.toward = outward(0, 3);
    s.wish.distance_m = 8;
    s.lamp.photometry = light::DataSheet{.reading = {12000, 5},
                                         .beam = Angle::degrees(60),
                                         .field = {},
                                         .second_reading = {},
                                         .face_diameter_m = 0.3};
    const StandAnswer a = s.find();
    const LampLight l = s.light(a.wanted);
    REQUIRE(l.also_enters.size() == 1);
    CHECK(l.also_enters[0].window == 1);
    CHECK(l.also_enters[0].open_share > 0.8);
    CHECK(l.also_enters[0].mark_coverage == 0);
    CHECK(l.also_enters[0].level_lx > 0);
}

TEST_CASE("diffusion gives the lamp a new face and takes its level", "[study][lamp]") {
    site::Lamp lamp = spot_lamp();
    const LampOutput bare{lamp};
    lamp.diffusion = light::Diffusion{0.5, 1.2, 0.8};
    const LampOutput soft{lamp};
    CHECK(soft.face_diameter_m() == 1.2);
    CHECK(soft.lumens() <= 0.5 * bare.lumens());
    CHECK(soft.lumens() > 0.4 * bare.lumens());  // the frame catches nearly all of 24 degrees
    // Lambert: lm / pi on the axis, half of it at 60 degrees.
    const LampPose pose{{}, {0, 1, 0}};
    CHECK(soft.axis_candela() == Approx(soft.lumens() / std::numbers::pi));
    CHECK(soft.candela(pose, {std::sqrt(3.0), 1, 0}) == Approx(soft.axis_candela() / 2));
    // Five diameters: 1 / (1 + (1/10)^2) of the point law (light/lamp.hpp names its source).
    CHECK(soft.level_lx(pose, {0, 6, 0}) == Approx(soft.axis_candela() / 36 / 1.01));
    CHECK(*soft.distance_for_m(soft.level_lx(pose, {0, 3, 0})) == Approx(3));
    CHECK(*bare.distance_for_m(bare.level_lx(pose, {0, 3, 0})) == Approx(3));
}

TEST_CASE("measured intensities turn with the lamp", "[study][lamp]") {
    // 100 cd to the right of the axis (horizontal 0), 200 above it (90), 300 left, 400 below.
    site::Lamp lamp;
    lamp.photometry =
        site::MeasuredIntensity{{0, 45, 90},
                                {0, 90, 180, 270, 360},
                                {50, 100, 0, 50, 200, 0, 50, 300, 0, 50, 400, 0, 50, 100, 0},
                                1,
                                "lamp.ies"};
    const LampOutput output{lamp};
    const LampPose north{{}, {0, 1, 0}};
    CHECK(output.candela(north, {0, 1, 0}) == Approx(50));
    CHECK(output.candela(north, {1, 1, 0}) == Approx(100));
    CHECK(output.candela(north, {0, 1, 1}) == Approx(200));
    CHECK(output.candela(north, {-1, 1, 0}) == Approx(300));
    CHECK(output.candela(north, {0, 1, -1}) == Approx(400));
    CHECK(output.candela(north, {0, -1, 0}) == 0);
    // Turned by a quarter to the west its right is north.
    const LampPose west{{}, {-1, 0, 0}};
    CHECK(output.candela(west, {-1, 1, 0}) == Approx(100));
    // Hung to shine down: horizontal 0 along the plan's x.
    CHECK(output.candela(hung({}), {1, 0, -1}) == Approx(100));
}

TEST_CASE("a fill lamp's distance is where it gives the ratio, and its place says the rest",
          "[study][lamp]") {
    const room::Room room = *WorkedRoom{}.location().room;
    site::Lamp lamp;
    lamp.place = site::Lamp::Place::inside;
    lamp.photometry = light::DataSheet{.reading = {1000, 1},
                                       .beam = Angle::degrees(90),
                                       .field = {},
                                       .second_reading = {},
                                       .face_diameter_m = 0};
    using enum light::RatioConvention;
    // Key 4000 lx, room 100 lx. 4:1 as key to fill wants 1000 lx of fill, 900 of them new.
    FillAnswer f = find_fill(room, lamp, {0, 4000, 100, 4, key_to_fill});
    CHECK(f.wanted_fill_lx == Approx(1000));
    CHECK(f.lamp_lx == Approx(900));
    CHECK(*f.distance_m == Approx(std::sqrt(1000.0 / 900)));
    // It can stand no farther off than the farthest corner of the floor.
    double farthest = 0;
    const Point2 mark = room.marks[0].at;
    for (const Point2 corner : room.floor)
        farthest = std::max(farthest, std::hypot(corner.x - mark.x, corner.y - mark.y));
    CHECK(f.farthest_m == Approx(farthest));
    // The same number in the other convention is a third more light.
    f = find_fill(room, lamp, {0, 4000, 100, 4, key_plus_fill_to_fill});
    CHECK(f.wanted_fill_lx == Approx(4000.0 / 3));
    // Enough already.
    f = find_fill(room, lamp, {0, 4000, 2000, 4, key_to_fill});
    CHECK(f.lamp_lx < 0);
    CHECK_FALSE(f.distance_m);
    // Two metres from the mark it gives 250 lx: too little by log2(900 / 250).
    lamp.at = Point2{3, 4.5};
    lamp.height_m = 1.2;
    f = find_fill(room, lamp, {0, 4000, 100, 4, key_to_fill});
    CHECK(*f.placed_m == Approx(2));
    CHECK(*f.placed_lx == Approx(250));
    CHECK(*f.placed_dim_stops == Approx(std::log2(250.0 / 900)));
    CHECK_FALSE(f.blocked);
    room::Room with_rack = room;
    with_rack.objects = {{"rack", {{2, 3}, {4, 3}, {4, 3.5}, {2, 3.5}}, 1.8}};
    f = find_fill(with_rack, lamp, {0, 4000, 100, 4, key_to_fill});
    CHECK(*f.blocked == room::LimitingEdge{room::Edge::object, 0});
    CHECK(*f.placed_lx == 0);
}

TEST_CASE("the whole answer: like the sun of a minute, against the room's own light",
          "[study][lamp]") {
    site::Location location = flax_road();
    location.lamps = {spot_lamp()};
    location.lamps[0].stand_max_m = 4.5;
    const OnDates on{location, 2026_y / 5 / 1, 2026_y / 5 / 1};
    const RoomLight room_light{on.study};
    LampQuestion q;
    q.mark = 1;  // the curling bench, whose clean key is at 11:30 or so
    q.like = *on.location.site.zone.instant(date::local_days{on.first} + std::chrono::hours{11} +
                                            std::chrono::minutes{10});
    const LampReport dark = report_lamp(on.study, nullptr, q);
    REQUIRE(dark.sun);
    CHECK(dark.sun->direct_lx > 10000);
    CHECK(dark.mired_from_sun);
    REQUIRE(dark.light);
    REQUIRE(dark.difference);
    CHECK(dark.sun->coverage ==
          Approx(on.study.scene().coverage(1, dark.wish.window, dark.sun->toward)));
    LampQuestion at_five = q;
    at_five.distance_m = 5;
    CHECK(report_lamp(on.study, nullptr, at_five).stand.wanted.distance_m == Approx(5));
    LampQuestion by_sun = q;
    by_sun.window = dark.wish.window;
    by_sun.sun_is_key = true;
    const LampReport sunlit = report_lamp(on.study, &room_light, by_sun);
    REQUIRE(sunlit.sun);
    CHECK(sunlit.sun->direct_lx == Approx(dark.sun->direct_lx));
    CHECK(sunlit.sun->coverage == Approx(dark.sun->coverage));
    CHECK(dark.levels.key_lx == Approx(dark.light->level_lx));
    CHECK(dark.levels.fill_lx == Approx(dark.light->given_back_lx));
    const StandPlace& place = *dark.stand.place();
    CHECK(place.is_reachable());
    CHECK(place.height_above_ground_m <= 4.5 + 1e-5);

    // By day the room adds its own, to both.
    q.room_light_at = q.like;
    const LampReport by_day = report_lamp(on.study, &room_light, q);
    CHECK(by_day.levels.key_lx > dark.levels.key_lx);
    CHECK(by_day.levels.fill_lx > dark.levels.fill_lx);

    // A key angle is what the camera then sees, on the side asked for.
    for (const bool right : {true, false}) {
        LampQuestion by_key;
        by_key.mark = 1;
        by_key.key = WantedKey{1, 50, 2.0, right};
        const LampReport r = report_lamp(on.study, nullptr, by_key);
        const room::Room& room = on.study.room();
        const Point3 mark{room.marks[1].at.x, room.marks[1].at.y, room.marks[1].height_m};
        CHECK(room::key_angle(room, room.cameras[1], r.stand.wanted.at - mark).in_degrees() ==
              Approx(right ? 50 : -50));
        CHECK(r.stand.wanted.height_above_ground_m == Approx(2));
    }

    // From its own place, and a fill for what it gives.
    location.lamps[0].at = Point2{place.at.x, place.at.y};
    location.lamps[0].height_m = place.height_above_ground_m;
    location.lamps.push_back(spot_lamp());
    location.lamps[1].place = site::Lamp::Place::inside;
    const OnDates placed{location, 2026_y / 5 / 1, 2026_y / 5 / 1};
    LampQuestion own;
    own.mark = 1;
    own.window = dark.wish.window;
    own.fill = WantedFill{1, 4, light::RatioConvention::key_to_fill};
    const LampReport r = report_lamp(placed.study, nullptr, own);
    CHECK(r.stand.wanted.is_reachable());
    CHECK(r.light->level_lx == Approx(dark.light->level_lx).epsilon(1e-6));
    REQUIRE(r.fill);
    CHECK(r.fill->wanted_fill_lx == Approx(r.levels.key_lx / 4));
}

TEST_CASE("a settled place is told by the wall and the window's middle, seen from inside",
          "[study][lamp]") {
    Stage s;  // wall y = 0; from inside its left corner is (6, 0), the window's middle x = 3
    const room::Scene scene{s.room()};
    const StandPlace right = judge_stand(scene, s.lamp, s.wish, {1, -3, 1.5});
    CHECK(right.along_wall_m == Approx(2));
    CHECK(right.off_wall_m == Approx(3 - 0.3));
    CHECK(right.distance_m == Approx(std::sqrt(2 * 2 + 5.5 * 5.5 + 0.3 * 0.3)));
    CHECK(beside_window_in_words(right) ==
          "2.70 m off the wall's outer face, 2.00 m to the right of the window's middle (seen from "
          "inside)");
    s.room().windows[0].left_m = 1;  // its middle at x = 4.4
    const StandPlace left = judge_stand(room::Scene{s.room()}, s.lamp, s.wish, {5, -3, 1.5});
    CHECK(left.along_wall_m == Approx(-0.6));
    CHECK(beside_window_in_words(left).find("0.60 m to the left") != std::string::npos);
}

TEST_CASE("what takes most of the mark is named where a lamp does not cover it", "[study][lamp]") {
    // Without reveal all edges lie in the wall's plane. From 3.3 m before it the mark's silhouette,
    // 0.085 m in radius there, stands about a point that is given: the lamp's, by proportion.
    Stage s;
    s.room().windows[0].reveal_m = 0;
    s.lamp.stand_max_m = 20;
    const room::Scene scene{s.room()};
    const double share = 3.3 / 5.8;
    const auto from = [&](double x, double z) {
        return judge_stand(scene, s.lamp, s.wish,
                           {(x - share * 3) / (1 - share), -3.3, (z - share * 1.2) / (1 - share)});
    };
    const auto named = [](const StandPlace& place) {
        for (const Obstacle& o : place.obstacles)
            if (o.what == Hindrance::not_covered) return o.edge.kind;
        return room::Edge::none;
    };
    // The opening: x 2.4 to 3.6, z 0.9 to 2.4; x grows to the left.
    CHECK(named(from(3.63, 2.35)) == room::Edge::left_jamb);
    CHECK(named(from(3.55, 2.43)) == room::Edge::head);
    CHECK(named(from(2.37, 2.35)) == room::Edge::right_jamb);
    CHECK(named(from(2.45, 0.87)) == room::Edge::sill);
    CHECK(named(from(3, 1.6)) == room::Edge::none);
}

TEST_CASE("a room gives back of a lamp's light what the surface that it falls on gives back",
          "[study][lamp]") {
    struct Case {
        double height_m;          // of the lamp
        room::Reflectance black;  // the surface that all of its light lands on
        const char* lands_on;
    };
    const Case cases[] = {
        {9, {0, 0.5, 0.7}, "the floor"},
        {1.6, {0.2, 0, 0.7}, "the back wall"},
        {-6, {0.2, 0.5, 0}, "the ceiling"},
    };
    for (const Case& c : cases) {
        Stage s;
        s.lamp.stand_max_m = 20;
        const double distance = c.height_m == 1.6 ? 20 : 4;
        const StandPlace place =
            judge_stand(room::Scene{s.room()}, s.lamp, s.wish, {3, -distance, c.height_m});
        CAPTURE(c.lands_on);
        const double usual = s.light(place).given_back_lx;
        CHECK(usual > 0);
        CHECK(s.light(place).on_ceiling.has_value() == (c.black.ceiling == 0));
        s.room().reflectance = c.black;
        CHECK(s.light(place).given_back_lx == Approx(0).margin(1e-9));
        // And no other surface has the first of it.
        for (double room::Reflectance::*other :
             {&room::Reflectance::floor, &room::Reflectance::walls, &room::Reflectance::ceiling}) {
            if (c.black.*other == 0) continue;
            s.room().reflectance = {};
            s.room().reflectance.*other = 0;
            CHECK(s.light(place).given_back_lx > 0.3 * usual);
        }
    }
}

TEST_CASE("from the mark to the wall behind it light falls by the inverse square",
          "[study][lamp]") {
    Stage s;
    s.lamp.stand_max_m = 20;
    // Level with the mark, which stands 3.5 m before the back wall: 8 m away, then 11.5.
    const StandPlace level = judge_stand(room::Scene{s.room()}, s.lamp, s.wish, {3, -5.5, 1.2});
    CHECK(s.light(level).fall_off_to_wall_stops == Approx(2 * std::log2(11.5 / 8)).epsilon(1e-6));
    // From 45 degrees above it: 1.2 m down to the floor, 1.2 times the square root of two on.
    const double d = 6 * std::sqrt(2.0), on = 1.2 * std::sqrt(2.0);
    const StandPlace high = judge_stand(room::Scene{s.room()}, s.lamp, s.wish, {3, -3.5, 7.2});
    CHECK(s.light(high).fall_off_to_wall_stops ==
          Approx(2 * std::log2((d + on) / d)).epsilon(1e-6));
}

TEST_CASE("a fill lamp that can't be aimed hangs and gives what falls aside", "[study][lamp]") {
    // A downlight obeys Lambert: of its lumens a pi-th straight down, by the cosine aside.
    const room::Room room = *WorkedRoom{}.location().room;
    site::Lamp lamp;
    lamp.place = site::Lamp::Place::inside;
    lamp.photometry = site::Lumens{2000};
    lamp.at = Point2{3, 4};
    lamp.height_m = 2.7;
    const FillAnswer f =
        find_fill(room, lamp, {0, 4000, 100, 4, light::RatioConvention::key_to_fill});
    CHECK_FALSE(f.distance_m);
    const double down = 2.7 - 1.2, d = std::hypot(1.5, down);  // the mark: (3, 2.5, 1.2)
    CHECK(*f.placed_m == Approx(d));
    CHECK(*f.placed_lx == Approx(2000 / std::numbers::pi * (down / d) / (d * d)));
}
