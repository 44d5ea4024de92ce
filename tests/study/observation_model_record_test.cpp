// What each kind of observation says of three rooms' bearings, whole, and what can't be.

#include <catch2/catch.hpp>
#include <string>

#include "../../src/study/observation_model.hpp"
#include "flax_road.hpp"
#include "keyhour/site/dates.hpp"
#include "read/location_file.hpp"
#include "recorded.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

Instant utc_at(const std::string& text) {
    const auto t = site::read_utc(text);
    REQUIRE(t);
    return *t;
}

site::Location example(const std::string& name) {
    auto read = read::read_location(KEYHOUR_LOCATIONS "/" + name + ".toml");
    REQUIRE(read);
    return *std::move(read);
}

/// A room and the sun over it for some days.
struct Model {
    site::Location location;
    SunPath path;
    ObservationModel model;

    Model(site::Location l, const std::string& from, const std::string& to,
          double clock_within_s = 30)
        : location{std::move(l)},
          path{location.site, SharedTrack::make(utc_at(from), utc_at(to))},
          model{*location.room, path, clock_within_s} {}
    Model(const Model&) = delete;
    Model& operator=(const Model&) = delete;

    void add(Record& record, const Observation& o) const {
        Inputs inputs{"#7"};
        record.add(kind_in_words(o), model.see(o, inputs));
        record.add("inputs", inputs.sigmas());
        record.add("sighting", model.sighting(o, "#7"));
        if (const auto height = model.height(o, "#7")) record.add("height", *height);
        record.add("fault", model.fault(o));
        record.add("of", std::pair{time_of(o), wall_of(o, model.room())});
    }
    std::string fault(const Observation& o) const { return model.fault(o).value_or("none"); }
};

Angle deg(double d) {
    return Angle::degrees(d);
}

Observation seen(decltype(Observation::what) what) {
    return {"seen", "", std::move(what)};
}

PatchCorner corner(std::size_t window, bool by_head, bool by_left, room::Point3 at, Instant t) {
    PatchCorner c;
    c.window = window;
    c.by_head = by_head;
    c.by_left = by_left;
    c.at = at;
    c.within_m = 0.02;
    c.time = {t, 30};
    return c;
}

site::Coordinates at_degrees(double latitude, double longitude) {
    return {deg(latitude), deg(longitude)};
}

}  // namespace

TEST_CASE("what compasses, maps and other walls say is what was recorded",
          "[recorded][observation_model]") {
    Record record{"observations_untimed"};
    const Model m{flax_road(), "2026-03-19T00:00Z", "2026-03-22T00:00Z"};
    for (std::size_t wall = 0; wall < 6; ++wall)
        record.add("wall", m.model.wall_from_y_deg(wall));
    const Needle needle{deg(25.5), deg(0.45)}, sure{deg(-12), deg(0)};
    m.add(record, seen(WallBearing{0, deg(347), needle, deg(4)}));
    m.add(record, seen(WallBearing{3, deg(359), std::nullopt, deg(0)}));
    m.add(record, seen(WallBearing{5, deg(3), sure, deg(2)}));
    const auto left = at_degrees(-45.0970, 170.9560), right = at_degrees(-45.0972, 170.9553);
    m.add(record, seen(MapLine{0, left, right, true, 2}));
    m.add(record, seen(MapLine{1, left, right, false, 1.5}));
    m.add(record, seen(MapLine{2, right, left, true, 0}));
    m.add(record, seen(OtherWall{0, "mill", deg(80), needle, deg(3), deg(12.5), true, deg(1)}));
    m.add(record,
          seen(OtherWall{4, "mill", deg(80), std::nullopt, deg(3), deg(40), false, deg(0)}));
    m.add(record, seen(OtherWall{1, "mill", deg(355), sure, deg(0), deg(-30), true, deg(2)}));
    record.check();
}

