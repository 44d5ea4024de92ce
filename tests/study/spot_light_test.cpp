#include "keyhour/study/spot_light.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "keyhour/site/dates.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

constexpr double degree = 0.017453292519943295;

site::LocalDate day_of(const char* text) {
    return *site::read_date(text);
}
Instant utc(const char* text) {
    return *site::read_utc(text);
}

/// A spot at the plan's corner in the open, plan north up, zone UTC, no room.
site::Location open_ground(double latitude_deg, double longitude_deg = 0) {
    site::Location l;
    l.site.observer = {Angle::degrees(latitude_deg), Angle::degrees(longitude_deg), 0};
    site::Spot spot;
    spot.name = "spot";
    spot.position = l.site.observer;
    l.spots = {spot};
    return l;
}

/// The same beside a room far to the south-east, which carries the plan: +y is true north.
site::Location with_plan(double latitude_deg) {
    site::Location l = open_ground(latitude_deg);
    room::Room r;
    r.floor = {{500, -500}, {506, -500}, {506, -496}, {500, -496}};
    r.walls = {"south", "east", "north", "west"};
    r.height_m = 3;
    r.bearing.wall = 0;
    r.bearing.faces = Angle::degrees(180);
    l.room = r;
    l.spots[0].position.reset();
    l.spots[0].on_plan = true;
    l.spots[0].at = {0, 0};
    return l;
}

SpotLight light_of(const site::Location& l, const char* from, const char* to,
                   const SpotSettings& settings = {}) {
    return {l, 0, SharedTrack::make(utc(from) - Seconds{9 * 3600}, utc(to) + Seconds{9 * 3600}),
            settings};
}

double altitude_deg(const SpotInstant& now) {
    return now.sun.apparent_altitude.above_horizon.in_degrees();
}

}  // namespace

TEST_CASE("key angle is 0 behind the camera and grows to the left and right", "[spot]") {
    const auto at = [](double camera, double azimuth) {
        return key_angle(Angle::degrees(camera), {Angle::degrees(azimuth)}).in_degrees();
    };
    CHECK(at(0, 180) == Approx(0).margin(1e-9));
    CHECK(at(0, 225) == Approx(45));   // looking north, light from the south-west: left
    CHECK(at(0, 135) == Approx(-45));  // from the south-east: right
    CHECK(at(0, 270) == Approx(90));   // from the west
    CHECK(at(350, 175) == Approx(5));
    CHECK(std::abs(at(90, 90)) == Approx(180));
}

TEST_CASE("a shadow is height over tangent and points away from the sun", "[spot]") {
    CHECK(shadow_length(1.7, {Angle::degrees(45)}) == Approx(1.7));
    CHECK(shadow_length(1.7, {Angle::degrees(10)}) == Approx(1.7 / std::tan(10 * degree)));
    const site::Location l = open_ground(50);
    const SpotLight light = light_of(l, "2026-05-10T00:00:00Z", "2026-05-11T00:00:00Z");
    for (const char* t : {"2026-05-10T06:00:00Z", "2026-05-10T11:56:00Z", "2026-05-10T18:10:00Z"}) {
        const SpotInstant now = light.at(utc(t));
        REQUIRE(now.shadow);
        CHECK(now.shadow->person_m == Approx(1.7 / std::tan(altitude_deg(now) * degree)));
        CHECK(now.shadow->stand_m == Approx(3.0 / 1.7 * now.shadow->person_m));
        const double apart =
            now.shadow->toward.from_north.in_degrees() - now.sun.azimuth.from_north.in_degrees();
        CHECK(std::abs(apart) == Approx(180));
    }
    CHECK_FALSE(light.at(utc("2026-05-10T02:00:00Z")).shadow);
}

TEST_CASE("at equinox noon a shadow is as long as the tangent of the latitude", "[spot]") {
    // Declination zero: altitude at transit is 90 degrees less the latitude. On 20 March 2026 the
    // sun stands 0.04 degrees south of the equator at noon and air lifts it by 0.01 to 0.03.
    for (const double latitude : {20.0, 45.0, 60.0}) {
        const site::Location l = open_ground(latitude);
        const SpotLight light = light_of(l, "2026-03-20T00:00:00Z", "2026-03-21T00:00:00Z");
        const SpotInstant noon = light.at(utc("2026-03-20T12:07:27Z"));
        CHECK(noon.shadow->person_m == Approx(1.7 * std::tan(latitude * degree)).epsilon(0.004));
        const double toward = std::remainder(noon.shadow->toward.from_north.in_degrees(), 360);
        CHECK(std::abs(toward) < 0.3);
    }
}

