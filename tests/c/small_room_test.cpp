// The small room of the C header against the whole library, in rooms thrown at random: the sun's
// patches are cut there by another method.

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "in_c.hpp"
#include "keyhour/room/scene.hpp"
#include "support/random_room.hpp"

using namespace keyhour;
using namespace keyhour::test;

namespace {

/// Over the ground, from the plan of a room.
keyhour_direction over_ground(const room::Room& r, room::Point3 sun) {
    const Angle y = room::plan_bearing(r).from_north;
    return {sun.x * cos(y) + sun.y * sin(y), sun.y * cos(y) - sun.x * sin(y), sun.z};
}

room::Surface surface_of(const keyhour_patch& p) {
    constexpr room::Surface::Kind kinds[] = {room::Surface::Kind::floor, room::Surface::Kind::wall,
                                             room::Surface::Kind::object};
    return {kinds[p.kind], p.index};
}

}  // namespace

TEST_CASE("a small room covers marks as the whole library does", "[c]") {
    Dice dice{1601};
    int partly = 0;
    for (int n = 0; n < 300; ++n) {
        room::Room r = random_room(dice);
        const std::vector<room::Point3> suns{random_sun(dice, r), random_sun(dice, r)};
        add_marks(dice, r, 2, suns);
        const InC small{r};
        REQUIRE(small.status() == KEYHOUR_OK);
        const room::Scene scene{r};
        const room::PlanTurn turn{room::plan_bearing(r)};
        for (const room::Point3 sun : suns)
            for (std::size_t m = 0; m < r.marks.size(); ++m)
                for (std::size_t w = 0; w < r.windows.size(); ++w) {
                    const keyhour_direction d = over_ground(r, sun);
                    double found = -1;
                    REQUIRE(keyhour_coverage(small.scene(), m, w, d, &found) == KEYHOUR_OK);
                    const double wanted =
                        scene.coverage(m, w, turn.to_plan({d.east, d.north, d.up}));
                    INFO("room " << n << " mark " << m << " window " << w);
                    CHECK(found == Approx(wanted).margin(1e-9));
                    partly += wanted > 0.01 && wanted < 0.99 ? 1 : 0;
                }
    }
    CHECK(partly > 100);
}

TEST_CASE("a small room's patches have the areas and middles that a library of outlines finds",
          "[c]") {
    Dice dice{1602};
    int compared = 0;
    for (int n = 0; n < 300; ++n) {
        const room::Room r = random_room(dice);
        const InC small{r};
        const room::Scene scene{r};
        const room::PlanTurn turn{room::plan_bearing(r)};
        const keyhour_direction d = over_ground(r, random_sun(dice, r));
        const room::Point3 sun = turn.to_plan({d.east, d.north, d.up});
        for (std::size_t w = 0; w < r.windows.size(); ++w) {
            std::array<keyhour_patch, 32> found;
            std::size_t count = 0;
            REQUIRE(keyhour_patches(small.scene(), w, d, found.data(), found.size(), &count,
                                    nullptr, nullptr) == KEYHOUR_OK);
            for (const room::Patch& patch : scene.patches(w, sun)) {
                // A hair of light that lies along the floor is long; the library works on whole
                // numbers.
                const double error = 1e-5 + 1e-6 * patch.area_m2 / std::max(sun.z, 1e-3);
                const auto same = std::find_if(
                    found.begin(), found.begin() + static_cast<std::ptrdiff_t>(count),
                    [&](const keyhour_patch& p) { return surface_of(p) == patch.surface; });
                INFO("room " << n << " window " << w << " area " << patch.area_m2);
                if (same == found.begin() + static_cast<std::ptrdiff_t>(count)) {
                    CHECK(patch.area_m2 < room::smallest_patch_m2 + error);
                    continue;
                }
                CHECK(same->area_m2 == Approx(patch.area_m2).margin(error));
                const room::Point3 apart =
                    room::Point3{same->centroid.x_m, same->centroid.y_m, same->centroid.z_m} -
                    patch.centroid;
                CHECK(std::sqrt(dot(apart, apart)) < 1e-4 + 10 * error / patch.area_m2);
                ++compared;
            }
        }
    }
    CHECK(compared > 500);
}
