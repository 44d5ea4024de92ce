// The light at spots outside, whole: days, instants, what the doubt makes of them, and lamps.

#include <array>
#include <catch2/catch.hpp>
#include <memory>

#include "../../src/study/spot_parts.hpp"
#include "flax_road.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/spot_doubt.hpp"
#include "keyhour/study/spot_lamps.hpp"
#include "keyhour/study/spot_light.hpp"
#include "recorded.hpp"
#include "support/random_room.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

namespace {

site::Location example(const char* name) {
    return *read::read_location(std::string{KEYHOUR_LOCATIONS "/"} + name);
}

site::Spot spot_on_plan(const char* name, room::Point2 at, double looks_deg, site::Side wants) {
    site::Spot s;
    s.name = name;
    s.at = at;
    s.on_plan = true;
    s.camera_bearing = Angle::degrees(looks_deg);
    s.wants = wants;
    return s;
}

std::vector<site::Spot> spots_of_street() {
    std::vector<site::Spot> spots{spot_on_plan("gate", {-6, -4}, 60, site::Side::side),
                                  spot_on_plan("table", {3, 2}, 300, site::Side::front),
                                  spot_on_plan("hall", {3, -19}, 190, site::Side::back),
                                  spot_on_plan("yard", {12, 3}, 250, site::Side::any),
                                  {}};
    spots[0].facade_faces = Angle::degrees(200);
    spots[0].view = Angle::degrees(70);
    spots[0].tilt = Angle::degrees(12);
    spots[1].tilt = Angle::degrees(-20);
    spots[3].eye_m = 5.5;
    spots[3].facade_faces = Angle::degrees(95);
    spots[4].name = "hill";
    spots[4].position = Observer{Angle::degrees(52.31), Angle::degrees(4.87), 40};
    spots[4].camera_bearing = Angle::degrees(230);
    spots[4].wants = site::Side::back;
    spots[4].view = Angle::degrees(100);
    spots[4].tilt = Angle::degrees(25);
    spots[4].horizon = site::Horizon{
        {{Angle::degrees(80), Angle::degrees(3)}, {Angle::degrees(200), Angle::degrees(-0.5)}}};
    return spots;
}

/// A room among houses and trees, under a skyline, with five spots.
site::Location street() {
    site::Location l;
    l.site.observer = {Angle::degrees(52.3), Angle::degrees(4.9), 12};
    l.site.zone = *site::Zone::named("CET-1CEST,M3.5.0,M10.5.0/3");
    l.site.air = site::AirClass::hazy;
    l.site.horizon = site::Horizon{{{Angle::degrees(0), Angle::degrees(2)},
                                    {Angle::degrees(110), Angle::degrees(1)},
                                    {Angle::degrees(240), Angle::degrees(4)}}};
    room::Room r;
    r.floor = {{0, 0}, {8, 0}, {8, 6}, {0, 6}};
    r.walls = {"front", "right", "back", "left"};
    r.height_m = 3.2;
    r.floor_above_ground_m = 0.6;
    r.bearing.faces = Angle::degrees(170);
    r.bearing.within = Angle::degrees(2);
    r.buildings = {{"row", {{-9, -26}, {16, -26}, {16, -17}, {-9, -17}}, 7},
                   {"tower", {{-31, -2}, {-27, -2}, {-27, 3}, {-31, 3}}, 19}};
    l.room = r;
    l.trees = {
        {"lime", site::round_crown({20, -7}, 6), 11, 0.8, 0.3, date::month{5}, date::month{10}},
        {"birch", site::round_crown({-12, -14}, 5), 9, 0.35, 0.2, date::month{4}, date::month{11}}};
    l.spots = spots_of_street();
    return l;
}

/// A field without a room or a skyline, at noon's meridian of its zone.
site::Location field(double latitude_deg, double longitude_deg = 0) {
    site::Location l;
    l.site.observer = {Angle::degrees(latitude_deg), Angle::degrees(longitude_deg), 0};
    site::Spot s;
    s.name = "field";
    s.position = l.site.observer;
    s.camera_bearing = Angle::degrees(100);
    s.wants = site::Side::side;
    l.spots = {s};
    return l;
}

std::shared_ptr<const SharedTrack> track_on(const site::Zone& zone, site::LocalDate d) {
    return SharedTrack::make(zone.start_of(d) - Seconds{86400},
                             zone.start_of(d) + Seconds{3 * 86400});
}

void add_day(Record& record, const site::Location& l, std::size_t spot, site::LocalDate d,
             const SpotSettings& settings = {}) {
    const SpotLight light{l, spot, track_on(l.site.zone, d), settings};
    SpotDay day = light.on(d);
    light.add_sky(day);
    record.add(l.spots[spot].name, day);
}

const std::array turning_days{2026_y / 3 / 29, 2026_y / 6 / 21, 2026_y / 10 / 25, 2026_y / 12 / 21};

}  // namespace

