#include "keyhour/light/exposure.hpp"

#include <algorithm>
#include <cmath>

namespace keyhour::light {
namespace {

/// Digits kept in place: a table of pointers would have to be filled in when the program is loaded.
struct StopName {
    char digits[4];
};
constexpr std::array<StopName, 15> whole_stops{{{"0.5"},
                                                {"0.7"},
                                                {"1"},
                                                {"1.4"},
                                                {"2"},
                                                {"2.8"},
                                                {"4"},
                                                {"5.6"},
                                                {"8"},
                                                {"11"},
                                                {"16"},
                                                {"22"},
                                                {"32"},
                                                {"45"},
                                                {"64"}}};
constexpr int first_whole = -2;  ///< T0.5 lies two whole stops below T1
constexpr int lowest = 3 * first_whole;
constexpr int highest = lowest + 3 * (static_cast<int>(whole_stops.size()) - 1);

bool positive(double x) {
    return std::isfinite(x) && x > 0;
}

}  // namespace

bool valid(const Exposure& exposure) noexcept {
    return positive(exposure.iso) && positive(exposure.fps) && positive(exposure.shutter_deg) &&
           exposure.shutter_deg <= 360 && positive(exposure.meter_constant);
}

double exposure_time_s(const Exposure& exposure) noexcept {
    return exposure.shutter_deg / (360 * exposure.fps);
}

double ev_at_iso_100(double lx, double meter_constant) noexcept {
    return std::log2(100 * lx / meter_constant);
}

double t_number(double lx, const Exposure& exposure) noexcept {
    return std::sqrt(lx * exposure_time_s(exposure) * exposure.iso / exposure.meter_constant);
}

double level_for_lx(double t_number, const Exposure& exposure) noexcept {
    return t_number * t_number * exposure.meter_constant /
           (exposure_time_s(exposure) * exposure.iso);
}

double stops_between(double lx, double over_lx) noexcept {
    return std::log2(lx / over_lx);
}

TStop nearest_t_stop(double t_number) noexcept {
    if (!(t_number > 0)) return {lowest - 1};
    const double thirds = std::round(6 * std::log2(t_number));
    return {static_cast<int>(std::clamp(thirds, lowest - 1.0, highest + 1.0))};
}

double t_number(TStop stop) noexcept {
    return std::exp2(stop.thirds / 6.0);
}

TStopText::TStopText(TStop stop) noexcept {
    const auto add = [&](std::string_view part) {
        size_ = static_cast<std::size_t>(std::copy(part.begin(), part.end(), text_.data() + size_) -
                                         text_.data());
    };
    if (stop.thirds < lowest || stop.thirds > highest) {
        add(stop.thirds < lowest ? "below T0.5" : "above T64");
        return;
    }
    const int above_first = stop.thirds - lowest;
    add("T");
    add(whole_stops[static_cast<std::size_t>(above_first / 3)].digits);
    if (above_first % 3 != 0) add(above_first % 3 == 1 ? " 1/3" : " 2/3");
}

double nd_stops(double lx, double wanted_lx) noexcept {
    return stops_between(lx, wanted_lx);
}

double nd_density(double stops) noexcept {
    return stops * std::log10(2.0);
}

double nd_density_stops(double density) noexcept {
    return density / std::log10(2.0);
}

double nd_transmittance(double density) noexcept {
    return std::pow(10, -density);
}

}  // namespace keyhour::light
