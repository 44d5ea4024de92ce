#include "keyhour/study/bearing.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "keyhour/room/scene.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/next_observation.hpp"
#include "read/location_file.hpp"
#include "support/dice.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

constexpr double degree = std::numbers::pi / 180;

site::Location press(double faces_deg) {
    auto read = read::read_location(KEYHOUR_LOCATIONS "/tallow-lane.toml");
    REQUIRE(read);
    read->room->bearing.faces = Angle::degrees(faces_deg);
    read->room->bearing.magnetic = false;
    return *std::move(read);
}

Instant utc(const char* text) {
    const auto t = site::read_utc(text);
    REQUIRE(t);
    return *t;
}

constexpr std::size_t street = 0;

/// A made world: the walls face a true bearing; observations come out of plain geometry, with or
/// without errors, and know nothing of the code that reads them.
struct World {
    site::Location location;
    std::shared_ptr<const SharedTrack> track =
        SharedTrack::make(utc("2026-02-08T00:00Z"), utc("2026-02-14T00:00Z"));
    SunPath path;
    test::Dice dice{20260210};
    bool with_errors = true;
    double clock_error_s = 0, declination_error_deg = 0;
    double left_error_m = 0, reveal_error_m = 0;

    explicit World(double faces_deg) : location{press(faces_deg)}, path{location.site, track} {}

    /// Standard normal, Box and Muller.
    double normal() {
        if (!with_errors) return 0;
        return std::sqrt(-2 * std::log(1 - dice.unit())) *
               std::cos(2 * std::numbers::pi * dice.unit());
    }
    double error(double within) { return within / std::numbers::sqrt3 * normal(); }

    void next_day() {
        clock_error_s = error(usual_clock_within_s);
        declination_error_deg = 0.4 * normal();
        left_error_m = error(usual_left_within_m);
        reveal_error_m = error(usual_opening_within_m);
    }

    room::Point3 sun(Instant t) const {
        return room::PlanTurn{room::plan_bearing(*location.room)}.to_plan(path.at(t).toward);
    }
    /// What happens at t is noted at another time: the clock's error, and the reading's.
    ClockTime noted(Instant t, double within_s = 30) {
        return {t - Seconds{clock_error_s + error(within_s)}, within_s};
    }
    room::Point3 turned(room::Point3 v, double by_deg) const {
        const double s = std::sin(by_deg * degree), c = std::cos(by_deg * degree);
        return {v.x * c + v.y * s, v.y * c - v.x * s, v.z};
    }

    Observation compass(double within_deg = 5) {
        const double declination = 0.9;
        const double faces = location.room->bearing.faces.in_degrees() - declination -
                             declination_error_deg + error(within_deg);
        return {"compass", "",
                WallBearing{street, Angle::degrees(faces),
                            Needle{Angle::degrees(declination), Angle::degrees(0.4)},
                            Angle::degrees(within_deg)}};
    }

    Observation shadow(Instant t, double within_m = 0.01, double length_m = 1) {
        const room::Point3 s = turned(sun(t), error(edge_within.in_degrees()));
        const double level = std::hypot(s.x, s.y);
        const room::Point2 from{2.2, 0.3};
        const room::Point2 to = from - (length_m / level) * room::Point2{s.x, s.y};
        const auto measured = [&](room::Point2 p) {
            return room::Point2{p.x + error(within_m), p.y + error(within_m)};
        };
        return {"shadow", "", ShadowLine{measured(from), measured(to), true, within_m, noted(t)}};
    }

    Observation angle(Instant t, double within_deg = 1) {
        // Street wall: its right-hand part seen from inside runs towards -x, the room lies at +y.
        const room::Point3 s = turned(sun(t), error(edge_within.in_degrees()));
        const double from_right = std::atan2(-s.y, s.x) / degree + error(within_deg);
        return {"angle", "",
                ShadowAngle{street, true, Angle::degrees(from_right), Angle::degrees(within_deg),
                            noted(t)}};
    }