TEST_CASE("days at spots in a street are those recorded", "[recorded][spot]") {
    Record record{"spot_days"};
    const site::Location l = street();
    for (std::size_t spot = 0; spot < l.spots.size(); ++spot) {
        for (const site::LocalDate d : turning_days)
            add_day(record, l, spot, d);
        const SpotLight light{l, spot, track_on(l.site.zone, turning_days[0])};
        record.add("stands_in", light.stands_in());
    }
    record.check();
}

TEST_CASE("days at the examples' spots are those recorded", "[recorded][spot]") {
    Record record{"spot_days_of_examples"};
    for (const char* file : {"flax-road.toml", "sundet.toml", "tallow-lane.toml",
                             "mill-green/mill-green.toml", "bindery-and-wharf/hemp-wharf.toml"}) {
        const site::Location l = example(file);
        for (std::size_t spot = 0; spot < l.spots.size(); ++spot)
            for (const site::LocalDate d : {turning_days[1], turning_days[2]})
                add_day(record, l, spot, d);
    }
    record.check();
}

TEST_CASE("days in open fields from pole to pole are those recorded", "[recorded][spot]") {
    Record record{"spot_days_of_fields"};
    for (const double latitude : {89.5, 81.0, 69.6, 23.0, 0.0, -45.0, -77.0})
        for (const site::LocalDate d : {2026_y / 3 / 18, 2026_y / 6 / 21, 2026_y / 10 / 28,
                                        2026_y / 11 / 26, 2026_y / 12 / 21})
            add_day(record, field(latitude), 0, d);
    record.check();
}

TEST_CASE("days by other settings are those recorded", "[recorded][spot]") {
    Record record{"spot_days_by_settings"};
    const site::Location l = street();
    SpotSettings s;
    s.front_below_deg = 35;
    s.back_above_deg = 80;
    s.raking_from_deg = 45;
    s.raking_to_deg = 75;
    s.shot = Seconds{95 * 60};
    s.set_up = Seconds{40 * 60};
    s.late_light = {{Angle::degrees(-7)}, {Angle::degrees(11)}};
    s.low_sun = {{Angle::degrees(2)}, {Angle::degrees(9)}};
    for (std::size_t spot = 0; spot < l.spots.size(); ++spot) {
        s.floor_lx = std::array{0.002, 3.0, 200.0, 9000.0, 200000.0}[spot];
        add_day(record, l, spot, turning_days[spot % 4], s);
    }
    for (const auto& [latitude, floor_lx] :
         {std::pair{81.0, 50.0}, {60.0, 40.0}, {60.0, 1000.0}, {-33.0, 400.0}}) {
        s.floor_lx = floor_lx;
        add_day(record, field(latitude), 0, 2026_y / 6 / 21, s);
    }
    record.check();
}

TEST_CASE("a date that a zone leaves out has no light", "[recorded][spot]") {
    // Samoa moved across the date line at the end of 29 December 2011 (the zone files' word).
    site::Location l = field(-13.8, -171.8);
    l.site.zone = *site::Zone::named("Pacific/Apia");
    Record record{"spot_days_left_out"};
    for (const site::LocalDate d : {2011_y / 12 / 29, 2011_y / 12 / 30, 2011_y / 12 / 31})
        add_day(record, l, 0, d);
    record.check();
}

