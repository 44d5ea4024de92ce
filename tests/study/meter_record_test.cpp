// What the recce found of a room's light, whole: readings, forges, and the light with both.

#include <array>
#include <catch2/catch.hpp>

#include "../../src/study/way_between.hpp"
#include "flax_road.hpp"
#include "keyhour/study/forge_light.hpp"
#include "keyhour/study/found_light.hpp"
#include "recorded.hpp"
#include "support/random_room.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

namespace {

const site::LocalDate recce = 2026_y / 2 / 17;

site::Location press() {
    return *read::read_location(KEYHOUR_LOCATIONS "/tallow-lane.toml");
}
Instant at_hour(double hour) {
    return press().site.zone.start_of(recce) + Seconds{3600 * hour};
}

site::Forge forge(const char* name, room::Point3 at, room::Point3 facing) {
    const double size = std::sqrt(dot(facing, facing));
    return {name, at, (1 / size) * facing, 0.6, 0.35, 900, 1.2, 1750};
}

/// One level, another, a straight up, a straight down and one turned away from the mark.
std::vector<site::Forge> forges() {
    std::vector<site::Forge> all{
        forge("hearth", {6.8, 3.9, 0.9}, {-1, -0.5, 0}),
        forge("slit", {0.3, 3.2, 0.7}, {0.8, -0.4, 0.3}), forge("pan", {2.5, 1.9, 0.4}, {0, 0, 1}),
        forge("lamp", {2.2, 1.6, 2.7}, {0, 0, -1}), forge("away", {1.5, 2.8, 1.1}, {-1, 0.3, 0})};
    all[0].width_m = 0.9;
    all[0].height_m = 0.2;
    all[1].metered_at_m = 2.5;
    all[1].kelvin = 1300;
    all[3].metered_lx = 350;
    all[3].kelvin = 2900;
    return all;
}

site::MeterReading inside(room::Point3 at, double hour, double lx,
                          light::Cloud sky = light::Cloud::none) {
    return {"inside", at, at_hour(hour), lx, sky};
}
site::MeterReading outside(double hour, double lx, light::Cloud sky = light::Cloud::none) {
    return {"outside", std::nullopt, at_hour(hour), lx, sky};
}

void add_correction(Record& record, site::Location l, const site::FoundLight& found) {
    l.found = found;
    const MeterCorrection c = meter_correction(l);
    record.add("figures", std::array{c.glass, c.fill});
    record.add("corrects", c.corrects());
    for (const MeterVerdict& v : c.verdicts)
        record.add("verdict", v);
}

MeterVerdict first_verdict(site::Location l, const site::MeterReading& reading) {
    l.found = {{}, {reading}};
    return meter_correction(l).verdicts.front();
}

const room::Point3 in_shade{2.3, 1.8, 1.25}, in_sun{4.9, 1.0, 1.05};

}  // namespace

TEST_CASE("verdicts on readings are those recorded", "[recorded][meter]") {
    Record record{"meter_verdicts"};
    for (const auto sky : {light::Cloud::none, light::Cloud::mean, light::Cloud::overcast})
        for (const room::Point3 at : {in_shade, in_sun})
            for (const double lx : {40.0, 160.0, 500.0, 1500.0, 5000.0, 16000.0, 40000.0, 90000.0})
                add_correction(record, press(), {{}, {inside(at, 12.6, lx, sky)}});
    record.check();
}

namespace {

/// The same with a level that is so many times what is expected there.
site::MeterReading times(double factor, site::MeterReading r, const site::Location& l) {
    r.lx = factor * first_verdict(l, r).expected_lx.likely;
    return r;
}

}  // namespace

