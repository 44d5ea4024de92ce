#include "keyhour/light/overcast.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "keyhour/light/colour_temperature.hpp"

using namespace keyhour;
using namespace keyhour::light;

namespace {

SkyState at(double altitude_deg) {
    const Altitude altitude{Angle::degrees(altitude_deg)};
    return {.apparent = altitude, .true_altitude = altitude};
}

}  // namespace

TEST_CASE("cloud takes light away, by day and in twilight", "[light]") {
    for (const Air air : {very_clear_air, normal_air, hazy_air}) {
        double before = 0;
        for (double h = -18; h <= 90; h += 0.25) {
            INFO("beta " << air.beta << ", altitude " << h);
            const SkyLevels clear = cloudy_sky(at(h), air, Cloud::none);
            const SkyLevels mean = cloudy_sky(at(h), air, Cloud::mean);
            const SkyLevels grey = cloudy_sky(at(h), air, Cloud::overcast);
            CHECK(grey.global_horizontal_lx < mean.global_horizontal_lx);
            CHECK(mean.global_horizontal_lx < clear.global_horizontal_lx);
            CHECK(grey.direct_normal_lx == 0);
            CHECK(mean.diffuse_horizontal_lx > 0);
            // Under broken cloud the shade is lighter than under a blue sky: white clouds. Haze at
            // low sun is as white as they are.
            if (h > 12) CHECK(mean.diffuse_horizontal_lx > clear.diffuse_horizontal_lx);
            CHECK(grey.global_horizontal_lx >= before);
            CHECK(grey.global_horizontal_lx <= before * 1.15 + 100);
            CHECK(grey.sky_kelvin.has_value() == (h > -0.26));
            before = grey.global_horizontal_lx;
        }
    }
}

TEST_CASE("the mean cloud's colours lie between sun, sky and cloud", "[light]") {
    const SkyLevels clear = clear_sky(at(35)), mean = cloudy_sky(at(35), normal_air, Cloud::mean);
    CHECK(*mean.sky_kelvin < *clear.sky_kelvin);
    CHECK(*mean.sky_kelvin > overcast_kelvin);
    CHECK(*mean.mix_kelvin > *mean.direct_kelvin);
    CHECK(*mean.mix_kelvin < *mean.sky_kelvin);
    // In mireds, by their shares of the level plane's light; half of the sky is cloud.
    const double of_sun =
        (mean.global_horizontal_lx - mean.diffuse_horizontal_lx) / mean.global_horizontal_lx;
    CHECK(1 / *mean.mix_kelvin ==
          Approx(of_sun / *clear.direct_kelvin + (1 - of_sun) / *mean.sky_kelvin));
    CHECK(1 / *mean.sky_kelvin == Approx(0.5 / *clear.sky_kelvin + 0.5 / overcast_kelvin));
    // Half of the sun is hidden on the mean; Kasten & Czeplak 1980 for half of the sky:
    // 1 - 0.75 x 0.5^3.4.
    CHECK(mean.direct_normal_lx == Approx(clear.direct_normal_lx / 2));
    CHECK(mean.global_horizontal_lx ==
          Approx(clear.global_horizontal_lx * (1 - 0.75 * std::pow(0.5, 3.4))));
}

TEST_CASE("a sky's colour holds as much light as its level, under any cloud", "[light]") {
    for (const double h : {5.0, 20.0, 35.0, 60.0, 85.0})
        for (const Cloud cloud : {Cloud::none, Cloud::mean, Cloud::overcast}) {
            const SkyLevels sky = cloudy_sky(at(h), normal_air, cloud);
            INFO("altitude " << h);
            CHECK(sky.sky.Y == Approx(sky.diffuse_horizontal_lx));
            CHECK(sky.direct.Y == Approx(sky.direct_normal_lx).margin(1e-9));
            // The temperature that is told is that of the colours as they are mixed.
            REQUIRE(sky.sky_kelvin);
            CHECK(1e6 / *sky.sky_kelvin ==
                  Approx(1e6 / colour_temperature(chromaticity(sky.sky)).kelvin).margin(8));
        }
}

TEST_CASE("the bands under cloud hold what may come", "[light]") {
    for (double h = -10; h <= 90; h += 2.5)
        for (const Cloud cloud : {Cloud::none, Cloud::mean, Cloud::overcast}) {
            const SkyBand clear = sky_band(at(h));
            const SkyBand band = cloud_band(clear, at(h), cloud);
            for (const Band& b :
                 {band.direct_normal_lx, band.diffuse_horizontal_lx, band.global_horizontal_lx}) {
                INFO("altitude " << h);
                CHECK(b.low >= 0);
                CHECK(b.low <= b.likely);
                CHECK(b.likely <= b.high);
            }
            CHECK(band.global_horizontal_lx.likely == band.likely.global_horizontal_lx);
        }
    const SkyBand mean = cloud_band(sky_band(at(40)), at(40), Cloud::mean);
    CHECK(mean.direct_normal_lx.low == 0);
    CHECK(mean.direct_kelvin->likely == sky_band(at(40)).direct_kelvin->likely);
    CHECK(mean.global_horizontal_lx.low == Approx(300 + 21000 * sin(Angle::degrees(40))));
    const double grey = overcast_horizontal_lx({Angle::degrees(40)});
    const SkyBand cloudy = cloud_band(sky_band(at(40)), at(40), Cloud::overcast);
    CHECK(cloudy.diffuse_horizontal_lx.low == Approx(grey / 2));
    CHECK(cloudy.diffuse_horizontal_lx.high == Approx(grey * 2));
    CHECK(mean.direct_normal_lx.high > clear_sky(at(40)).direct_normal_lx);
}