TEST_CASE("a date may pass without a transit of the sun", "[recorded][spot]") {
    // Opposite the zone's meridian the transit falls on midnight; in June and December it comes
    // later each day, and so leaves a date out.
    Record record{"spot_days_without_noon"};
    SpotSettings settings;
    settings.floor_lx = 100;
    const site::Location l = field(40, 180);
    int without = 0;
    for (int day = 8; day < 19; ++day) {
        const site::LocalDate d = 2026_y / 6 / day;
        const SpotDay there = SpotLight{l, 0, track_on(l.site.zone, d), settings}.on(d);
        record.add("floor", there.below_floor);
        if (!there.below_floor) ++without;
    }
    CHECK(without == 1);
    record.check();
}

TEST_CASE("the sky's floor is looked for as far as the track goes", "[spot]") {
    const site::Location l = field(52);
    const site::LocalDate d = 2026_y / 9 / 10;
    const Instant from = l.site.zone.start_of(d);
    SpotSettings settings;
    settings.floor_lx = 100;
    const auto floor_until = [&](double hour) {
        const auto track = SharedTrack::make(from - Seconds{3600}, from + Seconds{3600 * hour});
        return SpotLight{l, 0, track, settings}.on(d).below_floor;
    };
    const auto whole = floor_until(36);
    REQUIRE(whole);
    // The light is sought by halves between noon and twelve hours on, or the track's end.
    REQUIRE(floor_until(24));
    CHECK(std::abs((*floor_until(24) - *whole).count()) < 1.5);
}

TEST_CASE("a shot as long as its light may begin with it", "[spot]") {
    const site::Location l = street();
    SpotSettings settings;
    const site::LocalDate d = turning_days[1];
    const auto starts = [&](Seconds shot) {
        settings.shot = shot;
        return SpotLight{l, 0, track_on(l.site.zone, d), settings}.on(d).for_wanted;
    };
    const SafeStart whole = starts(Seconds{600}).front();
    const Seconds length = whole.light.length();
    CHECK(whole.slack == length - Seconds{600});
    CHECK(*starts(length).front().latest == whole.light.from - settings.set_up);
    CHECK(starts(length - Seconds{0.5}).front().latest);
    CHECK_FALSE(starts(length + Seconds{0.5}).front().latest);
}

TEST_CASE("a sun that stays in the shade is told from one that stays down", "[recorded][spot]") {
    // Midwinter's noon about the polar circle, under a skyline of five degrees all round.
    Record record{"spot_days_in_shade"};
    const site::LocalDate d = 2026_y / 12 / 21;
    for (double latitude = 65.5; latitude < 68.2; latitude += 0.3) {
        site::Location l = field(latitude);
        l.site.horizon = site::Horizon{{{Angle::degrees(0), Angle::degrees(5)}}};
        const SpotLight light{l, 0, track_on(l.site.zone, d)};
        const SpotDay day = light.on(d);
        REQUIRE(day.direct.empty());
        const bool up =
            light.at(l.site.zone.start_of(d) + Seconds{3600 * 11.97}).sun.apparent_altitude >
            Altitude{};
        CHECK(day.no_direct == (up ? NoDirect::stays_in_shade : NoDirect::sun_stays_down));
        record.add("day", day);
    }
    // A house before noon's sun, hills before the rest: what the late light is behind.
    site::Location l = field(60);
    l.spots[0].position.reset();
    l.spots[0].on_plan = true;
    l.site.horizon = site::Horizon{{{Angle::degrees(0), Angle::degrees(15)}}};
    l.buildings_without_room = {{"mill", {{-8, -30}, {8, -30}, {8, -20}, {-8, -20}}, 15}};
    add_day(record, l, 0, d);
    record.check();
}

