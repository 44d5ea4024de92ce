// Where the sun falls in rooms, whole: patches, how bright they are, beams, and what they cross.

#include <array>
#include <catch2/catch.hpp>

#include "flax_road.hpp"
#include "keyhour/study/beam_in_haze.hpp"
#include "keyhour/study/patch_contrast.hpp"
#include "keyhour/study/patch_day.hpp"
#include "keyhour/study/patch_light.hpp"
#include "keyhour/study/patch_way.hpp"
#include "recorded.hpp"
#include "support/random_location.hpp"
#include "worked_room.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

namespace {

const site::LocalDate winter = 2026_y / 2 / 14;

site::Location example(const char* name) {
    return *read::read_location(std::string{KEYHOUR_LOCATIONS "/"} + name);
}

/// Rooms thrown at random, moved to where the sun comes in by day.
site::Location thrown(std::uint64_t seed) {
    test::Dice dice{seed};
    site::Location l = test::random_location(dice);
    l.site.observer.latitude = Angle::degrees(dice.between(-50, 50));
    l.site.observer.longitude = {};
    return l;
}

void add_light(Record& record, const OnDates& on, const RoomLight& light, Instant t) {
    const PatchInstant now = patches_at(on.study, t);
    record.add("patches", now);
    record.add("light", patch_light(on.study, light, now));
    record.add("up", sun_is_up(on.study, t));
}

}  // namespace

TEST_CASE("patches and their light are those recorded", "[recorded][patch]") {
    Record record{"patch_light"};
    for (const char* file : {"flax-road.toml", "sundet.toml", "tallow-lane.toml"}) {
        const OnDates on{example(file), winter, winter};
        const RoomLight light{on.study};
        for (const double hour : {8.2, 12.4, 15.3, 20.0})
            add_light(record, on, light, on.start_of(winter) + Seconds{3600 * hour});
    }
    // Without a mark the light is the room's.
    site::Location bare = example("flax-road.toml");
    bare.room->marks.clear();
    bare.room->cameras.clear();
    const OnDates on{bare, winter, winter};
    add_light(record, on, RoomLight{on.study}, on.start_of(winter) + Seconds{3600 * 12.4});
    record.check();
}

TEST_CASE("patches under a low sun and beside a forge are those recorded", "[recorded][patch]") {
    Record record{"patch_light_low"};
    WorkedRoom worked;
    worked.faces_deg = 265;
    worked.latitude_deg = 50;
    site::Location l = worked.location();
    l.site.air = site::AirClass::hazy;
    l.room->cameras = {{"A", {1.5, 4.0}, 1.2, 0}};
    const site::LocalDate d = 2026_y / 3 / 18;
    const OnDates on{l, d, d};
    const RoomLight light{on.study};
    // The last half hour of the sun, whose beam sinks under a lux.
    for (double minutes = 17 * 60 + 40; minutes < 18 * 60 + 16; minutes += 4) {
        const Instant t = on.start_of(d) + Seconds{60 * minutes};
        add_light(record, on, light, t);
        record.add("direct", direct_lx(on.study, 0, on.study.path().at(t)));
    }
    l.found.forges = {{"hearth", {4.5, 4.0, 0.8}, {-1, 0, 0}, 0.6, 0.4, 2000, 1, 1600}};
    const OnDates hot{l, d, d};
    add_light(record, hot, RoomLight{hot.study}, hot.start_of(d) + Seconds{3600 * 16.5});
    record.check();
}

TEST_CASE("patches in random rooms are those recorded", "[recorded][patch]") {
    Record record{"patches_random"};
    for (const std::uint64_t seed : {3U, 4U, 5U, 8U, 9U, 12U, 13U, 14U}) {
        const OnDates on{thrown(seed), winter, winter};
        for (const double hour : {8.2, 12.4, 15.3}) {
            const Instant t = on.start_of(winter) + Seconds{3600 * hour};
            const PatchInstant now = patches_at(on.study, t);
            record.add("coverages", now.coverages);
            const room::Point3 sun = on.study.sun(on.study.path().at(t));
            for (const WindowPatch& p : now.patches) {
                record.add("cosine", mean_incidence_cosine(p.patch, sun));
                const auto contrast = patch_contrast(on.study.room(), p.patch, 40000, 300, sun);
                record.add("contrast", contrast);
                record.add("ratio", std::pair{contrast->ratio(), contrast->stops()});
            }
        }
    }
    record.check();
}