TEST_CASE("what grazing suns and shadows say is what was recorded",
          "[recorded][observation_model]") {
    Record record{"observations_timed"};
    const auto add_timed = [&](const Model& m, const std::string& at) {
        const ClockTime time{utc_at(at), 45};
        record.add("azimuth",
                   std::pair{m.model.azimuth_deg(time.at), m.model.azimuth_rate_deg(time.at)});
        for (const auto sun : {Graze::Sun::unknown, Graze::Sun::begins, Graze::Sun::ends})
            m.add(record, seen(Graze{1, sun, time}));
        for (const bool from_edge : {true, false})
            m.add(record, seen(ShadowLine{{1.2, 0.4}, {1.9, 1.7}, from_edge, 0.015, time}));
        for (const bool from_right : {true, false})
            for (const double angle : {0.0, 35.0, 90.0, 151.0})
                m.add(record,
                      seen(ShadowAngle{3, from_right, deg(angle), deg(angle == 90 ? 0 : 1), time}));
    };
    // The sun goes through the north, through the south, and round the zenith.
    add_timed({flax_road(), "2026-03-19T00:00Z", "2026-03-22T00:00Z"}, "2026-03-20T02:40Z");
    add_timed({example("sundet"), "2026-06-19T00:00Z", "2026-06-22T00:00Z", 120},
              "2026-06-20T19:05Z");
    site::Location tropic = example("tallow-lane");
    tropic.site.observer.latitude = deg(2);
    tropic.site.observer.longitude = deg(0);
    add_timed({tropic, "2026-06-19T00:00Z", "2026-06-22T00:00Z", 0}, "2026-06-20T12:30Z");
    record.check();
}

TEST_CASE("what corners of patches say is what was recorded", "[recorded][observation_model]") {
    Record record{"observations_corners"};
    site::Location location = flax_road();
    location.room->windows[1].within = {0.03, 0.004, 0.006, 0.007, 0.008};
    const Model m{location, "2026-03-19T00:00Z", "2026-03-22T00:00Z"};
    const Instant t = utc_at("2026-03-20T01:20Z");
    for (const bool by_head : {true, false})
        for (const bool by_left : {true, false})
            for (const std::size_t window : {std::size_t{0}, std::size_t{1}})
                // To either side of the jambs, so that each casts by its inner and its outer edge.
                for (const room::Point3 at : {room::Point3{1.0, 1.6, 0}, room::Point3{6.9, 0.9, 0}})
                    m.add(record, seen(corner(window, by_head, by_left, at, t)));
    for (const std::size_t wall : {std::size_t{1}, std::size_t{5}}) {
        PatchCorner c = corner(0, true, true, {wall == 1 ? 8.4 : 0, 2.0, 0.7}, t);
        c.on_wall = wall;
        m.add(record, seen(c));
    }
    PatchCorner sure = corner(2, false, true, {6.5, 2.4, 0.4}, t);
    sure.within_m = 0;
    sure.time.within_s = 0;
    m.add(record, seen(sure));
    record.check();
}

TEST_CASE("what is seen in a room without a right angle is what was recorded",
          "[recorded][observation_model]") {
    Record record{"observations_askew"};
    site::Location askew = example("tallow-lane");
    askew.room->floor = {{0, 0.7}, {7.2, 0}, {6.1, 4.6}, {-0.6, 3.9}};
    const Model m{askew, "2026-02-08T00:00Z", "2026-02-14T00:00Z"};
    const Instant t = utc_at("2026-02-10T13:20Z");
    for (std::size_t wall = 0; wall < 4; ++wall) {
        record.add("wall", m.model.wall_from_y_deg(wall));
        m.add(record, seen(ShadowAngle{wall, wall % 2 == 0, deg(50), deg(1), {t, 30}}));
    }
    for (const std::size_t on : {std::size_t{1}, std::size_t{2}, std::size_t{3}})
        for (const std::size_t window : {std::size_t{0}, std::size_t{2}}) {
            PatchCorner c = corner(window, on == 2, on == 3, {3.1, 2.2, 0.8}, t);
            c.on_wall = on;
            m.add(record, seen(c));
            c.on_wall.reset();
            c.at = {2.1, 2.9, 0};
            m.add(record, seen(c));
        }
    record.check();
}

TEST_CASE("an input moved by its name moves what is seen, as recorded",
          "[recorded][observation_model]") {
    Record record{"observations_moved"};
    const Model m{example("tallow-lane"), "2026-02-08T00:00Z", "2026-02-14T00:00Z"};
    const auto o = seen(corner(1, false, true, {3.6, 2.5, 0}, utc_at("2026-02-10T14:20Z")));
    for (const char* name : {"clock", "#1 reading of the time", "#1 edge", "#1 edge, upright",
                             "#1 corner, along", "#1 corner, across", "case window left",
                             "case window sill", "case window reveal", "none"}) {
        Inputs inputs{"#1"};
        inputs.move(name, 0.05);
        record.add(name == std::string{"none"} ? "none" : "moved", m.model.see(o, inputs));
    }
    record.check();
}

