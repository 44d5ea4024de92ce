// What lamps give, and where they stand: whole answers in rooms of every kind.

#include <catch2/catch.hpp>

#include "keyhour/study/lamp_stand.hpp"
#include "lamp_places.hpp"
#include "recorded.hpp"
#include "worked_room.hpp"

using namespace keyhour;
using namespace keyhour::study;
using room::Point3;

namespace {

/// From the mark out through the window, turned aside and raised.
Point3 way_out(const room::Scene& scene, const StandWish& wish, double aside, double high) {
    const room::Mark& mark = scene.room().marks[wish.mark];
    const Point3 to = scene.middle(wish.window) - Point3{mark.at.x, mark.at.y, mark.height_m};
    const double level = std::hypot(to.x, to.y);
    return test::direction(std::atan2(to.y, to.x) + aside, std::atan2(to.z, level) + high);
}

void note_stand(Record& record, const room::Scene& scene, const site::Lamp& lamp,
                const StandWish& wish, bool whole) {
    const StandAnswer answer = find_stand(scene, lamp, wish);
    record.add("stand", answer);
    for (const Obstacle& o : answer.wanted.obstacles)
        record.add("against", study::words(o, scene.room(), lamp));
    record.add("beside", beside_window_in_words(answer.wanted));
    const StandPlace* place = answer.place();
    if (place == nullptr) return;
    LampLight light = light_from(scene, lamp, wish, *place);
    if (!whole) light.patches.clear();
    if (!whole) light.on_ceiling.reset();
    record.add("light", light);
    record.add("doubt", stand_doubt(scene, lamp, wish, *place, 0.2));
    record.add("difference", difference(scene, lamp, wish, *place, way_out(scene, wish, 0.1, 0.2),
                                        Angle::degrees(0.53), 0.15));
}

}  // namespace

TEST_CASE("what lamps give is what is recorded", "[recorded][lamp_output]") {
    Record record{"lamp_output"};
    const double r = std::sqrt(0.5);
    for (const site::Lamp& lamp : lamps_of_every_kind()) {
        const LampOutput output{lamp};
        record.add("aimed", output.can_be_aimed());
        record.add("face", output.face_diameter_m());
        record.add("axis", output.axis_candela());
        record.add("lumens", output.lumens());
        for (const double lx : {1e-3, 5.0, 800.0, 1e5, 1e9})
            record.add("distance", output.distance_for_m(lx));
        for (const Point3 axis : {Point3{0, 1, 0}, Point3{r, 0, -r}, Point3{0, 0, -1}}) {
            const LampPose pose{{1, 2, 3}, axis};
            record.add("at_lamp", output.level_lx(pose, pose.at));
            for (const Point3 toward :
                 {Point3{0, 2, 0}, Point3{0.3, 1, 0.2}, Point3{-0.3, 1, 0.2}, Point3{1, 0, -1},
                  Point3{0.2, 0.1, -2}, Point3{0, -1, 0}, Point3{1, 0, 0}}) {
                record.add("candela", output.candela(pose, toward));
                record.add("level", output.level_lx(pose, pose.at + toward));
                record.add("aslant", output.level_lx(pose, pose.at + 0.5 * toward, 0.4));
            }
        }
    }
    record.check();
}

TEST_CASE("stands of lamps are those recorded", "[recorded][lamp_stand]") {
    Record record{"lamp_stands"};
    const auto lamps = lamps_of_every_kind();
    for (const std::uint64_t seed : {2U, 5U, 9U}) {
        site::Location l = random_place(seed);
        const room::Scene scene{*l.room};
        for (std::size_t i = 0; i < 3; ++i) {
            StandWish wish;
            wish.window = i % l.room->windows.size();
            wish.mark = i % l.room->marks.size();
            wish.ground_below_m = l.room->floor_above_ground_m;
            wish.toward = way_out(scene, wish, 0.1 * static_cast<double>(i), 0.05);
            note_stand(record, scene, lamps[2 * i], wish, i == 0);
        }
    }
    record.check();
}

