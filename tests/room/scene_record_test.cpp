// What a scene and a lamp's throw say of rooms thrown at random, whole.

#include <catch2/catch.hpp>

#include "keyhour/room/direction_region.hpp"
#include "keyhour/room/lamp_throw.hpp"
#include "keyhour/room/scene.hpp"
#include "random_case.hpp"
#include "support/recorded.hpp"

using namespace keyhour;
using namespace keyhour::room;
using test::Dice;
using test::Record;

namespace {

std::vector<test::Case> some_rooms(unsigned first, int count) {
    std::vector<test::Case> out;
    for (int i = 0; i < count; ++i) {
        Dice dice{first + static_cast<unsigned>(i)};
        out.push_back(test::random_case(dice));
    }
    return out;
}

double no_hills(Point2) {
    return 0;
}

/// Lower in the east than in the west.
double hills(Point2 toward) {
    return std::max(0.0, 0.2 - 0.3 * toward.x / length(toward));
}

void record_sun(Record& record, const Scene& scene, std::size_t w, Point3 sun) {
    record.add("open",
               std::pair{scene.open_area(w, sun), scene.open_areas(w, {sun.x, sun.y, -sun.z})});
    record.add("takes", scene.opening_losses(w, sun));
    for (const Patch& patch : scene.patches(w, sun)) {
        record.add("patch", patch);
        for (const Mark& m : scene.room().marks)
            record.add("to_mark", distance_to(patch, {m.at.x, m.at.y, m.height_m}));
    }
    for (std::size_t m = 0; m < scene.room().marks.size(); ++m) {
        record.add("mark", std::pair{scene.coverage(m, w, sun), scene.losses(m, w, sun)});
        record.add("nearest",
                   std::pair{scene.centre_margin(m, w, sun), scene.farthest_edge(m, w, sun)});
        record.add("touch", scene.touch(m, w, sun, 0.95));
        record.add("behind", scene.surface_behind(m, sun));
        const Mark& mark = scene.room().marks[m];
        const Point3 at{mark.at.x, mark.at.y, mark.height_m};
        record.add("within", std::pair{scene.lands_within(w, sun, at, 0.6),
                                       scene.lands_within(w, sun, at, 1.5)});
    }
}

}  // namespace

TEST_CASE("sun in a room does what was recorded", "[recorded][scene]") {
    Record record{"room/recorded/sun"};
    for (const auto& [r, suns] : some_rooms(700, 24)) {
        const Scene scene{r};
        for (std::size_t w = 0; w < r.windows.size(); ++w)
            for (const Point3 sun : suns)
                if (scene.open_area(w, sun) > 0) record_sun(record, scene, w, sun);
    }
    record.check();
}

TEST_CASE("views through windows are those recorded", "[recorded][scene]") {
    Record record{"room/recorded/view"};
    for (const auto& [r, suns] : some_rooms(800, 6)) {
        const Scene scene{r};
        for (std::size_t w = 0; w < r.windows.size(); ++w)
            for (std::size_t m = 0; m < r.marks.size(); ++m) {
                record.add("faces", scene.faces(w, m));
                const Point3 from{r.marks[m].at.x, r.marks[m].at.y, r.marks[m].height_m};
                record.add("part", scene.view_out(w, from, no_hills, 2, 3));
                record.add("hills", scene.view_out(w, from, hills, 3, 2));
            }
    }
    record.check();
}

TEST_CASE("a lamp throws its light as recorded", "[recorded][lamp_throw]") {
    Record record{"room/recorded/lamp"};
    for (const auto& [r, suns] : some_rooms(900, 8)) {
        const Scene scene{r};
        for (std::size_t w = 0; w < r.windows.size(); ++w) {
            // Before the window and a little aside, high and low.
            const Point3 middle = scene.middle(w);
            for (const Point3& sun : suns)
                for (const double high : {0.6, -0.2}) {
                    if (scene.in_front(w, sun) <= 0) continue;
                    const LampThrow thrown{scene, w, middle + 3.5 * Point3{sun.x, sun.y, high}};
                    record.add("share", std::pair{thrown.enters(), thrown.open_share()});
                    for (const Patch& patch : thrown.patches(0.3))
                        record.add("patch", patch);
                    record.add("ceiling", thrown.on_ceiling(0.3));
                    record.add("part", thrown.parts(2, 2));
                    for (std::size_t m = 0; m < r.marks.size(); ++m)
                        record.add("mark", std::pair{thrown.coverage(m), thrown.losses(m)});
                }
        }
    }
    record.check();
}

