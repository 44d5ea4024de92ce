// The sky's luminance and the light under cloud against the standard and closed forms.

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <utility>

#include "keyhour/light/configuration_factor.hpp"
#include "keyhour/light/overcast.hpp"
#include "keyhour/light/sky_luminance.hpp"

using namespace keyhour;
using namespace keyhour::light;

namespace {

using std::numbers::pi;

Direction looking(double altitude_deg, double azimuth_deg) {
    return direction({Angle::degrees(altitude_deg)}, {Angle::degrees(azimuth_deg)});
}

Sky sky(int type, double sun_deg, double level_lx = 1) {
    return {type, {Angle::degrees(sun_deg)}, {}, level_lx};
}

}  // namespace

TEST_CASE("the standard skies have the standard's ratios", "[light][published]") {
    // ISO 15469:2004 / CIE S 011, equations worked independently for the notes.
    const Sky overcast = sky(1, 40);
    CHECK(overcast.luminance_cd_m2(looking(0, 77)) / overcast.zenith_luminance_cd_m2() ==
          Approx(0.335).margin(0.0005));
    const Sky clear = sky(12, 30);
    CHECK(clear.luminance_cd_m2(looking(30, 0)) / clear.zenith_luminance_cd_m2() ==
          Approx(13.48).margin(0.005));
    CHECK(clear.luminance_cd_m2(looking(45, 180)) / clear.zenith_luminance_cd_m2() ==
          Approx(0.897).margin(0.0005));
    // Type 1 stands for the old CIE overcast sky, horizon to zenith 1:3 (Moon & Spencer 1942).
    CHECK(overcast.luminance_cd_m2(looking(0, 0)) / overcast.zenith_luminance_cd_m2() ==
          Approx(1.0 / 3).epsilon(0.01));
}

TEST_CASE("a wall under an overcast sky gets its share of the level ground's light",
          "[light][published]") {
    const Direction wall = looking(0, 33);
    // Uniform sky: a half, closed form (any textbook of daylighting).
    CHECK(sky(5, 40).plane_lx(wall) == Approx(0.5).epsilon(0.001));
    CHECK(sky(5, 40).luminance_cd_m2(wall) == Approx(1 / pi).epsilon(0.0001));
    // Type 1 worked for the notes.
    CHECK(sky(1, 40).plane_lx(wall) == Approx(0.379).epsilon(0.01));
    // Moon & Spencer 1942, (1 + 2 sin h)/3: closed form (1/2 + 4/(3 pi))/(7/3) = 0.396, summed over
    // the same patches as ours. Type 1 was made to stand in for it: 5 %.
    const double moon_spencer = (0.5 + 4 / (3 * pi)) / (7.0 / 3);
    CHECK(moon_spencer == Approx(0.396).margin(0.0005));
    CHECK(sky(1, 40).plane_lx(wall) == Approx(moon_spencer).epsilon(0.05));
    double level = 0, upright = 0;
    const SkyPatches uniform{sky(5, 40)};
    for (const SkyPatches::Patch& patch : uniform.patches()) {
        const double L = patch.lx * (1 + 2 * patch.towards.up) / 3;
        level += L * patch.towards.up;
        upright += L * std::max(cosine(patch.towards, wall), 0.0);
    }
    CHECK(upright / level == Approx(moon_spencer).epsilon(0.003));
}

TEST_CASE("walls under a clear sky have an independent working's levels", "[light][published]") {
    // Share of the level plane's sky light, type 12, the wall turned 0, 45 ... 180 degrees from the
    // sun: the notes' table, 1 %.
    struct Row {
        double sun_deg;
        double share[5];
    };
    constexpr Row rows[]{{10, {1.541, 1.233, 0.655, 0.501, 0.506}},
                         {20, {1.414, 1.133, 0.605, 0.446, 0.443}},
                         {30, {1.235, 1.000, 0.559, 0.407, 0.397}},
                         {45, {0.967, 0.807, 0.505, 0.375, 0.356}},
                         {60, {0.742, 0.649, 0.469, 0.369, 0.346}}};
    for (const Row& row : rows) {
        const Sky clear = sky(12, row.sun_deg);
        const SkyPatches patches{clear};
        for (int i = 0; i < 5; ++i) {
            INFO("sun at " << row.sun_deg << ", turned " << 45 * i);
            CHECK(clear.plane_lx(looking(0, 45 * i)) == Approx(row.share[i]).epsilon(0.01));
            CHECK(patches.plane_lx(looking(0, 45 * i)) == Approx(row.share[i]).epsilon(0.015));
        }
    }
}

TEST_CASE("overcast levels are those of Krochmann and Seidl", "[light][published]") {
    // Lighting Research & Technology 6 (1974) 165; also in the IES handbooks.
    for (const auto& [h, lx] : {std::pair{0.0, 300.0}, {30.0, 10800.0}, {90.0, 21300.0}})
        CHECK(overcast_horizontal_lx({Angle::degrees(h)}) == Approx(lx));
    // Kasten & Czeplak, Solar Energy 24 (1980) 177, from another country and in watts: a sky
    // covered through leaves a quarter of the clear sky's. Within half a stop from 20 degrees.
    for (double h = 20; h <= 60; h += 10) {
        const Altitude altitude{Angle::degrees(h)};
        const SkyLevels clear = clear_sky({.apparent = altitude, .true_altitude = altitude});
        CHECK(std::abs(std::log2(overcast_horizontal_lx(altitude) /
                                 (0.25 * clear.global_horizontal_lx))) < 0.5);
    }
    // Under half a cover Kasten & Czeplak's diffuse share is 0.3 + 0.7 x 0.25 = 0.475 (from
    // memory).
    const Altitude high{Angle::degrees(45)};
    const SkyLevels mean =
        cloudy_sky({.apparent = high, .true_altitude = high}, normal_air, Cloud::mean);
    CHECK(mean.diffuse_horizontal_lx / mean.global_horizontal_lx == Approx(0.475).epsilon(0.25));
}

TEST_CASE("an opening's closed form is the sum of the sky seen through it", "[light][published]") {
    // Uniform sky of 1 cd/m2. The patch sum over directions that pass the opening, by a grid of our
    // own in the opening: dA cos cos / r2.
    const RectangleAhead r{-0.3, 1.1, 0.2, 1.8, 2.5};
    constexpr int n = 400;
    double parallel = 0, upright = 0;
    for (int i = 0; i < n; ++i)
        for (int j = 0; j < n; ++j) {
            const double x = r.left_m + (r.right_m - r.left_m) * (i + 0.5) / n;
            const double z = r.low_m + (r.high_m - r.low_m) * (j + 0.5) / n;
            const double d2 = x * x + z * z + r.distance_m * r.distance_m;
            const double area = (r.right_m - r.left_m) * (r.high_m - r.low_m) / (n * n);
            parallel += area * r.distance_m * r.distance_m / (d2 * d2);
            upright += area * r.distance_m * z / (d2 * d2);
        }
    CHECK(parallel_factor(r) == Approx(parallel / pi).epsilon(1e-5));
    CHECK(perpendicular_factor(r) == Approx(upright / pi).epsilon(1e-5));
    // The notes: 1 x 1 m centred, 1 m off.
    CHECK(parallel_factor({-0.5, 0.5, -0.5, 0.5, 1}) == Approx(0.2395).margin(0.00005));
}