TEST_CASE("a wall to the west takes the last light where its top meets the sun", "[spot]") {
    // In closed form: a wall 30 m to the west, 9 m above an eye at 1.6 m; the sun goes when
    // tan(altitude) = (10.6 - 1.6) / (30 / sin(-azimuth)).
    site::Location l = with_plan(48);
    room::Building wall;
    wall.name = "long wall";
    wall.footprint = {{-31, -400}, {-30, -400}, {-30, 400}, {-31, 400}};
    wall.height_m = 10.6 - l.room->floor_above_ground_m;
    l.room->buildings = {wall};
    const SpotLight light = light_of(l, "2026-04-20T00:00:00Z", "2026-04-21T00:00:00Z");
    const SpotDay day = light.on(day_of("2026-04-20"));
    REQUIRE(day.direct.size() == 1);
    CHECK(day.direct[0].begins_by == "horizon");
    CHECK(day.direct[0].ends_by == "building long wall");
    const auto over_wall = [&](Instant t) {
        const SpotInstant now = light.at(t);
        const double top = std::atan(9.0 * -sin(now.sun.azimuth.from_north) / 30) / degree;
        return altitude_deg(now) - top;
    };
    const Instant end = day.direct[0].span.to;
    CHECK(over_wall(end - Seconds{1}) > 0);
    CHECK(over_wall(end + Seconds{1}) < 0);
    CHECK(light.at(end - Seconds{1}).lit);
    const SpotInstant after = light.at(end + Seconds{1});
    CHECK_FALSE(after.lit);
    CHECK(after.shaded_by == "building long wall");
}

TEST_CASE("direct light that a tower breaks comes back, second by second", "[spot]") {
    site::Location l = with_plan(52);
    room::Building tower;
    tower.name = "tower";
    tower.footprint = {{-3, -44}, {3, -44}, {3, -40}, {-3, -40}};
    tower.height_m = 60;
    l.room->buildings = {tower};
    l.spots[0].camera_bearing = Angle::degrees(320);
    const SpotLight light = light_of(l, "2026-10-10T00:00:00Z", "2026-10-11T00:00:00Z");
    const SpotDay day = light.on(day_of("2026-10-10"));
    REQUIRE(day.direct.size() == 2);
    CHECK(day.direct[0].ends_by == "building tower");
    CHECK(day.direct[1].begins_by == "building tower");
    const auto inside = [&](Instant t, const auto& spans, auto span_of) {
        for (const auto& s : spans)
            if (t > span_of(s).from && t < span_of(s).to) return true;
        return false;
    };
    const site::Outlook outlook{l, l.spots[0], day.date};
    for (int i = 0; i < 24 * 30; ++i) {  // every other minute, not on the samples
        const Instant t = utc("2026-10-10T00:01:03Z") + Seconds{120.0 * i};
        const SpotInstant now = light.at(t, outlook);
        INFO(site::iso_utc(t));
        CHECK(inside(t, day.direct, [](const DirectSpan& d) { return d.span; }) == now.lit);
        for (const SideSpan& s : day.sides)
            if (t > s.span.from && t < s.span.to) CHECK(s.side == now.side);
        CHECK(inside(t, day.in_frame, [](const Span& s) { return s; }) ==
              (now.lit && now.in_frame));
        CHECK(inside(t, day.in_frame_upright, [](const Span& s) { return s; }) ==
              (now.lit && now.in_frame_upright));
    }
}

TEST_CASE("a gap between towers shows the sun for a minute", "[spot]") {
    site::Location l = with_plan(52);
    room::Building one, other;
    one.name = "one tower";
    other.name = "other tower";
    one.footprint = {{-9, -44}, {-0.13, -44}, {-0.13, -40}, {-9, -40}};
    other.footprint = {{0.13, -44}, {9, -44}, {9, -40}, {0.13, -40}};
    one.height_m = other.height_m = 60;
    l.room->buildings = {one, other};
    const SpotLight light = light_of(l, "2026-10-10T00:00:00Z", "2026-10-11T00:00:00Z");
    const SpotDay day = light.on(day_of("2026-10-10"));
    REQUIRE(day.direct.size() == 3);
    // The far corners leave 0.26 m in 44 m; about noon the azimuth gains 15 degrees an hour times
    // cos(declination) / cos(altitude).
    const SpotInstant now = light.at(day.direct[1].span.from);
    const double h = now.sun.apparent_altitude.above_horizon.in_radians();
    const double declination = h - (90 - 52) * degree;
    const double rate = 15.0 / 3600 * degree * std::cos(declination) / std::cos(h);
    CHECK(day.direct[1].span.length().count() == Approx(0.26 / 44 / rate).margin(2));
    CHECK(day.direct[1].begins_by == "building other tower");
    CHECK(day.direct[1].ends_by == "building one tower");
}

