#include "keyhour/ask/ranking.hpp"

namespace keyhour::ask {

bool is_surer(const Standing& a, const Standing& b) noexcept {
    return a.sure != b.sure ? a.sure > b.sure : a.hold > b.hold;
}

bool is_better(const Standing& a, const Standing& b) noexcept {
    return is_surer(a, b) || (!is_surer(b, a) && a.start < b.start);
}

Standing standing_of(const study::KeyChoice& choice) {
    if (!choice.fits()) return {};
    const study::KeyInterval& best = choice.fitting.front();
    return {true, best.sure_hold(), best.hold(), best.span->from};
}

Standing standing_of(const study::SpotDay& day, Seconds least) {
    const study::SafeStart* best = study::longest(day.for_wanted);
    if (best == nullptr) return {};
    const Seconds light = best->light.length();
    return {light >= least, Seconds{0}, light, best->light.from};
}

}  // namespace keyhour::ask