TEST_CASE("readings about what is expected correct as recorded", "[recorded][meter]") {
    Record record{"meter_near"};
    const site::Location l = press();
    for (const auto sky : {light::Cloud::none, light::Cloud::mean, light::Cloud::overcast})
        for (const double factor : {0.3, 0.5, 0.65, 0.8, 0.95, 1.05, 1.2, 1.5, 1.9, 3.0})
            // In the shade, then in the sun of the same window.
            for (const double hour : {12.5, 13.0})
                add_correction(record, l, {{}, {times(factor, inside(in_shade, hour, 1, sky), l)}});
    // Several of a figure: their geometric mean. With the air told, from either side of it.
    const auto shade = [&](double factor, double hour = 12.5) {
        return times(factor, inside(in_shade, hour, 1), l);
    };
    const auto open = [&](double factor, double hour) {
        return times(factor, outside(hour, 1), l);
    };
    add_correction(record, l, {{}, {shade(0.9), shade(1.25, 12.6), shade(1.1, 10)}});
    add_correction(record, l, {{}, {shade(0.8, 13), shade(0.85, 13.1), shade(1.2)}});
    for (const double hour : {11.9, 12.0, 12.5, 13.0, 13.1})
        add_correction(record, l,
                       {{}, {shade(1.4), shade(0.7, 13), open(1.1, hour), open(0.4, 12.5)}});
    // An air that is told leaves a stop to either side of it at most.
    for (const double factor : {0.2, 0.3, 0.4, 0.55, 0.7, 1.5, 1.8, 2.3, 3.0, 4.5})
        for (const double hour : {12.5, 13.0})
            add_correction(record, l, {{}, {shade(factor, hour), open(1.2, 12.6)}});
    // Another sky's reading, and one that no air explains, tell nothing of it.
    add_correction(record, l,
                   {{}, {shade(1.4), times(1.1, outside(12.5, 1, light::Cloud::overcast), l)}});
    add_correction(record, l, {{}, {shade(1.4), open(0.1, 12.5)}});
    add_correction(record, l, {{}, {shade(1.4), open(1.1, 14.0)}});
    // Beyond the highest and the lowest that the air may be.
    for (const double factor : {0.4, 0.6, 0.7, 0.75, 0.85, 1.15, 1.25, 1.35, 1.45, 1.8})
        add_correction(record, l, {{}, {open(factor, 12.5)}});
    record.check();
}

TEST_CASE("readings at the sun's edges correct as recorded", "[recorded][meter]") {
    Record record{"meter_edges"};
    const site::Location l = press();
    // Across the patch's edge, a few centimetres at a time.
    for (double x = 1.9; x < 3.2; x += 0.07)
        add_correction(record, l, {{}, {times(0.85, inside({x, 1.8, 1.25}, 13.0, 1), l)}});
    // Outside about the sunrise, and inside after the sunset.
    for (double hour = 7.2; hour < 8.4; hour += 0.05)
        add_correction(record, l, {{}, {times(1.1, outside(hour, 1), l)}});
    for (const double hour : {17.4, 17.6, 17.8, 18.0})
        add_correction(record, l,
                       {{}, {times(1.3, inside(in_shade, hour, 1, light::Cloud::overcast), l)}});
    record.check();
}

TEST_CASE("a sliver of sun leaves a reading to the fill", "[meter]") {
    // Where a meter's dome of 2 cm has the sun on a fiftieth of it the rest has more of the light.
    site::Location l = press();
    const OnDates on{l, recce, recce};
    const room::Point3 sun = on.study.sun(on.study.path().at(at_hour(13.0)));
    room::Room room = *l.room;
    for (double x = 1.9; x < 3.2; x += 0.001) {
        room.marks = {{"dome", {x, 1.8}, 1.25, 0.02, {}}};
        const room::Scene scene{room};
        const double share = scene.coverage(0, 0, sun) + scene.coverage(0, 1, sun);
        if (share < 0.002 || share > 0.02) continue;
        const MeterVerdict v = first_verdict(l, times(0.95, inside({x, 1.8, 1.25}, 13.0, 1), l));
        CHECK(v.of == MeterVerdict::Of::fill);
        return;
    }
    FAIL("no edge of the sun was found");
}

TEST_CASE("out of sight of the windows a reading is the fill's", "[recorded][meter]") {
    Record record{"meter_fill"};
    site::Location l = press();
    l.room->windows[2].cover = room::Cover::blackout;
    // Beside the windows, close to their wall: they are seen edge-on.
    for (const double factor : {0.2, 0.3, 0.45, 0.6, 0.9, 1.3, 1.6, 2.0, 2.6, 3.5})
        add_correction(
            record, l,
            {{},
             {times(factor, inside({6.9, 0.06, 1.2}, 12.5, 1), l), times(1, outside(12.6, 1), l)}});
    // In a room of two cameras, one of which aims at the second mark.
    site::Location hats = flax_road();
    const Instant noon = hats.site.zone.start_of(2026_y / 6 / 20) + Seconds{3600 * 12.0};
    site::MeterReading r{"bench", room::Point3{2.6, 2.0, 1.3}, noon, 1, light::Cloud::none};
    add_correction(record, hats, {{}, {times(0.8, r, hats)}});
    record.check();
}

