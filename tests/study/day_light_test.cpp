#include "keyhour/study/day_light.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "flax_road.hpp"
#include "keyhour/light/overcast.hpp"
#include "keyhour/light/twilight.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

using Catch::Matchers::WithinRel;

struct Lit {
    site::Location location;
    std::shared_ptr<const SharedTrack> track;
    Day of_day;
    std::vector<DayLight> light;

    Lit(site::Location l, site::LocalDate date) : location{std::move(l)} {
        const Instant start = location.site.zone.start_of(date);
        track = SharedTrack::make(start - Seconds{2 * 86400}, start + Seconds{3 * 86400});
        of_day = day(location.site, track->track(), date);
        light = day_light(location.site, SunPath{location.site, track}, of_day);
    }
};

const site::LocalDate june{date::year{2026} / 6 / 21};

TEST_CASE("the day's light is told at its events and whole hours", "[study][light]") {
    const Lit lit{flax_road(), june};
    std::size_t events = 0;
    for (const DayLight& l : lit.light) {
        if (l.event) {
            ++events;
            continue;
        }
        const double local_s =
            l.at.unix_s() + static_cast<double>(lit.location.site.zone.at(l.at).utc_offset.count());
        CHECK(std::fmod(local_s, 3600) == 0);
        CHECK(l.true_altitude_deg > -6);
    }
    CHECK(events == lit.of_day.events.size());
    CHECK(lit.light.size() - events >= 10);
}

TEST_CASE("at noon the open ground has the published levels", "[study][light]") {
    // Krochmann & Seidl 1974: 300 + 21 000 sin h; Kasten & Czeplak 1980: half a sky of cloud leaves
    // 0.929 (from memory). Twilight: USNO Circular 171.
    const Lit lit{flax_road(), june};
    for (const DayLight& l : lit.light) {
        const double h = l.true_altitude_deg * 3.14159265358979 / 180;
        if (l.event == DayEventKind::transit) {
            CHECK_THAT(l.overcast_lx, WithinRel(300 + 21000 * std::sin(h), 1e-6));
            CHECK_THAT(l.mean_cloud_lx, WithinRel(0.929 * l.clear_lx.likely, 1e-3));
            REQUIRE(l.mix_kelvin);
            CHECK(*l.sun_kelvin < *l.mix_kelvin);
            CHECK(*l.mix_kelvin < *l.sky_kelvin);
        }
        if (l.event == DayEventKind::civil_dusk) {
            const double usno = light::clear_day_to_night_lx({Angle::degrees(l.true_altitude_deg)});
            CHECK_THAT(l.clear_lx.likely, WithinRel(usno, 0.1));
            CHECK_FALSE(l.mix_kelvin);
            CHECK(l.sun_normal_lx.high == 0);
        }
    }
}

TEST_CASE("a skyline takes the sun from the ground, and no sky", "[study][light]") {
    site::Location open = flax_road();
    open.site.horizon = {};
    site::Location valley = open;
    valley.site.horizon = site::Horizon{
        {{Angle::degrees(0), Angle::degrees(60)}, {Angle::degrees(180), Angle::degrees(60)}}};
    const Lit a{open, june}, b{valley, june};
    for (const DayLight& l : b.light) {
        CHECK_FALSE(l.in_sun);
        if (l.event != DayEventKind::transit) continue;
        for (const DayLight& other : a.light)
            if (other.event == DayEventKind::transit) {
                CHECK(other.in_sun);
                CHECK(l.clear_lx.likely < 0.6 * other.clear_lx.likely);
                CHECK(l.overcast_lx == other.overcast_lx);
            }
    }
}

}  // namespace
