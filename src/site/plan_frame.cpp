#include "keyhour/site/plan_frame.hpp"

#include <GeographicLib/LocalCartesian.hpp>

namespace keyhour::site {
namespace {

Azimuth bearing_of(const Location& location) {
    return location.room ? room::plan_bearing(*location.room) : Azimuth{};
}

GeographicLib::LocalCartesian about(const Coordinates& origin) {
    return {origin.latitude.in_degrees(), origin.longitude.in_degrees(), 0,
            GeographicLib::Geocentric::WGS84()};
}

}  // namespace

PlanFrame::PlanFrame(const Location& location)
    : PlanFrame{{location.site.observer.latitude, location.site.observer.longitude},
                bearing_of(location)} {}

PlanFrame::PlanFrame(const Coordinates& origin, Azimuth bearing_of_y)
    : origin_{origin}, bearing_{bearing_of_y} {}

room::Point2 PlanFrame::on_plan(const Coordinates& place) const {
    double east = 0, north = 0, up = 0;
    about(origin_).Forward(place.latitude.in_degrees(), place.longitude.in_degrees(), 0, east,
                           north, up);
    const double s = sin(bearing_.from_north), c = cos(bearing_.from_north);
    return {east * c - north * s, east * s + north * c};
}

Coordinates PlanFrame::on_earth(room::Point2 at) const {
    const double s = sin(bearing_.from_north), c = cos(bearing_.from_north);
    const double east = at.x * c + at.y * s, north = -at.x * s + at.y * c;
    const auto local = about(origin_);
    // The place lies below the level plane by the fall of the Earth's surface, on the normal of the
    // plane: two rounds leave nothing of it.
    double latitude = 0, longitude = 0, above = 0, up = 0;
    for (int round = 0; round < 3; ++round) {
        local.Reverse(east, north, up, latitude, longitude, above);
        up -= above;
    }
    local.Reverse(east, north, up, latitude, longitude, above);
    return {Angle::degrees(latitude), wrapped_half_turn(Angle::degrees(longitude))};
}

double ground_m(const Location& location) noexcept {
    return location.room ? -location.room->floor_above_ground_m : 0;
}

room::Point2 on_plan(const Location& location, const Spot& spot) {
    if (spot.on_plan || !spot.position) return spot.at;
    return PlanFrame{location}.on_plan({spot.position->latitude, spot.position->longitude});
}

room::Point3 eye_of(const Location& location, const Spot& spot) {
    const room::Point2 at = on_plan(location, spot);
    return {at.x, at.y, ground_m(location) + spot.eye_m};
}

Observer observer_at(const Location& location, const Spot& spot) {
    Observer observer = location.site.observer;
    if (spot.position) {
        observer.latitude = spot.position->latitude;
        observer.longitude = spot.position->longitude;
    } else {
        const Coordinates place = PlanFrame{location}.on_earth(spot.at);
        observer.latitude = place.latitude;
        observer.longitude = place.longitude;
    }
    return observer;
}

}  // namespace keyhour::site
