#include "keyhour/light/clear_sky.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <utility>

#include "keyhour/light/air_mass.hpp"
#include "keyhour/light/colour_temperature.hpp"
#include "keyhour/light/sun_disc.hpp"
#include "keyhour/sun/refraction.hpp"

using namespace keyhour;
using namespace keyhour::light;

namespace {

/// The sky with the sun at a true altitude, lifted by the standard air.
SkyState under(double true_deg, double elevation_m = 0) {
    const Altitude true_altitude{Angle::degrees(true_deg)};
    const Angle lift = sun::refraction(true_altitude);
    return {.apparent = {std::min(true_altitude.above_horizon + lift, Angle::degrees(90))},
            .true_altitude = true_altitude,
            .elevation_m = elevation_m};
}

constexpr double airs[]{0.0, 0.01, 0.03, 0.05, 0.08, 0.12, 0.20, 0.35, 0.5};
constexpr double elevations[]{-400, 0, 1000, 2500, 4500};

bool ordered(const Band& b) {
    return b.low >= 0 && b.low <= b.likely && b.likely <= b.high && std::isfinite(b.high);
}

}  // namespace

TEST_CASE("levels rise with the sun and have no jump from -20 to 90 degrees", "[light]") {
    for (const double beta : airs) {
        for (const double elevation : elevations) {
            const ClearSkyTable table{{beta}, elevation};
            constexpr double step = 0.02;
            SkyLevels before = table.levels(under(-20, elevation));
            for (int i = 1; i <= 110 / step; ++i) {
                const double h = -20 + i * step;
                const SkyLevels now = table.levels(under(h, elevation));
                INFO("beta " << beta << ", " << elevation << " m, true altitude " << h);
                REQUIRE(std::isfinite(now.direct_normal_lx));
                REQUIRE(now.direct_normal_lx >= before.direct_normal_lx * (1 - 1e-6));
                REQUIRE(now.global_horizontal_lx >= before.global_horizontal_lx * (1 - 1e-6));
                // 0.02 degree of the sun changes twilight by 3 % at most.
                REQUIRE(now.global_horizontal_lx <= before.global_horizontal_lx * 1.03);
                REQUIRE(now.diffuse_horizontal_lx > 0);
                REQUIRE(std::abs(now.diffuse_horizontal_lx - before.diffuse_horizontal_lx) <=
                        0.03 * before.diffuse_horizontal_lx);
                before = now;
            }
        }
    }
}

TEST_CASE("the sky alone brightens with the sun in the named airs", "[light]") {
    for (const Air air : {very_clear_air, normal_air, hazy_air}) {
        const ClearSkyTable table{air};
        double before = 0;
        for (double h = -18; h <= 89; h += 0.05) {
            const double now = table.levels(under(h)).diffuse_horizontal_lx;
            INFO("beta " << air.beta << ", true altitude " << h);
            REQUIRE(now >= before);
            before = now;
        }
    }
}

TEST_CASE("what reaches the ground never exceeds what comes in above the air", "[light]") {
    // Below 2 degrees a curved Earth gets more than a flat one under the same sun would.
    for (const double beta : airs)
        for (const double elevation : elevations)
            for (double h = 2; h <= 89; h += 0.5) {
                const SkyState state = under(h, elevation);
                INFO("beta " << beta << ", " << elevation << " m, altitude " << h);
                CHECK(clear_sky(state, {beta}).global_horizontal_lx <
                      133600 * sin(state.apparent.above_horizon));
            }
}

TEST_CASE("haze dims and reddens the beam, height does the reverse", "[light]") {
    for (double h = 3; h <= 80; h += 7) {
        const SkyLevels clear = clear_sky(under(h), very_clear_air);
        const SkyLevels hazy = clear_sky(under(h), normal_air);
        CHECK(clear.direct_normal_lx > hazy.direct_normal_lx);
        CHECK(*clear.direct_kelvin > *hazy.direct_kelvin);
        const SkyLevels high = clear_sky(under(h, 2000), normal_air);
        CHECK(high.direct_normal_lx > hazy.direct_normal_lx);
        CHECK(*high.direct_kelvin > *hazy.direct_kelvin);
        CHECK(*hazy.mix_kelvin > *hazy.direct_kelvin);
        CHECK(*hazy.mix_kelvin < *hazy.sky_kelvin);
    }
}

TEST_CASE("a nearer sun is brighter by the square of its distance", "[light]") {
    for (const double h : {-4.0, 3.0, 5.0, 6.5, 40.0}) {
        SkyState state = under(h);
        const SkyLevels mean = clear_sky(state);
        state.distance_au = 0.98329;
        const SkyLevels january = clear_sky(state);
        const double factor = 1 / (0.98329 * 0.98329);
        CHECK(january.global_horizontal_lx ==
              Approx(factor * mean.global_horizontal_lx).epsilon(1e-9));
        CHECK(january.direct_normal_lx == Approx(factor * mean.direct_normal_lx).epsilon(1e-9));
    }
}