TEST_CASE("the longest of several lights is the first of the longest", "[spot]") {
    const Instant t = Instant::from_unix_s(1700000000);
    const auto start = [&](double from_s, double to_s) {
        return SafeStart{{t + Seconds{from_s}, t + Seconds{to_s}}, {}, {}};
    };
    CHECK(longest({}) == nullptr);
    const std::vector<SafeStart> starts{start(0, 60), start(100, 400), start(500, 800),
                                        start(900, 1000)};
    CHECK(longest(starts) == &starts[1]);
    CHECK(longest({starts.begin(), starts.begin() + 1})->light.length() == Seconds{60});
}

TEST_CASE("late light lasts as long as the sun is in it", "[recorded][spot]") {
    Record record{"late_light"};
    const site::Location l = field(52);
    const site::LocalDate d = turning_days[0];
    const auto track = track_on(l.site.zone, d);
    const sun::Place place{l.site.observer, l.site.weather};
    const Instant from = l.site.zone.start_of(d), to = l.site.zone.start_of(site::next_day(d));
    auto lights = late_light(track->track(), place, from, to);
    REQUIRE(lights.size() == 2);
    record.add("whole", lights);
    CHECK_FALSE(sun_until(lights[0]));
    const Instant a = lights[0].start, b = lights[1].end;
    const auto direct = [](Instant begin, Instant end, const char* before, const char* after) {
        return DirectSpan{{begin, end}, before, after};
    };
    // Sun in the middle of the morning's, past its end, in the evening before it and at its end.
    for (const auto& sun : std::vector<std::vector<DirectSpan>>{
             {},
             {direct(a + Seconds{300}, a + Seconds{900}, "east", "pole"),
              direct(a + Seconds{1000}, b - Seconds{700}, "pole", "west")},
             {direct(a - Seconds{300}, a - Seconds{100}, "dip", "rock"),
              direct(a - Seconds{50}, b + Seconds{50}, "rock", "sea")},
             {direct(a, a + Seconds{600}, "edge", "tree"),
              direct(b - Seconds{9000}, b - Seconds{8000}, "tree", "mill"),
              direct(b - Seconds{500}, b, "mill", "edge")},
             {direct(b - Seconds{400}, b - Seconds{300}, "one", "two"),
              direct(b - Seconds{200}, b - Seconds{100}, "two", "three"),
              direct(b + Seconds{10}, b + Seconds{20}, "late", "later")}}) {
        split_by_sun(lights, sun);
        for (const LateLight& light : lights) {
            record.add("split", light);
            record.add("until", sun_until(light));
        }
        for (LateLight& light : lights) {
            light.sun_at.reset();
            light.behind.clear();
        }
    }
    // No time, no light.
    CHECK(late_light(track->track(), place, a + Seconds{60}, a + Seconds{60}).empty());
    record.check();
}

TEST_CASE("instants at spots are those recorded", "[recorded][spot]") {
    Record record{"spot_instants"};
    const site::Location l = street();
    for (std::size_t spot = 0; spot < l.spots.size(); ++spot) {
        const site::LocalDate d = turning_days[(spot + 1) % 3];
        SpotSettings settings;
        settings.person_m = 1.5;
        settings.stand_m = 4;
        if (spot == 0) settings.front_below_deg = 20;
        const SpotLight light{l, spot, track_on(l.site.zone, d), settings};
        for (int i = 0; i < 14; ++i) {
            const Instant t = l.site.zone.start_of(d) + Seconds{6100.0 * i + 900};
            record.add(l.spots[spot].name, light.at(t));
            record.add("up", light.sun_is_up(t));
        }
    }
    record.check();
}

TEST_CASE("instants of low suns and moons are those recorded", "[recorded][spot]") {
    Record record{"spot_instants_low"};
    for (const double latitude : {-50.0, 64.0}) {
        site::Location l = field(latitude);
        l.site.air = latitude < 0 ? site::AirClass::very_clear : site::AirClass::normal;
        l.site.observer.elevation_m = 900;
        const site::LocalDate d = 2026_y / 4 / 29;
        const SpotLight light{l, 0, track_on(l.site.zone, d)};
        const Instant set = *light.on(d).set;
        for (const double minutes :
             {-120.0, -12.0, -5.0, -4.0, -1.0, 0.0, 4.0, 20.0, 45.0, 80.0, 110.0, 160.0})
            record.add("near_set", light.at(set + Seconds{minutes * 60}));
    }
    record.check();
}

