// What stands outside, whole: light that facades throw back, ground to keep clear, shadows.

#include <array>
#include <catch2/catch.hpp>

#include "../../src/study/window_view.hpp"
#include "flax_road.hpp"
#include "keyhour/study/clean_key.hpp"
#include "keyhour/study/facade_light.hpp"
#include "keyhour/study/ground.hpp"
#include "keyhour/study/light_side.hpp"
#include "recorded.hpp"
#include "support/random_location.hpp"
#include "worked_room.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

namespace {

const site::LocalDate spring = 2026_y / 4 / 2, midwinter = 2026_y / 6 / 20;

/// A random room, and houses before its windows that have a facade each.
site::Location among_facades(std::uint64_t seed) {
    test::Dice dice{seed};
    site::Location l = test::random_location(dice);
    l.site.observer.latitude = Angle::degrees(dice.between(-55, 55));
    l.site.observer.longitude = {};
    room::Room& r = *l.room;
    r.buildings.clear();
    for (int i = 0; i < 4; ++i) {
        const room::Window& w = r.windows[dice.index(r.windows.size())];
        const room::WallFrame f = room::wall_frame(r.floor, w.wall);
        const double away = dice.between(8, 30), aside = dice.between(-25, 25);
        const room::Point2 at = f.left_corner + w.left_m * f.u + away * f.n + aside * f.u;
        // One throw after the other: compilers evaluate a call's arguments in orders of their own.
        const double turn = dice.between(0, 6.3), size = dice.between(2, 9);
        const room::Ring print = test::placed(test::outline(dice, size), turn, at);
        if (test::overlaps(r.floor, print)) continue;
        room::Building b{test::numbered("house", static_cast<std::size_t>(i)),
                         test::shuffled(dice, print), dice.between(4, 25)};
        room::Facade facade;
        facade.kind = i % 3 == 2 ? room::Facade::Kind::white : room::Facade::Kind::glass;
        facade.side = dice.index(b.footprint.size());
        facade.bottom_m = b.height_m * dice.between(0, 0.3);
        facade.top_m = b.height_m * dice.between(0.6, 1);
        b.facade = facade;
        r.buildings.push_back(b);
    }
    return l;
}

}  // namespace

TEST_CASE("light that facades throw back is that recorded", "[recorded][facade]") {
    Record record{"facade_light"};
    for (std::uint64_t seed = 100; seed < 190; ++seed) {
        const OnDates on{among_facades(seed), spring, spring};
        const auto thrown = facade_light(on.study, on.start_of(spring), on.start_of(spring, 1));
        if (!thrown.empty()) record.add("thrown", thrown);
    }
    record.check();
}

TEST_CASE("a screen of glass throws light back as a house does", "[facade]") {
    // Thin, so that its footprint is less than a square metre; either way round.
    WorkedRoom worked;
    worked.faces_deg = 0;
    worked.latitude_deg = 48;
    site::Location l = worked.location();
    room::Building screen{"screen", {{-10, -24.03}, {14, -24.03}, {14, -24}, {-10, -24}}, 16};
    screen.facade = room::Facade{room::Facade::Kind::glass, 2, 4, 16};
    const site::LocalDate d = 2026_y / 12 / 1;
    const auto visits = [&](const room::Building& b) {
        l.room->buildings = {b};
        const OnDates on{l, d, d};
        return facade_light(on.study, on.start_of(d), on.start_of(d, 1));
    };
    const auto there = visits(screen);
    REQUIRE(there.size() == 1);
    std::ranges::reverse(screen.footprint);  // its sides the other way: side 2 is the first now
    screen.facade->side = 0;
    const auto back = visits(screen);
    REQUIRE(back.size() == 1);
    REQUIRE(back[0].visits.size() == there[0].visits.size());
    CHECK(std::abs((back[0].visits[0].span.from - there[0].visits[0].span.from).count()) < 0.2);
    screen.footprint = {{-10, -40}, {14, -40}, {14, -24}, {-10, -24}};
    screen.facade->side = 2;
    CHECK(visits(screen)[0].visits[0].span.from == there[0].visits[0].span.from);
}

TEST_CASE("facades without a footprint, and what is not one, throw nothing", "[facade]") {
    site::Location l = among_facades(104);
    for (room::Building& b : l.room->buildings)
        b.footprint.clear();
    const OnDates empty{l, spring, spring};
    CHECK(facade_light(empty.study, empty.start_of(spring), empty.start_of(spring, 1)).empty());
    l = among_facades(104);
    for (room::Building& b : l.room->buildings)
        b.facade.reset();
    const OnDates plain{l, spring, spring};
    CHECK(facade_light(plain.study, plain.start_of(spring), plain.start_of(spring, 1)).empty());
}

