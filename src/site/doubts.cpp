#include "keyhour/site/doubts.hpp"

#include <algorithm>

namespace keyhour::site {
namespace {

LengthDoubt either(const std::optional<double>& given, double usual) noexcept {
    return given ? LengthDoubt{*given, true} : LengthDoubt{usual, false};
}

}  // namespace

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