    /// The minute at which the sun, from t on, crosses the plane of a wall.
    Observation graze(std::size_t wall, Instant t, Graze::Sun which) {
        const room::Point2 n = room::wall_frame(location.room->floor, wall).n;
        const double off = error(edge_within.in_degrees());
        const auto before = [&](Instant at) {
            const room::Point3 s = turned(sun(at), off);
            return n.x * s.x + n.y * s.y;
        };
        const bool wanted = which == Graze::Sun::begins;
        while ((before(t) > 0) != wanted)
            t = t + Seconds{5};
        return {"graze", "", Graze{wall, which, noted(t, usual_graze_within_s)}};
    }

    /// The patch corner that the left jamb and the sill of the case window cast on the floor: the
    /// light that just passes the inner edges of both.
    Observation corner(Instant t, double within_m = 0.02, bool by_head = false) {
        std::size_t w = 0;
        while (location.room->windows[w].name != "case window")
            ++w;
        const room::Window& window = location.room->windows[w];
        const room::WallFrame wall = room::wall_frame(location.room->floor, window.wall);
        const room::Point3 s = turned(sun(t), error(edge_within.in_degrees()));
        const double u = dot(room::Point2{s.x, s.y}, wall.u),
                     n = dot(room::Point2{s.x, s.y}, wall.n);
        REQUIRE(n > 0);
        // Sun on the right (u > 0): the inner edge of the left jamb; else the outer one.
        const double depth = u > 0 ? 0 : window.reveal_m + reveal_error_m;
        const room::Point2 jamb =
            wall.left_corner + (window.left_m + left_error_m) * wall.u + depth * wall.n;
        // Down the ray from the sill's inner edge: it reaches the floor sill * n / z inside.
        // The head's outer edge is seen from as much higher, but begins at the outer face.
        const double inside = by_head
                                  ? (window.sill_m + window.height_m) * n / s.z - window.reveal_m
                                  : window.sill_m * n / s.z + error(0.005);
        const room::Point2 at = jamb - ((inside + depth) / n) * room::Point2{s.x, s.y};
        PatchCorner c;
        c.window = w;
        c.by_head = by_head;
        c.by_left = true;
        c.at = {at.x + error(within_m), at.y + error(within_m), 0};
        c.within_m = within_m;
        c.time = noted(t);
        return {"corner", "", c};
    }

    Observation map(double within_m, double length_m) {
        // Street wall, left to right seen from inside: a quarter turn clockwise from its facing.
        const double along = (location.room->bearing.faces.in_degrees() + 90) * degree;
        const Angle latitude = location.site.observer.latitude;
        const auto place = [&](double metres) {
            // On the WGS 84 ellipsoid: radii of curvature in the meridian and across it.
            const double a = 6378137, e2 = 0.00669437999014;
            const double q = 1 - e2 * sin(latitude) * sin(latitude);
            const double meridian = a * (1 - e2) / std::pow(q, 1.5), across = a / std::sqrt(q);
            const double north = metres * std::cos(along) + error(within_m);
            const double east = metres * std::sin(along) + error(within_m);
            return site::Coordinates{
                latitude + Angle::radians(north / meridian),
                location.site.observer.longitude + Angle::radians(east / (across * cos(latitude)))};
        };
        return {"map", "",
                MapLine{street, place(-length_m / 2), place(length_m / 2), true, within_m}};
    }

    Observation yard(double within_deg) {
        const double faces = location.room->bearing.faces.in_degrees() - 90 + error(within_deg);
        return {"yard", "",
                OtherWall{street, "yard", Angle::degrees(faces), std::nullopt,
                          Angle::degrees(within_deg), Angle::degrees(90 + error(0.5)), true,
                          Angle::degrees(0.5)}};
    }

    auto answer(std::vector<Observation> observations) const {
        return bearing_of_wall(location, path, {street, std::move(observations)});
    }
    double truth() const { return location.room->bearing.faces.in_degrees(); }
    double off(const BearingAnswer& a) const {
        return half_turn_deg(a.faces.from_north.in_degrees() - truth());
    }
};

struct Hits {
    int sigma = 0, two_sigma = 0, trials = 0;
    void add(double off_deg, const BearingAnswer& a) {
        ++trials;
        if (std::abs(off_deg) <= a.sigma.in_degrees()) ++sigma;
        if (std::abs(off_deg) <= a.within_95.in_degrees()) ++two_sigma;
    }
};

}  // namespace

