#include "keyhour/site/doubts.hpp"

#include <algorithm>
#include <cmath>

namespace keyhour::site {
namespace {

LengthDoubt either(const std::optional<double>& given, double usual) noexcept {
    return given ? LengthDoubt{*given, true} : LengthDoubt{usual, false};
}

double distance_to_side(room::Point2 p, room::Point2 a, room::Point2 b) noexcept {
    const room::Point2 ab = b - a;
    const double along = dot(ab, ab);
    const double t = along > 0 ? std::clamp(dot(p - a, ab) / along, 0.0, 1.0) : 0;
    const room::Point2 d = p - (a + t * ab);
    return std::sqrt(dot(d, d));
}

/// Between two outlines that do not cross; a ring of one corner is a point.
double distance_between(const room::Ring& a, const room::Ring& b) noexcept {
    double least = 1e300;
    const auto from_corners = [&](const room::Ring& corners, const room::Ring& sides) {
        for (const room::Point2 p : corners)
            for (std::size_t i = 0, j = sides.size() - 1; i < sides.size(); j = i++)
                least = std::min(least, distance_to_side(p, sides[j], sides[i]));
    };
    from_corners(a, b);
    from_corners(b, a);
    return least;
}

double usual_place_within_m(const room::Ring& footprint, const Location& location) noexcept {
    constexpr double of_distance = 0.05, least_m = 0.05, most_m = 1;
    if (footprint.empty()) return least_m;
    const double away = location.room ? distance_between(footprint, location.room->floor)
                                      : distance_between(footprint, {{0, 0}});
    return std::clamp(of_distance * away, least_m, most_m);
}

template <class Outside>
LengthDoubt place_doubt_of(const Outside& outside, const Location& location) noexcept {
    if (outside.within_m) return {*outside.within_m, true};
    return {usual_place_within_m(outside.footprint, location), false};
}

}  // namespace

LengthDoubt doubt(const room::Camera& camera) noexcept {
    return either(camera.within_m, usual_camera_within_m);
}

LengthDoubt doubt(const Lamp& lamp) noexcept {
    return either(lamp.within_m, usual_lamp_within_m);
}

LengthDoubt floor_doubt(const room::Room& room) noexcept {
    return either(room.within_m, usual_floor_within_m);
}

LengthDoubt place_doubt(const room::Building& building, const Location& location) noexcept {
    return place_doubt_of(building, location);
}

LengthDoubt place_doubt(const Tree& tree, const Location& location) noexcept {
    return place_doubt_of(tree, location);
}

WindowDoubts doubts(const room::Window& window) noexcept {
    const room::WindowDoubt& given = window.within;
    return {either(given.left_m, usual_left_within_m),
            either(given.width_m, usual_opening_within_m),
            either(given.sill_m, usual_opening_within_m),
            either(given.height_m, usual_opening_within_m),
            either(given.reveal_m, usual_opening_within_m)};
}

MarkDoubts doubts(const room::Mark& mark) noexcept {
    return {either(mark.within.at_m, usual_mark_within_m),
            either(mark.within.height_m, usual_mark_within_m)};
}

double clock_within_s(const Location& location) noexcept {
    return location.clock_within_s.value_or(usual_clock_within_s);
}

Angle horizon_within(const Site& site) noexcept {
    if (site.horizon.is_level()) return {};
    switch (site.horizon_source.kind) {
        case HorizonSource::Kind::survey:
            return Angle::degrees(0.5);
        case HorizonSource::Kind::terrain:
            return Angle::degrees(0.3);  // 10 m of height at 2 km
        case HorizonSource::Kind::list:
        case HorizonSource::Kind::file:
            break;
    }
    return Angle::degrees(1);
}

double refraction_within(double apparent_deg) noexcept {
    constexpr double steady_above_deg = 5, at_horizon = 0.5;
    const double low = 1 - std::clamp(apparent_deg / steady_above_deg, 0.0, 1.0);
    return usual_refraction_within + low * (at_horizon - usual_refraction_within);
}

}  // namespace keyhour::site
