#include "keyhour/light/lamp.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

using namespace keyhour;
using namespace keyhour::light;

namespace {

DataSheet sheet() {
    return {.reading = {4000, 5},
            .beam = Angle::degrees(30),
            .field = Angle::degrees(55),
            .second_reading = {},
            .face_diameter_m = 0.4};
}

SheetFault with(auto change) {
    DataSheet changed = sheet();
    change(changed);
    return fault_of(changed);
}

}  // namespace

TEST_CASE("a lamp gives back what its sheet says", "[light]") {
    const LampBeam lamp{sheet()};
    CHECK(lamp.level_lx(5) == Approx(4000));
    CHECK(lamp.level_lx(10) == Approx(1000));
    CHECK(lamp.peak_candela() == Approx(100000));
    CHECK(lamp.candela(Angle::degrees(15)) == Approx(50000));
    CHECK(lamp.candela(Angle::degrees(-15)) == Approx(50000));
    CHECK(lamp.candela(Angle::degrees(27.5)) == Approx(10000));
    CHECK(lamp.candela(Angle::degrees(90)) == 0);
    CHECK(lamp.distance_for_m(1000) == Approx(10));
    CHECK(lamp.level_lx(5, {}, 0.5) == Approx(2000));
    CHECK(lamp.level_lx(5, {}, -0.5) == 0);
    for (double deg = 0; deg < 90; ++deg)
        CHECK(lamp.candela(Angle::degrees(deg + 1)) <= lamp.candela(Angle::degrees(deg)));
}

TEST_CASE("two readings find the point from which a beam spreads", "[light]") {
    DataSheet lens = sheet();
    lens.reading = {1e5 / std::pow(3 + 1.5, 2), 3};
    lens.second_reading = SheetReading{1e5 / std::pow(9 + 1.5, 2), 9};
    REQUIRE(fault_of(lens) == SheetFault::none);
    const LampBeam lamp{lens};
    CHECK(lamp.virtual_source_m() == Approx(1.5));
    CHECK(lamp.level_lx(3) == Approx(lens.reading.level_lx));
    CHECK(lamp.level_lx(9) == Approx(lens.second_reading->level_lx));
    CHECK(lamp.distance_for_m(lamp.level_lx(6)) == Approx(6));
}

TEST_CASE("a sheet that cannot be is refused, and says why", "[light]") {
    CHECK(with([](DataSheet&) {}) == SheetFault::none);
    CHECK(with([](DataSheet& s) { s.reading.level_lx = 0; }) == SheetFault::level_not_positive);
    CHECK(with([](DataSheet& s) { s.reading.distance_m = -1; }) ==
          SheetFault::distance_not_positive);
    CHECK(with([](DataSheet& s) { s.beam = {}; }) == SheetFault::beam_out_of_range);
    CHECK(with([](DataSheet& s) { s.beam = Angle::degrees(200); }) ==
          SheetFault::beam_out_of_range);
    CHECK(with([](DataSheet& s) { s.field = s.beam; }) == SheetFault::field_not_over_beam);
    CHECK(with([](DataSheet& s) { s.face_diameter_m = std::nan(""); }) ==
          SheetFault::face_negative);
    CHECK(with([](DataSheet& s) {
              s.second_reading = SheetReading{900, 5};
          }) == SheetFault::readings_at_one_distance);
    CHECK(with([](DataSheet& s) {
              s.second_reading = SheetReading{4100, 9};
          }) == SheetFault::readings_not_of_a_beam);
    CHECK(with([](DataSheet& s) {
              s.second_reading = SheetReading{500, 10};
          }) == SheetFault::readings_not_of_a_beam);
    CHECK(with([](DataSheet& s) {
              s.second_reading = SheetReading{0, 10};
          }) == SheetFault::level_not_positive);
    CHECK(with([](DataSheet& s) {
              s.second_reading = SheetReading{500, 0};
          }) == SheetFault::distance_not_positive);
    CHECK(with([](DataSheet& s) {
              s.second_reading = SheetReading{4000, 9};
          }) == SheetFault::readings_not_of_a_beam);
    CHECK(with([](DataSheet& s) {
              s.second_reading = SheetReading{3000, 4};
          }) == SheetFault::readings_not_of_a_beam);
    CHECK(with([](DataSheet& s) { s.beam = Angle::degrees(170); }) ==
          SheetFault::field_not_over_beam);
    CHECK(with([](DataSheet& s) { s.field = Angle::degrees(179.9); }) == SheetFault::none);
    CHECK(with([](DataSheet& s) { s.field = Angle::degrees(181); }) ==
          SheetFault::field_not_over_beam);
    CHECK(with([](DataSheet& s) { s.face_diameter_m = -0.1; }) == SheetFault::face_negative);
    // The inverse square itself, rounded as sheets round it.
    CHECK(with([](DataSheet& s) {
              s.second_reading = SheetReading{1000, 10};
          }) == SheetFault::none);
    CHECK(with([](DataSheet& s) { s.second_reading = SheetReading{990, 10}; }) == SheetFault::none);
}

TEST_CASE("a narrow beam's lumens are those of a Gaussian", "[light]") {
    // Without a field angle the curve is a Gaussian; where sin and angle are one its light is
    // pi I0 (half beam)^2 / ln 2.
    DataSheet narrow = sheet();
    narrow.field = {};
    narrow.beam = Angle::degrees(6);
    const LampBeam lamp{narrow};
    const double half = narrow.beam.in_radians() / 2;
    CHECK(lamp.lumens() ==
          Approx(std::numbers::pi * 1e5 * half * half / std::numbers::ln2).epsilon(0.005));
}

TEST_CASE("diffusion spreads what it catches and adds nothing", "[light]") {
    const LampBeam lamp{sheet()};
    for (const double size : {0.3, 0.6, 1.2, 2.4, 20.0}) {
        const SoftFace soft =
            diffused(lamp, {.transmittance = 1, .diameter_m = size, .distance_m = 1});
        INFO("frame of " << size << " m");
        // Lambert: pi candela lumens; never more than the lamp has.
        CHECK(soft.candela * std::numbers::pi <= lamp.lumens() * 1.0001);
        CHECK(soft.level_lx(5) < lamp.level_lx(5));
        CHECK(soft.diameter_m == size);
    }
    // A frame that catches all of the beam sends all of it.
    const SoftFace all = diffused(lamp, {.transmittance = 1, .diameter_m = 20, .distance_m = 1});
    CHECK(all.candela * std::numbers::pi == Approx(lamp.lumens()).epsilon(0.03));
    const SoftFace half = diffused(lamp, {.transmittance = 0.5, .diameter_m = 1, .distance_m = 1});
    const SoftFace clear = diffused(lamp, {.transmittance = 1, .diameter_m = 1, .distance_m = 1});
    CHECK(half.level_lx(4) == Approx(clear.level_lx(4) / 2));
}

TEST_CASE("a small frame in the middle of a beam takes its level over its area", "[light]") {
    const LampBeam lamp{sheet()};
    const SoftFace small =
        diffused(lamp, {.transmittance = 0.5, .diameter_m = 0.02, .distance_m = 2});
    const double lumens = lamp.level_lx(2) * std::numbers::pi * 0.01 * 0.01;
    CHECK(small.candela == Approx(0.5 * lumens / std::numbers::pi).epsilon(1e-3));
}