TEST_CASE("without errors every kind of observation gives back the wall's bearing", "[study]") {
    // Bearings all round, where the sun of that day can be seen.
    for (const double faces : {196.0, 181.25, 150.0, 233.0}) {
        World world{faces};
        world.with_errors = false;
        const Instant noon = utc("2026-02-10T12:20Z");
        for (const Observation& o :
             {world.compass(), world.shadow(noon), world.angle(noon), world.corner(noon),
              world.corner(utc("2026-02-10T14:05Z")), world.map(2, 60), world.yard(1),
              world.graze(1, utc("2026-02-10T08:00Z"), Graze::Sun::ends)}) {
            CAPTURE(faces, o.name);
            const auto a = world.answer({o});
            REQUIRE(a);
            CHECK(world.off(*a) == Approx(0).margin(0.03));  // a graze is found to 5 s
            CHECK(a->fit.freedom == 0);
            if (a->results[0].altitude) {
                CHECK(a->results[0].altitude->measured_deg ==
                      Approx(a->results[0].altitude->sun_deg).margin(1e-6));
                CHECK(a->results[0].altitude->culprit == Culprit::none);
            }
        }
    }
}

TEST_CASE("one observation's doubt is what its inputs give", "[study]") {
    World world{196};
    world.with_errors = false;
    // 5 degrees of a compass: 5 / sqrt 3, with the model's own 0.4.
    CHECK(world.answer({world.compass()})->sigma.in_degrees() ==
          Approx(std::hypot(5 / std::numbers::sqrt3, 0.4)).epsilon(1e-3));
    // Two points 60 m apart, 2 m each way each: sqrt 2 * 2 / sqrt 3 / 60 radians.
    CHECK(world.answer({world.map(2, 60)})->sigma.in_degrees() ==
          Approx(std::numbers::sqrt2 * 2 / std::numbers::sqrt3 / 60 / degree).epsilon(1e-2));
    // A metre of shadow: 8.2 mm of it, the edge, and 30 s twice at the sun's rate in azimuth.
    const Instant noon = utc("2026-02-10T12:20Z");
    const auto azimuth = [&](double s) {
        const LevelVector v = world.path.at(noon + Seconds{s}).toward;
        return std::atan2(v.east, v.north) / degree;
    };
    const double rate = std::abs(half_turn_deg(azimuth(30) - azimuth(-30)));  // a minute
    const double s = 1 / std::numbers::sqrt3;
    CHECK(world.answer({world.shadow(noon)})->sigma.in_degrees() ==
          Approx(std::sqrt(std::pow(std::numbers::sqrt2 * 0.01 * s / degree, 2) +
                           std::pow(0.13 * s, 2) + 2 * std::pow(0.5 * rate * s, 2)))
              .epsilon(2e-3));
}

// Observations made with errors of the stated size (normal, so that one alone can be judged too).
TEST_CASE("in 1,000 recces the stated doubt holds the truth as often as it says",
          "[study][statistics]") {
    Hits all;
    World world{196};
    for (int i = 0; i < 1000; ++i) {
        world.location.room->bearing.faces = Angle::degrees(140 + 100 * world.dice.unit());
        world.next_day();
        const Instant t = utc("2026-02-10T11:00Z") + Seconds{7200 * world.dice.unit()};
        std::vector<Observation> seen{world.compass()};
        const int kinds = world.dice.whole(1, 63);
        if (kinds & 1) seen.push_back(world.shadow(t));
        if (kinds & 2) seen.push_back(world.map(1, 40));
        if (kinds & 4) seen.push_back(world.graze(1, utc("2026-02-10T08:00Z"), Graze::Sun::ends));
        if (kinds & 8) seen.push_back(world.corner(t + Seconds{1800}));
        if (kinds & 16) seen.push_back(world.yard(1));
        if (kinds & 32) seen.push_back(world.angle(t + Seconds{4000}));
        const auto a = world.answer(std::move(seen));
        REQUIRE(a);
        all.add(world.off(*a), *a);
    }
    CHECK(all.sigma >= 640);
    CHECK(all.sigma <= 720);
    CHECK(all.two_sigma >= 930);
    CHECK(all.two_sigma <= 970);
}

