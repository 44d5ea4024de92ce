#include "keyhour/study/spot_doubt.hpp"

#include <date/date.h>

#include <catch2/catch.hpp>
#include <cmath>

#include "keyhour/site/doubts.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

namespace {

site::Location hillside(double skyline_deg) {
    site::Location l;
    l.site.observer = {Angle::degrees(52), {}, 0};
    l.site.horizon = site::Horizon{{{Angle::degrees(0), Angle::degrees(skyline_deg)},
                                    {Angle::degrees(180), Angle::degrees(skyline_deg)}}};
    site::Spot spot;
    spot.name = "yard";
    spot.on_plan = true;
    spot.camera_bearing = Angle::degrees(90);
    l.spots = {spot};
    l.clock_within_s = 0;
    return l;
}

constexpr date::year_month_day spring = 2026_y / 3 / 20;

std::shared_ptr<const SharedTrack> track() {
    const Instant noon = Instant::from_unix_s(static_cast<double>(
        std::chrono::seconds{date::sys_days{spring}.time_since_epoch()}.count() + 43200));
    return SharedTrack::make(noon - Seconds{3 * 86400.0}, noon + Seconds{3 * 86400.0});
}

DirectSpan direct_light(const site::Location& location) {
    const SpotDay day = SpotLight{location, 0, track()}.on(spring);
    REQUIRE(day.direct.size() == 1);
    return day.direct[0];
}

EnsembleSettings alone(Input input) {
    EnsembleSettings one{64, 1, {}};
    one.scale[static_cast<std::size_t>(input)] = 1;
    return one;
}

}  // namespace

TEST_CASE("the last light spreads as the skyline's degree says", "[study][doubt]") {
    const site::Location l = hillside(5);
    const auto ends =
        SpotEnsemble{l, 0, track(), alone(Input::skyline)}.ends(direct_light(l), spring);
    REQUIRE(ends.ends);
    REQUIRE(ends.begins);
    // A listed skyline is good to a degree: nine tenths lie within 0.9.
    const Instant early = direct_light(hillside(5.9)).span.to,
                  late = direct_light(hillside(4.1)).span.to;
    CHECK(std::abs((ends.ends->from - early).count()) < 12);
    CHECK(std::abs((ends.ends->to - late).count()) < 12);
    CHECK(std::abs((ends.begins->from - direct_light(hillside(4.1)).span.from).count()) < 12);
}

TEST_CASE("a tall house's height and a clock spread the last light too", "[study][doubt]") {
    site::Location l = hillside(0.5);
    // West of the spot, 20 m off, 8 m above the ground.
    l.buildings_without_room = {{"mill", {{-60, -40}, {-20, -40}, {-20, 40}, {-60, 40}}, 8}};
    const DirectSpan stated = direct_light(l);
    REQUIRE(stated.ends_by == "building mill");
    const auto ends =
        SpotEnsemble{l, 0, track(), alone(Input::heights_outside)}.ends(stated, spring);
    site::Location lower = l;
    lower.buildings_without_room[0].height_m *= 1 - 0.9 * site::usual_building_within;
    REQUIRE(ends.ends);
    CHECK(std::abs((ends.ends->to - direct_light(lower).span.to).count()) < 12);

    l.clock_within_s = 300;
    const auto by_clock = SpotEnsemble{l, 0, track(), alone(Input::clock)}.ends(stated, spring);
    REQUIRE(by_clock.ends);
    CHECK(by_clock.ends->length().count() == Approx(540).margin(20));
}

TEST_CASE("the air counts at a level horizon, and hardly on a hill", "[study][doubt]") {
    const site::Location low = hillside(0.01), high = hillside(8);
    const auto spread = [](const site::Location& l) {
        const auto ends =
            SpotEnsemble{l, 0, track(), alone(Input::refraction)}.ends(direct_light(l), spring);
        REQUIRE(ends.ends);
        return ends.ends->length().count();
    };
    // Nine tenths of half the refraction of 0.57 degrees, which grows while the sun sinks by it;
    // the apparent sun sinks the slower for the same reason.
    const Instant end = direct_light(low).span.to;
    const SpotLight light{low, 0, track()};
    const auto height = [&](Seconds after) {
        return light.at(end + after).sun.apparent_altitude.above_horizon.in_degrees();
    };
    const double sinks_deg_s = (height(Seconds{-30}) - height(Seconds{30})) / 60;
    CHECK(spread(low) == Approx(2 * 0.9 * 0.5 * 0.57 / sinks_deg_s).epsilon(0.1));
    CHECK(spread(high) < 12);
    // Nothing in doubt: no spread.
    const EnsembleSettings none{8, 1, {}};
    const auto ends = SpotEnsemble{low, 0, track(), none}.ends(direct_light(low), spring);
    CHECK(ends.ends->length().count() < 1e-3);
    CHECK(std::abs((ends.ends->to - direct_light(low).span.to).count()) < 0.5);
}
