#include "keyhour/light/air.hpp"

#include <catch2/catch.hpp>

#include "keyhour/light/air_mass.hpp"

using namespace keyhour;
using namespace keyhour::light;

TEST_CASE("the neighbours of normal air are the other named airs", "[light]") {
    const NeighbouringAir near = neighbouring_air(normal_air);
    CHECK(near.clearer.beta == Approx(very_clear_air.beta));
    CHECK(near.likely.beta == normal_air.beta);
    CHECK(near.hazier.beta == Approx(hazy_air.beta));
    CHECK(neighbouring_air(very_clear_air).hazier.beta == Approx(normal_air.beta));
    CHECK(neighbouring_air(hazy_air).clearer.beta == Approx(normal_air.beta));
}

TEST_CASE("the neighbours move with the haze, without jumps, and stay in range", "[light]") {
    NeighbouringAir before = neighbouring_air({0});
    for (int i = 0; i <= 6000; ++i) {
        const double beta = 0.0001 * i;
        const NeighbouringAir near = neighbouring_air({beta});
        REQUIRE(near.clearer.beta <= near.likely.beta);
        REQUIRE(near.likely.beta <= near.hazier.beta);
        REQUIRE(near.clearer.beta >= before.clearer.beta);
        REQUIRE(near.hazier.beta >= before.hazier.beta);
        REQUIRE(near.hazier.beta - before.hazier.beta < 0.001);
        REQUIRE(near.hazier.beta <= 0.5);
        before = near;
    }
}

TEST_CASE("pressure falls with height and ozone lies in a thin shell", "[light]") {
    // ISO 2533 gives 898.7 hPa of 1013.25 at 1000 m and 264.4 hPa at 10 000 m. From memory.
    CHECK(pressure_ratio(0) == 1);
    CHECK(pressure_ratio(1000) == Approx(898.7 / 1013.25).epsilon(0.0005));
    CHECK(pressure_ratio(10000) == Approx(264.4 / 1013.25).epsilon(0.002));
    CHECK(pressure_ratio(-450) > 1);
    CHECK(relative_ozone_mass({Angle::degrees(90)}) == Approx(1).epsilon(0.0001));
    CHECK(relative_ozone_mass({Angle::degrees(-9)}) == relative_ozone_mass({Angle{}}));
}

TEST_CASE("beyond the classes and the range the nearest end holds", "[light]") {
    CHECK(neighbouring_air({0.9}).likely.beta == 0.5);
    CHECK(neighbouring_air({0.9}).hazier.beta == 0.5);
    // One class is a factor of 2.5 at the hazy end, so a step back from 0.4 lands at 0.16.
    CHECK(neighbouring_air({0.4}).clearer.beta == Approx(0.16));
    CHECK(neighbouring_air({0.01}).hazier.beta == Approx(0.01 * 8 / 3));
}