namespace {

void spoil(Observation& o, double by_deg) {
    if (auto* compass = std::get_if<WallBearing>(&o.what))
        compass->faces = compass->faces + Angle::degrees(by_deg);
    if (auto* line = std::get_if<ShadowLine>(&o.what)) {
        const room::Point2 d = line->to - line->from;
        const double s = std::sin(by_deg * degree), c = std::cos(by_deg * degree);
        line->to = line->from + room::Point2{d.x * c + d.y * s, d.y * c - d.x * s};
    }
}

double sigma_of(World& world, const Observation& o) {
    return world.answer({o})->fit.residuals[0].sigma_deg;
}

/// Is it left out or suspected?
template <class Answer>
bool is_named(const Answer& answer, std::size_t i) {
    return answer && (std::ranges::count(answer->fit.left_out, i) > 0 ||
                      std::ranges::count(answer->fit.suspects, i) > 0);
}

}  // namespace

// An error of 5 of the observation's own standard uncertainties. Beside two sun sightings a compass
// that is so far off stands out whole, and of five alike any one does: named alone or as one of
// two. Of three alike an error of 5 sigma is 2 of each of the others: 95.1 of 100 over 4,000
// trials, of which 500 here may miss one.
TEST_CASE("an observation 5 sigma off is found in at least 95 of 100", "[study][statistics]") {
    World world{196};
    int compass_found = 0, any_found = 0, falsely = 0, three_named = 0;
    constexpr int trials = 500;
    for (int i = 0; i < trials; ++i) {
        world.next_day();
        const Instant t = utc("2026-02-10T11:00Z");
        const auto later = [&](int minutes) { return t + Seconds{60.0 * minutes}; };
        std::vector<Observation> three{world.compass(), world.shadow(t), world.corner(later(70))};
        const double sense = world.dice.chance(0.5) ? 5 : -5;
        spoil(three[0], sense * sigma_of(world, three[0]));
        const auto a = world.answer(three);
        if (a && a->fit.left_out == std::vector<std::size_t>{0}) ++compass_found;

        std::vector<Observation> five;
        for (int k = 0; k < 5; ++k)
            five.push_back(world.shadow(later(25 * k), 0.015));
        const auto sound = world.answer(five);
        if (!sound || !sound->fit.left_out.empty() || !sound->fit.suspects.empty()) ++falsely;
        const std::size_t bad = world.dice.index(5);
        spoil(five[bad], sense * sigma_of(world, five[bad]));
        const auto b = world.answer(five);
        if (is_named(b, bad)) ++any_found;

        std::vector<Observation> alike(five.begin(), five.begin() + 3);
        if (bad >= 3) spoil(alike[0], sense * sigma_of(world, alike[0]));
        const auto c = world.answer(alike);
        const std::size_t wrong = bad < 3 ? bad : 0;
        if (is_named(c, wrong)) ++three_named;
    }
    CHECK(compass_found >= trials * 95 / 100);
    CHECK(any_found >= trials * 95 / 100);
    CHECK(falsely <= trials * 8 / 100);
    CHECK(three_named >= trials * 94 / 100);
}

TEST_CASE("the answer does not break at north", "[study]") {
    World world{196};
    world.with_errors = false;
    const auto at = [](double deg) {
        return Observation{
            "c", "", WallBearing{street, Angle::degrees(deg), std::nullopt, Angle::degrees(2)}};
    };
    const auto a = world.answer({at(358.5), at(1.5)});
    REQUIRE(a);
    CHECK(std::abs(half_turn_deg(a->faces.from_north.in_degrees())) < 1e-6);
}

TEST_CASE("a line without a sense is told apart by another, else by the file, and that is said",
          "[study]") {
    World world{196};
    world.with_errors = false;
    Observation map = world.map(1, 60);
    std::get<MapLine>(map.what).sides_known = false;
    const auto alone = world.answer({map});
    REQUIRE(alone);
    CHECK(world.off(*alone) == Approx(0).margin(0.01));
    REQUIRE(alone->other);
    CHECK(alone->other->from_north.in_degrees() == Approx(16).margin(0.01));
    // The file has it backwards: another observation decides, not the file.
    World backwards{16};
    const auto told =
        bearing_of_wall(backwards.location, world.path, {street, {map, world.compass()}});
    REQUIRE(told);
    CHECK(told->faces.from_north.in_degrees() == Approx(196).margin(0.3));
    CHECK_FALSE(told->other);
}

