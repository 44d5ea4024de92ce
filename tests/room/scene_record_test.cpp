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

bool anywhere(Point3, double) {
    return true;
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

TEST_CASE("regions of a room's light are those recorded", "[recorded][direction_region]") {
    Record record{"room/recorded/region"};
    const auto sizes = [&](const char* what, const std::vector<DirectionRing>& rings) {
        // A ring as its area and its middle: its points are as many as the search needs.
        for (const DirectionRing& ring : rings) {
            double area = 0, along = 0, up = 0;
            for (std::size_t i = 0; i < ring.size(); ++i) {
                const auto& a = ring[i];
                const auto& b = ring[(i + 1) % ring.size()];
                const double twice = a.azimuth * b.altitude - b.azimuth * a.altitude;
                area += twice / 2;
                along += twice * (a.azimuth + b.azimuth) / 6;
                up += twice * (a.altitude + b.altitude) / 6;
            }
            if (std::abs(area) < 1e-4) continue;
            record.add(what, std::vector{std::round(area * 1e4) / 1e4,
                                         std::round(along / area * 1e3) / 1e3,
                                         std::round(up / area * 1e3) / 1e3});
        }
    };
    for (const auto& [r, suns] : some_rooms(950, 4)) {
        const Scene scene{r};
        for (std::size_t w = 0; w < r.windows.size(); ++w) {
            sizes("sun", sunlit_region(scene, w, {0, 1.5, anywhere}));
            for (std::size_t m = 0; m < r.marks.size(); ++m) {
                RegionRequest asked;
                asked.mark = m;
                asked.window = w;
                asked.bounds.may_come = anywhere;
                sizes("mark", covered_region(scene, asked));
            }
        }
    }
    record.check();
}