TEST_CASE("the ends of direct light spread as recorded", "[recorded][spot][doubt]") {
    Record record{"spot_doubts"};
    site::Location l = street();
    const auto ask = [&](const site::Location& of, std::size_t spot, site::LocalDate d,
                         const EnsembleSettings& settings) {
        const auto track = track_on(of.site.zone, d);
        const SpotDay day = SpotLight{of, spot, track}.on(d);
        const SpotEnsemble ensemble{of, spot, track, settings};
        for (const SpotEnsemble::Ends& e : ensemble.ends(day.direct, d)) {
            record.add("begins", e.begins);
            record.add("ends", e.ends);
        }
        if (day.direct.empty()) return;
        const auto one = ensemble.ends(day.direct.back(), d);
        record.add("last", std::pair{one.begins, one.ends});
    };
    ask(l, 0, turning_days[1], {8, 3});
    ask(l, 3, turning_days[0], {4, 1});
    ask(l, 4, turning_days[3], {4, 2});
    l.clock_within_s = 40;
    l.buildings_without_room = std::move(l.room->buildings);
    l.room.reset();
    l.trees[0].within_m = 1;
    ask(l, 0, turning_days[1], {8, 1});
    site::Location cold = field(69.6);
    cold.site.weather.temperature_c = -25;
    cold.site.weather.pressure_hpa = 930;
    for (const site::LocalDate d : {2026_y / 6 / 21, 2026_y / 5 / 18, 2026_y / 1 / 20})
        ask(cold, 0, d, {8, 1});
    record.check();
}

TEST_CASE("lamps at spots among houses are those recorded", "[recorded][lamp]") {
    Record record{"spot_lamps"};
    test::Dice dice{20};
    for (int i = 0; i < 40; ++i) {
        site::Location l = street();
        const bool without_room = i % 4 == 3;
        auto& houses = l.room->buildings;
        houses.clear();
        for (int k = 0; k < 2; ++k) {
            const room::Point2 at{dice.between(-9, 0), dice.between(-9, 9)};
            const double turn = dice.between(0, 6.3), size = dice.between(2, 4);
            const test::Ring print = test::placed(test::outline(dice, size), turn, at);
            const double tall = dice.between(1, 7);
            houses.push_back({test::numbered("house", static_cast<std::size_t>(k)),
                              test::shuffled(dice, print), tall});
        }
        if (i % 7 == 0) houses[1].kind = room::Building::Kind::tree;
        if (i % 9 == 0) houses[0].footprint.resize(2);
        if (without_room) {
            l.buildings_without_room = houses;
            l.room.reset();
        }
        site::Lamp lamp;
        lamp.photometry = site::Lumens{3000};
        for (int k = 0; k < 3; ++k) {
            lamp.at = room::Point2{dice.between(-14, 4), dice.between(-12, 12)};
            lamp.height_m = dice.between(0.4, 9);
            l.lamps.push_back(lamp);
        }
        l.lamps.insert(l.lamps.begin() + 1, 4, lamp);
        l.lamps[1].place = site::Lamp::Place::inside;
        l.lamps[2].at.reset();
        l.lamps[3].height_m.reset();
        l.lamps[4].stand_max_m = 3;
        l.lamps.push_back(lamp);
        site::Spot spot = spot_on_plan("spot", {}, 0, site::Side::any);
        spot.at = {dice.between(-14, 8), dice.between(-12, 10)};
        l.lamps.back().at = spot.at;
        l.lamps.back().height_m = 0;
        spot.eye_m = dice.between(0.3, 7);
        const auto lamps = lamps_at(l, spot);
        record.add("lamps", lamps);
        record.add("ground", ground_lx(lamps));
    }
    record.check();
}