TEST_CASE("the sides of the light share out the direct light, and the wanted one is among them",
          "[spot]") {
    site::Location l = open_ground(45);
    l.spots[0].camera_bearing = Angle::degrees(250);
    l.spots[0].wants = site::Side::back;
    const SpotLight light = light_of(l, "2026-06-01T00:00:00Z", "2026-06-02T00:00:00Z");
    const SpotDay day = light.on(day_of("2026-06-01"));
    Seconds direct{}, sides{}, back{}, wanted{};
    for (const DirectSpan& d : day.direct)
        direct = direct + d.span.length();
    for (const SideSpan& s : day.sides) {
        sides = sides + s.span.length();
        if (s.side == site::Side::back) back = back + s.span.length();
    }
    for (const Span& s : day.wanted)
        wanted = wanted + s.length();
    CHECK(direct.count() > 14 * 3600);
    CHECK(sides.count() == Approx(direct.count()).margin(1));
    CHECK(wanted.count() == Approx(back.count()).margin(0.2));
    REQUIRE(day.wanted.size() == 1);
    // It begins where the key angle is the limit: the sun 60 degrees off the lens axis.
    const SpotInstant begins = light.at(day.wanted[0].from);
    CHECK(std::abs(begins.key_angle.in_degrees()) == Approx(120).margin(0.01));
}

TEST_CASE("the sun stands in the frame of a lens that is aimed at it", "[spot]") {
    site::Location l = open_ground(50);
    const Instant t = utc("2026-03-01T15:00:00Z");
    const auto look = [&](double turned_deg, double tilted_deg, double view_deg) {
        SpotLight aim = light_of(l, "2026-03-01T00:00:00Z", "2026-03-02T00:00:00Z");
        const SpotInstant now = aim.at(t);
        l.spots[0].camera_bearing = now.sun.azimuth.from_north + Angle::degrees(turned_deg);
        l.spots[0].tilt = now.sun.apparent_altitude.above_horizon + Angle::degrees(tilted_deg);
        l.spots[0].view = Angle::degrees(view_deg);
        return aim.at(t);
    };
    // Half of 40 degrees is 20; 9:16 of it: atan(tan(20) * 9 / 16) = 11.57 degrees.
    CHECK(look(0, 0, 40).in_frame);
    CHECK(look(0, 11.5, 40).in_frame);
    CHECK_FALSE(look(0, 11.7, 40).in_frame);
    CHECK(look(0, 11.7, 40).in_frame_upright);
    CHECK(look(0, -19.9, 40).in_frame_upright);
    CHECK_FALSE(look(0, -20.1, 40).in_frame_upright);
    CHECK_FALSE(look(180, 0, 40).in_frame);
    CHECK_FALSE(look(30, 0, 40).in_frame);
    CHECK(look(30, 0, 80).in_frame);
}

TEST_CASE("a wall that the sun faces squarely is met at the sun's altitude", "[spot]") {
    const double h = 25 * degree;
    CHECK(incidence_on_wall(Angle::degrees(90), {std::cos(h), 0, std::sin(h)}).in_degrees() ==
          Approx(25));
    CHECK(incidence_on_wall(Angle::degrees(0), {std::cos(h), 0, std::sin(h)}).in_degrees() ==
          Approx(90));
    CHECK(incidence_on_wall(Angle::degrees(270), {1, 0, 0}).in_degrees() == Approx(180));
}

TEST_CASE("light rakes a wall between the angles asked for", "[spot]") {
    site::Location l = open_ground(50);
    l.spots[0].facade_faces = Angle::degrees(200);
    const SpotLight light = light_of(l, "2026-09-01T00:00:00Z", "2026-09-02T00:00:00Z");
    const SpotDay day = light.on(day_of("2026-09-01"));
    REQUIRE(day.on_facade.size() == 1);
    CHECK(light.at(day.on_facade[0].from).incidence->in_degrees() == Approx(90).margin(0.01));
    REQUIRE(day.raking.size() == 2);
    CHECK(light.at(day.raking[0].from).incidence->in_degrees() == Approx(88).margin(0.01));
    CHECK(light.at(day.raking[0].to).incidence->in_degrees() == Approx(60).margin(0.01));
    CHECK(light.at(day.raking[1].from).incidence->in_degrees() == Approx(60).margin(0.01));
}

