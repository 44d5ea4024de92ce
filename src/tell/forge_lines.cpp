#include "tell/forge_lines.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "keyhour/light/exposure.hpp"
#include "keyhour/room/scene.hpp"
#include "words/levels.hpp"

namespace keyhour::tell {

std::string forge_text(const study::ForgeLight& forge, const room::Room& room, double key_from_lx,
                       double key_to_lx) {
    std::string text = "forge " + forge.name;
    if (forge.blocked)
        return text + ": hidden from the mark by " + room::words(*forge.blocked, room);
    if (forge.mark_lx <= 0) return text + ": looks away from the mark";
    const bool is_key = forge.mark_lx > std::max(key_from_lx, key_to_lx);
    text += fmt::format("{}: {} at the mark, {:.0f} K", is_key ? " IS KEY" : "",
                        words::level(forge.mark_lx), forge.kelvin);
    if (key_from_lx <= 0 || key_to_lx <= 0) return text;
    const double a = light::stops_between(key_from_lx, forge.mark_lx),
                 b = light::stops_between(key_to_lx, forge.mark_lx);
    const auto side = [](double stops) { return stops >= 0 ? "under" : "over"; };
    if ((a >= 0) == (b >= 0))
        return text + fmt::format(", {} stops {} {}", words::thirds_range(std::abs(a), std::abs(b)),
                                  side(a), is_key ? "the window or lamp" : "the key");
    return text + fmt::format(", {} stops {} the key, later {} {} it", words::thirds(std::abs(a)),
                              side(a), words::thirds(std::abs(b)), side(b));
}

std::string forge_is_key(const std::vector<study::ForgeLight>& forges, double key_lx) {
    std::string text;
    for (const study::ForgeLight& f : forges)
        if (f.mark_lx > key_lx) text += "; forge " + f.name + " IS KEY";
    return text;
}

Json json_of(const std::vector<study::ForgeLight>& forges, const room::Room& room,
             double key_from_lx, double key_to_lx) {
    constexpr int lx_decimals = 1, stop_decimals = 2;
    Json all = Json::array();
    for (const study::ForgeLight& f : forges) {
        const auto stops = [&](double key_lx) {
            return f.mark_lx > 0 && key_lx > 0
                       ? Json(rounded(light::stops_between(key_lx, f.mark_lx), stop_decimals))
                       : Json();
        };
        all.push_back({{"forge", f.name},
                       {"level_lx", rounded(f.mark_lx, lx_decimals)},
                       {"given_back_lx", rounded(f.given_back_lx, lx_decimals)},
                       {"kelvin", rounded(f.kelvin, 0)},
                       {"blocked_by", f.blocked ? Json(room::words(*f.blocked, room)) : Json()},
                       {"stops_under_key",
                        {{"at_start", stops(key_from_lx)}, {"at_end", stops(key_to_lx)}}}});
    }
    return all;
}

}  // namespace keyhour::tell
