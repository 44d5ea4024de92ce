// A date's events over a skyline, against the sun's own height.

#include "keyhour/study/day.hpp"

#include <date/date.h>

#include <algorithm>
#include <catch2/catch.hpp>

#include "flax_road.hpp"
#include "worked_room.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

namespace {

const DayEvent* event_of(const Day& day, DayEventKind kind) {
    const auto it =
        std::ranges::find_if(day.events, [&](const DayEvent& e) { return e.kind == kind; });
    return it == day.events.end() ? nullptr : &*it;
}

bool is_absent(const Day& day, DayEventKind kind, sun::Side side) {
    return std::ranges::any_of(
        day.absent, [&](const AbsentEvent& a) { return a.kind == kind && a.sun == side; });
}

site::Location in_valley(double skyline_deg) {
    site::Location l = WorkedRoom{}.location();
    l.site.horizon = site::Horizon{{{Angle::degrees(0), Angle::degrees(skyline_deg)},
                                    {Angle::degrees(180), Angle::degrees(skyline_deg)}}};
    return l;
}

}  // namespace

TEST_CASE("the first and the last sun stand on the skyline, the first in the east", "[day]") {
    const OnDates place{in_valley(10), 2026_y / 3 / 10, 2026_y / 3 / 10};
    const Day d = day(place.location.site, place.study.path().shared()->track(), place.first);
    const DayEvent *first = event_of(d, DayEventKind::first_sun),
                   *last = event_of(d, DayEventKind::last_sun);
    REQUIRE(first);
    REQUIRE(last);
    for (const DayEvent* e : {first, last})
        CHECK(place.study.path().at(e->at).altitude_deg == Approx(10).margin(0.001));
    CHECK(first->azimuth.from_north < Angle::degrees(180));
    CHECK(last->azimuth.from_north > Angle::degrees(180));
    CHECK_FALSE(is_absent(d, DayEventKind::first_sun, sun::Side::crosses));
    // The level rise comes before it: 10 degrees and a half at 52 north take over an hour.
    const DayEvent* rise = event_of(d, DayEventKind::rise);
    REQUIRE(rise);
    CHECK(first->at - rise->at > Seconds{3600});
}

TEST_CASE("behind a skyline higher than its noon the sun stays below it all day", "[day]") {
    // 90 - 52 - 4 degrees of declination: noon at 34.
    const OnDates place{in_valley(40), 2026_y / 3 / 10, 2026_y / 3 / 10};
    const Day d = day(place.location.site, place.study.path().shared()->track(), place.first);
    CHECK_FALSE(event_of(d, DayEventKind::first_sun));
    CHECK(is_absent(d, DayEventKind::first_sun, sun::Side::always_below));
    CHECK(is_absent(d, DayEventKind::last_sun, sun::Side::always_below));
}

TEST_CASE("a span of sun over the skyline tells at which ends it was cut", "[day]") {
    const OnDates place{in_valley(10), 2026_y / 3 / 10, 2026_y / 3 / 10};
    const Instant midnight = place.start_of(place.first);
    const auto over = [&](int from_h, int to_h) {
        return sun_over_horizon(place.location.site, place.study.path().shared()->track(),
                                midnight + Seconds{from_h * 3600.0},
                                midnight + Seconds{to_h * 3600.0});
    };
    // At 52 north it comes over 10 degrees in the morning, and goes behind them before evening.
    const auto noon = over(11, 13);
    REQUIRE(noon.above.size() == 1);
    CHECK(noon.is_above_at_start);
    CHECK(noon.above[0].runs_at_start);
    CHECK(noon.above[0].runs_at_end);
    const auto whole = over(0, 24);
    REQUIRE(whole.above.size() == 1);
    CHECK_FALSE(whole.is_above_at_start);
    CHECK_FALSE(whole.above[0].runs_at_start);
    CHECK_FALSE(whole.above[0].runs_at_end);
    const auto evening = over(12, 24);
    REQUIRE(evening.above.size() == 1);
    CHECK(evening.above[0].runs_at_start);
    CHECK_FALSE(evening.above[0].runs_at_end);
    CHECK((evening.above[0].to - whole.above[0].to).count() == Approx(0).margin(0.02));
}

TEST_CASE("a day's length is from rise to set, whichever comes first on the date", "[day]") {
    site::Location here = WorkedRoom{}.location(), there = here;
    there.site.observer.longitude = Angle::degrees(180);  // told by UTC: the set comes first
    for (const site::Location& l : {here, there}) {
        const OnDates place{l, 2026_y / 3 / 10, 2026_y / 3 / 10};
        const Day d = day(place.location.site, place.study.path().shared()->track(), place.first);
        const DayEvent *rise = event_of(d, DayEventKind::rise),
                       *set = event_of(d, DayEventKind::set);
        REQUIRE(rise);
        REQUIRE(set);
        const double up = (set->at - rise->at).count();
        CHECK(d.length.count() == Approx(up > 0 ? up : up + 86400).margin(1));
        CHECK(d.state == DayState::sun_rises_or_sets);
        // Some minutes over eleven hours ten days before the equinox at 52 north.
        CHECK(d.length.count() / 3600 == Approx(11.5).margin(0.3));
    }
    for (const int month : {6, 12}) {
        site::Location pole = here;
        pole.site.observer.latitude = Angle::degrees(80);
        const site::LocalDate date = 2026_y / month / 21;
        const OnDates place{pole, date, date};
        const Day d = day(place.location.site, place.study.path().shared()->track(), date);
        CHECK(d.length.count() == (month == 6 ? 86400 : 0));
        CHECK(d.state == (month == 6 ? DayState::sun_always_up : DayState::sun_always_down));
    }
}
