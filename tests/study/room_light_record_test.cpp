// The light of rooms at their marks, whole: by window, cloud and cover, and how it moves.

#include <array>
#include <catch2/catch.hpp>

#include "../../src/study/outside_light.hpp"
#include "../../src/study/window_shares.hpp"
#include "flax_road.hpp"
#include "keyhour/study/found_light.hpp"
#include "keyhour/study/light_drift.hpp"
#include "keyhour/study/mark_light.hpp"
#include "recorded.hpp"
#include "support/random_location.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

namespace {

const site::LocalDate early_spring = 2026_y / 3 / 14;

site::Location example(const char* name) {
    return *read::read_location(std::string{KEYHOUR_LOCATIONS "/"} + name);
}

/// Every cloud, and every cover of the key window.
const std::array all_cases{LightCase{},
                           LightCase{light::Cloud::mean, {}},
                           LightCase{light::Cloud::overcast, {}},
                           LightCase{light::Cloud::none, room::Cover::sheer},
                           LightCase{light::Cloud::mean, room::Cover::sheer},
                           LightCase{light::Cloud::none, room::Cover::blackout},
                           LightCase{light::Cloud::overcast, room::Cover::open}};

void add_moment(Record& record, const OnDates& on, const RoomLight& light, Instant t) {
    const Moment m = on.study.path().at(t);
    const SunNow sun = light.sun(m);
    record.add("sun", sun);
    record.add("in_room", light.in_room(sun));
    for (const RoomLight::BestLit& best : light.at_marks(sun, std::span{all_cases}.first(2)))
        record.add("best", std::pair{best.key_window, best.in_cases});
    for (std::size_t w = 0; w < on.study.room().windows.size(); ++w) {
        record.add("direct", direct_lx(on.study, w, m));
        record.add(
            "view",
            light.view_lx(w, {on.study.room().marks[0].at.x, on.study.room().marks[0].at.y, 0.7},
                          {0.6, 0, 0.8}, sun));
    }
}

/// Into each kind of cover, one window after the other as the key.
void add_cases(Record& record, const OnDates& on, const RoomLight& light, std::size_t mark,
               Instant t) {
    const SunNow sun = light.sun(on.study.path().at(t));
    for (std::size_t w = 0; w < on.study.room().windows.size(); ++w)
        record.add("cases", light.in_cases(mark, w, sun, all_cases));
    record.add("overcast", light.overcast(mark, 0, sun));
}

}  // namespace

TEST_CASE("light in the works of an L is that recorded", "[recorded][mark_light]") {
    Record record{"room_light_flax_road"};
    const OnDates on{flax_road(), early_spring, early_spring};
    const RoomLight light{on.study};
    for (const double hour : {5.0, 7.7, 12.5, 17.2, 20.3})
        add_moment(record, on, light, on.start_of(early_spring) + Seconds{3600 * hour});
    add_cases(record, on, light, 0, on.start_of(early_spring) + Seconds{3600 * 10.4});
    record.check();
}

TEST_CASE("light past a sheer and past bars is that recorded", "[recorded][mark_light]") {
    Record record{"room_light_tallow_lane"};
    const OnDates on{example("tallow-lane.toml"), early_spring, early_spring};
    const RoomLight light{on.study};
    for (const double hour : {6.2, 6.6, 9.5, 14.0})
        add_moment(record, on, light, on.start_of(early_spring) + Seconds{3600 * hour});
    add_cases(record, on, light, 0, on.start_of(early_spring) + Seconds{3600 * 13.7});
    record.check();
}

TEST_CASE("in the dark the first window is the key", "[mark_light]") {
    site::Location l = example("tallow-lane.toml");
    for (room::Window& w : l.room->windows)
        w.cover = room::Cover::blackout;
    const OnDates on{l, early_spring, early_spring};
    const RoomLight light{on.study};
    const SunNow sun = light.sun(on.study.path().at(on.start_of(early_spring) + Seconds{43200}));
    const LightCase as_it_stands;
    const auto best = light.at_marks(sun, {&as_it_stands, 1}).front();
    CHECK(best.key_window == 0);
    CHECK(best.in_cases.front().with_key_lx() == 0);
}

TEST_CASE("light under a mountain is that recorded", "[recorded][mark_light]") {
    Record record{"room_light_sundet"};
    site::Location l = example("sundet.toml");
    l.room->windows[0].glass = room::Glass::double_pane;
    l.room->windows[2].cover = room::Cover::open;
    const OnDates on{l, early_spring, early_spring};
    const RoomLight light{on.study};
    for (const double hour : {8.9, 12.1, 15.4})
        add_moment(record, on, light, on.start_of(early_spring) + Seconds{3600 * hour});
    record.check();
}

