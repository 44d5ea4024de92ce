#include "keyhour/light/glass.hpp"

#include <catch2/catch.hpp>

using namespace keyhour;
using namespace keyhour::light;

TEST_CASE("glass passes less the more aslant the light, and two panes less than one", "[light]") {
    for (const Panes panes : {Panes::one, Panes::two}) {
        double before = transmittance(panes, {});
        for (double deg = 0.25; deg <= 90; deg += 0.25) {
            const double now = transmittance(panes, Angle::degrees(deg));
            CHECK(now >= 0);
            CHECK(now <= before + 2e-4);  // two panes gain a last digit before they lose
            CHECK(before - now < 0.02);
            CHECK(now == Approx(transmittance(panes, Angle::degrees(-deg))));
            before = now;
        }
        CHECK(before == 0);
    }
    for (double deg = 0; deg < 90; deg += 1)
        CHECK(transmittance(Panes::two, Angle::degrees(deg)) <
              transmittance(Panes::one, Angle::degrees(deg)));
    CHECK(transmittance(Panes::none, Angle::degrees(89)) == 1);
    CHECK(transmittance(Panes::none, Angle::degrees(90)) == 0);
    CHECK(transmittance(Panes::one, Angle::degrees(120)) == 0);
    CHECK(transmittance_at_cosine(Panes::one, -0.5) == 0);
    CHECK(transmittance_at_cosine(Panes::one, 1 + 1e-15) <= 1);
}
