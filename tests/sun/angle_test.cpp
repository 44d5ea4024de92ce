#include "keyhour/sun/angle.hpp"

#include <catch2/catch.hpp>
#include <concepts>

#include "keyhour/sun/instant.hpp"

using namespace keyhour;

namespace {

template <class A, class B>
concept Addable = requires(A a, B b) {
    a + b;
};
template <class A, class B>
concept Comparable = requires(A a, B b) {
    a < b;
};

// What must not compile: angles are not numbers, altitudes not azimuths, instants not spans.
static_assert(Addable<Angle, Angle> && !Addable<Angle, double>);
static_assert(!std::convertible_to<double, Angle> && !std::convertible_to<Angle, double>);
static_assert(!Addable<Altitude, Azimuth> && !Comparable<Altitude, Azimuth>);
static_assert(Addable<Instant, Seconds> && !Addable<Instant, Instant>);
static_assert(!std::convertible_to<double, Instant> && !Addable<Instant, double>);

}  // namespace

TEST_CASE("one angle in three units", "[sun]") {
    const Angle a = Angle::degrees(30);
    CHECK(a.in_radians() == Approx(0.5235987755982988));
    CHECK(a.in_arcseconds() == Approx(108000));
    CHECK(Angle::arcseconds(108000).in_degrees() == Approx(30));
    CHECK(sin(a) == Approx(0.5));
}

TEST_CASE("a wrapped turn lies in 0..360 degrees, 360 left out", "[sun]") {
    for (const double degrees : {-720.0, -360.0, -1e-20, 0.0, 1e-20, 359.9999999, 360.0, 725.0}) {
        const double wrapped = wrapped_turn(Angle::degrees(degrees)).in_degrees();
        CAPTURE(degrees, wrapped);
        CHECK(wrapped >= 0);
        CHECK(wrapped < 360);
    }
    CHECK(wrapped_turn(Angle::degrees(-90)).in_degrees() == Approx(270));
    CHECK(wrapped_turn(Angle::degrees(725)).in_degrees() == Approx(5));
}

TEST_CASE("a wrapped half turn lies in -180..180 degrees, 180 left out", "[sun]") {
    CHECK(wrapped_half_turn(Angle::degrees(270)).in_degrees() == Approx(-90));
    CHECK(wrapped_half_turn(Angle::degrees(-190)).in_degrees() == Approx(170));
    CHECK(wrapped_half_turn(Angle::degrees(180)).in_degrees() == Approx(-180));
    CHECK(wrapped_half_turn(Angle::degrees(-180)).in_degrees() == Approx(-180));
}
