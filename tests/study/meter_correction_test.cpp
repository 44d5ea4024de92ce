#include "keyhour/study/meter_correction.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "keyhour/study/found_light.hpp"
#include "keyhour/study/mark_light.hpp"
#include "workshop.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

using Of = MeterVerdict::Of;

/// Noon of the spring equinox at 52 north, before a window that faces south.
const Instant noon = Instant::from_unix_s(1774008000);

/// Inside at a mark of the workshop: 0 in the shade of noon's sun, 1 in its beam or near it.
site::MeterReading reading(const site::Location& l, std::size_t mark, double lx,
                           light::Cloud sky = light::Cloud::overcast) {
    const room::Mark& m = l.room->marks[mark];
    return {m.name, room::Point3{m.at.x, m.at.y, m.height_m}, noon, lx, sky};
}
site::MeterReading outside(double lx, light::Cloud sky = light::Cloud::overcast) {
    return {"outside", std::nullopt, noon, lx, sky};
}

/// What is told of a mark at noon under a sky.
MarkLight told(site::Location l, std::size_t mark, light::Cloud sky = light::Cloud::overcast,
               const site::FoundLight& found = {}) {
    l.found = found;
    const Lit lit{l};
    const LightCase cases[] = {{sky}};
    return lit.light.in_cases(mark, 0, lit.light.sun(lit.study.path().at(noon)), cases)[0];
}

MeterCorrection meter_correction(site::Location l, const site::FoundLight& found) {
    l.found = found;
    return study::meter_correction(l);
}

}  // namespace

TEST_CASE("a reading that is as expected corrects nothing", "[study][meter]") {
    site::Location l = Workshop{}.location();
    site::FoundLight found;
    found.readings = {reading(l, 0, told(l, 0).metered_lx().likely)};
    const MeterCorrection c = meter_correction(l, found);
    REQUIRE(c.verdicts.size() == 1);
    CHECK(c.verdicts[0].of == Of::fill);
    CHECK(c.fill == Approx(1).margin(1e-6));
    CHECK(c.glass == 1);
    CHECK(c.verdicts[0].stops == Approx(0).margin(1e-6));
    // Twice what is expected is a stop over it, half of it one under.
    found.readings[0].lx *= 2;
    CHECK(meter_correction(l, found).verdicts[0].stops == Approx(1));
    found.readings[0].lx /= 4;
    CHECK(meter_correction(l, found).verdicts[0].stops == Approx(-1));
}

TEST_CASE("with a reading outside the fill takes nearly all of what the room's shows",
          "[study][meter]") {
    // The daylight factor's way: inside over outside, at one time, whatever the cloud.
    site::Location l = Workshop{}.location();
    site::FoundLight found;
    const MarkLight as_filed = told(l, 0);
    const double level = light::overcast_horizontal_lx(
        Lit{l}.light.sun(Lit{l}.study.path().at(noon)).state.true_altitude);
    constexpr double cloud = 1.3, true_fill = 1.5;
    const double room_lx = as_filed.with_key_lx() + (true_fill - 1) * as_filed.given_back_lx.likely;
    found.readings = {outside(cloud * level), reading(l, 0, cloud * room_lx)};
    const MeterCorrection c = meter_correction(l, found);
    CHECK(c.verdicts[0].of == Of::outside);
    CHECK(c.verdicts[1].of == Of::fill);
    CHECK(c.fill > 1.0);
    CHECK(c.fill < true_fill + 1e-9);
    // What is told has moved towards what was read, and the rest is as it was.
    const MarkLight now = told(l, 0, light::Cloud::overcast, found);
    CHECK(now.given_back_lx.likely == Approx(c.fill * as_filed.given_back_lx.likely));
    CHECK(now.key_lx.likely == Approx(as_filed.key_lx.likely));

    // Without it most goes to the cloud, which may be a stop off.
    found.readings = {reading(l, 0, room_lx)};
    const MeterCorrection less = meter_correction(l, found);
    CHECK(less.fill > 1);
    CHECK(less.fill < 1 + (true_fill - 1) / 2);
}

TEST_CASE("in the sun a reading speaks of the glass", "[study][meter]") {
    site::Location l = Workshop{}.location();
    site::FoundLight found;
    // A place in the beam.
    const Lit lit{l};
    const Moment m = lit.study.path().at(noon);
    const room::Point3 sun = lit.study.sun(m), middle = lit.study.scene().middle(0);
    const room::Point3 at = middle + (-1.0 / std::abs(sun.y)) * sun;
    l.room->marks[0].at = {at.x, at.y};
    l.room->marks[0].height_m = at.z;
    const MarkLight as_filed = told(l, 0, light::Cloud::none);
    REQUIRE(as_filed.windows[0].coverage > 0.9);
    found.readings = {reading(l, 0, 0.75 * as_filed.metered_lx().likely, light::Cloud::none)};
    const MeterCorrection c = meter_correction(l, found);
    CHECK(c.verdicts[0].of == Of::glass);
    CHECK(c.glass < 1);
    CHECK(c.glass > 0.75);
    CHECK(c.fill == 1);
    CHECK(told(l, 0, light::Cloud::none, found).metered_lx().likely ==
          Approx(c.glass * as_filed.metered_lx().likely));
}

TEST_CASE("a reading that no air explains corrects nothing", "[study][meter]") {
    site::Location l = Workshop{}.location();
    site::FoundLight found;
    const double likely = told(l, 0).metered_lx().likely;
    for (const double factor : {0.05, 20.0}) {
        found.readings = {reading(l, 0, factor * likely)};
        const MeterCorrection c = meter_correction(l, found);
        CHECK(c.verdicts[0].of == Of::nothing);
        CHECK_FALSE(c.corrects());
    }
    found.readings = {outside(150000)};
    CHECK(meter_correction(l, found).verdicts[0].of == Of::nothing);
}

TEST_CASE("no reading moves a figure beyond what its header says", "[study][meter]") {
    site::Location l = Workshop{}.location();
    site::FoundLight found;
    for (const light::Cloud sky : {light::Cloud::none, light::Cloud::mean, light::Cloud::overcast})
        for (std::size_t mark = 0; mark < 2; ++mark)
            for (double lx = 5; lx < 150000; lx *= 1.7) {
                found.readings = {reading(l, mark, lx, sky)};
                const MeterCorrection c = meter_correction(l, found);
                CHECK(c.glass >= 0.6);
                CHECK(c.glass <= 1.1);
                CHECK(c.fill >= 0.5);
                CHECK(c.fill <= 2);
                CHECK(std::isfinite(c.glass * c.fill));
            }
}
