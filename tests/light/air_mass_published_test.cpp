#include <catch2/catch.hpp>
#include <utility>

#include "keyhour/light/air_mass.hpp"

using namespace keyhour;
using namespace keyhour::light;

namespace {

double mass(double degrees) {
    return relative_air_mass({Angle::degrees(degrees)});
}

}  // namespace

TEST_CASE("the air mass follows the table of Kasten and Young", "[light][published]") {
    // Kasten & Young, Applied Optics 28 (1989) 4735, table of relative optical air mass. From
    // memory; the paper states that the formula follows its table within 0.5 %.
    for (const auto& [altitude, published] :
         {std::pair{0.0, 38.0868}, {5.0, 10.3164}, {30.0, 1.9939}, {90.0, 1.0}})
        CHECK(mass(altitude) == Approx(published).epsilon(0.005));
}

TEST_CASE("the air mass has the values of the formula worked independently", "[light][published]") {
    // The formula of Kasten & Young worked by another model for this project's notes; last digits
    // as printed there.
    CHECK(mass(0) == Approx(37.92).margin(0.005));
    CHECK(mass(10) == Approx(5.586).margin(0.0005));
    CHECK(mass(30) == Approx(1.9943).margin(0.00005));
}

TEST_CASE("high in the sky the air mass is the cosecant of the altitude", "[light][published]") {
    // The plane-parallel limit, any textbook of atmospheric optics; 0.3 % from 30 degrees up.
    for (double h = 30; h <= 90; h += 5)
        CHECK(mass(h) == Approx(1 / sin(Angle::degrees(h))).epsilon(0.003));
    CHECK(mass(-5) == mass(0));
    for (double h = 0; h < 90; h += 0.5)
        CHECK(mass(h) > mass(h + 0.5));
}
