#include "tell/light_lines.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "words/length.hpp"
#include "words/levels.hpp"

namespace keyhour::tell {
namespace {

using words::level_range;
using words::range;
using words::signed_stops;
using words::t_stop;
using words::thirds;
using words::thirds_range;

std::string kelvin_range(const std::optional<double>& from, const std::optional<double>& to) {
    if (!from || !to) return {};
    constexpr double step = 100;  // finer is not seen, nor known
    const double a = std::round(*from / step) * step, b = std::round(*to / step) * step;
    return a == b ? fmt::format(", {:.0f} K", a) : fmt::format(", {:.0f} to {:.0f} K", a, b);
}

/// Levels, colours and ratio under the clear sky.
std::string level_line(const study::LightDrift& drift) {
    const study::MarkLight &start = drift.at_start, &end = drift.at_end;
    const light::Band air = drift.air_alone();
    std::string text = fmt::format("at the mark {} (air alone: {}){}; fill {}{}",
                                   level_range(start.key_lx, end.key_lx), words::spread(air),
                                   kelvin_range(start.key_kelvin, end.key_kelvin),
                                   words::fill_range(start.fill_lx.likely, end.fill_lx.likely),
                                   kelvin_range(start.fill_kelvin, end.fill_kelvin));
    if (start.key_to_fill_stops && end.key_to_fill_stops) {
        const auto ratio = [](const study::MarkLight& m) {
            return m.likely().ratio(light::RatioConvention::key_to_fill);
        };
        text += fmt::format(
            ": key to fill {} (key:fill {})",
            words::stops_over_fill(start.key_to_fill_stops->likely, end.key_to_fill_stops->likely),
            words::ratio(ratio(start), ratio(end)));
    }
    return text;
}

std::string drift_line(const study::LightDrift& drift) {
    std::string text = "over the hold: key " + signed_stops(drift.key_stops());
    if (const auto ratio = drift.ratio_stops())
        text += fmt::format(", key to fill {} stops", signed_stops(*ratio));
    else
        text += " stops";
    const auto mired = drift.key_mired();
    if (mired && std::abs(*mired) >= 0.5)
        text +=
            fmt::format(", {:.0f} mired {}", std::abs(*mired), *mired > 0 ? "warmer" : "cooler");
    return text;
}

/// Neutral density for the wanted stop, or what is missing.
std::string nd_text(const light::Band& start, const light::Band& end, const study::StopWish& wish) {
    const std::string stop = t_stop(wish.t_number);
    const double least = std::min(start.likely, end.likely);
    constexpr double sixth = 1.0 / 6;  // below it the nearest third is none
    if (least < -sixth) return fmt::format("; {:.1f} stops short of {}", -least, stop);
    const double a = std::max(0.0, start.likely), b = std::max(0.0, end.likely);
    std::string text = fmt::format("; {} with ND {} (density {})", stop, thirds_range(a, b),
                                   range(light::nd_density(a), light::nd_density(b), 1));
    const double low = std::min(start.low, end.low);
    text += low < -sixth ? fmt::format(", in hazier air {:.1f} stops short", -low)
                         : fmt::format(", in hazier air ND {}", thirds(std::max(0.0, low)));
    return text;
}

std::string patch_line(const study::KeyLight& light, const room::Room& room) {
    const auto &a = light.patch_at_start, &b = light.patch_at_end;
    if (!a || !b) return {};
    const std::string from = room::words(a->surface, room), to = room::words(b->surface, room);
    return fmt::format("patch on {} {} over an unlit wall",
                       from == to ? from : from + ", later " + to,
                       words::stops_over_fill(a->stops(), b->stops()));
}

/// "mean cloud 12 klx (about 5 stops)"
std::string case_text(std::string_view name, const study::LightDrift& d) {
    std::string text = fmt::format("{} {}", name, level_range(d.at_start.key_lx, d.at_end.key_lx));
    if (d.at_start.key_to_fill_stops && d.at_end.key_to_fill_stops)
        text += " (" +
                words::stops_over_fill(d.at_start.key_to_fill_stops->likely,
                                       d.at_end.key_to_fill_stops->likely) +
                ")";
    return text;
}

std::string case_line(const study::KeyLight& light) {
    return fmt::format("key (and key to fill) under {}; {}; with {}; a blackout leaves {}",
                       case_text("mean cloud", light.mean_cloud),
                       case_text("overcast", light.overcast),
                       case_text("a sheer in the window", light.with_sheer),
                       words::fill_range(light.with_blackout.at_start.fill_lx.likely,
                                         light.with_blackout.at_end.fill_lx.likely));
}

}  // namespace

std::string haze_text(const study::BeamInHaze& beam, site::Units units) {
    const double stops = beam.stops_over_side();
    std::string text =
        fmt::format("beam {:.0f} degrees off the lens, ", beam.off_axis.in_degrees());
    text += beam.in_frame_m > 0 ? words::rough_length(beam.in_frame_m, units) + " of it in frame, "
                                : "none of it in frame, ";
    text += fmt::format("{:.1f} stops {} a view square from its side", std::abs(stops),
                        stops >= 0 ? "over" : "under");
    if (beam.sun_in_lens) text += "; the SUN IS IN THE LENS";
    return text;
}

std::string level_in_brief(const study::LightDrift& drift) {
    const study::MarkLight &start = drift.at_start, &end = drift.at_end;
    std::string text = level_range(start.key_lx, end.key_lx) + " at the mark";
    if (start.key_to_fill_stops && end.key_to_fill_stops) {
        const double middle =
            std::exp2((start.key_to_fill_stops->likely + end.key_to_fill_stops->likely) / 2);
        text += ", key:fill " + words::ratio(middle, middle);
    }
    return text;
}

std::string meter_line(const study::LightDrift& drift, const study::CameraSetting& camera) {
    const light::Band start = drift.at_start.metered_lx(), end = drift.at_end.metered_lx();
    const auto ev = [&](double lx) {
        return light::ev_at_iso_100(lx, camera.exposure.meter_constant);
    };
    if (start.likely <= 0 || end.likely <= 0) return "meter: dark";
    std::string text = fmt::format("meter: EV {} at ISO 100",
                                   words::exposure_values(ev(start.likely), ev(end.likely)));
    if (!camera.is_given) return text;
    const std::string a = t_stop(light::t_number(start.likely, camera.exposure));
    const std::string b = t_stop(light::t_number(end.likely, camera.exposure));
    text += ", " + (a == b ? a : a + " to " + b);
    if (camera.wish)
        text += nd_text(study::stops_over(start, *camera.wish),
                        study::stops_over(end, *camera.wish), *camera.wish);
    return text;
}

std::vector<std::string> light_lines(const study::KeyLight& light,
                                     const study::CameraSetting& camera, const room::Room& room) {
    std::vector<std::string> lines{level_line(light.clear), drift_line(light.clear),
                                   meter_line(light.clear, camera)};
    if (auto patch = patch_line(light, room); !patch.empty()) lines.push_back(std::move(patch));
    lines.push_back(case_line(light));
    return lines;
}

std::vector<std::string> haze_lines(const study::KeyLight& light, const room::Room& room,
                                    site::Units units) {
    std::vector<std::string> lines;
    for (const study::BeamInHaze& beam : light.beams)
        lines.push_back(fmt::format("in haze, {}: {}",
                                    room.cameras[beam.camera].name == "camera"
                                        ? "camera"
                                        : "camera " + room.cameras[beam.camera].name,
                                    haze_text(beam, units)));
    return lines;
}

std::string camera_text(const study::CameraSetting& camera) {
    const light::Exposure& e = camera.exposure;
    std::string text = fmt::format(
        "camera: ISO {:g}, {:g} frames a second, shutter {:g} degrees "
        "(1/{:.0f} s); meter constant {:g} lx s",
        e.iso, e.fps, e.shutter_deg, 1 / light::exposure_time_s(e), e.meter_constant);
    if (camera.wish)
        text += fmt::format(". {} needs {} at the mark; {:.1f} stops less will do",
                            t_stop(camera.wish->t_number), words::level(camera.wish->level_lx()),
                            camera.wish->tolerance_stops);
    return text;
}

std::string meter_in_short(const study::LightDrift& drift, const study::CameraSetting& camera) {
    const double start = drift.at_start.with_key_lx(), end = drift.at_end.with_key_lx();
    if (camera.wish) {
        const double a = light::nd_stops(start, camera.wish->level_lx());
        const double b = light::nd_stops(end, camera.wish->level_lx());
        return "ND " + thirds_range(std::max(0.0, a), std::max(0.0, b));
    }
    const std::string a = t_stop(light::t_number(start, camera.exposure));
    const std::string b = t_stop(light::t_number(end, camera.exposure));
    return a == b ? a : a + " to " + b;
}

}  // namespace keyhour::tell