TEST_CASE("lamps and houses close together are those recorded", "[recorded][lamp]") {
    // So close that ways end before a wall, and pass beside its end.
    Record record{"spot_lamps_close"};
    test::Dice dice{21};
    for (int i = 0; i < 160; ++i) {
        site::Location l;
        const test::Ring print = test::placed(test::winged_outline(i % 3, 0.8, 0.5, -0.3, 0.4, 0.1),
                                              dice.between(0, 6.3), {});
        l.buildings_without_room = {{"house", test::shuffled(dice, print), dice.between(1, 3)}};
        site::Lamp lamp;
        lamp.photometry = site::Lumens{3000};
        lamp.at = room::Point2{dice.between(-1.6, 1.6), dice.between(-1.6, 1.6)};
        lamp.height_m = dice.between(0.5, 4);
        l.lamps = {lamp};
        site::Spot spot = spot_on_plan("spot", {}, 0, site::Side::any);
        spot.at = {dice.between(-1.6, 1.6), dice.between(-1.6, 1.6)};
        spot.eye_m = dice.between(0.5, 4);
        const LampAtSpot here = lamps_at(l, spot).front();
        record.add(here.blocked_by.empty() ? "open" : "shut",
                   std::pair{here.ground_lx, here.eye_lx});
    }
    record.check();
}

TEST_CASE("light square to a wall meets it at no angle", "[spot]") {
    // Rounding makes the cosine of some of these more than one.
    for (int degrees = 0; degrees < 360; ++degrees) {
        const Angle faces = Angle::degrees(degrees);
        const LevelVector toward{sin(faces), cos(faces), 0};
        CHECK(incidence_on_wall(faces, toward).in_degrees() == Approx(0).margin(2e-6));
        CHECK(incidence_on_wall(faces, {-toward.east, -toward.north, 0}).in_degrees() ==
              Approx(180));
    }
}

TEST_CASE("the ends of light behind a tree and a house spread as recorded",
          "[recorded][spot][doubt]") {
    Record record{"spot_doubts_behind"};
    site::Location l = field(50);
    l.spots[0].position.reset();
    l.spots[0].on_plan = true;
    l.clock_within_s = 25;
    l.trees = {{"oak", site::round_crown({-14, 2}, 9), 10, 0.9, 0.7}};
    l.buildings_without_room = {{"barn", {{15, -20}, {19, -20}, {19, 20}, {15, 20}}, 6}};
    const site::LocalDate d = 2026_y / 3 / 20;
    // A track that ends within two hours of an end of the light.
    const Instant from = l.site.zone.start_of(d);
    const auto whole = track_on(l.site.zone, d);
    const auto tight = SharedTrack::make(from + Seconds{3600 * 7.2}, from + Seconds{3600 * 17.2});
    const SpotDay day = SpotLight{l, 0, whole}.on(d);
    for (const auto& track : {whole, tight})
        for (const SpotEnsemble::Ends& e : SpotEnsemble{l, 0, track, {16, 5}}.ends(day.direct, d))
            record.add("ends", std::pair{e.begins, e.ends});
    // What is asked about lies beyond what any member has, and nothing is asked.
    DirectSpan night;
    night.span = {from + Seconds{3600 * 2.0}, from + Seconds{3600 * 3.0}};
    const SpotEnsemble ensemble{l, 0, whole, {4, 5}};
    const auto none = ensemble.ends(night, d);
    record.add("night", std::pair{none.begins, none.ends});
    CHECK(ensemble.ends(std::span<const DirectSpan>{}, d).empty());
    // What is told to end at midnight has no spread there.
    DirectSpan told = day.direct.front();
    REQUIRE(ensemble.ends(told, d).begins);
    told.begins_at_midnight = true;
    CHECK_FALSE(ensemble.ends(told, d).begins);
    CHECK(ensemble.ends(told, d).ends);
    told.ends_at_midnight = true;
    CHECK_FALSE(ensemble.ends(told, d).ends);
    record.check();
}