TEST_CASE("what can't have been observed is refused in the words recorded",
          "[recorded][observation_model]") {
    Record record{"observations_refused"};
    const Model m{example("tallow-lane"), "2026-02-08T00:00Z", "2026-02-14T00:00Z"};
    const auto add = [&](const Model& of, const Observation& o) {
        record.add("fault", of.fault(o));
    };
    const auto shadow_at = [](const std::string& t) {
        return seen(ShadowLine{{1, 1}, {2, 2}, true, 0.01, {utc_at(t), 30}});
    };
    // From an hour before to an hour after the sun comes up, and at night.
    for (const char* t :
         {"2026-02-10T00:20Z", "2026-02-10T03:20Z", "2026-02-10T07:10Z", "2026-02-10T07:20Z",
          "2026-02-10T07:26Z", "2026-02-10T07:33Z", "2026-02-10T07:40Z", "2026-02-10T17:10Z",
          "2026-02-10T17:20Z", "2026-02-10T18:40Z", "2026-02-10T19:20Z", "2026-02-10T19:50Z"})
        add(m, shadow_at(t));
    // Two points, nearer and nearer to each other.
    for (const double apart : {0.5, 0.16, 0.11, 0.09, 0.04, 0.021, 0.02, 0.004, 0.0})
        for (const double within : {0.1, 0.05, 0.01, 0.002})
            add(m, seen(ShadowLine{
                       {1, 1}, {1, 1 + apart}, true, within, {utc_at("2026-02-10T12:20Z"), 30}}));
    const double lat = 52.9536, lon = -1.1505;
    for (const double north : {0.00001, 0.00002, 0.0001, 0.04, 0.0449, 0.046, 0.2, 3.0})
        add(m, seen(MapLine{0, at_degrees(lat, lon), at_degrees(lat + north, lon), true, 1}));
    for (const double away : {0.3, 0.44, 0.449, 0.46, 1.0, 54.0})
        add(m, seen(MapLine{0, at_degrees(lat - away, lon), at_degrees(lat - away, lon + 0.001),
                            true, 1}));
    for (const room::Point3 at :
         {room::Point3{3.6, 2.5, 0}, room::Point3{3.6, 0.051, 0}, room::Point3{3.6, 0.049, 0},
          room::Point3{3.6, 0, 0}, room::Point3{3.6, -0.04, 0}, room::Point3{3.6, -0.2, 0},
          room::Point3{7.3, 2, 0}, room::Point3{3.6, 4.7, 0}, room::Point3{3.6, 2.5, 3.09},
          room::Point3{3.6, 2.5, 3.2}}) {
        PatchCorner c = corner(1, false, true, at, utc_at("2026-02-10T12:20Z"));
        add(m, seen(c));
        c.on_wall = 2;
        add(m, seen(c));
        c.window = 2;
        add(m, seen(c));
    }
    // On the equator the sun of an equinox comes straight up: its bearing stays.
    site::Location equator = example("tallow-lane");
    equator.site.observer.latitude = equator.site.observer.longitude = deg(0);
    const Model e{equator, "2026-03-19T00:00Z", "2026-03-22T00:00Z"};
    for (const char* t : {"2026-03-20T07:00Z", "2026-03-20T09:00Z", "2026-03-20T11:00Z",
                          "2026-03-20T11:40Z", "2026-03-20T12:07Z", "2026-03-20T17:00Z"})
        add(e, seen(Graze{0, Graze::Sun::begins, {utc_at(t), 60}}));
    // Where the polar night begins and ends at noon, twelve hours decide.
    site::Location north = example("tallow-lane");
    north.site.observer.latitude = deg(68);
    north.site.observer.longitude = deg(0);
    const Model night{north, "2026-11-20T00:00Z", "2027-01-20T00:00Z"};
    for (int day = 0; day < 55; ++day) {
        const Observation o =
            seen(ShadowLine{{1, 1},
                            {2, 2},
                            true,
                            0.01,
                            {utc_at("2026-11-22T00:10Z") + Seconds{86400.0 * day}, 30}});
        add(night, o);
    }
    record.check();
}

TEST_CASE("a point beside the pole moves no farther than its doubt",
          "[recorded][observation_model]") {
    Record record{"observations_pole"};
    const Model m{example("tallow-lane"), "2026-06-19T00:00Z", "2026-06-22T00:00Z"};
    for (const double lat : {89.9, 89.999, -89.99})
        m.add(record, seen(MapLine{0, at_degrees(lat, 10), at_degrees(lat, 40), true, 0.5}));
    record.check();
}
