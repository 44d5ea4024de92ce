// The forges' light in a mark's levels, by hand.

#include "keyhour/study/found_light.hpp"

#include <catch2/catch.hpp>

#include "workshop.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

MarkLight in_daylight() {
    MarkLight m;
    m.key_lx = {100, 200, 400};
    m.given_back_lx = {10, 20, 40};
    m.other_windows_lx = {1, 2, 3};
    m.fill_lx = {11, 22, 43};
    m.fill_kelvin = 6500;
    m.mix_kelvin = 5500;
    return m;
}

}  // namespace

TEST_CASE("a forge's light is fill, straight and by the room, in every air", "[study][forge]") {
    site::Location l = Workshop{}.location();
    // It looks along y at the mark (3.6, 2.5, 1.55) from a metre away.
    l.found.forges = {{"forge", {3.6, 1.5, 1.55}, {0, 1, 0}, 0.3, 0.2, 500, 1.0, 1500}};
    const FoundInRoom found{l};
    REQUIRE(found.forges(0).size() == 1);
    const double straight = found.forges(0)[0].mark_lx, by_room = found.forges(0)[0].given_back_lx;
    CHECK(straight == Approx(500));  // where it was metered
    CHECK(by_room > 0);
    CHECK(found.forge_lx(0) == Approx(straight + by_room));

    MarkLight m = in_daylight();
    found.apply(0, m);
    CHECK(m.key_lx.likely == 200);
    CHECK(m.given_back_lx.low == Approx(10 + by_room));
    CHECK(m.given_back_lx.likely == Approx(20 + by_room));
    CHECK(m.given_back_lx.high == Approx(40 + by_room));
    CHECK(m.fill_lx.low == Approx(11 + by_room + straight));
    CHECK(m.fill_lx.likely == Approx(22 + by_room + straight));
    CHECK(m.fill_lx.high == Approx(43 + by_room + straight));
    REQUIRE(m.key_to_fill_stops);
    CHECK(m.key_to_fill_stops->likely == Approx(std::log2(200 / (22 + by_room + straight))));
    // Mostly the forge's colour now.
    CHECK(*m.fill_kelvin > 1500);
    CHECK(*m.fill_kelvin < 2500);
    CHECK(*m.mix_kelvin > *m.fill_kelvin);

    // A screen between: what the room gives back stays.
    l.room->objects = {{"screen", {{3, 1.9}, {4.2, 1.9}, {4.2, 2}, {3, 2}}, 2}};
    const FoundInRoom screened{l};
    REQUIRE(screened.forges(0)[0].blocked);
    CHECK(screened.forges(0)[0].mark_lx == 0);
    CHECK(screened.forge_lx(0) == Approx(by_room));

    // The second mark does not lie before it.
    CHECK(found.forges(1).size() == 1);
    CHECK(found.forges(1)[0].mark_lx < straight);
}

TEST_CASE("a room in which nothing was found stays as it was", "[study][forge]") {
    const FoundInRoom found{Workshop{}.location()};
    MarkLight m = in_daylight();
    found.apply(0, m);
    CHECK(m.given_back_lx.likely == 20);
    CHECK(m.fill_lx.high == 43);
    CHECK(*m.fill_kelvin == 6500);
    CHECK(found.forge_lx(0) == 0);
}