TEST_CASE("a corner tells whether the clock, a height or the bearing is wrong", "[study]") {
    World world{196};
    world.with_errors = false;
    const Instant t = utc("2026-02-10T14:30Z");
    const Observation shadow = world.shadow(utc("2026-02-10T12:20Z"));
    const auto check = [&](const Observation& corner, bool with_others = true) {
        std::vector<Observation> seen{corner};
        if (with_others)
            for (int i = 0; i < 2; ++i)
                seen.push_back(shadow), seen.push_back(world.map(1, 60));
        const auto a = world.answer(std::move(seen));
        REQUIRE(a);
        REQUIRE(a->results[0].altitude);
        return *a->results[0].altitude;
    };
    Observation corner = world.corner(t);
    CHECK(check(corner).culprit == Culprit::none);

    Observation late = corner;  // the note is a quarter of an hour late
    std::get<PatchCorner>(late.what).time.at = t + Seconds{900};
    const AltitudeCheck clock = check(late);
    CHECK(clock.culprit == Culprit::clock);
    REQUIRE(clock.clock_off_s);
    CHECK(*clock.clock_off_s == Approx(-900).margin(5));
    CHECK(check(late, false).culprit == Culprit::clock_or_heights);

    World taller{196};  // the sill was taped 12 cm too low
    taller.with_errors = false;
    for (room::Window& w : taller.location.room->windows)
        w.sill_m += 0.12;
    const AltitudeCheck heights = check(taller.corner(t));
    CHECK(heights.culprit == Culprit::heights);
    CHECK(heights.edge_would_be_m - heights.edge_m == Approx(0.12).margin(0.005));

    World turned{204};  // the corner is of another bearing: its height is right
    turned.with_errors = false;
    CHECK(check(turned.corner(t)).culprit == Culprit::bearing_or_left);
}

TEST_CASE("what can't be is refused by name", "[study]") {
    World world{196};
    world.with_errors = false;
    const auto refusal = [&](const Observation& o) {
        const auto a = world.answer({o});
        REQUIRE_FALSE(a);
        return a.error().front();
    };
    Observation night = world.shadow(utc("2026-02-10T15:20Z"));
    std::get<ShadowLine>(night.what).time.at = utc("2026-02-10T03:20Z");
    CHECK(refusal(night) ==
          "shadow: the sun was 37 degrees below the horizon then; a 12-hour clock? The sun was up "
          "twelve hours later");
    CHECK(refusal(world.map(5, 8)) ==
          "map: the two points are 8 m apart and each is known within 5 m: they give no direction; "
          "take points farther apart, or measure them better");
    Observation outside = world.corner(utc("2026-02-10T12:20Z"));
    std::get<PatchCorner>(outside.what).at = {3, -1, 0};
    CHECK(refusal(outside).find("1 m outside the wall of window \"case window\"") !=
          std::string::npos);
    std::get<PatchCorner>(outside.what).at = {3, 40, 0};
    CHECK(refusal(outside).find("[3, 40] lies outside the floor") != std::string::npos);
    CHECK_FALSE(world.answer({}));
    const auto two = world.answer({world.compass(), world.compass()});
    REQUIRE(two);
    Observation off = world.shadow(utc("2026-02-10T12:20Z"));
    std::get<ShadowLine>(off.what).to = {3.2, 0.4};
    const auto fight = world.answer({off, world.shadow(utc("2026-02-10T12:20Z"))});
    REQUIRE_FALSE(fight);
    CHECK(fight.error().front().find("contradict each other") != std::string::npos);
    CHECK(fight.error().front().find("a third one would tell which is wrong") != std::string::npos);
}

