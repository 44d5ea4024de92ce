// Light moves no faster than the sun lets it.

#include <catch2/catch.hpp>

#include "keyhour/room/scene.hpp"
#include "random_case.hpp"
#include "support/face.hpp"

using namespace keyhour;
using namespace keyhour::test;
using room::Patch;
using room::Scene;
using room::Surface;

namespace {

/// The sun's way from one instant to the next. A quarter of a degree is a minute of time.
constexpr double step = 0.001 * degree;
constexpr int steps_of_walk = 250;

double perimeter(const std::vector<Patch>& patches) {
    double sum = 0;
    for (const Patch& patch : patches)
        for (const auto& ring : patch.outlines)
            for (std::size_t i = 0; i < ring.size(); ++i) {
                const Point3 d = ring[(i + 1) % ring.size()] - ring[i];
                sum += std::sqrt(dot(d, d));
            }
    return sum;
}

/// The farthest corner that may cast an edge.
double reach_of(const Room& r) {
    double reach = 25;
    for (const Building& b : r.buildings)
        for (const Point2 p : b.footprint)
            reach = std::max(reach, length(p - r.floor[0]) + 15 + b.height_m);
    return reach;
}

Surface surface_of(const Face& face) {
    return {face.part == Part::floor  ? Surface::Kind::floor
            : face.part == Part::wall ? Surface::Kind::wall
                                      : Surface::Kind::object,
            face.index};
}

/// An edge of a patch at throw L moves by at most L x step / cos(incidence)^2; so no area changes
/// by more than its perimeter times that. The bound takes the longest throw that the scene allows
/// and the larger of the two perimeters, doubled for what comes and goes between the two instants.
/// @return surfaces looked at
long check_areas(const std::vector<Face>& faces, const std::vector<Patch>& before,
                 const std::vector<Patch>& now, Point3 sun, double reach) {
    const double edges = std::max(perimeter(before), perimeter(now));
    long looked_at = 0;
    for (const Face& face : faces) {
        const double cosine = dot(face.normal, sun);
        if (face.part == Part::object || cosine < 0.1) continue;
        const auto a = patch_on(before, surface_of(face)), b = patch_on(now, surface_of(face));
        const double change = std::abs((a ? a->area_m2 : 0) - (b ? b->area_m2 : 0));
        // A patch below 1 cm2 is not listed.
        CHECK(change <=
              room::smallest_patch_m2 + 2 * edges * reach * 1.5 * step / (cosine * cosine));
        ++looked_at;
    }
    return looked_at;
}

/// Each edge's shadow moves across the silhouette by reach x step; some forty edges (bars, panes,
/// outlines) can cross it at its full width.
double most_change(const Mark& mark, double reach) {
    double width = 2 * mark.radius_m, least = std::numbers::pi * mark.radius_m * mark.radius_m;
    if (mark.box_m) {
        const auto& box = *mark.box_m;
        width = std::sqrt(box[0] * box[0] + box[1] * box[1] + box[2] * box[2]);
        least = std::min({box[0] * box[1], box[1] * box[2], box[2] * box[0]}) * 0.5;
    }
    return 40 * width * reach * 1.5 * step / least;
}

}  // namespace

TEST_CASE("patches and coverages are continuous in time", "[room]") {
    long looked_at = 0;
    for (unsigned n = 0; n < 24; ++n) {
        Dice dice{9000 + n};
        const Case c = random_case(dice);
        const Scene scene{c.r};
        const std::vector<Face> faces = faces_of(c.r);
        const double reach = reach_of(c.r);
        const double start = std::atan2(c.suns[0].y, c.suns[0].x);
        const double altitude = std::max(std::asin(c.suns[0].z), 10 * degree);
        const double climb = dice.between(-1, 1);
        for (std::size_t w = 0; w < c.r.windows.size(); ++w) {
            std::vector<Patch> before;
            std::vector<double> covered_before(c.r.marks.size());
            for (int k = 0; k <= steps_of_walk; ++k) {
                const Point3 sun = direction(start + k * step, altitude + 0.5 * climb * k * step);
                std::vector<Patch> now = scene.patches(w, sun);
                if (k > 0) looked_at += check_areas(faces, before, now, sun, reach);
                for (std::size_t m = 0; m < c.r.marks.size(); ++m) {
                    const double covered = scene.coverage(m, w, sun);
                    if (k > 0)
                        CHECK(std::abs(covered - covered_before[m]) <=
                              most_change(c.r.marks[m], reach));
                    covered_before[m] = covered;
                }
                before = std::move(now);
            }
        }
    }
    CHECK(looked_at > 10000);
}
