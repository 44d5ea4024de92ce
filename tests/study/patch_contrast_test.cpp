#include "keyhour/study/patch_contrast.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "support/random_room.hpp"
#include "workshop.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

using Catch::Matchers::WithinRel;

TEST_CASE("a patch stands out by the sun on it and its reflectance", "[study][light]") {
    room::Room room;
    room.reflectance = {0.2, 0.5, 0.7};
    room::Patch floor;
    floor.area_m2 = 2;
    floor.outlines = {{{0, 0, 0}, {2, 0, 0}, {2, 1, 0}, {0, 1, 0}}};
    const room::Point3 sun{0, -std::sqrt(0.75), 0.5};  // 30 degrees high
    CHECK_THAT(mean_incidence_cosine(floor, sun), WithinRel(0.5, 1e-12));
    const auto c = patch_contrast(room, floor, 50000, 500, sun);
    REQUIRE(c);
    // By hand, Lambert: L = R E / pi.
    CHECK_THAT(c->patch_lx, WithinRel(25500, 1e-12));
    CHECK_THAT(c->patch_cd_m2, WithinRel(0.2 * 25500 / std::numbers::pi, 1e-12));
    CHECK_THAT(c->ratio(), WithinRel(0.2 * 25500 / (0.5 * 500), 1e-12));
    CHECK_THAT(c->stops(), WithinRel(std::log2(20.4), 1e-12));

    room::Patch wall = floor;
    wall.surface.kind = room::Surface::Kind::wall;
    wall.outlines = {
        {{0, 4, 0}, {2, 4, 0}, {2, 4, 1}, {0, 4, 1}}};  // seen from the room: facing -y
    CHECK_THAT(patch_contrast(room, wall, 50000, 500, sun)->ratio(),
               WithinRel((50000 * std::sqrt(0.75) + 500) / 500, 1e-12));
    CHECK_FALSE(patch_contrast(room, wall, 50000, 0, sun));
    // A sliver without area catches nothing, whatever its outline.
    floor.area_m2 = 0;
    CHECK(mean_incidence_cosine(floor, sun) == 0);
}

TEST_CASE("in random rooms patches hold the beam's light and no more", "[study][light]") {
    // What passes the opening square to the sun is what the patches catch, side by side: energy is
    // neither lost nor made. Patches below 1 cm2 are left out.
    test::Dice dice{20260310};
    int lit = 0;
    for (int i = 0; i < 200; ++i) {
        const room::Scene scene{test::random_room(dice)};
        const room::Point3 sun = test::random_sun(dice, scene.room());
        for (std::size_t w = 0; w < scene.room().windows.size(); ++w) {
            const double in_front = scene.in_front(w, sun);
            if (in_front <= 0) continue;
            const double entering_m2 = scene.open_area(w, sun) * in_front;
            double caught_m2 = 0;
            for (const room::Patch& patch : scene.patches(w, sun))
                caught_m2 += patch.area_m2 * mean_incidence_cosine(patch, sun);
            INFO("room " << i << " window " << w);
            CHECK(caught_m2 <= entering_m2 * (1 + 1e-6) + 1e-9);
            CHECK(caught_m2 >= entering_m2 * 0.995 - 0.002);
            lit += caught_m2 > 0;
        }
    }
    CHECK(lit > 100);
}

}  // namespace
