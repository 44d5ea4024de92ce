#include "keyhour/site/horizon.hpp"

#include <catch2/catch.hpp>

using namespace keyhour::site;
using keyhour::Angle;
using keyhour::Azimuth;

namespace {

HorizonPoint point(double bearing, double altitude) {
    return {Angle::degrees(bearing), Angle::degrees(altitude)};
}

double altitude(const Horizon& h, double bearing) {
    return h.altitude_at(Azimuth{Angle::degrees(bearing)}).above_horizon.in_degrees();
}

}  // namespace

TEST_CASE("without points the horizon is level", "[site]") {
    CHECK(Horizon{}.is_level());
    CHECK(altitude(Horizon{}, 123) == 0);
}

TEST_CASE("the horizon runs straight between its points and wraps through north", "[site]") {
    const Horizon h{{point(270, 9), point(0, 3), point(90, 6), point(180, 2)}};
    CHECK(altitude(h, 0) == Approx(3));
    CHECK(altitude(h, 45) == Approx(4.5));
    CHECK(altitude(h, 90) == Approx(6));
    CHECK(altitude(h, 225) == Approx(5.5));
    CHECK(altitude(h, 315) == Approx(6));
    CHECK(altitude(h, 359.999999) == Approx(3).margin(1e-6));
    CHECK(altitude(h, -45) == Approx(altitude(h, 315)));
}

TEST_CASE("the horizon wraps where no point stands at north", "[site]") {
    const Horizon h{{point(350, 10), point(30, 2)}};
    CHECK(altitude(h, 0) == Approx(8));
    CHECK(altitude(h, 10) == Approx(6));
    CHECK(altitude(h, 190) == Approx(6));
}

TEST_CASE("one point is the same all round", "[site]") {
    const Horizon h{{point(200, 7)}};
    CHECK(altitude(h, 200) == Approx(7));
    CHECK(altitude(h, 20) == Approx(7));
}