namespace {

/// Of each outline its points' number, sums and area: any other point shows.
struct Outline {
    std::size_t points = 0;
    double azimuths = 0, altitudes = 0, twice_area = 0;
};

std::vector<Outline> outlines_of(const std::vector<DirectionRing>& rings) {
    std::vector<Outline> out;
    for (const DirectionRing& ring : rings) {
        Outline& o = out.emplace_back();
        o.points = ring.size();
        for (std::size_t i = 0; i < ring.size(); ++i) {
            const PlanDirection &a = ring[i], &b = ring[(i + 1) % ring.size()];
            o.azimuths += a.azimuth;
            o.altitudes += a.altitude;
            o.twice_area += a.azimuth * b.altitude - b.azimuth * a.altitude;
        }
    }
    return out;
}

/// Bounds that count how often they are asked.
struct Bounds {
    long asked = 0;
    RegionBounds bounds;

    explicit Bounds(double lowest = 0, double highest = 1.5)
        : bounds{lowest, highest, [this](Point3 d, double) {
                     ++asked;
                     return d.z > 0.02;
                 }} {}
    Bounds(const Bounds&) = delete;
    Bounds& operator=(const Bounds&) = delete;
};

}  // namespace

TEST_CASE("regions of a room's light are those recorded", "[recorded][direction_region]") {
    Record record{"room/recorded/region"};
    for (const auto& [r, suns] : some_rooms(950, 5)) {
        const Scene scene{r};
        for (std::size_t w = 0; w < r.windows.size(); ++w) {
            Bounds sky;
            record.add("sun", outlines_of(sunlit_region(scene, w, sky.bounds)));
            record.add("asked", sky.asked);
            for (std::size_t m = 0; m < r.marks.size(); ++m)
                for (const double coverage : {0.3, 0.95}) {
                    Bounds day{0.05, 1.1};
                    RegionRequest asked;
                    asked.mark = m;
                    asked.window = w;
                    asked.coverage = coverage;
                    asked.bounds = day.bounds;
                    record.add("mark", outlines_of(covered_region(scene, asked)));
                    record.add("asked", day.asked);
                }
        }
    }
    record.check();
}

TEST_CASE("regions of a clean key in a camera's frame are those recorded",
          "[recorded][direction_region]") {
    Record record{"room/recorded/region_of_key"};
    for (const auto& [r, suns] : some_rooms(970, 4)) {
        const Scene scene{r};
        for (std::size_t w = 0; w < r.windows.size(); ++w)
            for (std::size_t m = 0; m < r.marks.size(); ++m) {
                // From the first corner of the floor, so that some windows come into the frame.
                Camera camera;
                camera.at = r.floor[0];
                camera.aims_at = m;
                camera.height_m = 1.4;
                Bounds day;
                long looks = 0;
                RegionRequest asked;
                asked.mark = m;
                asked.window = w;
                asked.coverage = 0.8;
                asked.camera = &camera;
                asked.key_angle_deg[0] = 25;
                asked.key_angle_deg[1] = 100;
                asked.bounds = day.bounds;
                record.add("key", outlines_of(covered_region(scene, asked)));
                record.add("asked", day.asked);
                asked.spoils = [&](Point3 d) {
                    ++looks;
                    return std::abs(d.x) < 0.05 || d.z > 0.8;
                };
                record.add("spoilt", outlines_of(covered_region(scene, asked)));
                record.add("looks", looks);
            }
    }
    record.check();
}