TEST_CASE("ground to keep clear is that recorded", "[recorded][ground]") {
    Record record{"clear_ground"};
    const OnDates on{flax_road(), midwinter, midwinter};
    const Instant from = on.start_of(midwinter), to = on.start_of(midwinter, 1);
    for (const KeyInterval& key : clean_key(on.study, from, to)) {
        if (!key.span) continue;
        for (const double height_m : {0.5, 1.3, 2.0, 5.0})
            record.add("ground", clear_ground(on.study, key.window, key.mark, *key.span, height_m));
        const Span point{key.span->from, key.span->from};
        record.add("moment", clear_ground(on.study, key.window, key.mark, point, 2));
    }
    // From a low sun to a high one and back, past what the window shows of the mark.
    for (std::size_t w = 0; w < 4; ++w)
        for (std::size_t mark = 0; mark < 2; ++mark)
            for (const auto& [from_h, to_h] : {std::pair{7.2, 7.6},
                                               {8.0, 8.2},
                                               {8.3, 8.7},
                                               {10.0, 10.6},
                                               {12.3, 12.6},
                                               {14.9, 15.5}})
                record.add(
                    "hours",
                    clear_ground(on.study, w, mark,
                                 {from + Seconds{3600 * from_h}, from + Seconds{3600 * to_h}}, 3));
    record.check();
}

TEST_CASE("ground under rays to random marks is that recorded", "[recorded][ground]") {
    Record record{"clear_ground_random"};
    for (std::uint64_t seed = 60; seed < 76; ++seed) {
        test::Dice dice{seed};
        site::Location l = test::random_location(dice);
        l.site.observer.latitude = Angle::degrees(dice.between(-50, 50));
        l.site.observer.longitude = {};
        const OnDates on{l, spring, spring};
        const room::Room& r = on.study.room();
        for (std::size_t mark = 0; mark < r.marks.size(); ++mark)
            for (std::size_t w = 0; w < r.windows.size(); ++w)
                for (const double hour : {7.0, 9.5, 16.0}) {
                    const Instant t = on.start_of(spring) + Seconds{3600 * hour};
                    const ClearGround ground =
                        clear_ground(on.study, w, mark, {t, t + Seconds{130}}, 12);
                    if (!ground.outlines.empty()) record.add("ground", ground);
                    const ClearGround tall = clear_ground(on.study, w, mark, {t, t}, 70);
                    if (seed < 66 && !tall.outlines.empty()) record.add("tall", tall);
                }
    }
    record.check();
}

TEST_CASE("shadows on the ground are those recorded", "[recorded][ground]") {
    Record record{"ground_shadows"};
    test::Dice dice{9};
    for (int i = 0; i < 12; ++i) {
        const double x = dice.between(-3, 3), about = dice.between(0, 6);
        const room::Ring print =
            test::shuffled(dice, test::placed(test::outline(dice, 2), about, {x, 1}));
        const double turn = dice.between(0, 6.3), altitude = dice.between(0.1, 1.5);
        record.add("shadow",
                   ground_shadow(print, dice.between(0.5, 6), test::direction(turn, altitude)));
    }
    const room::Ring square{{0, 0}, {1, 0}, {1, 1}, {0, 1}},
        yard{{0, 0}, {4, 0}, {4, 4}, {0, 4}, {0, 3}, {3, 3}, {3, 1}, {0, 1}};
    record.add("level", ground_shadow(square, 2, {1, 0, 0}));
    record.add("below", ground_shadow(square, 2, {0.8, 0, -0.6}));
    record.add("above", ground_shadow(square, 2, {0, 0, 1}));
    record.add("flat", ground_shadow(square, 0, {0.6, 0, 0.8}));
    record.add("yard", ground_shadow(yard, 3, {0.8, 0, 0.6}));
    record.add("line", ground_shadow({{0, 0}, {1, 0}}, 2, {0, 0.6, 0.8}));
    record.add("speck", ground_shadow({{0, 0}, {0.009, 0}, {0, 0.009}}, 0, {0.6, 0, 0.8}));
    record.add("leaf", ground_shadow({{0, 0}, {0.02, 0}, {0, 0.02}}, 0, {0.6, 0, 0.8}));
    record.check();
}

TEST_CASE("windows before cameras are those recorded", "[recorded][key]") {
    Record record{"window_views"};
    for (std::uint64_t seed = 80; seed < 95; ++seed) {
        test::Dice dice{seed};
        const OnDates on{test::random_location(dice), spring, spring};
        const room::Room& r = on.study.room();
        for (std::size_t camera = 0; camera < r.cameras.size(); ++camera)
            for (std::size_t w = 0; w < r.windows.size(); ++w)
                record.add("view", window_view(on.study, w, r.cameras[camera].aims_at, camera));
    }
    for (const double angle : {-180.0, -95.0, -40.0, 0.0, 8.0, 20.0, 50.0, 91.0, 140.0})
        record.add("off", off_usual_angle(angle));
    record.add("right", light_side_in_words(true));
    record.add("left", light_side_in_words(false));
    record.check();
}
