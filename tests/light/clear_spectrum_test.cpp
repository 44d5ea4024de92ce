#include "keyhour/light/clear_spectrum.hpp"

#include <catch2/catch.hpp>

using namespace keyhour;
using namespace keyhour::light;

TEST_CASE("no ground throws back more than all of the light, nor less than none", "[light]") {
    const Altitude high{Angle::degrees(40)};
    const auto diffuse = [&](double ground) {
        return ClearSpectra{{0.08}, 0, ground}.diffuse(high);
    };
    CHECK(diffuse(1.7) == diffuse(1));
    CHECK(diffuse(-0.2) == diffuse(0));
    CHECK(diffuse(0.5) != diffuse(1));
}
