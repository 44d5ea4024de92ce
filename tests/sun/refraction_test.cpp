#include "keyhour/sun/refraction.hpp"

#include <catch2/catch.hpp>

using namespace keyhour;
using namespace keyhour::sun;

namespace {

double lift_deg(double true_altitude_deg, const Weather& weather = {}) {
    return refraction({Angle::degrees(true_altitude_deg)}, weather).in_degrees();
}

}  // namespace

TEST_CASE("apparent altitude rises with true altitude in every air", "[sun]") {
    for (const Weather& air :
         {Weather{}, Weather{1060, -50}, Weather{1100, -60}, Weather{600, 40}}) {
        double before = -5 + lift_deg(-5, air);
        for (int i = 1; i <= 95000; ++i) {
            const double h = -5 + 0.001 * i;
            const double now = h + lift_deg(h, air);
            REQUIRE(now > before);
            REQUIRE(now - before < 0.0012);  // no jump: at most 0.001 and what the lift gains
            before = now;
        }
        CHECK(before == Approx(90).margin(1e-9));
    }
}

TEST_CASE("refraction is never negative, and none without air", "[sun]") {
    for (int h = -90; h <= 90; ++h) {
        CHECK(lift_deg(h) >= 0);
        CHECK(lift_deg(h, {0, 10}) == 0);
    }
}

TEST_CASE("refraction grows with pressure and with cold", "[sun]") {
    CHECK(lift_deg(5, {505, 10}) == Approx(lift_deg(5) / 2));
    CHECK(lift_deg(5, {1010, -20}) == Approx(lift_deg(5) * 283 / 253));
}

TEST_CASE("below the formula's turning point refraction keeps its value", "[sun]") {
    CHECK(lift_deg(-1.90065) == Approx(lift_deg(-1.90063)).epsilon(1e-6));
    CHECK(lift_deg(-40) == lift_deg(-2));
}
