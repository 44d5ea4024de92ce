#include "tell/shot_words.hpp"

#include <fmt/format.h>

#include <cmath>

#include "keyhour/light/exposure.hpp"
#include "keyhour/site/compass.hpp"
#include "keyhour/site/dates.hpp"
#include "words/clock.hpp"
#include "words/levels.hpp"
#include "words/shot_names.hpp"
#include "words/shown.hpp"

namespace keyhour::tell {

std::optional<double> metered_lx(std::optional<double> lux, std::optional<double> ev) {
    if (!ev) return lux;
    // 2^EV = N^2 / t: one second at the aperture that makes it so.
    constexpr light::Exposure one_second{100, 1, 360, 250};
    return light::level_for_lx(std::exp2(*ev / 2), one_second);
}

std::string key_in_words(const study::LoggedShot& shot) {
    std::string out = words::name(shot.key);
    if (shot.key == study::ShotKey::lamp) out = words::shown(shot.lamp);
    if (!shot.window.empty()) out += " through " + words::shown(shot.window);
    out += " on " + words::shown(shot.mark);
    if (!shot.camera.empty()) out += ", camera " + words::shown(shot.camera);
    return out;
}

std::string direction_in_words(double azimuth_deg, double altitude_deg) {
    return fmt::format("from {}, {:.0f} true, {:.1f} high",
                       site::compass_letters(Azimuth{Angle::degrees(azimuth_deg)}),
                       std::fmod(std::round(azimuth_deg), 360.0), altitude_deg);
}

std::string level_in_words(const study::LoggedShot& shot) {
    std::string out;
    const auto add = [&](const std::string& part) { out += (out.empty() ? "" : ", ") + part; };
    if (shot.computed_lx) add("computed " + words::level(*shot.computed_lx));
    if (shot.metered_lx) {
        add("metered " + words::level(*shot.metered_lx));
        if (shot.computed_lx && *shot.computed_lx > 0) {
            const double stops = std::log2(*shot.metered_lx / *shot.computed_lx);
            out += std::abs(stops) < 0.05 ? ", the same"
                                          : fmt::format(", {:.1f} stop {} that", std::abs(stops),
                                                        stops < 0 ? "under" : "over");
        }
    }
    if (shot.t_number) add(words::t_stop(*shot.t_number));
    return out;
}

Paragraphs logged_page(const study::LoggedShot& shot, const std::string& log, Instant at,
                       const site::Zone& zone, bool is_dark) {
    Paragraphs out;
    out.push_back({fmt::format("{}, line {}: {}{}, {} {}", log, shot.line, words::shown(shot.name),
                               shot.name.empty() ? "a shot" : "",
                               words::short_date(site::local_date(at, zone)),
                               words::minute_down(at, zone) + " " + words::offset_at(at, zone))});
    std::string key = key_in_words(shot);
    if (shot.azimuth_deg && shot.altitude_deg)
        key += ", " + direction_in_words(*shot.azimuth_deg, *shot.altitude_deg);
    out.push_back({std::move(key)});
    if (std::string level = level_in_words(shot); !level.empty()) out.push_back({std::move(level)});
    if (is_dark)
        out.push_back(
            {"BY THE LOCATION FILE that key does not reach the mark then: is the window "
             "the right one, the bearing, the hour?"});
    return out;
}

}  // namespace keyhour::tell