TEST_CASE("the next observation proposed is the one that leaves the least doubt", "[study]") {
    World world{196};
    world.with_errors = false;
    const auto a = world.answer({world.compass()});
    REQUIRE(a);
    const RoomStudy study{world.location, world.track};
    const auto next = next_observations(study, *a, usual_clock_within_s, utc("2026-02-10T00:00Z"),
                                        utc("2026-02-11T00:00Z"));
    REQUIRE(next.size() >= 2);
    for (std::size_t i = 0; i + 1 < next.size(); ++i)
        CHECK(next[i].sigma_after_deg <= next[i + 1].sigma_after_deg);
    bool has_graze = false;
    for (const NextObservation& n : next) {
        CHECK(n.sigma_after_deg < a->sigma.in_degrees());
        if (n.kind != NextObservation::Kind::graze_ends || n.index != 1) continue;
        // The yard wall faces 106: the sun leaves it when it comes to 196.
        const LevelVector v = world.path.at(n.at).toward;
        CHECK(turn_deg(std::atan2(v.east, v.north) / degree) == Approx(196).margin(0.2));
        has_graze = true;
    }
    CHECK(has_graze);
    CHECK(next.front().kind == NextObservation::Kind::jamb_shadow);
    CHECK(next.front().shadow_m > 0.3);
    // What it promises comes true.
    const auto b =
        world.answer({world.compass(), world.shadow(next.front().at, 0.01, next.front().shadow_m)});
    REQUIRE(b);
    CHECK(b->sigma.in_degrees() == Approx(next.front().sigma_after_deg).epsilon(0.02));
    for (const ObservationResult& r : b->results)
        CHECK_FALSE(r.sun_behind_deg);  // the sun stood before that wall
}

TEST_CASE("a grazing sun that is not said to come or to go is read both ways", "[study]") {
    World world{196};
    world.with_errors = false;
    // The yard wall faces 106: the sun leaves it at 196, early in the afternoon.
    Observation graze = world.graze(1, utc("2026-02-10T10:00Z"), Graze::Sun::ends);
    const auto known = world.answer({graze});
    REQUIRE(known);
    CHECK_FALSE(known->other);
    CHECK(world.off(*known) == Approx(0).margin(0.1));
    std::get<Graze>(graze.what).sun = Graze::Sun::unknown;
    const auto either = world.answer({graze});
    REQUIRE(either);
    REQUIRE(either->other);
    REQUIRE(either->results[0].or_faces);
    const double apart = either->results[0].or_faces->from_north.in_degrees() -
                         either->results[0].faces.from_north.in_degrees();
    CHECK(std::abs(half_turn_deg(apart)) == Approx(180));
    // A corner's sun shone through its window, so it stood before that wall.
    const auto corner = world.answer({world.corner(utc("2026-02-10T12:20Z"))});
    REQUIRE(corner);
    CHECK_FALSE(corner->results[0].sun_behind_deg);
    // Another observation decides between the two.
    const auto decided = world.answer({graze, world.compass()});
    REQUIRE(decided);
    CHECK_FALSE(decided->other);
}

TEST_CASE("in a room with one window its jamb's shadow is proposed", "[study]") {
    World world{196};
    world.with_errors = false;
    site::Location one = world.location;
    while (one.room->windows.size() > 1)
        one.room->windows.pop_back();
    const RoomStudy study{one, world.track};
    const auto a = bearing_of_wall(one, world.path, {street, {world.compass()}});
    REQUIRE(a);
    const auto next = next_observations(study, *a, usual_clock_within_s, utc("2026-02-10T00:00Z"),
                                        utc("2026-02-11T00:00Z"));
    CHECK(std::ranges::any_of(next, [](const NextObservation& n) {
        return n.kind == NextObservation::Kind::jamb_shadow && n.index == 0;
    }));
}

TEST_CASE("a corner by the head tells the sun's altitude as well as one by the sill", "[study]") {
    World world{196};
    world.with_errors = false;
    for (const bool by_head : {false, true}) {
        const Instant t = utc("2026-02-10T12:20Z");
        Observation corner = world.corner(t, 0.02, by_head);
        // Where it falls past the floor it lies on no surface of this room.
        if (!room::contains(world.location.room->floor, {std::get<PatchCorner>(corner.what).at.x,
                                                         std::get<PatchCorner>(corner.what).at.y}))
            continue;
        const auto a = world.answer({corner});
        REQUIRE(a);
        CAPTURE(by_head);
        CHECK(world.off(*a) == Approx(0).margin(0.05));
        REQUIRE(a->results[0].altitude);
        CHECK(std::abs(a->results[0].altitude->measured_deg - world.path.at(t).altitude_deg) <
              0.05);
        CHECK(a->results[0].altitude->sigma_deg < 1);
    }
}