TEST_CASE("stands of lamps by every wish are those recorded", "[recorded][lamp_stand]") {
    Record record{"lamp_wishes"};
    const auto lamps = lamps_of_every_kind();
    const site::Location l = place_read("tallow-lane");
    const room::Scene scene{*l.room};
    StandWish usual;
    usual.ground_below_m = 0.4;
    const auto ask = [&](std::size_t lamp, double aside, double high, const auto& change) {
        StandWish wish = usual;
        change(wish);
        wish.toward = way_out(scene, wish, aside, high);
        note_stand(record, scene, lamps[lamp], wish, false);
    };
    const auto as_it_is = [](StandWish&) {};
    for (const std::size_t lamp : {0U, 1U, 2U, 4U, 5U})
        ask(lamp, 0.05, 0.1, as_it_is);
    for (const double high : {-0.5, -0.15, 0.0, 0.3, 0.6})
        ask(0, 0, high, as_it_is);
    for (const double aside : {-1.2, -0.5, 0.5, 1.2, 3.0})
        ask(0, aside, 0, as_it_is);
    ask(0, 0.1, 0.1, [](StandWish& w) { w.distance_m = 4; });
    ask(0, 0.1, 0.1, [](StandWish& w) { w.distance_m = 2; });
    ask(0, 0.1, 0.9, [](StandWish& w) { w.distance_m = 9; });
    ask(0, 0.1, 0.0, [](StandWish& w) { w.height_m = 2; });
    ask(0, 0.1, 0.0, [](StandWish& w) { w.height_m = 5; });
    ask(0, 0.1, 0.0, [](StandWish& w) { w.height_m = 0.05; });
    ask(0, 0.1, 0.0, [](StandWish& w) { w.height_m = 2, w.distance_m = 6; });
    ask(0, 0.0, 0.0, [](StandWish& w) { w.window = 1; });
    ask(0, 0.0, 0.0, [](StandWish& w) { w.window = 2; });
    ask(0, 0.1, 0.1, [](StandWish& w) { w.farthest_m = 3; });
    ask(0, 0.1, 0.1, [](StandWish& w) { w.farthest_m = 40; });
    ask(0, 0.3, 0.1, [](StandWish& w) { w.coverage = 0.5; });
    ask(0, 0.3, 0.1, [](StandWish& w) { w.coverage = 1; });
    ask(0, 0.0, 0.1, [](StandWish& w) { w.ground_below_m = 3; });
    record.check();
}

TEST_CASE("places near to those wished for are those recorded", "[recorded][lamp_stand]") {
    Record record{"lamp_nearest"};
    const auto lamps = lamps_of_every_kind();
    for (std::uint64_t seed = 1; seed <= 14; ++seed) {
        const site::Location l = random_place(seed);
        if (l.room->marks.empty()) continue;
        const room::Scene scene{*l.room};
        for (std::size_t w = 0; w < std::min<std::size_t>(l.room->windows.size(), 2); ++w) {
            StandWish wish;
            wish.window = w;
            wish.mark = w % l.room->marks.size();
            wish.ground_below_m = l.room->floor_above_ground_m;
            wish.coverage = w == 0 ? 0.95 : 0.3;
            wish.toward = way_out(scene, wish, seed % 2 == 0 ? 0.4 : -0.7, 0.3);
            const site::Lamp& lamp = lamps[seed % 2 == 0 ? 0 : 2];
            const StandAnswer answer = find_stand(scene, lamp, wish);
            record.add("nearest", std::pair{answer.nearest, answer.nearest_off_deg});
            if (seed > 7) continue;
            wish.height_m = 2.5;
            record.add("by_height", find_stand(scene, lamp, wish));
        }
    }
    record.check();
}

