#include "keyhour/study/countdown.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>

#include "keyhour/site/dates.hpp"

namespace keyhour::study {
namespace {

/// The shot at its earliest, the crew free from `free` on.
std::optional<TimedShot> earliest(std::size_t i, const ShotWish& wish, Instant free) {
    for (const Span& light : wish.light) {
        const Instant roll = std::max(free + wish.set_up, light.from);
        if (roll + wish.shot <= light.to)
            return TimedShot{i, roll - wish.set_up, roll, roll + wish.shot};
    }
    return std::nullopt;
}

/// By the best of each subset: to be done earlier never costs a later shot.
std::vector<TimedShot> best_order(std::span<const ShotWish> wishes, Instant from) {
    struct Best {
        std::optional<TimedShot> last;
        std::uint32_t before = 0;
    };
    const std::uint32_t all = 1U << wishes.size();
    std::vector<Best> best(all);
    const auto free_after = [&](std::uint32_t set) {
        return set == 0 ? from : best[set].last->done;
    };
    std::uint32_t most = 0;
    for (std::uint32_t set = 0; set < all; ++set) {
        if (set != 0 && !best[set].last) continue;
        const int count = std::popcount(set), most_count = std::popcount(most);
        if (count > most_count || (count == most_count && free_after(set) < free_after(most)))
            most = set;
        for (std::size_t i = 0; i < wishes.size(); ++i) {
            const std::uint32_t with = set | 1U << i;
            if (with == set) continue;
            const auto shot = earliest(i, wishes[i], free_after(set));
            if (shot && (!best[with].last || shot->done < best[with].last->done))
                best[with] = {shot, set};
        }
    }
    std::vector<TimedShot> out;
    for (std::uint32_t set = most; set != 0; set = best[set].before)
        out.push_back(*best[set].last);
    std::ranges::reverse(out);
    return out;
}

std::vector<TimedShot> by_last_start(std::span<const ShotWish> wishes, Instant from) {
    std::vector<std::pair<Instant, std::size_t>> order;
    for (std::size_t i = 0; i < wishes.size(); ++i)
        if (const auto last = last_start(wishes[i])) order.emplace_back(last->start, i);
    std::ranges::sort(order);
    std::vector<TimedShot> out;
    for (const auto& [start, i] : order)
        if (const auto shot = earliest(i, wishes[i], out.empty() ? from : out.back().done))
            out.push_back(*shot);
    return out;
}

}  // namespace

std::vector<Span> light_wanted(const SpotDay& day, site::Side wants) {
    if (wants != site::Side::any) return day.wanted;
    std::optional<Span> whole;
    const auto take = [&](Instant from, Instant to) {
        if (!whole) whole = Span{from, to, false, false};
        *whole = {std::min(whole->from, from), std::max(whole->to, to), false, false};
    };
    for (const LateLight& l : day.late_light)
        take(l.start, l.end);
    for (const DirectSpan& d : day.direct)
        take(d.span.from, d.span.to);
    if (!whole) return {};
    return {*whole};
}

std::optional<LastStart> last_start(const ShotWish& wish) {
    for (auto light = wish.light.rbegin(); light != wish.light.rend(); ++light)
        if (light->length() >= wish.shot)
            return LastStart{light->to - wish.shot - wish.set_up, *light};
    return std::nullopt;
}

std::vector<TimedShot> still_fit(std::span<const ShotWish> wishes, Instant from) {
    constexpr std::size_t most = 12;
    return wishes.size() <= most ? best_order(wishes, from) : by_last_start(wishes, from);
}

std::vector<CountdownStep> countdown(const SpotLight& spot, Instant from, Instant to) {
    constexpr double step_s = 600;
    std::vector<CountdownStep> out;
    const site::Zone& zone = spot.location().site.zone;
    std::optional<site::LocalDate> date;
    std::optional<site::Outlook> outlook;
    for (double s = step_s * std::ceil(from.unix_s() / step_s); s <= to.unix_s(); s += step_s) {
        const Instant t = Instant::from_unix_s(s);
        if (const site::LocalDate on = site::local_date(t, zone); on != date) {
            date = on;
            outlook.emplace(spot.location(), spot.spot(), on);
        }
        const SpotInstant now = spot.at(t, *outlook);
        const double sky = now.sky.diffuse_horizontal_lx.likely,
                     up = sin(now.sun.apparent_altitude.above_horizon);
        out.push_back(
            {t, now.lit,
             now.lit ? now.through_trees * now.sky.direct_normal_lx.likely + sky * (1 + up) / 2
                     : sky});
    }
    return out;
}

}  // namespace keyhour::study