TEST_CASE("in a black room with one window a reading says nothing of the fill",
          "[recorded][meter]") {
    Record record{"meter_black_room"};
    site::Location l = press();
    l.room->reflectance = {0, 0, 0};
    l.room->windows.resize(1);
    const auto told = [&](const site::FoundLight& found) {
        add_correction(record, l, found);
        site::Location with = l;
        with.found = found;
        const OnDates on{with, recce, recce};
        const RoomLight light{on.study};
        for (const double hour : {5.0, 12.5})
            record.add(
                "light",
                light.at(0, 0, on.study.path().at(on.start_of(recce) + Seconds{3600 * hour})));
    };
    told({{}, {inside(in_shade, 12.5, 1500), outside(12.5, 30000)}});
    told({{forges()[3]}, {}});
    told({});
    record.check();
}

TEST_CASE("what a meter outside tells is that recorded", "[recorded][meter]") {
    Record record{"meter_outside"};
    for (const auto sky : {light::Cloud::none, light::Cloud::mean, light::Cloud::overcast})
        for (const double hour : {7.35, 12.0, 16.9})
            for (const double lx : {300.0, 2500.0, 9000.0, 30000.0, 48000.0, 70000.0})
                add_correction(record, press(), {{}, {outside(hour, lx, sky)}});
    for (const double hour : {11.9, 12.0, 12.5, 13.0, 13.1})
        add_correction(
            record, press(),
            {{}, {inside(in_shade, 12.5, 700), inside(in_sun, 12.5, 30000), outside(hour, 37000)}});
    // Of another sky, and one that no air explains: neither tells the air.
    add_correction(record, press(),
                   {{},
                    {inside(in_shade, 12.5, 700), outside(12.5, 9000, light::Cloud::overcast),
                     outside(12.5, 200), outside(12.6, 39000)}});
    record.check();
}

TEST_CASE("readings in odd rooms are those recorded", "[recorded][meter]") {
    Record record{"meter_rooms"};
    site::Location l = press();
    l.site.air = site::AirClass::hazy;
    const std::vector<site::MeterReading> readings{
        inside(in_shade, 12.5, 700), inside(in_shade, 13.0, 900), inside(in_sun, 12.5, 30000),
        inside(in_sun, 12.7, 26000), inside(in_shade, 4.0, 0.01)};
    add_correction(record, l, {{}, readings});
    add_correction(record, l, {forges(), readings});
    l.room->reflectance = {0, 0, 0};
    add_correction(record, l, {{}, readings});
    l = press();
    for (room::Window& w : l.room->windows)
        w.cover = room::Cover::sheer;
    add_correction(record, l, {{}, readings});
    for (room::Window& w : l.room->windows)
        w.cover = room::Cover::blackout;
    add_correction(record, l, {{}, readings});
    add_correction(record, l, {forges(), readings});
    record.check();
}

TEST_CASE("forges at marks are those recorded", "[recorded][forge]") {
    Record record{"forges"};
    site::Location l = press();
    l.room->marks.push_back({"over the table", {5.2, 1.5}, 1.3, 0.15, {}});
    l.room->marks.push_back({"beyond it", {6.7, 0.6}, 0.7, 0.15, {}});
    l.room->marks.push_back({"by the pan", {2.5, 1.9}, 1.0, 0.15, {}});
    for (std::size_t mark = 0; mark < l.room->marks.size(); ++mark) {
        const auto lights = forge_light(*l.room, forges(), mark);
        record.add("forges", lights);
        record.add("sums", std::pair{at_mark_lx(lights), given_back_lx(lights)});
    }
    for (const site::Forge& f : forges())
        for (const room::Point3 at : {room::Point3{1, 1, 1}, {3, 2, 0.4}, {2.2, 1.6, 1.5}})
            record.add("level", forge_level_lx(f, at));
    std::reverse(l.room->floor.begin(), l.room->floor.end());
    record.add("other_sense", forge_light(*l.room, forges(), 0));
    record.check();
}