TEST_CASE("the light of a lamp on marks near floor, wall and ceiling is that recorded",
          "[recorded][lamp_stand]") {
    Record record{"lamp_near_surfaces"};
    site::Location l = place_read("tallow-lane");
    l.room->marks[0].at = {1.8, 2.5};
    site::Lamp lamp = lamps_of_every_kind()[0];
    lamp.stand_max_m.reset();
    const auto note = [&](Point3 mark, Point3 at) {
        l.room->marks[0].at = {mark.x, mark.y};
        l.room->marks[0].height_m = mark.z;
        const room::Scene scene{*l.room};
        StandWish wish;
        wish.coverage = 0;
        const StandPlace place = judge_stand(scene, lamp, wish, at);
        LampLight light = light_from(scene, lamp, wish, place);
        light.patches.clear();
        record.add("light", light);
        const Point3 sun = way_out(scene, wish, 0.05, 0.1);
        record.add("difference",
                   difference(scene, lamp, wish, place, sun, Angle::degrees(0.53), 0.1));
        record.add("doubt", stand_doubt(scene, lamp, wish, place, 0.1));
    };
    note({1.8, 2, 0.25}, {1.8, -4, 3});   // the floor is next
    note({1.8, 1, 2.9}, {1.8, -3, 0.5});  // the ceiling
    note({0.3, 2, 1.3}, {3.5, -4, 1.6});  // the party wall
    note({4.1, 1.5, 0.8}, {0, -2, 1.2});  // the table
    note({1.8, 2, 1.3}, {1.8, -4, 1.3});  // level
    note({1.8, 4.5, 1.3}, {1.8, -0.6, 1.5});
    // So dim that less than a lumen and than a lux come in.
    lamp.photometry = light::DataSheet{{0.4, 5}, Angle::degrees(24), {}, {}, 0.3};
    note({1.8, 2, 1.3}, {1.8, -4, 1.5});
    // Turned to another window first, which the lamp shines on as well.
    lamp = lamps_of_every_kind()[2];
    note({3, 2, 1.3}, {3, -1.5, 1.5});
    note({3, 2, 1.3}, {3.5, -9, 1.5});
    record.check();
}

TEST_CASE("places judged for a lamp are those recorded", "[recorded][lamp_stand]") {
    Record record{"lamp_places"};
    const auto lamps = lamps_of_every_kind();
    site::Location l = place_read("tallow-lane");
    l.room->buildings.push_back({"bare tree", {}, 20});
    const room::Scene scene{*l.room};
    StandWish wish;
    wish.ground_below_m = 0.4;
    for (const std::size_t lamp : {0U, 2U, 4U})
        for (const double x : {-2.0, 1.8, 4.5})
            for (const double y : {2.0, 0.05, -0.28, -0.5, -0.58, -0.88, -1.2, -4.0, -12.0})
                for (const double z : {-0.3, -0.25, 1.3, 3.2, 3.3, 9.0, 9.2})
                    record.add("place", judge_stand(scene, lamps[lamp], wish, {x, y, z}));
    record.check();
}

TEST_CASE("a limit itself is within it: wall, ground, stand", "[lamp_stand]") {
    // Common practice, no source: 0.3 m off the wall, or half the face; half the face off the
    // ground; the stand's whole height.
    const site::Location l = WorkedRoom{}.location();
    const room::Scene scene{*l.room};
    site::Lamp lamp = lamps_of_every_kind()[0];
    StandWish wish;
    wish.coverage = 0;
    const auto against = [&](double off_wall, double high) {
        return judge_stand(scene, lamp, wish, {3, -0.3 - off_wall, high}).obstacles.size();
    };
    CHECK(against(0.3, 1.2) == 0);
    CHECK(against(0.299, 1.2) == 1);
    CHECK(against(2, 3.6) == 0);
    CHECK(against(2, 3.601) == 1);
    CHECK(against(2, 0.15) == 0);
    CHECK(against(2, 0.149) == 1);
    lamp.face_diameter_m = 1;
    CHECK(against(0.5, 1.2) == 0);
    CHECK(against(0.499, 1.2) == 1);
    lamp.diffusion = light::Diffusion{0.5, 2, 1};
    CHECK(against(1, 1.2) == 0);
    CHECK(against(0.999, 1.2) == 1);
}

