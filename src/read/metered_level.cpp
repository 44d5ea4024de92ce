#include "metered_level.hpp"

#include <fmt/format.h>

#include <cmath>

#include "keyhour/light/exposure.hpp"

namespace keyhour::read {

std::optional<double> read_metered_level(Fields& f) {
    constexpr double least_lx = 0.01, most_lx = 200000, least_ev = -8, most_ev = 17;
    const auto ev = f.number("ev", Need::optional, {least_ev, most_ev, " at ISO 100"});
    const auto lx = f.number("lux", Need::optional, {0, most_lx, " lx"});
    if (f.has("lux") == f.has("ev")) {
        f.complain_missing("lux",
                           fmt::format("{} {}", f.label(),
                                       f.has("lux") ? "has lux and ev" : "has neither lux nor ev"),
                           "accepted: one of lux = 420, ev = 7.4 (at ISO 100)");
        return std::nullopt;
    }
    if (ev) {
        // 2^EV = N^2 / t: one second at the aperture that makes it so.
        constexpr light::Exposure one_second{100, 1, 360, 250};
        return light::level_for_lx(std::exp2(*ev / 2), one_second);
    }
    if (lx && *lx < least_lx) {
        f.complain("lux",
                   fmt::format("{}: a meter that shows nothing tells nothing", f.shown("lux")),
                   fmt::format("accepted: {:g} to {:g} lx; was it covered, or switched to "
                               "another scale?",
                               least_lx, most_lx));
        return std::nullopt;
    }
    return lx;
}

}  // namespace keyhour::read