TEST_CASE("a set-up that begins in time ends its shot with the light", "[spot]") {
    site::Location l = open_ground(50);
    SpotSettings s;
    s.set_up = Seconds{35 * 60};
    s.shot = Seconds{25 * 60};
    const SpotDay day =
        light_of(l, "2026-09-01T00:00:00Z", "2026-09-02T00:00:00Z", s).on(day_of("2026-09-01"));
    REQUIRE(day.for_wanted.size() == 1);
    const SafeStart& start = day.for_wanted[0];
    CHECK((start.light.to - *start.latest).count() == Approx(60 * 60));
    CHECK(start.slack.count() == Approx(start.light.length().count() - 25 * 60));
    s.shot = Seconds{20 * 3600};
    const SpotDay too_long =
        light_of(l, "2026-09-01T00:00:00Z", "2026-09-02T00:00:00Z", s).on(day_of("2026-09-01"));
    CHECK_FALSE(too_long.for_wanted[0].latest);
    CHECK(too_long.for_wanted[0].slack < Seconds{0});
}

TEST_CASE("polar day is all direct light, polar night none", "[spot]") {
    const site::Location l = open_ground(78);
    const SpotDay june =
        light_of(l, "2026-06-21T00:00:00Z", "2026-06-22T00:00:00Z").on(day_of("2026-06-21"));
    REQUIRE(june.direct.size() == 1);
    CHECK(june.direct[0].begins_by == "midnight");
    CHECK(june.direct[0].ends_by == "midnight");
    CHECK(june.direct[0].span.length().count() == Approx(86400));
    CHECK_FALSE(june.set);
    const SpotDay december =
        light_of(l, "2026-12-21T00:00:00Z", "2026-12-22T00:00:00Z").on(day_of("2026-12-21"));
    CHECK(june.direct[0].span.runs_at_start);
    CHECK(december.direct.empty());
    CHECK(december.no_direct == NoDirect::sun_stays_down);
    CHECK(december.wanted.empty());
}

TEST_CASE("a spot behind high walls stays in shade", "[spot]") {
    site::Location l = open_ground(60);
    std::vector<site::HorizonPoint> ring;
    for (int b = 0; b < 360; b += 10)
        ring.push_back({Angle::degrees(b), Angle::degrees(40)});
    l.site.horizon = site::Horizon{ring};
    const SpotDay day =
        light_of(l, "2026-01-10T00:00:00Z", "2026-01-11T00:00:00Z").on(day_of("2026-01-10"));
    CHECK(day.direct.empty());
    CHECK(day.no_direct == NoDirect::stays_in_shade);
}

TEST_CASE("on the equator at equinox dusk comes as fast as the Earth turns", "[spot]") {
    // The sun goes down square to the horizon, 15 degrees an hour but for the equation of time's 18
    // s a day (1 part in 5,000): from -0.8333 to -6 degrees takes 20.667 minutes, to -12 44.667.
    const site::Location l = open_ground(0);
    const SpotDay day =
        light_of(l, "2026-03-20T00:00:00Z", "2026-03-21T00:00:00Z").on(day_of("2026-03-20"));
    REQUIRE(day.set);
    CHECK((*day.civil_dusk - *day.set).count() / 60 == Approx(5.1667 / 15 * 60).margin(0.02));
    CHECK((*day.nautical_dusk - *day.set).count() / 60 == Approx(11.1667 / 15 * 60).margin(0.02));
    REQUIRE(day.late_light.size() == 2);
    CHECK(day.late_light[1].evening);
    CHECK((day.late_light[1].end - day.late_light[1].start).count() / 60 ==
          Approx(10.0 / 15 * 60).margin(0.02));
    CHECK((day.low_sun[1].end - day.low_sun[1].start).count() / 60 ==
          Approx(6.0 / 15 * 60).margin(0.02));
}

TEST_CASE("levels and their fall are those of the clear sky", "[spot]") {
    const site::Location l = open_ground(50);
    const SpotLight light = light_of(l, "2026-04-01T00:00:00Z", "2026-04-02T00:00:00Z");
    const Instant t = utc("2026-04-01T17:45:00Z");
    const SpotInstant now = light.at(t), later = light.at(t + Seconds{600});
    REQUIRE(now.direct_fall);
    CHECK(now.direct_fall->low < now.direct_fall->likely);
    CHECK(now.direct_fall->likely < now.direct_fall->high);
    CHECK(now.direct_fall->likely ==
          Approx(std::log2(now.sky.likely.direct_normal_lx / later.sky.likely.direct_normal_lx)));
    CHECK(now.sky_fall->likely == Approx(std::log2(now.sky.likely.diffuse_horizontal_lx /
                                                   later.sky.likely.diffuse_horizontal_lx)));
    CHECK(now.direct_fall->likely > 0.2);  // a low sun falls fast
    CHECK_FALSE(light.at(utc("2026-04-01T23:00:00Z")).direct_fall);
}