TEST_CASE("what keeps a lamp away is told in words", "[lamp_stand]") {
    const site::Location l = place_read("tallow-lane");
    const room::Room& room = *l.room;
    site::Lamp lamp = lamps_of_every_kind()[0];
    const auto told = [&](Hindrance what, room::LimitingEdge edge = {}) {
        return study::words(Obstacle{what, edge}, room, lamp);
    };
    CHECK(told(Hindrance::behind_wall) == "that is not before the window's wall");
    CHECK(told(Hindrance::too_near_wall) == "too near the wall: a lamp needs 0.3 m");
    CHECK(told(Hindrance::in_own_walls) == "the room's own walls stand there");
    CHECK(told(Hindrance::in_building, {room::Edge::building, 0}) ==
          "building warehouse opposite stands there");
    CHECK(told(Hindrance::below_ground) == "that is in the ground");
    CHECK(told(Hindrance::above_stand) == "the stand goes to 3.6 m");
    CHECK(told(Hindrance::not_covered) == "its light does not reach all of the mark");
    CHECK(told(Hindrance::not_covered, {room::Edge::head, 0}) ==
          "head keeps its light from the mark");
    lamp.face_diameter_m = 1.4;
    CHECK(told(Hindrance::too_near_wall) == "too near the wall: a lamp needs 0.7 m");
    StandPlace place;
    place.off_wall_m = 2.751;
    place.along_wall_m = 0.409;
    CHECK(beside_window_in_words(place) ==
          "2.75 m off the wall's outer face, 0.41 m to the right of the window's middle (seen from "
          "inside)");
    place.along_wall_m = -1.5;
    CHECK(beside_window_in_words(place) ==
          "2.75 m off the wall's outer face, 1.50 m to the left of the window's middle (seen from "
          "inside)");
}

TEST_CASE("fill lamps are those recorded", "[recorded][lamp_stand]") {
    Record record{"fill_lamps"};
    const site::Location l = place_read("tallow-lane");
    for (const std::size_t lamp : {3U, 7U, 4U})
        for (const double key_lx : {50.0, 800.0, 1e7})
            for (const auto convention : {light::RatioConvention::key_to_fill,
                                          light::RatioConvention::key_plus_fill_to_fill}) {
                FillWish wish{0, key_lx, 30, 4, convention};
                site::Lamp fill = lamps_of_every_kind()[lamp];
                record.add("fill", find_fill(*l.room, fill, wish));
                fill.at = room::Point2{4, 3};
                record.add("no_height", find_fill(*l.room, fill, wish));
                fill.height_m = 2;
                record.add("placed", find_fill(*l.room, fill, wish));
                wish.room_fill_lx = 1e5;
                record.add("enough", find_fill(*l.room, fill, wish));
                fill.at = room::Point2{5.2, 1.5};
                fill.height_m = 0.3;
                record.add("in_table", find_fill(*l.room, fill, wish));
            }
    record.check();
}

TEST_CASE("a dim fill lamp is placed by its own light", "[lamp_stand]") {
    // 1 cd at 2 m gives 0.25 lx; wanted: 2 lx / 4 less what the room gives, 0.4.
    const site::Location l = place_read("tallow-lane");
    site::Lamp lamp = lamps_of_every_kind()[3];
    lamp.face_diameter_m = 0;
    lamp.photometry = light::DataSheet{{1, 1}, Angle::degrees(60), {}, {}, 0};
    lamp.at = room::Point2{2.3, 3.8};  // two metres from the mark, as high
    lamp.height_m = 1.25;
    const FillAnswer a = find_fill(*l.room, lamp, {0, 2, 0.4, 4, {}});
    CHECK(a.wanted_fill_lx == Approx(0.5));
    CHECK(a.lamp_lx == Approx(0.1));
    CHECK(*a.distance_m == Approx(std::sqrt(10)));
    CHECK(*a.placed_m == Approx(2));
    CHECK(*a.placed_lx == Approx(0.25));
    CHECK(*a.placed_dim_stops == Approx(std::log2(2.5)));
    CHECK_FALSE(a.blocked);
    // The room is 7.2 x 4.6 m, the mark at 2.3, 1.8: the corner farthest off is 4.9, 2.8 away.
    CHECK(a.farthest_m == Approx(std::hypot(4.9, 2.8)));
}
