#include "keyhour/study/seasonal_study.hpp"

#include <catch2/catch.hpp>

#include "keyhour/site/dates.hpp"
#include "keyhour/study/clean_key.hpp"
#include "keyhour/study/sun_in_room.hpp"
#include "read/location_file.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

namespace {

/// The press with a lime before the street windows: closed from May to October.
site::Location press_with_a_lime() {
    auto place = read::read_location(KEYHOUR_LOCATIONS "/tallow-lane.toml");
    REQUIRE(place.has_value());
    site::Tree lime;
    lime.name = "lime";
    lime.footprint = site::round_crown({3.5, -9}, 12);
    lime.height_m = 30;
    lime.first_leaf = date::May;
    lime.last_leaf = date::October;
    place->trees.push_back(lime);
    return *std::move(place);
}

Seconds sun_on(const site::Location& place, const RoomStudy& study, site::LocalDate day) {
    return sun_time(study, 0, place.site.zone.start_of(day),
                    place.site.zone.start_of(site::next_day(day)));
}

}  // namespace

TEST_CASE("a lime takes the sun from a window in summer and gives it back in winter", "[study]") {
    const site::Location with = press_with_a_lime();
    site::Location without = with;
    without.trees.clear();
    const site::LocalDate first = 2026_y / 4 / 20, last = 2026_y / 5 / 10;
    const auto track = SharedTrack::make(with.site.zone.start_of(first) - Seconds{2 * 86400.0},
                                         with.site.zone.start_of(last) + Seconds{4 * 86400.0});
    REQUIRE(track);
    const SeasonalStudy seasons{with, track, first, last};
    const RoomStudy bare{without, track};
    REQUIRE(seasons.stretches().size() == 2);
    CHECK(seasons.stretches()[0]->season.last == 2026_y / 4 / 30);
    const site::LocalDate april = 2026_y / 4 / 30, may = 2026_y / 5 / 1;
    CHECK(&seasons.on(april) != &seasons.on(may));
    CHECK(&seasons.at(with.site.zone.start_of(may) + Seconds{3600}) == &seasons.on(may));
    CHECK(&seasons.on(2026_y / 1 / 1) == &seasons.on(first));
    CHECK(sun_on(with, seasons.on(april), april) == sun_on(with, bare, april));
    CHECK(sun_on(with, seasons.on(may), may) < sun_on(with, bare, may) - Seconds{1800});
    // What cuts the sun off is called by its name, and the index is the same in both.
    const std::size_t index = with.room->buildings.size();
    CHECK(room::words({room::Edge::building, index}, seasons.on(april).room()) == "tree lime");
    CHECK(room::words({room::Edge::building, index}, seasons.on(may).room()) == "tree lime");
}