TEST_CASE("colour is left out of a beam too weak and of a sun that is down", "[light]") {
    const SkyLevels dusk = clear_sky(under(-3));
    CHECK(dusk.direct_normal_lx == 0);
    CHECK(!dusk.direct_kelvin);
    CHECK(!dusk.sky_kelvin);
    CHECK(!dusk.mix_kelvin);
    const SkyLevels late = clear_sky(under(1), hazy_air);
    CHECK(late.direct_normal_lx < 50);
    CHECK(!late.direct_kelvin);
    CHECK(late.mix_kelvin);
}

TEST_CASE("the lights with their colour add up to the mix", "[light]") {
    for (const double h : {2.0, 10.0, 40.0}) {
        const Angle a = Angle::degrees(h);
        const SkyLevels l = clear_sky({{a}, {a}, 0, 1}, normal_air);
        CHECK(l.direct.Y == Approx(l.direct_normal_lx));
        CHECK(l.sky.Y == Approx(l.diffuse_horizontal_lx));
        const Tristimulus both = sin(a) * l.direct + l.sky;
        CHECK(colour_temperature(chromaticity(both)).kelvin == Approx(*l.mix_kelvin));
    }
}

TEST_CASE("half of the beam is left with half of the disc", "[light]") {
    CHECK(disc_share({Angle{}}, 1) == Approx(0.5));
    CHECK(disc_share({sun_semi_diameter(1)}, 1) == 1);
    CHECK(disc_share({-sun_semi_diameter(1)}, 1) == Approx(0).margin(1e-12));
    CHECK(disc_share({Angle::degrees(-3)}, 1) == Approx(0).margin(1e-12));
    CHECK(disc_share({Angle::degrees(0.1)}, 1) + disc_share({Angle::degrees(-0.1)}, 1) ==
          Approx(1));
}

TEST_CASE("the table gives the chain's levels and colours", "[light]") {
    for (const double beta : airs)
        for (const double elevation : elevations) {
            const ClearSkyTable table{{beta}, elevation};
            for (double h = -19.9; h <= 89.5; h += 0.73) {
                const SkyState state = under(h, elevation);
                const SkyLevels exact = clear_sky(state, {beta}), read = table.levels(state);
                INFO("beta " << beta << ", " << elevation << " m, altitude " << h);
                CHECK(read.direct_normal_lx == Approx(exact.direct_normal_lx).epsilon(0.001));
                CHECK(read.diffuse_horizontal_lx ==
                      Approx(exact.diffuse_horizontal_lx).epsilon(0.001));
                CHECK(read.global_horizontal_lx ==
                      Approx(exact.global_horizontal_lx).epsilon(0.001));
                CHECK(read.sky_kelvin.has_value() == exact.sky_kelvin.has_value());
                for (const auto colour :
                     {&SkyLevels::direct_kelvin, &SkyLevels::sky_kelvin, &SkyLevels::mix_kelvin})
                    if (read.*colour && exact.*colour)
                        CHECK(1e6 / *(read.*colour) == Approx(1e6 / *(exact.*colour)).margin(0.2));
            }
        }
}

TEST_CASE("the band holds the likely level and widens toward the horizon", "[light]") {
    double before = 1e9;
    for (const double h : {2.0, 5.0, 10.0, 20.0, 30.0, 60.0}) {
        const SkyBand band = sky_band(under(h));
        CHECK(ordered(band.direct_normal_lx));
        const double width = band.direct_normal_lx.high / band.direct_normal_lx.low;
        CHECK(width < before);
        CHECK(width > 1.2);
        before = width;
        REQUIRE(band.direct_kelvin);
        CHECK(ordered(*band.direct_kelvin));
    }
    for (const double beta : airs)
        for (double h = -20; h < 90; h += 1.7) {
            const SkyBand band = sky_band(under(h), {beta});
            INFO("beta " << beta << ", altitude " << h);
            CHECK(ordered(band.direct_normal_lx));
            CHECK(ordered(band.diffuse_horizontal_lx));
            CHECK(ordered(band.global_horizontal_lx));
            // The named airs' levels lie inside, and what the model itself may err beside them.
            const NeighbouringAir near = neighbouring_air({beta});
            for (const Air air : {near.clearer, near.likely, near.hazier}) {
                const SkyLevels levels = clear_sky(under(h), air);
                CHECK(levels.direct_normal_lx <= band.direct_normal_lx.high * (1 + 1e-9) + 1e-9);
                CHECK(levels.direct_normal_lx >= band.direct_normal_lx.low * (1 - 1e-9) - 1e-9);
            }
            CHECK(band.global_horizontal_lx.high >= 1.1999 * band.global_horizontal_lx.likely);
        }
}

TEST_CASE("the tabulated band is the band", "[light]") {
    const SkyBandTable table{normal_air, 300};
    for (double h = -15; h < 90; h += 4.3) {
        const SkyBand exact = sky_band(under(h, 300)), read = table.band(under(h, 300));
        CHECK(read.direct_normal_lx.low == Approx(exact.direct_normal_lx.low).epsilon(0.002));
        CHECK(read.global_horizontal_lx.high ==
              Approx(exact.global_horizontal_lx.high).epsilon(0.002));
    }
}
