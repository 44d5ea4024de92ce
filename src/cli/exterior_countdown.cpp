#include "exterior_countdown.hpp"

#include <algorithm>

namespace keyhour::cli {
namespace {

/// Of the last two hours where no time is asked about.
std::vector<study::CountdownStep> steps_of(const study::SpotLight& light,
                                           const study::LastStart& last,
                                           const std::optional<Instant>& from) {
    constexpr Seconds usual{2 * 3600};
    const Instant begin = from.value_or(std::max(last.light.from, last.light.to - usual));
    return study::countdown(light, begin, last.light.to);
}

}  // namespace

CountdownFound countdown_of(std::span<const study::SpotLight> lights,
                            std::span<const study::SpotDay> days,
                            const std::optional<Instant>& from) {
    CountdownFound found{{}, from, {}};
    std::vector<study::ShotWish> wishes;
    for (std::size_t i = 0; i < lights.size(); ++i) {
        const study::SpotSettings& s = lights[i].settings();
        wishes.push_back({study::light_wanted(days[i], lights[i].spot().wants), s.set_up, s.shot});
        tell::SpotCountdown one{lights[i], wishes.back(), study::last_start(wishes.back()), {}};
        if (one.last) one.steps = steps_of(lights[i], *one.last, from);
        found.spots.push_back(std::move(one));
    }
    if (from) found.order = study::still_fit(wishes, *from);
    return found;
}

}  // namespace keyhour::cli
