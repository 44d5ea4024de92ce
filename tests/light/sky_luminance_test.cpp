#include "keyhour/light/sky_luminance.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

using namespace keyhour;
using namespace keyhour::light;

namespace {

Azimuth towards(double deg) {
    return {Angle::degrees(deg)};
}
Altitude up(double deg) {
    return {Angle::degrees(deg)};
}

}  // namespace

TEST_CASE("every sky gives the level plane the light that was asked for", "[light]") {
    // Summed again over patches of two degrees: the table of integrals is under test.
    for (int type = 1; type <= 15; ++type)
        for (const double sun : {0.0, 4.0, 17.0, 33.0, 50.0, 66.0, 78.0, 90.0}) {
            INFO("type " << type << ", sun at " << sun);
            const Sky sky{type, up(sun), towards(120), 10000};
            CHECK(sky.plane_lx({0, 0, 1}) == Approx(10000).epsilon(0.002));
        }
}

TEST_CASE("the patches agree with the fine sum on planes of any slope", "[light]") {
    for (const int type : {1, 5, 7, 12, 13})
        for (const double sun : {2.0, 8.0, 20.0, 45.0, 70.0}) {
            const Sky sky{type, up(sun), towards(200), 8000};
            const SkyPatches patches{sky};
            CHECK(patches.plane_lx({0, 0, 1}) == Approx(8000).epsilon(1e-9));
            for (const double slope : {-30.0, 0.0, 40.0})
                for (double azimuth = 0; azimuth < 360; azimuth += 23) {
                    INFO("type " << type << ", sun at " << sun << ", normal " << slope << " up, "
                                 << azimuth);
                    const Direction normal = direction(up(slope), towards(azimuth));
                    CHECK(patches.plane_lx(normal) ==
                          Approx(sky.plane_lx(normal)).epsilon(0.012).margin(12));
                }
        }
}

TEST_CASE("the sky is brightest at the sun, never dark above the horizon, black below", "[light]") {
    for (int type = 1; type <= 15; ++type)
        for (double sun = -5; sun <= 90; sun += 5) {
            const Sky sky{type, up(sun), towards(80), 10000};
            for (double h = 0; h <= 90; h += 3)
                for (double a = 0; a < 360; a += 10)
                    REQUIRE(sky.luminance_cd_m2(direction(up(h), towards(a))) > 0);
            CHECK(sky.luminance_cd_m2(direction(up(-1), towards(80))) == 0);
        }
    const Sky clear{clear_type, up(30), towards(80), 10000};
    const double at_sun = clear.luminance_cd_m2(direction(up(30), towards(80)));
    for (double turn = 10; turn <= 180; turn += 10)
        CHECK(clear.luminance_cd_m2(direction(up(30), towards(80 + turn))) < at_sun);
}

TEST_CASE("a plane gets light from sky, ground and beam by its slope", "[light]") {
    CHECK(ground_lx({0, 0, 1}, 0.2, 50000) == 0);
    CHECK(ground_lx({1, 0, 0}, 0.2, 50000) == Approx(5000));
    CHECK(ground_lx({0, 0, -1}, 0.2, 50000) == Approx(10000));
    const Direction sun = direction(up(30), towards(180));
    CHECK(beam_lx({0, 0, 1}, sun, 80000) == Approx(40000));
    CHECK(beam_lx(sun, sun, 80000) == Approx(80000));
    CHECK(beam_lx(direction(up(0), towards(0)), sun, 80000) == 0);
}

TEST_CASE("hazy air takes the polluted sky", "[light]") {
    CHECK(clear_sky_type(very_clear_air) == 12);
    CHECK(clear_sky_type(normal_air) == 12);
    CHECK(clear_sky_type(hazy_air) == 13);
    CHECK(&cie_sky_type(0) == &cie_sky_type(1));
    CHECK(&cie_sky_type(99) == &cie_sky_type(15));
}

TEST_CASE("a sun below the horizon lights the sky as one that sets", "[light]") {
    const Sky set{12, up(-4), towards(100), 3000}, setting{12, up(0), towards(100), 3000};
    for (const double turn : {0.0, 60.0, 180.0})
        CHECK(set.luminance_cd_m2(direction(up(20), towards(100 + turn))) ==
              setting.luminance_cd_m2(direction(up(20), towards(100 + turn))));
    const Sky higher{12, up(0.9), towards(100), 3000};
    CHECK(higher.luminance_cd_m2(direction(up(20), towards(100))) !=
          setting.luminance_cd_m2(direction(up(20), towards(100))));
}