TEST_CASE("contrast on made patches is that recorded", "[recorded][patch]") {
    Record record{"patch_contrast"};
    room::Room r;
    const room::Point3 sun{0.48, 0.6, 0.64};
    using Kind = room::Surface::Kind;
    for (const auto kind : {Kind::floor, Kind::wall, Kind::object}) {
        room::Patch patch;
        patch.surface = {kind, 2};
        // A square of four with a hole of a quarter; one that stands; one that looks away.
        for (const auto& rings : std::vector<std::vector<std::vector<room::Point3>>>{
                 {{{0, 0, 1}, {2, 0, 1}, {2, 2, 1}, {0, 2, 1}},
                  {{1, 1, 1}, {1, 1.5, 1}, {1.5, 1.5, 1}, {1.5, 1, 1}}},
                 {{{0, 0, 0}, {0, 3, 0}, {0, 3, 1}, {0, 0, 1}}},
                 {{{0, 0, 1}, {0, 2, 1}, {2, 2, 1}}},
                 {}}) {
            patch.outlines = rings;
            for (const double area : {0.0, 1.0, 3.75, 8.0}) {
                patch.area_m2 = area;
                record.add("cosine", mean_incidence_cosine(patch, sun));
                record.add("contrast", patch_contrast(r, patch, 1000, 50, sun));
                record.add("little", patch_contrast(r, patch, 1000, 2, sun));
                record.add("no_fill", patch_contrast(r, patch, 1000, 0, sun));
            }
        }
    }
    record.check();
}

TEST_CASE("beams before cameras are those recorded", "[recorded][haze]") {
    Record record{"beams_in_haze"};
    for (std::uint64_t seed = 40; seed < 56; ++seed) {
        test::Dice dice{seed};
        site::Location l = test::random_location(dice);
        room::Room& r = *l.room;
        if (r.marks.empty()) continue;
        // Wide and narrow lenses, some within the beam of a sun, so that it may stand in them.
        std::vector<room::Point3> suns;
        for (int i = 0; i < 4; ++i) {
            suns.push_back(test::random_sun(dice, r));
            const room::Window& w = r.windows[dice.index(r.windows.size())];
            const double way = dice.between(0.5, 3), up = dice.unit(), across = dice.unit();
            const room::Point3 at = test::in_the_beam(r, w, suns.back(), across, up, way);
            room::Camera c;
            c.at = {at.x, at.y};
            c.height_m = at.z;
            c.aims_at = dice.index(r.marks.size());
            c.view = Angle::degrees(dice.between(15, 110));
            c.view_vertical = Angle::degrees(dice.between(10, 80));
            r.cameras.push_back(c);
        }
        const room::Scene scene{r};
        for (const room::Point3 sun : suns)
            for (std::size_t w = 0; w < r.windows.size(); ++w)
                if (scene.in_front(w, sun) > 0)
                    for (const BeamInHaze& beam : beams_in_haze(scene, w, sun)) {
                        record.add("beam", beam);
                        record.add("stops", beam.stops_over_side());
                    }
    }
    record.check();
}

TEST_CASE("no sun comes to a lens through a window behind its back", "[haze]") {
    // An L: the lens stands before the court window's wall, outside of it as the court does, and
    // looks away from the window, straight into the sun.
    site::Location l = example("flax-road.toml");
    l.room->marks.push_back({"ahead", {7.8, 2.127272727}, 2.418181818, 0.1, {}});
    l.room->cameras = {{"C", {7, 3}, 2.2, 2}};
    const room::Scene scene{*l.room};
    const room::Point3 ahead{2.2, -2.4, 0.6};
    const room::Point3 sun = (1 / std::sqrt(dot(ahead, ahead))) * ahead;
    const BeamInHaze beam = beam_in_haze(scene, 3, 0, sun);
    CHECK(beam.off_axis.in_degrees() == Approx(0).margin(0.01));
    CHECK_FALSE(beam.sun_in_lens);
}

TEST_CASE("beams along a frame's side are those recorded", "[recorded][haze]") {
    // A square room and a camera that looks along the window's wall: suns in the planes of the
    // frame's sides, of the walls, and along the lens.
    Record record{"beams_along_sides"};
    room::Room r;
    r.floor = {{0, 0}, {6, 0}, {6, 4}, {0, 4}};
    r.walls = {"window", "right", "back", "left"};
    r.height_m = 3;
    room::Window w;
    w.left_m = 2;
    w.width_m = 2;
    w.sill_m = 0.5;
    w.height_m = 2;
    r.windows = {w};
    r.marks = {{"mark", {3, 1.5}, 1.5, 0.15, {}}};
    r.cameras = {{"beside", {0.5, 1.5}, 1.5, 0},
                 {"behind", {3, 3.5}, 1.5, 0},
                 {"under", {3, 1.2}, 0.4, 0},
                 {"before", {3, 0.2}, 1.5, 0}};
    const room::Scene scene{r};
    for (const room::Point3 sun : {room::Point3{0, -0.8, 0.6},
                                   {0, -1, 0.02},
                                   {0.6, -0.64, 0.48},
                                   {-0.6, -0.64, 0.48},
                                   {0, -0.28, 0.96}})
        for (const BeamInHaze& beam : beams_in_haze(scene, 0, sun))
            record.add("beam", beam);
    record.check();
}

