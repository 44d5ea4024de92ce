#include "tell/spot_hours.hpp"

#include <fmt/format.h>

#include <cmath>

#include "keyhour/site/compass.hpp"
#include "keyhour/site/dates.hpp"
#include "tell/document.hpp"
#include "words/clock.hpp"
#include "words/length.hpp"
#include "words/names.hpp"

namespace keyhour::tell {
namespace {

std::string clock(Instant t, const site::Zone& zone) {
    return site::whole_minutes(words::nearest_minute(t), zone);
}

std::string side_cell(const study::SpotInstant& now, bool wall) {
    if (!now.lit) return "shade";
    const double a = now.key_angle.in_degrees();
    const char* hand = std::abs(a) < 10 || std::abs(a) > 170 ? "" : a > 0 ? " left" : " right";
    std::string text = std::string{words::name(now.side)} + hand + (now.in_frame ? "*" : "");
    if (wall && now.incidence && now.incidence->in_degrees() < 90)
        text += fmt::format(" w{:.0f}", now.incidence->in_degrees());
    return text;
}

/// "0.3", "12", "110": kilolux.
std::string kilolux(double lx) {
    const double k = lx / 1000;
    return k < 9.95 ? fmt::format("{:.1f}", k) : fmt::format("{:.0f}", k);
}

std::string sun_cell(const study::SpotInstant& now) {
    if (!now.lit) return "--";
    const light::Band& band = now.sky.direct_normal_lx;
    const std::string low = kilolux(now.through_trees * band.low),
                      high = kilolux(now.through_trees * band.high);
    return (low == high ? low : low + "-" + high) + (now.through_trees < 1 ? "t" : "");
}

std::string fall_cell(const std::optional<study::Fall>& fall) {
    if (!fall) return "--";
    const auto one = [](double stops) {
        const std::string text = fmt::format("{:.1f}", stops);
        return text == "-0.0" ? std::string{"0.0"} : text;
    };
    const std::string low = one(fall->low), high = one(fall->high);
    return low == high ? low : low + " to " + high;
}

std::string moon_words(const study::MoonSight& m) {
    return m.hidden ? std::string{"not in sight"}
                    : fmt::format("{:.0f} degrees high in the {}, {:.2g} lx",
                                  m.position.apparent_altitude.above_horizon.in_degrees(),
                                  site::compass_letters(m.position.azimuth), m.level_lx);
}

/// Lengths without their unit where it stands in the head.
std::string shadow_cell(double m, site::Units units) {
    std::string text = words::rough_length(m, units);
    if (units == site::Units::metres) text.resize(text.size() - 2);
    return text;
}

struct Widths {
    int light, shadow;
};

std::string row(const study::SpotInstant& now, const site::Zone& zone, site::Units units,
                const Widths& width, bool wall) {
    const auto shadow = [&](double study::Shadow::*m) {
        return now.shadow ? shadow_cell((*now.shadow).*m, units) : std::string{"--"};
    };
    return fmt::format("{:<6}{:>3.0f}  {:<8}{:<{}}{:<{}}{:<{}}{:<4}{:<9}{:<5}{}",
                       site::whole_minutes(now.at, zone),
                       now.sun.apparent_altitude.above_horizon.in_degrees(),
                       fmt::format("{:03.0f} {}", rounded_turn(now.sun.azimuth.from_north, 0),
                                   site::compass_letters(now.sun.azimuth)),
                       side_cell(now, wall), width.light, shadow(&study::Shadow::person_m),
                       width.shadow, shadow(&study::Shadow::stand_m), width.shadow,
                       now.shadow ? site::compass_letters(now.shadow->toward) : "--", sun_cell(now),
                       kilolux(now.sky.diffuse_horizontal_lx.likely),
                       fall_cell(now.lit ? now.direct_fall : now.sky_fall));
}

}  // namespace

Paragraphs spot_hours(const SpotAnswer& answer, const ExteriorQuestion& q) {
    constexpr std::size_t after = 6;
    if (answer.rows.empty()) return {};
    const site::Zone& zone = q.location.site.zone;
    const bool wall = answer.light.spot().facade_faces.has_value(),
               feet = q.recce.units == site::Units::feet;
    // Feet and inches up to 9' 11", from there whole feet.
    const Widths width{wall ? 17 : 13, feet ? 7 : 6};
    const std::string of =
        fmt::format("shadows of {} and {}", words::length(q.settings.person_m, q.recce.units, 1),
                    words::length(q.settings.stand_m, q.recce.units, 1));
    Paragraphs out;
    out.push_back(
        {fmt::format("levels: clear air, low to high, klx; {}{}", of, feet ? "" : ", in metres"), 0,
         2});
    out.push_back({fmt::format("{:<6}{:>3}  {:<8}{:<{}}{:<{}}{:<4}{:<9}{:<5}{}", "time", "sun",
                               "towards", wall ? "light, wall" : "light", width.light, "shadows",
                               2 * width.shadow, "to", "sun klx", "sky", "in 10'"),
                   0, after});
    for (const study::SpotInstant& now : answer.rows)
        out.push_back({row(now, zone, q.recce.units, width, wall), 0, after});
    for (const study::SpotInstant& now : answer.rows)
        if (now.sun.true_altitude <= sun::rise_altitude)
            out.push_back({fmt::format("{}: moon {}", clock(now.at, zone), moon_words(now.moon))});
    return out;
}

std::string moon_line(const study::SpotDay& day, const site::Zone& zone) {
    if (day.moon_sights.empty()) return {};
    const study::MoonSight& first = day.moon_sights.front();
    std::string text = fmt::format("moon {:.0f} % lit, {}", 100 * first.illuminated_fraction,
                                   first.waxing ? "waxing" : "waning");
    for (const sun::Crossing& c : day.moon_rise_and_set)
        text += fmt::format(", {} {}", c.upward ? "rises" : "sets", clock(c.at, zone));
    if (day.moon == sun::Side::always_above) text += ", up all day";
    if (day.moon == sun::Side::always_below) text += ", down all day";
    for (const study::MoonSight& m : day.moon_sights) {
        const bool midnight = &m == &day.moon_sights.back();
        const std::string when = midnight ? std::string{"24:00"} : clock(m.at, zone);
        text += fmt::format("; {} {}", when, moon_words(m));
    }
    return text;
}

}  // namespace keyhour::tell
