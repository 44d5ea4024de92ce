#include "light_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace keyhour::cli {
namespace {

constexpr double kilo = 1000;

double two_digits(double value) {
    if (value <= 0) return 0;
    const double unit = std::pow(10, std::floor(std::log10(value)) - 1);
    return std::round(value / unit) * unit;
}

std::string number(double value) {
    if (value > 0 && value < 1) return fmt::format("{:.2g}", value);
    return fmt::format("{:.{}f}", value, value < 10 && value > 0 ? 1 : 0);
}

std::string kelvin_range(const std::optional<double>& from, const std::optional<double>& to) {
    if (!from || !to) return {};
    constexpr double step = 100;  // finer is not seen, nor known
    const double a = std::round(*from / step) * step, b = std::round(*to / step) * step;
    return a == b ? fmt::format(", {:.0f} K", a) : fmt::format(", {:.0f} to {:.0f} K", a, b);
}

std::string range(double from, double to, int decimals) {
    const std::string a = fmt::format("{:.{}f}", from, decimals);
    const std::string b = fmt::format("{:.{}f}", to, decimals);
    return a == b ? a : a + " to " + b;
}

std::string signed_stops(double stops) {
    // What rounds to nothing has no sign.
    const double tenths = std::round(10 * stops) / 10;
    return tenths == 0 ? "0.0" : fmt::format("{:+.1f}", tenths);
}

std::string thirds_range(double from, double to) {
    const std::string a = thirds_text(from), b = thirds_text(to);
    return a == b ? a : a + " to " + b;
}

/// Levels, colours and ratio under the clear sky.
std::string level_line(const study::LightDrift& drift) {
    const study::MarkLight &start = drift.at_start, &end = drift.at_end;
    const light::Band air = drift.air_alone();
    std::string text =
        fmt::format("at the mark {} (air alone: {}){}; fill {}{}",
                    level_range(start.key_lx.likely, end.key_lx.likely),
                    level_range(air.low, air.high), kelvin_range(start.key_kelvin, end.key_kelvin),
                    level_range(start.fill_lx.likely, end.fill_lx.likely),
                    kelvin_range(start.fill_kelvin, end.fill_kelvin));
    if (start.key_to_fill_stops && end.key_to_fill_stops) {
        const auto ratio = [](const study::MarkLight& m) {
            return two_digits(m.likely().ratio(light::RatioConvention::key_to_fill));
        };
        text +=
            fmt::format(": key to fill {} stops (key:fill {}:1)",
                        range(start.key_to_fill_stops->likely, end.key_to_fill_stops->likely, 1),
                        range(ratio(start), ratio(end), 0));
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
    const std::string stop = t_stop_text(wish.t_number);
    const double least = std::min(start.likely, end.likely);
    constexpr double sixth = 1.0 / 6;  // below it the nearest third is none
    if (least < -sixth) return fmt::format("; {:.1f} stops short of {}", -least, stop);
    const double a = std::max(0.0, start.likely), b = std::max(0.0, end.likely);
    std::string text = fmt::format("; {} with ND {} (density {})", stop, thirds_range(a, b),
                                   range(light::nd_density(a), light::nd_density(b), 1));
    const double low = std::min(start.low, end.low);
    text += low < -sixth ? fmt::format(", in hazier air {:.1f} stops short", -low)
                         : fmt::format(", in hazier air ND {}", thirds_text(std::max(0.0, low)));
    return text;
}

std::string meter_line(const study::LightDrift& drift, const study::CameraSetting& camera) {
    const light::Band start = drift.at_start.metered_lx(), end = drift.at_end.metered_lx();
    const auto ev = [&](double lx) {
        return light::ev_at_iso_100(lx, camera.exposure.meter_constant);
    };
    if (start.likely <= 0 || end.likely <= 0) return "meter: dark";
    std::string text =
        fmt::format("meter: EV {} at ISO 100", range(ev(start.likely), ev(end.likely), 1));
    if (!camera.is_given) return text;
    const std::string a = t_stop_text(light::t_number(start.likely, camera.exposure));
    const std::string b = t_stop_text(light::t_number(end.likely, camera.exposure));
    text += ", " + (a == b ? a : a + " to " + b);
    if (camera.wish)
        text += nd_text(study::stops_over(start, *camera.wish),
                        study::stops_over(end, *camera.wish), *camera.wish);
    return text;
}

std::string patch_line(const study::KeyLight& light, const room::Room& room) {
    const auto &a = light.patch_at_start, &b = light.patch_at_end;
    if (!a || !b) return {};
    const std::string from = room::words(a->surface, room), to = room::words(b->surface, room);
    return fmt::format("patch on {} {} stops over an unlit wall",
                       from == to ? from : from + ", later " + to,
                       range(a->stops(), b->stops(), 1));
}

/// "mean cloud 12 klx, key to fill 5.1 stops"
std::string case_text(std::string_view name, const study::LightDrift& d) {
    std::string text =
        fmt::format("{} {}", name, level_range(d.at_start.key_lx.likely, d.at_end.key_lx.likely));
    if (d.at_start.key_to_fill_stops && d.at_end.key_to_fill_stops)
        text += fmt::format(" ({} stops)", range(d.at_start.key_to_fill_stops->likely,
                                                 d.at_end.key_to_fill_stops->likely, 1));
    return text;
}

std::string case_line(const study::KeyLight& light) {
    return fmt::format("key (and key to fill) under {}; {}; with {}; a blackout leaves {}",
                       case_text("mean cloud", light.mean_cloud),
                       case_text("overcast", light.overcast),
                       case_text("a sheer in the window", light.with_sheer),
                       level_range(light.with_blackout.at_start.fill_lx.likely,
                                   light.with_blackout.at_end.fill_lx.likely));
}

}  // namespace

std::string level_text(double lx) {
    const double rounded = two_digits(lx);
    return rounded >= kilo ? number(rounded / kilo) + " klx" : number(rounded) + " lx";
}

std::string level_range(double from, double to) {
    const double a = two_digits(from), b = two_digits(to);
    if (a == b) return level_text(from);
    if (std::max(a, b) >= kilo && std::min(a, b) < kilo / 10)
        return level_text(from) + " to " + level_text(to);
    const bool in_klx = std::max(a, b) >= kilo;
    const double unit = in_klx ? kilo : 1;
    return fmt::format("{} to {} {}", number(a / unit), number(b / unit), in_klx ? "klx" : "lx");
}

std::string thirds_text(double stops) {
    const long thirds = std::lround(3 * stops), whole = thirds / 3, rest = thirds % 3;
    if (rest == 0) return fmt::format("{}", whole);
    const char* part = rest == 1 ? "1/3" : "2/3";
    return whole == 0 ? part : fmt::format("{} {}", whole, part);
}

std::string t_stop_text(double t_number) {
    return std::string{light::TStopText{light::nearest_t_stop(t_number)}.view()};
}

std::string haze_text(const study::BeamInHaze& beam) {
    const double stops = beam.stops_over_side();
    std::string text =
        fmt::format("beam {:.0f} degrees off the lens, ", beam.off_axis.in_degrees());
    text += beam.in_frame_m > 0 ? fmt::format("{:.1f} m of it in frame, ", beam.in_frame_m)
                                : "none of it in frame, ";
    text += fmt::format("{:.1f} stops {} a view square from its side", std::abs(stops),
                        stops >= 0 ? "over" : "under");
    if (beam.sun_in_lens) text += "; the SUN IS IN THE LENS";
    return text;
}

std::vector<std::string> light_lines(const study::KeyLight& light,
                                     const study::CameraSetting& camera, const room::Room& room) {
    std::vector<std::string> lines{level_line(light.clear), drift_line(light.clear),
                                   meter_line(light.clear, camera)};
    if (auto patch = patch_line(light, room); !patch.empty()) lines.push_back(std::move(patch));
    lines.push_back(case_line(light));
    for (const study::BeamInHaze& beam : light.beams)
        lines.push_back(fmt::format("in haze, {}: {}",
                                    room.cameras[beam.camera].name == "camera"
                                        ? "camera"
                                        : "camera " + room.cameras[beam.camera].name,
                                    haze_text(beam)));
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
                            t_stop_text(camera.wish->t_number), level_text(camera.wish->level_lx()),
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
    const std::string a = t_stop_text(light::t_number(start, camera.exposure));
    const std::string b = t_stop_text(light::t_number(end, camera.exposure));
    return a == b ? a : a + " to " + b;
}

}  // namespace keyhour::cli
