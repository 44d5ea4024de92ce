// Whole days of the sun, and their light: at the poles, at changes of clocks, over skylines.

#include <catch2/catch.hpp>

#include "keyhour/study/day_light.hpp"
#include "lamp_places.hpp"
#include "recorded.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

namespace {

/// Points with valleys between: the sun goes behind them more than once.
std::vector<site::HorizonPoint> teeth(double altitude_deg) {
    std::vector<site::HorizonPoint> all;
    for (int bearing = 0; bearing < 360; bearing += 8)
        all.push_back(skyline_point(bearing, bearing % 16 == 0 ? altitude_deg : -2));
    return all;
}

struct SkyOf {
    site::Location location;
    std::shared_ptr<const SharedTrack> shared;
    SunPath path;

    SkyOf(site::Location l, site::LocalDate first, site::LocalDate last)
        : location{std::move(l)},
          shared{SharedTrack::make(location.site.zone.start_of(first) - Seconds{2 * 86400},
                                   location.site.zone.start_of(last) + Seconds{4 * 86400})},
          path{location.site, shared} {}
    [[nodiscard]] Day on(site::LocalDate d, const LateLightBand& band = {}) const {
        return day(location.site, shared->track(), d, band);
    }
};

}  // namespace

TEST_CASE("days of the sun are those recorded", "[recorded][day]") {
    Record record{"days"};
    const auto note = [&](const char* label, site::Location l, site::LocalDate d) {
        const SkyOf sky{std::move(l), d, d};
        record.add(label, sky.on(d));
    };
    const site::LocalDate june = 2026_y / 6 / 21, december = 2026_y / 12 / 21;
    for (const char* name : {"flax-road", "sundet", "tallow-lane", "mill-green/mill-green"})
        for (const site::LocalDate d : {site::LocalDate{2026_y / 3 / 29}, june, december})
            note(name, place_read(name), d);
    for (const site::LocalDate d : {june, december, site::LocalDate{2026_y / 3 / 20}}) {
        note("polar", place_at(78, 15, "UTC0"), d);
        note("south", place_at(-78, 15, "UTC0"), d);
        note("circle", place_at(66.3, 25, "UTC0"), d);
        note("dusk_all_night", place_at(57, 10, "CET-1CEST,M3.5.0,M10.5.0/3"), d);
        note("teeth", place_at(62, 5, "UTC0", teeth(30)), d);
        note("above_hills", place_at(78, 15, "UTC0", {skyline_point(0, 1)}), d);
        note("behind_hills", place_at(60, 15, "UTC0", {skyline_point(0, 60)}), d);
    }
    // The sun sets after midnight, so twice on one date and never on another.
    for (const int day_of_may : {17, 18, 19}) {
        note("late_set", place_at(67.5, 25, "<+0330>-3:30"), 2026_y / 5 / day_of_may);
        note("early_rise", place_at(67.5, 25, "UTC0"), 2026_y / 5 / day_of_may);
    }
    for (const int day_of_july : {26, 27, 28, 29})
        note("late_set", place_at(67.5, 25, "<+0330>-3:30"), 2026_y / 7 / day_of_july);
    // It crosses the meridian at midnight by this clock.
    for (const int day_of_june : {10, 11, 12, 13, 14, 15, 16, 17})
        note("midnight_transit", place_at(30, 180, "UTC0"), 2026_y / 6 / day_of_june);
    for (const int day_of_april : {12, 13, 14, 15, 16, 17, 18, 19})
        note("midnight_transit", place_at(30, 180, "UTC0"), 2026_y / 4 / day_of_april);
    note("no_such_date", place_at(-13.8, -171.8, "Pacific/Apia"), 2011_y / 12 / 30);
    site::Location high = place_at(40, -105, "America/Denver");
    high.site.observer.elevation_m = 4000;
    high.site.weather = {600, -20};
    note("high_and_cold", high, 2026_y / 11 / 1);
    record.check();
}

TEST_CASE("every kind of event has its name", "[day]") {
    // The almanacs' names of the three twilights, in the order of a day.
    const std::vector<std::string> names{
        "astronomical dawn", "nautical dawn", "civil dawn",       "rise",
        "first sun",         "transit",       "last sun",         "set",
        "civil dusk",        "nautical dusk", "astronomical dusk"};
    for (std::size_t i = 0; i < names.size(); ++i) {
        CHECK(in_words(static_cast<DayEventKind>(i)) == names[i]);
        std::string joined = names[i];
        std::replace(joined.begin(), joined.end(), ' ', '_');
        CHECK(name(static_cast<DayEventKind>(i)) == joined);
    }
}

TEST_CASE("the sun over a skyline is that recorded", "[recorded][day]") {
    Record record{"over_horizon"};
    const site::LocalDate d = 2026_y / 3 / 20;
    for (const double altitude_deg : {-1.0, 0.0, 20.0, 38.05, 60.0}) {
        const SkyOf sky{place_at(52, 0, "UTC0", teeth(altitude_deg)), d, d};
        const Instant start = sky.location.site.zone.start_of(d);
        for (const auto& [from_h, to_h] :
             {std::pair{0.0, 24.0}, {9.0, 15.02}, {12.0, 12.03}, {12.0, 12.0}, {18.0, 30.0}})
            record.add("over", sun_over_horizon(sky.location.site, sky.shared->track(),
                                                start + Seconds{3600 * from_h},
                                                start + Seconds{3600 * to_h}));
    }
    record.check();
}

TEST_CASE("whole hours are those of the clock, also after it moved by half an hour", "[day]") {
    // An invented rule: half an hour forward at noon, as Lord Howe moves at night.
    const site::LocalDate d = 2026_y / 10 / 4;
    const SkyOf sky{place_at(-31.5, 159, "<+1030>-10:30<+11>-11,M10.1.0/12,M4.1.0/12"), d, d};
    int hours = 0;
    for (const DayLight& light : day_light(sky.location.site, sky.path, sky.on(d))) {
        if (light.event) continue;
        ++hours;
        const auto clock = sky.location.site.zone.at(light.at).local.time_since_epoch();
        CHECK(clock % std::chrono::hours{1} == std::chrono::seconds{0});
    }
    CHECK(hours > 10);
}

TEST_CASE("the light of days is that recorded", "[recorded][day]") {
    Record record{"day_light"};
    const auto note = [&](const char* label, site::Location l, site::LocalDate d) {
        const SkyOf sky{std::move(l), d, d};
        for (const DayLight& light : day_light(sky.location.site, sky.path, sky.on(d)))
            record.add(label, light);
    };
    note("sundet", place_read("sundet"), 2026_y / 10 / 25);
    note("tallow-lane", place_read("tallow-lane"), 2026_y / 12 / 21);
    note("teeth", place_at(62, 5, "Asia/Kolkata", teeth(25)), 2026_y / 3 / 20);
    site::Location hazy = place_at(-31.5, 159, "Australia/Lord_Howe");
    hazy.site.air = site::AirClass::hazy;
    hazy.site.observer.elevation_m = 700;
    note("half_hour", hazy, 2026_y / 4 / 5);
    note("half_hour", hazy, 2026_y / 10 / 4);
    note("quarter_hour", place_at(27.7, 85.3, "Asia/Kathmandu"), 2026_y / 2 / 5);
    note("polar", place_at(78, 15, "UTC0"), 2026_y / 6 / 21);
    note("no_such_date", place_at(-13.8, -171.8, "Pacific/Apia"), 2011_y / 12 / 30);
    note("date_after", place_at(-13.8, -171.8, "Pacific/Apia"), 2011_y / 12 / 31);
    record.check();
}