TEST_CASE("the sky falls below a level at its minute", "[spot]") {
    const site::Location l = open_ground(50);
    for (const double floor_lx : {5.0, 300.0, 5000.0}) {
        SpotSettings s;
        s.floor_lx = floor_lx;
        const SpotLight light = light_of(l, "2026-04-01T00:00:00Z", "2026-04-02T00:00:00Z", s);
        const SpotDay day = light.on(day_of("2026-04-01"));
        REQUIRE(day.below_floor);
        CHECK(light.at(*day.below_floor).sky.likely.diffuse_horizontal_lx ==
              Approx(floor_lx).epsilon(0.01));
        CHECK(*day.below_floor > utc("2026-04-01T15:00:00Z"));
    }
}

TEST_CASE("the moon over a spot is the moon, and hides behind what stands there", "[spot]") {
    site::Location l = open_ground(50);
    const SpotLight light = light_of(l, "2026-05-30T00:00:00Z", "2026-05-31T00:00:00Z");
    const SpotDay day = light.on(day_of("2026-05-30"));
    // Full moon on 31 May 2026, from memory: nearly all of it is lit the evening before.
    REQUIRE(day.moon_sights.size() == 3);
    for (const MoonSight& m : day.moon_sights) {
        CHECK(m.illuminated_fraction > 0.98);
        CHECK(m.waxing);
    }
    const MoonSight& midnight = day.moon_sights.back();
    CHECK(midnight.at == utc("2026-05-31T00:00:00Z"));
    CHECK_FALSE(midnight.hidden);
    CHECK(midnight.level_lx > 0.005);
    CHECK(midnight.level_lx < 0.3);
    const auto moon = sun::geocentric_moon(midnight.at);
    const auto seen = sun::moon_position(sun::Place{l.site.observer}, moon);
    CHECK(
        std::abs((midnight.position.true_altitude.above_horizon - seen.true_altitude.above_horizon)
                     .in_arcseconds()) < 0.1);
    l.site.horizon = site::Horizon{
        {{Angle::degrees(0), Angle::degrees(40)}, {Angle::degrees(180), Angle::degrees(40)}}};
    const SpotDay valley = light.on(day_of("2026-05-30"));
    CHECK(valley.moon_sights.back().hidden);
    CHECK(valley.moon_sights.back().level_lx == 0);
}

TEST_CASE("a spot inside a building is told", "[spot]") {
    site::Location l = with_plan(50);
    room::Building shed;
    shed.name = "shed";
    shed.footprint = {{-2, -2}, {2, -2}, {2, 2}, {-2, 2}};
    shed.height_m = 4;
    CHECK(light_of(l, "2026-05-30T00:00:00Z", "2026-05-31T00:00:00Z").stands_in().empty());
    l.room->buildings = {shed};
    CHECK(light_of(l, "2026-05-30T00:00:00Z", "2026-05-31T00:00:00Z").stands_in() ==
          "building shed");
    l.room->buildings.clear();
    l.spots[0].at = {503, -498};
    CHECK(light_of(l, "2026-05-30T00:00:00Z", "2026-05-31T00:00:00Z").stands_in() == "the room");
}

TEST_CASE("a date that begins with the sun up has its set and its direct light from midnight",
          "[spot]") {
    // At the antimeridian, told by UTC: noon is at midnight, the set at six or so, the rise at
    // eighteen.
    const SpotDay day =
        light_of(open_ground(20, 180), "2026-03-20T00:00:00Z", "2026-03-21T00:00:00Z")
            .on(day_of("2026-03-20"));
    REQUIRE(day.set);
    CHECK((*day.set - utc("2026-03-20T06:10:00Z")).count() == Approx(0).margin(600));
    REQUIRE(day.direct.size() == 2);
    CHECK(day.direct[0].span.runs_at_start);
    CHECK_FALSE(day.direct[0].span.runs_at_end);
    CHECK_FALSE(day.direct[1].span.runs_at_start);
    CHECK(day.direct[1].span.runs_at_end);
    // Everywhere else a day's light begins and ends within it.
    const SpotDay plain = light_of(open_ground(50), "2026-03-20T00:00:00Z", "2026-03-21T00:00:00Z")
                              .on(day_of("2026-03-20"));
    REQUIRE(plain.direct.size() == 1);
    CHECK_FALSE(plain.direct[0].span.runs_at_start);
    CHECK_FALSE(plain.direct[0].span.runs_at_end);
}
