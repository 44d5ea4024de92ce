#include "keyhour/study/stop_wish.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace keyhour;
using namespace keyhour::study;

namespace {

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

MarkLight level(double key_lx, double fill_lx = 0) {
    MarkLight m;
    m.key_lx = {key_lx / 2, key_lx, key_lx * 2};
    m.fill_lx = {fill_lx, fill_lx, fill_lx};
    return m;
}

/// T2.8, ISO 800, 24 frames a second, 180 degrees: 118 lx by ISO 2720:1974 with C = 250.
const StopWish usual{{800, 24, 180, 250}, 2.8, 1.0 / 3};

TEST_CASE("a wanted stop asks for a level, and a level allows a stop", "[study][light]") {
    CHECK_THAT(usual.level_lx(), WithinAbs(118, 0.5));
    CHECK(allows({level(118), level(118)}, usual));
    CHECK(allows({level(100), level(5000)}, usual));       // a quarter of a stop under
    CHECK_FALSE(allows({level(5000), level(90)}, usual));  // 0.39 stop under at its end
    CHECK_FALSE(allows({level(0), level(5000)}, usual));
    StopWish strict = usual;
    strict.tolerance_stops = 0;
    CHECK_FALSE(allows({level(100), level(5000)}, strict));
    CHECK(allows({level(usual.level_lx()), level(5000)}, strict));
}

TEST_CASE("fill counts, as the meter at the mark sees both", "[study][light]") {
    CHECK(allows({level(60, 60), level(60, 60)}, usual));
    CHECK_THAT(level(60, 60).metered_lx().likely, WithinRel(120, 1e-12));
    CHECK_THAT(level(60, 60).metered_lx().low, WithinRel(90, 1e-12));
}

TEST_CASE("the density that brings a level down is its stops over the wanted", "[study][light]") {
    const double wanted = usual.level_lx();
    const light::Band over = stops_over(level(8 * wanted).metered_lx(), usual);
    CHECK_THAT(over.low, WithinAbs(2, 1e-9));
    CHECK_THAT(over.likely, WithinAbs(3, 1e-9));
    CHECK_THAT(over.high, WithinAbs(4, 1e-9));
    // ND 0.9 is three stops (from memory; common practice).
    CHECK_THAT(light::nd_density(over.likely), WithinAbs(0.9, 0.005));
    const light::Band weakest = weakest_stops({level(8 * wanted), level(2 * wanted)}, usual);
    CHECK_THAT(weakest.likely, WithinAbs(1, 1e-9));
    CHECK_THAT(weakest.low, WithinAbs(0, 1e-9));
}

}  // namespace