TEST_CASE("light with forges and readings is that recorded", "[recorded][meter][forge]") {
    Record record{"found_light"};
    site::Location l = press();
    const auto add = [&](const site::FoundLight& found) {
        l.found = found;
        const OnDates on{l, recce, recce};
        const RoomLight light{on.study};
        const FoundInRoom in_room{l};
        record.add("correction", std::pair{in_room.correction().glass, in_room.correction().fill});
        record.add("forge", in_room.forge_lx(0));
        for (const double hour : {5.0, 12.5, 17.5}) {
            const Moment m = on.study.path().at(on.start_of(recce) + Seconds{3600 * hour});
            const SunNow sun = light.sun(m);
            const std::array cases{LightCase{}, LightCase{light::Cloud::mean, {}},
                                   LightCase{light::Cloud::none, room::Cover::blackout}};
            record.add("cases", light.in_cases(0, 0, sun, cases));
            record.add("room", light.in_room(sun));
            record.add("direct", direct_lx(on.study, 1, m));
            record.add("view", light.view_lx(1, in_shade, {0, -1, 0}, sun));
        }
    };
    add({forges(), {}});
    add({{}, {inside(in_shade, 12.5, 900), inside(in_sun, 12.5, 38000)}});
    add({{forges()[0]}, {inside(in_shade, 12.5, 2500)}});
    // Glass and fill both.
    const site::Location plain = press();
    add({{},
         {times(0.75, inside(in_shade, 13.0, 1), plain),
          times(0.7, inside(in_shade, 12.5, 1), plain)}});
    record.check();
}

TEST_CASE("what stands between random points is that recorded", "[recorded][forge]") {
    Record record{"ways_between"};
    test::Dice dice{7};
    for (int i = 0; i < 25; ++i) {
        const room::Room r = test::random_room(dice);
        const room::Ring& f = r.floor;
        for (int k = 0; k < 12; ++k) {
            const auto point = [&] {
                const room::Point2 a = f[dice.index(f.size())], b = f[dice.index(f.size())];
                const double share = dice.between(0.1, 0.9);
                const room::Point2 p = a + share * (b - a);
                return room::Point3{p.x + dice.between(-0.3, 0.3), p.y + dice.between(-0.3, 0.3),
                                    dice.between(0.1, r.height_m)};
            };
            const room::Point3 a = point(), b = point();
            record.add("between", what_stands_between(r, a, b));
        }
    }
    // Level and upright ways beside, through and over a box, along its side and from its corner.
    room::Room r;
    r.floor = {{0, 0}, {6, 0}, {6, 6}, {0, 6}};
    r.height_m = 3;
    r.objects = {{"box", {{2, 2}, {4, 2}, {4, 4}, {2, 4}}, 1}};
    for (const auto& [a, b] : {std::pair{room::Point3{1, 3, 0.5}, room::Point3{5, 3, 0.5}},
                               {{1, 3, 1}, {5, 3, 1}},
                               {{1, 3, 1.4}, {5, 3, 0.7}},
                               {{1, 3, 0.7}, {5, 3, 1.4}},
                               {{1, 3, 1.2}, {5, 3, 1.1}},
                               {{1, 2, 0.5}, {5, 2, 0.5}},
                               {{3, 3, 0.5}, {3, 3, 2}},
                               {{3, 3, 2}, {3, 5, 0.1}},
                               {{2, 2, 0.5}, {1, 1, 0.5}},
                               {{2, 2, 0.5}, {5, 5, 0.5}},
                               {{1, 1, 0.5}, {2, 2, 0.5}},
                               {{0, 0, 0.5}, {6, 6, 2.5}},
                               {{5, 5, 0.5}, {7, 5, 0.5}},
                               {{5, 5, 0.5}, {6, 5, 0.5}},
                               {{0, 1, 0.5}, {0, 5, 0.5}},
                               {{0, 5, 0.5}, {0, 7, 0.5}},
                               {{2, 1, 0.5}, {2, 5, 0.5}}})
        record.add("box", what_stands_between(r, a, b));
    record.check();
}
