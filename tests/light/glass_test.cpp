#include "keyhour/light/glass.hpp"

#include <catch2/catch.hpp>

using namespace keyhour;
using namespace keyhour::light;

TEST_CASE("glass passes less the more aslant the light, and two panes less than one", "[light]") {
    for (const Glass glass : {Glass::single, Glass::double_pane}) {
        double before = transmittance(glass, {});
        for (double deg = 0.25; deg <= 90; deg += 0.25) {
            const double now = transmittance(glass, Angle::degrees(deg));
            CHECK(now >= 0);
            CHECK(now <= before + 2e-4);  // two panes gain a last digit before they lose
            CHECK(before - now < 0.02);
            CHECK(now == Approx(transmittance(glass, Angle::degrees(-deg))));
            before = now;
        }
        CHECK(before == 0);
    }
    for (double deg = 0; deg < 90; deg += 1)
        CHECK(transmittance(Glass::double_pane, Angle::degrees(deg)) <
              transmittance(Glass::single, Angle::degrees(deg)));
    CHECK(transmittance(Glass::none, Angle::degrees(89)) == 1);
    CHECK(transmittance(Glass::none, Angle::degrees(90)) == 0);
    CHECK(transmittance(Glass::single, Angle::degrees(120)) == 0);
    CHECK(transmittance_at_cosine(Glass::single, -0.5) == 0);
    CHECK(transmittance_at_cosine(Glass::single, 1 + 1e-15) <= 1);
}
