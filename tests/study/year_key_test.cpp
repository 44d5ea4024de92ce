// A year of keys against each of some of its dates alone.

#include "keyhour/study/year_key.hpp"

#include <catch2/catch.hpp>

#include "flax_road.hpp"
#include "keyhour/study/day.hpp"
#include "worked_room.hpp"

using namespace keyhour;
using namespace keyhour::study;

TEST_CASE("a year's day has the sun and the keys that the date has alone", "[key]") {
    const date::year year{2026};
    site::Location l = WorkedRoom{}.location();
    l.site.horizon = site::Horizon{
        {{Angle::degrees(0), Angle::degrees(3)}, {Angle::degrees(180), Angle::degrees(3)}}};
    const SeasonalStudy seasons{l, track_of_year(l.site.zone, year), year / 1 / 1, year / 12 / 31};
    const KeyYear told = key_year(seasons, 0, year, {});
    REQUIRE(told.days.size() == 365);
    std::size_t with_key = 0;
    for (std::size_t i = 0; i < told.days.size(); i += 7) {
        const KeyDay& day = told.days[i];
        const OnDates alone{l, day.date, day.date};
        CAPTURE(i);
        CHECK(day.from == alone.start_of(day.date));
        CHECK(day.to == alone.start_of(day.date, 1));
        const auto sun =
            sun_over_horizon(l.site, alone.study.path().shared()->track(), day.from, day.to);
        REQUIRE(day.first_sun);
        REQUIRE(day.last_sun);
        CHECK((*day.first_sun - *sun.first).count() == Approx(0).margin(0.1));
        CHECK((*day.last_sun - *sun.last).count() == Approx(0).margin(0.1));
        const auto keys = clean_key(alone.study, day.from, day.to);
        REQUIRE(day.intervals.size() == keys.size());
        for (std::size_t k = 0; k < keys.size(); ++k) {
            REQUIRE(day.intervals[k].span.has_value() == keys[k].span.has_value());
            if (!keys[k].span) continue;
            ++with_key;
            CHECK((day.intervals[k].span->from - keys[k].span->from).count() ==
                  Approx(0).margin(0.2));
        }
    }
    CHECK(with_key > 5);
}
