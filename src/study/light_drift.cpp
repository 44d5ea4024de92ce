#include "keyhour/study/light_drift.hpp"

#include <algorithm>
#include <cmath>

#include "keyhour/light/colour_temperature.hpp"

namespace keyhour::study {

namespace {

double stops(double from, double to) {
    return from > 0 && to > 0 ? std::log2(to / from) : 0;
}

}  // namespace

double LightDrift::key_stops() const {
    return stops(at_start.key_lx.likely, at_end.key_lx.likely);
}

std::optional<double> LightDrift::ratio_stops() const {
    if (!at_start.key_to_fill_stops || !at_end.key_to_fill_stops) return {};
    return at_end.key_to_fill_stops->likely - at_start.key_to_fill_stops->likely;
}

std::optional<double> LightDrift::key_mired() const {
    if (!at_start.key_kelvin || !at_end.key_kelvin) return {};
    return light::mired_shift(*at_start.key_kelvin, *at_end.key_kelvin);
}

light::Band LightDrift::air_alone() const {
    const light::Band &a = at_start.key_lx, &b = at_end.key_lx;
    return {std::min(a.low, b.low), (a.likely + b.likely) / 2, std::max(a.high, b.high)};
}

std::pair<Instant, Instant> inside(const Span& hold) {
    const Seconds inward = std::min(Seconds{1}, hold.length() / 2.0);
    return {hold.from + inward, hold.to - inward};
}

LightDrift drift(const RoomLight& light, const SunPath& path, std::size_t mark,
                 std::size_t key_window, Instant from, Instant to) {
    const auto [first, last] = inside({from, to});
    return {light.at(mark, key_window, path.at(first)), light.at(mark, key_window, path.at(last))};
}

}  // namespace keyhour::study