TEST_CASE("what the sun crosses in two rooms is that recorded", "[recorded][way]") {
    Record record{"crossings"};
    const std::vector<NamedPoint> points{{"bench's end", {3.4, 1.2, 0.9}}, {"floor", {5, 2, 0}}};
    for (const auto& [file, d] :
         {std::pair{"flax-road.toml", 2026_y / 6 / 12}, {"tallow-lane.toml", 2026_y / 2 / 14}}) {
        site::Location l = example(file);
        // A lens that looks into the windows over a table.
        // Lenses that look into the windows, over a table and from under its top.
        l.room->marks.push_back({"over the table", {5.2, 1.5}, 1.4, 0.1, {}});
        const std::size_t over = l.room->marks.size() - 1;
        const Angle wide = Angle::degrees(95), tall = Angle::degrees(70);
        l.room->cameras.push_back({"low", {4.0, 3.4}, 0.9, 0, wide, tall});
        l.room->cameras.push_back({"under", {5.2, 3.3}, 0.3, over, wide, tall});
        l.room->cameras.push_back({"over", {5.4, 3.5}, 2.2, over, wide, tall});
        const OnDates on{l, d, d};
        for (const Crossing& c : crossings(on.study, on.start_of(d), on.start_of(d, 1), points))
            record.add("crossing", c);
        // Cut by both ends of what is asked.
        for (const Crossing& c : crossings(on.study, on.start_of(d) + Seconds{3600 * 12.0},
                                           on.start_of(d) + Seconds{3600 * 12.3}))
            record.add("cut", c);
    }
    record.check();
}

TEST_CASE("what lasts for less than a minute has no speed", "[way]") {
    // Some seconds about a day's first patch and its last, which a wide lens at the back sees: half
    // a minute before their middle there is none yet, or after it none any more.
    const site::LocalDate d = 2026_y / 2 / 14;
    site::Location l = example("tallow-lane.toml");
    l.room->cameras = {{"wide", {3.6, 4.4}, 1.5, 0, Angle::degrees(150), Angle::degrees(130)}};
    const OnDates on{l, d, d};
    const auto is_dark = [&](Instant t) { return patches_at(on.study, t).patches.empty(); };
    Instant first = on.start_of(d) + Seconds{3600 * 7.5};
    while (is_dark(first))
        first = first + Seconds{5};
    Instant last = on.start_of(d) + Seconds{3600 * 17.5};
    while (is_dark(last))
        last = last - Seconds{5};
    int frames = 0;
    for (const auto& [from, to] : {std::pair{first - Seconds{300}, first + Seconds{15}},
                                   {last - Seconds{15}, last + Seconds{300}}})
        for (const Crossing& c : crossings(on.study, from, to))
            if (c.what == Crossed::frame) {
                CHECK_FALSE(c.speed_m_per_min);
                ++frames;
            }
    CHECK(frames > 1);
}

TEST_CASE("what the sun crosses in random rooms is that recorded", "[recorded][way]") {
    Record record{"crossings_random"};
    for (std::uint64_t seed = 1; seed < 30; ++seed) {
        test::Dice dice{seed + 1000};
        site::Location l = thrown(seed);
        for (std::size_t mark = 0; mark < l.room->marks.size(); ++mark) {
            room::Camera c{"wide", l.room->marks[mark].at, dice.between(0.2, 1.5), mark};
            c.at = c.at + room::Point2{dice.between(-1.5, 1.5), dice.between(-1.5, 1.5)};
            c.view = Angle::degrees(dice.between(70, 130));
            c.view_vertical = Angle::degrees(dice.between(50, 110));
            l.room->cameras.push_back(c);
            // The same with a lens out of whose frame the sun goes while it lights it.
            c.view = Angle::degrees(dice.between(20, 60));
            c.view_vertical = Angle::degrees(dice.between(20, 60));
            l.room->cameras.push_back(c);
        }
        const OnDates on{l, winter, winter};
        const Instant morning = on.start_of(winter) + Seconds{3600 * 9.0};
        for (const Crossing& c : crossings(on.study, morning, morning + Seconds{4 * 3600.0}))
            record.add("crossing", c);
    }
    record.check();
}
