#include "keyhour/light/exposure.hpp"

#include <catch2/catch.hpp>
#include <limits>
#include <string>

#include "keyhour/light/lighting_ratio.hpp"

using namespace keyhour::light;

namespace {

std::string printed(double t) {
    return std::string{TStopText{nearest_t_stop(t)}.view()};
}

}  // namespace

TEST_CASE("a stop is printed in thirds, the way a meter reads", "[light]") {
    CHECK(printed(2.8) == "T2.8");
    CHECK(printed(3.17) == "T2.8 1/3");
    CHECK(printed(3.56) == "T2.8 2/3");
    CHECK(printed(4.0) == "T4");
    CHECK(printed(1.0) == "T1");
    CHECK(printed(0.5) == "T0.5");
    CHECK(printed(0.71) == "T0.7");
    CHECK(printed(5.66) == "T5.6");
    CHECK(printed(11) == "T11");
    CHECK(printed(22.6) == "T22");
    CHECK(printed(64) == "T64");
    CHECK(printed(80) == "above T64");
    CHECK(printed(0.4) == "below T0.5");
    CHECK(printed(0) == "below T0.5");
    CHECK(printed(std::numeric_limits<double>::quiet_NaN()) == "below T0.5");
    CHECK(printed(1e300) == "above T64");
    for (int thirds = -6; thirds <= 36; ++thirds)
        CHECK(nearest_t_stop(t_number(TStop{thirds})).thirds == thirds);
}

TEST_CASE("what lies beyond the scale is one third beyond it", "[light]") {
    CHECK(nearest_t_stop(1e9).thirds == 37);
    CHECK(nearest_t_stop(1e-9).thirds == -7);
    CHECK(nearest_t_stop(0).thirds == -7);
    CHECK(nearest_t_stop(-3).thirds == -7);
}

TEST_CASE("level and stop are each other's inverse", "[light]") {
    const Exposure exposure{800, 25, 172.8, 320};
    for (double t = 0.7; t < 32; t *= 1.3)
        CHECK(t_number(level_for_lx(t, exposure), exposure) == Approx(t));
    const double level = level_for_lx(4, exposure);
    CHECK(level_for_lx(5.656854, exposure) == Approx(2 * level).epsilon(1e-6));
    CHECK(stops_between(8000, 1000) == Approx(3));
    CHECK(nd_stops(8000, 1000) == Approx(3));
    CHECK(nd_stops(500, 1000) == Approx(-1));
    CHECK(nd_transmittance(nd_density(3)) == Approx(0.125));
    CHECK(nd_density_stops(nd_density(2.5)) == Approx(2.5));
}

TEST_CASE("a camera set to nonsense is not valid", "[light]") {
    CHECK(valid(Exposure{}));
    CHECK(valid(Exposure{100, 24, 360}));
    CHECK(valid(Exposure{0.8, 0.5, 0.7, 0.9}));
    CHECK(!valid(Exposure{0, 25, 180}));
    CHECK(!valid(Exposure{800, -25, 180}));
    CHECK(!valid(Exposure{800, 25, 0}));
    CHECK(!valid(Exposure{800, 25, 361}));
    CHECK(!valid(Exposure{std::numeric_limits<double>::infinity(), 25, 180}));
    CHECK(!valid(Exposure{800, 25, 180, std::numeric_limits<double>::quiet_NaN()}));
}

TEST_CASE("one light has two ratios, an n apart by one", "[light]") {
    const KeyAndFill light{700, 100};
    CHECK(light.ratio(RatioConvention::key_to_fill) == Approx(7));
    CHECK(light.ratio(RatioConvention::key_plus_fill_to_fill) == Approx(8));
    CHECK(light.stops(RatioConvention::key_plus_fill_to_fill) == Approx(3));
    for (const auto convention :
         {RatioConvention::key_to_fill, RatioConvention::key_plus_fill_to_fill})
        CHECK(KeyAndFill{700, fill_for_lx(700, 4, convention)}.ratio(convention) == Approx(4));
    CHECK(fill_for_lx(700, 1, RatioConvention::key_plus_fill_to_fill) == HUGE_VAL);
    CHECK(words(RatioConvention::key_to_fill) == "key to fill");
    CHECK(words(RatioConvention::key_plus_fill_to_fill) == "key plus fill to fill");
}
