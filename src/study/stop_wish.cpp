#include "keyhour/study/stop_wish.hpp"

#include <algorithm>

namespace keyhour::study {

light::Band stops_over(const light::Band& metered_lx, const StopWish& wish) {
    const double wanted = wish.level_lx();
    return {light::nd_stops(metered_lx.low, wanted), light::nd_stops(metered_lx.likely, wanted),
            light::nd_stops(metered_lx.high, wanted)};
}

light::Band weakest_stops(const LightDrift& drift, const StopWish& wish) {
    const light::Band a = stops_over(drift.at_start.metered_lx(), wish);
    const light::Band b = stops_over(drift.at_end.metered_lx(), wish);
    return {std::min(a.low, b.low), std::min(a.likely, b.likely), std::min(a.high, b.high)};
}

bool allows(const LightDrift& drift, const StopWish& wish) {
    constexpr double rounding = 1e-9;  // of a level that is just the one wanted
    return weakest_stops(drift, wish).likely >= -wish.tolerance_stops - rounding;
}

}  // namespace keyhour::study
