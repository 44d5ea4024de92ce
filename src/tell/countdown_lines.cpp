#include "tell/countdown_lines.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "instants.hpp"
#include "keyhour/light/exposure.hpp"
#include "words/clock.hpp"
#include "words/levels.hpp"

namespace keyhour::tell {
namespace {

const site::Zone& zone_of(const SpotCountdown& spot) {
    return spot.light.location().site.zone;
}

/// "T4 1/3, EV 11.2", of a wanted stop "ND 1.2"; EV alone where no camera is given.
std::string stop(double lx, const study::CameraSetting& camera) {
    const double ev = light::ev_at_iso_100(lx, camera.exposure.meter_constant);
    std::string text = fmt::format("EV {:.1f}", ev);
    if (!camera.is_given) return text;
    text = fmt::format("{:<10} {}", words::t_stop(light::t_number(lx, camera.exposure)), text);
    if (!camera.wish) return text;
    const double over = light::nd_stops(lx, camera.wish->level_lx());
    return text + (over >= 0 ? fmt::format("  {} stops over", words::thirds(over))
                             : fmt::format("  {} stops short", words::thirds(-over)));
}

const study::TimedShot* in(std::span<const study::TimedShot> order, std::size_t wish) {
    const auto at = std::ranges::find(order, wish, &study::TimedShot::wish);
    return at == order.end() ? nullptr : &*at;
}

bool fits_alone(const SpotCountdown& spot, Instant from) {
    return spot.last && spot.last->start >= from;
}

}  // namespace

Paragraphs countdown_rows(const SpotCountdown& spot, const study::CameraSetting& camera) {
    constexpr std::size_t after = 7;
    const site::Zone& zone = zone_of(spot);
    if (!spot.last) return {{"no countdown: the light wanted is too short for the shot", 0, 2}};
    const Instant end = words::minute_before(spot.last->light.to);
    Paragraphs out{
        {fmt::format("countdown to {}, set up by {}: time, left, light, level{}",
                     site::whole_minutes(end, zone), words::minute_down(spot.last->start, zone),
                     camera.is_given ? ", stop" : ""),
         0, 2}};
    for (const study::CountdownStep& s : spot.steps)
        out.push_back({fmt::format("{:<6} {:<11} {:<4} {:<8} {}", site::whole_minutes(s.at, zone),
                                   words::at_least(end - s.at), s.in_sun ? "sun" : "sky",
                                   words::level(s.level_lx), stop(s.level_lx, camera)),
                       0, after});
    return out;
}

Paragraphs still_fit_lines(const ask::CountdownAnswer& answer) {
    const auto& [spots, asked_from, order] = answer;
    if (!asked_from || spots.empty()) return {};
    const Instant from = *asked_from;
    const site::Zone& zone = zone_of(spots.front());
    Paragraphs out{
        {fmt::format("from {} on {} of {} shots fit{}", words::minute_up(from, zone), order.size(),
                     spots.size(), spots.size() > 1 ? ", one crew, ways between not counted" : ""),
         0, 2}};
    for (const study::TimedShot& shot : order) {
        const SpotCountdown& spot = spots[shot.wish];
        out.push_back({fmt::format("{} {}: done {}; alone it could wait to {}, light to {}",
                                   words::minute_down(shot.set_up, zone), spot.light.spot().name,
                                   words::minute_up(shot.done, zone),
                                   words::minute_down(spot.last->start, zone),
                                   words::minute_down(spot.last->light.to, zone)),
                       2, 4});
    }
    for (std::size_t i = 0; i < spots.size(); ++i) {
        if (in(order, i) != nullptr) continue;
        const SpotCountdown& spot = spots[i];
        out.push_back(
            {fmt::format("NOT {}: {}", spot.light.spot().name,
                         !spot.last ? std::string{"its light is too short for the shot"}
                         : fits_alone(spot, from)
                             ? fmt::format("not beside the others; alone to be begun by {}",
                                           words::minute_down(spot.last->start, zone))
                             : fmt::format("to be begun by {}",
                                           words::minute_down(spot.last->start, zone))),
             2, 4});
    }
    return out;
}

Json countdown_json(const ask::CountdownAnswer& answer, const study::CameraSetting& camera) {
    const auto& [spots, from, order] = answer;
    const auto or_null = [](bool is, Instant t) { return is ? Json(utc(t)) : Json(); };
    Json j{{"from_utc", from ? Json(utc(*from)) : Json()}, {"shots", Json::array()}};
    for (std::size_t i = 0; i < spots.size(); ++i) {
        const SpotCountdown& spot = spots[i];
        const study::TimedShot* shot = in(order, i);
        Json one{{"spot", spot.light.spot().name},
                 {"set_up_min", rounded(spot.wish.set_up.count() / 60, 5)},
                 {"shot_min", rounded(spot.wish.shot.count() / 60, 5)},
                 {"latest_start_utc", spot.last ? Json(utc(spot.last->start)) : Json()},
                 {"light_to_utc", spot.last ? Json(utc(spot.last->light.to)) : Json()},
                 {"fits_alone", from ? Json(fits_alone(spot, *from)) : Json()},
                 {"set_up_utc", or_null(shot, shot ? shot->set_up : Instant{})},
                 {"roll_utc", or_null(shot, shot ? shot->roll : Instant{})},
                 {"done_utc", or_null(shot, shot ? shot->done : Instant{})},
                 {"steps", Json::array()}};
        for (const study::CountdownStep& s : spot.steps)
            one["steps"].push_back(
                {{"utc", utc(s.at)},
                 {"in_sun", s.in_sun},
                 {"level_lx", rounded(s.level_lx, 4)},
                 {"ev_iso_100",
                  rounded(light::ev_at_iso_100(s.level_lx, camera.exposure.meter_constant), 4)},
                 {"t_number", camera.is_given
                                  ? Json(rounded(light::t_number(s.level_lx, camera.exposure), 4))
                                  : Json()}});
        j["shots"].push_back(std::move(one));
    }
    return j;
}

}  // namespace keyhour::tell