TEST_CASE("light of random rooms is that recorded", "[recorded][mark_light]") {
    Record record{"room_light_random"};
    test::Dice dice{31};
    for (int i = 0; i < 3; ++i) {
        site::Location l = test::random_location(dice);
        l.site.observer.latitude = Angle::degrees(-35 + 40 * i);
        l.site.observer.longitude = {};
        for (std::size_t w = 0; w < l.room->windows.size(); ++w)
            l.room->windows[w].glass = static_cast<room::Glass>(w % 3);
        const OnDates on{l, early_spring, early_spring};
        if (on.study.room().marks.empty()) continue;
        const RoomLight light{on.study};
        for (const double hour : {8.3, 15.1})
            add_moment(record, on, light, on.start_of(early_spring) + Seconds{3600 * hour});
    }
    record.check();
}

TEST_CASE("light of sheers behind things is that recorded", "[recorded][mark_light]") {
    Record record{"room_light_sheers"};
    for (const std::uint64_t seed : {2U, 5U, 7U, 9U}) {
        test::Dice dice{seed};
        site::Location l = test::random_location(dice);
        l.site.observer.latitude = Angle::degrees(38);
        l.site.observer.longitude = {};
        for (room::Window& w : l.room->windows)
            w.cover = room::Cover::sheer;
        const OnDates on{l, early_spring, early_spring};
        const RoomLight light{on.study};
        const SunNow sun =
            light.sun(on.study.path().at(on.start_of(early_spring) + Seconds{36000}));
        for (std::size_t mark = 0; mark < on.study.room().marks.size(); ++mark)
            record.add("sheer", light.at(mark, 0, sun));
    }
    record.check();
}

TEST_CASE("the drift of holds is that recorded", "[recorded][mark_light]") {
    Record record{"light_drifts"};
    const OnDates on{flax_road(), early_spring, early_spring};
    const RoomLight light{on.study};
    const Instant start = on.start_of(early_spring);
    for (const auto& [from_h, to_h] :
         {std::pair{10.0, 10.6}, {3.0, 12.0}, {9.0, 9.0}, {9.0, 9.0002}, {16.0, 23.0}}) {
        const Span hold{start + Seconds{3600 * from_h}, start + Seconds{3600 * to_h}};
        record.add("inside", inside(hold));
        const LightDrift moved = drift(light, on.study.path(), 0, 1, hold.from, hold.to);
        record.add("drift", moved);
        record.add("key", moved.key_stops());
        record.add("ratio", moved.ratio_stops());
        record.add("mired", moved.key_mired());
        record.add("air", moved.air_alone());
    }
    LightDrift bare;
    for (const auto& [from, to] : {std::pair{0.0, 5.0}, {5.0, 0.0}, {4.0, 1.0}}) {
        bare.at_start.key_lx.likely = from;
        bare.at_end.key_lx.likely = to;
        record.add("bare", bare.key_stops());
    }
    bare.at_start.key_to_fill_stops = light::Band{1, 2, 3};
    bare.at_start.key_kelvin = 3000;
    record.add("one_end", std::pair{bare.ratio_stops(), bare.key_mired()});
    std::swap(bare.at_start, bare.at_end);
    record.add("other_end", std::pair{bare.ratio_stops(), bare.key_mired()});
    record.check();
}

TEST_CASE("what shines outside is that recorded", "[recorded][mark_light]") {
    Record record{"outside_light"};
    for (const double altitude : {-9.0, -1.0, 4.0, 50.0}) {
        const light::SkyState state{{Angle::degrees(altitude)}, {Angle::degrees(altitude)}, 100, 1};
        const ClearSkies skies{light::clear_sky(state, light::very_clear_air),
                               light::clear_sky(state, light::normal_air),
                               light::clear_sky(state, light::hazy_air)};
        for (const auto cloud : {light::Cloud::none, light::Cloud::mean, light::Cloud::overcast}) {
            const Outsides outsides = outsides_of(skies, state, cloud);
            record.add("outsides", std::pair{outsides.count, outsides.all});
            const Outside& o = outsides.each().back();
            const Shares shares{0.3, 0.2, 0.11, 0.17, 0.05};
            record.add("shares", std::array{shares.direct_lx(o), shares.sky_lx(o),
                                            shares.ground_lx(o), o.diffuse_lx()});
            const WindowShares window{{}, shares, 0.5, 0.4};
            record.add("arriving", arriving(window, o));
            for (const auto cover : {room::Cover::open, room::Cover::sheer, room::Cover::blackout})
                record.add("entering", entering(window, o, cover));
        }
        const Colours colours{skies.likely, altitude < 0 ? -0.1 : 0.5};
        record.add("colours", std::array{colours.direct, colours.sky, colours.both});
        for (const double lx : {-1.0, 0.0, 0.9, 1.0, 2.0}) {
            Mix mix;
            mix.add(lx, colours.sky);
            record.add("mix", std::pair{mix.sum, mix.kelvin()});
            mix.add(3, {0.4, 0, 0.2});
            record.add("no_level", mix.sum);
            mix.add(2, {0.4, 0.3, 0.2});
            record.add("mixed", std::pair{mix.sum, mix.kelvin()});
        }
    }
    record.check();
}
