#include "keyhour/study/key_light.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "flax_road.hpp"
#include "workshop.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

const LightCase cases[] = {{},
                           {light::Cloud::mean},
                           {light::Cloud::overcast},
                           {light::Cloud::none, room::Cover::sheer},
                           {light::Cloud::none, room::Cover::blackout}};

TEST_CASE("mean cloud lies between the clear sky and the closed cloud", "[study][light]") {
    const Lit lit{Workshop{}.location()};
    for (const double h : {4.0, 10.0, 20.0, 45.0}) {
        const auto m = lit.light.in_cases(1, 0, sun_at(h, 30), cases);
        INFO("altitude " << h);
        // Without the beam on the mark white cloud is the brighter sky.
        if (m[0].windows[0].coverage > 0.5) CHECK(m[1].key_lx.likely < m[0].key_lx.likely);
        CHECK(m[1].key_lx.likely > m[2].key_lx.likely);
        CHECK(m[1].key_lx.low == Approx(m[2].key_lx.likely));
        CHECK(m[1].key_lx.high >= m[0].key_lx.high);
        // The sun is out half of the time: half of its beam (light/overcast.hpp).
        CHECK_THAT(m[1].windows[0].direct_lx, WithinRel(m[0].windows[0].direct_lx / 2, 1e-9));
        CHECK(m[2].windows[0].direct_lx == 0);
        CHECK(m[2].windows[0].coverage == 0);
    }
}

TEST_CASE("light under a closed cloud has the colour of D65", "[study][light]") {
    // CIE D65: 6504 K.
    const Lit lit{Workshop{}.location()};
    const auto m = lit.light.in_cases(1, 0, sun_at(20, 30), cases);
    REQUIRE(m[2].key_kelvin);
    CHECK_THAT(*m[2].key_kelvin, WithinAbs(6504, 15));
    CHECK_THAT(*m[2].fill_kelvin, WithinAbs(6504, 15));
    CHECK(*m[1].key_kelvin > *m[0].key_kelvin);
    CHECK(*m[1].key_kelvin < *m[2].key_kelvin);
}

TEST_CASE("a cover asked about gives what the same cover hung there gives", "[study][light]") {
    const Lit open{Workshop{}.location()};
    const Lit sheer{Workshop{.cover = room::Cover::sheer}.location()};
    const auto asked = open.light.in_cases(0, 0, sun_at(20, 30), cases);
    const MarkLight hung = sheer.at(sun_at(20, 30));
    CHECK(asked[3].key_lx.likely == Approx(hung.key_lx.likely));
    CHECK(asked[3].fill_lx.likely == Approx(hung.fill_lx.likely));
    CHECK(*asked[3].key_kelvin == Approx(*hung.key_kelvin));
    CHECK(asked[4].key_lx.high == 0);
    CHECK(asked[4].fill_lx.high == 0);  // it is the room's only window
}

TEST_CASE("the light of a hold at the hat works is told from start to end", "[study][light]") {
    const site::LocalDate date{date::year{2026} / 6 / 21};
    const OnDates hat_works{flax_road(), date, date};
    const RoomLight light{hat_works.study};
    const auto found =
        clean_key(hat_works.study, hat_works.start_of(date), hat_works.start_of(date, 1));
    REQUIRE(!found.empty());
    REQUIRE(found.front().span);
    const KeyInterval& k = found.front();
    const KeyLight told = key_light(hat_works.study, light, k);

    const LightDrift alone =
        drift(light, hat_works.study.path(), k.mark, k.window, k.span->from, k.span->to);
    CHECK(told.clear.at_start.key_lx.likely == Approx(alone.at_start.key_lx.likely));
    CHECK(told.clear.at_end.fill_lx.likely == Approx(alone.at_end.fill_lx.likely));
    CHECK(told.overcast.at_start.key_lx.likely < told.mean_cloud.at_start.key_lx.likely);
    CHECK(told.with_sheer.at_start.windows[k.window].direct_lx == 0);
    CHECK(told.with_blackout.at_start.key_lx.likely == 0);
    CHECK(told.with_blackout.at_start.fill_lx.likely < told.clear.at_start.fill_lx.likely);
    REQUIRE(told.patch_at_start);
    CHECK(told.patch_at_start->stops() > 0);
    CHECK(told.beams.size() == hat_works.study.room().cameras.size());
    for (const BeamInHaze& beam : told.beams)
        CHECK(beam.window == k.window);
}

}  // namespace
