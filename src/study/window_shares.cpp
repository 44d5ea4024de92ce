#include "window_shares.hpp"

namespace keyhour::study {

Entering arriving(const WindowShares& shares, const Outside& outside) {
    return {.sun_lm = shares.entering.direct_lx(outside),
            .sky_lm = shares.entering.sky_lx(outside),
            .ground_lm = shares.entering.ground_lx(outside),
            .landing = shares.landing};
}

Entering entering(const WindowShares& shares, const Outside& outside, room::Cover cover) {
    const Entering in = arriving(shares, outside);
    switch (cover) {
        case room::Cover::blackout:
            return {};
        case room::Cover::sheer:
            return {.cloth_lm = sheer_transmittance * in.total_lm()};
        case room::Cover::open:
            break;
    }
    return in;
}

}  // namespace keyhour::study
