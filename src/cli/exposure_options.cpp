#include "exposure_options.hpp"

#include <fmt/format.h>

#include <cmath>
#include <string_view>

#include "options.hpp"
#include "words/decimal.hpp"

namespace keyhour::cli {
namespace {

struct CameraLimits {
    const char* option;
    double above, most;  ///< above < value <= most
    const char* accepted;
};

constexpr double lowest_t = 0.5, highest_t = 64;
constexpr CameraLimits iso_limits{"--iso", 0, 1e6, "above 0, at most 1000000"};
constexpr CameraLimits fps_limits{"--fps", 0, 10000, "above 0, at most 10000 frames a second"};
constexpr CameraLimits shutter_limits{"--shutter", 0, 360, "above 0, at most 360 degrees"};

/// Takes over what is given.
std::optional<Failure> take(const std::optional<double>& given, const CameraLimits& limits,
                            double& value) {
    if (!given) return std::nullopt;
    if (!(*given > limits.above && *given <= limits.most))
        return Failure{wrong_usage, fmt::format("{} {:g}: accepted: {}", limits.option, *given,
                                                limits.accepted)};
    value = *given;
    return std::nullopt;
}

}  // namespace

std::optional<double> read_stop(const std::string& text) {
    std::string_view rest = text;
    if (!rest.empty() && (rest.front() == 'T' || rest.front() == 't')) {
        rest.remove_prefix(1);
        if (rest.starts_with(' ')) rest.remove_prefix(1);
    }
    double number = 0;
    const auto [end, error] = words::read_decimal(rest, number);
    if (error != std::errc{} || !std::isfinite(number)) return std::nullopt;
    rest.remove_prefix(static_cast<std::size_t>(end - rest.data()));
    constexpr double third = 1.0 / 6;  // of which six double the number
    if (rest == " 1/3") return number * std::exp2(third);
    if (rest == " 2/3") return number * std::exp2(2 * third);
    if (!rest.empty()) return std::nullopt;
    return number;
}

void ExposureOptions::offer(Options& command) {
    const auto option = [&](const char* name, auto& value, const char* type, const char* text) {
        command.add_option(name, value, text)->type_name(type);
    };
    option("--stop", stop, "T", "only holds bright enough for it: T4, \"T2.8 1/3\"");
    option("--iso", iso, "ISO", "of the camera (default: 800)");
    option("--fps", fps, "FPS", "frames a second (default: 25)");
    command.add_option("--shutter", shutter_deg, "angle, or a time such as 1/50 (default: 180)")
        ->type_name("DEG")
        ->also([this](const std::string& text) { return exposure_time(text); });
    option("--tolerance", tolerance_stops, "STOPS",
           "so far under it the level may lie (default: 1/3)");
    option("--meter-constant", meter_constant, "C",
           "of an incident meter, ISO 2720 (default: 250)");
}

std::optional<double> ExposureOptions::exposure_time(const std::string& text) {
    std::string_view rest = text;
    if (!rest.starts_with("1/")) return std::nullopt;
    rest.remove_prefix(2);
    if (rest.ends_with('s')) rest.remove_suffix(1);
    while (rest.ends_with(' '))
        rest.remove_suffix(1);
    double part = 0;
    const auto [end, error] = words::read_decimal(rest, part, words::Notation::without_exponent);
    if (error != std::errc{} || end != rest.data() + rest.size() || !(part > 0))
        return std::nullopt;
    shutter_part = part;
    return shutter_limits.most;  // the angle is known once the frames are
}

bool ExposureOptions::is_given() const {
    return !stop.empty() || iso || fps || shutter_deg || meter_constant || tolerance_stops;
}

Answer<study::CameraSetting> ExposureOptions::read() const {
    study::CameraSetting out;
    // A constant alone changes EV at ISO 100, and says nothing about a camera.
    out.is_given = !stop.empty() || iso || fps || shutter_deg;
    light::Exposure& exposure = out.exposure;
    if (auto failure = take(iso, iso_limits, exposure.iso)) return tl::unexpected{*failure};
    if (auto failure = take(fps, fps_limits, exposure.fps)) return tl::unexpected{*failure};
    if (shutter_part) {
        exposure.shutter_deg = shutter_limits.most * exposure.fps / *shutter_part;
        if (exposure.shutter_deg > shutter_limits.most)
            return usage_failure(fmt::format(
                "--shutter 1/{:g}: longer than a frame at {:g} a second; accepted: 1/{:g} or "
                "shorter",
                *shutter_part, exposure.fps, exposure.fps));
    } else if (auto failure = take(shutter_deg, shutter_limits, exposure.shutter_deg)) {
        return tl::unexpected{*failure};
    }
    if (meter_constant && !(*meter_constant >= 240 && *meter_constant <= 540))
        return usage_failure(
            fmt::format("--meter-constant {:g}: accepted: 240 to 540 lx s (flat receptors 240 to "
                        "400, domes 320 to 540)",
                        *meter_constant));
    if (meter_constant) exposure.meter_constant = *meter_constant;
    if (tolerance_stops && stop.empty()) return usage_failure("--tolerance goes with --stop");
    if (tolerance_stops && !(*tolerance_stops >= 0 && *tolerance_stops <= 10))
        return usage_failure(
            fmt::format("--tolerance {:g}: accepted: 0 to 10 stops", *tolerance_stops));
    if (stop.empty()) return out;
    const auto number = read_stop(stop);
    if (!number || !(*number >= lowest_t && *number <= highest_t))
        return usage_failure(
            fmt::format("--stop \"{}\": accepted: T0.5 to T64, as T4 or \"T2.8 1/3\"", stop));
    out.wish = study::StopWish{exposure, *number};
    if (tolerance_stops) out.wish->tolerance_stops = *tolerance_stops;
    return out;
}

}  // namespace keyhour::cli
