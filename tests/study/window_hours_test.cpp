#include "keyhour/study/window_hours.hpp"

#include <catch2/catch.hpp>

#include "read/quick_room.hpp"

using namespace keyhour;

namespace {

site::Location room_facing(double faces_deg, const std::string& position = "52N 0E",
                           const std::string& zone = "UTC0") {
    read::QuickRoom quick;
    quick.position = position;
    quick.zone = zone;
    quick.faces_deg = faces_deg;
    quick.window = "1.2 x 1.5 m";
    quick.sill = "0.9 m";
    quick.reveal = "0.3 m";
    quick.room = "5 x 4 m";
    quick.mark = "2.5 m";
    auto read = read::location_of(quick);
    REQUIRE(read.has_value());
    return *std::move(read);
}

double hours(Seconds s) {
    return s.count() / 3600;
}

}  // namespace

TEST_CASE("a window to the south has sun on all turning dates", "[study]") {
    const auto windows = study::window_hours(room_facing(180), date::year{2026});
    REQUIRE(windows.size() == 1);
    CHECK(windows[0].sun_in_year);
    CHECK_FALSE(windows[0].opposite.has_value());
    // In December the day, 7.8 h at 52 degrees, bounds it (day-length identity); the reveal takes
    // nothing while the sun keeps within 41 degrees of the wall's normal.
    CHECK(hours(windows[0].on_turning_dates[2]) > 6);
    CHECK(hours(windows[0].on_turning_dates[2]) < 7.9);
    // At an equinox the sun is before a wall to the south from rise to set, less than 12 h.
    CHECK(hours(windows[0].on_turning_dates[0]) < 12.2);
}

TEST_CASE("a window without sun all year is offered the opposite bearing", "[study]") {
    // At 52 degrees north the sun in the northern half of the sky stays below 29 degrees (it passes
    // due west at asin(sin 23.4 / sin 52)): houses 45 degrees high all along the north hide it.
    site::Location place = room_facing(0);
    const auto point = [](double bearing, double altitude) {
        return site::HorizonPoint{Angle::degrees(bearing), Angle::degrees(altitude)};
    };
    place.site.horizon =
        site::Horizon{{point(95, 0), point(265, 0), point(270, 45), point(90, 45)}};
    const auto windows = study::window_hours(place, date::year{2026});
    CHECK_FALSE(windows[0].sun_in_year);
    REQUIRE(windows[0].opposite.has_value());
    CHECK(hours(windows[0].opposite->sun) > 6);
}

TEST_CASE("a north window has sun in summer only", "[study]") {
    const auto windows = study::window_hours(room_facing(0), date::year{2026});
    CHECK(windows[0].on_turning_dates[0] == Seconds{0});
    CHECK(hours(windows[0].on_turning_dates[1]) > 2);
    CHECK(windows[0].on_turning_dates[2] == Seconds{0});
    CHECK(windows[0].sun_in_year);
}

TEST_CASE("the turning dates are an equinox and two solstices", "[study]") {
    // The equinox and solstices of 2026 fall on 20 March 14:46, 21 June 08:25 and 21 December 20:50
    // UTC: U.S. Naval Observatory, Earth's Seasons. From memory.
    using namespace date::literals;
    CHECK(study::turning_dates(date::year{2026}) ==
          std::array<site::LocalDate, 3>{2026_y / 3 / 20, 2026_y / 6 / 21, 2026_y / 12 / 21});
}
