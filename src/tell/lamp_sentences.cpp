#include "tell/lamp_sentences.hpp"

#include <fmt/format.h>

#include <cmath>

#include "keyhour/light/lighting_ratio.hpp"
#include "words/length.hpp"
#include "words/levels.hpp"

namespace keyhour::tell {
namespace {

std::string patch_text(const study::LampReport& report, const room::Room& room, site::Units units) {
    std::string text;
    const auto add = [&](const room::Patch& p, const std::string& surface) {
        text +=
            fmt::format("{}{} {}, soft edge {}", text.empty() ? "patch: " : "; ", surface,
                        words::area(p.area_m2, units), words::small_length(p.edge_width_m, units));
    };
    for (const room::Patch& p : report.light->patches)
        add(p, room::words(p.surface, room));
    if (report.light->on_ceiling) add(*report.light->on_ceiling, "ceiling");
    return text.empty() ? "patch: none" : text;
}

std::string ratio_text(const study::LampReport& report) {
    const light::KeyAndFill& v = report.levels;
    using enum light::RatioConvention;
    const auto ratio = [&](light::RatioConvention convention) {
        return words::ratio(v.ratio(convention), v.ratio(convention));
    };
    return fmt::format("key {} to fill {}: {} (key:fill {}; key plus fill:fill {})",
                       words::level(v.key_lx), words::fill_level(v.fill_lx),
                       words::stops_over_fill(v.stops(key_to_fill), v.stops(key_to_fill)),
                       ratio(key_to_fill), ratio(key_plus_fill_to_fill));
}

std::string colour_text(const study::LampReport& report, const site::Lamp& lamp) {
    std::string text = fmt::format("{:g} K", lamp.kelvin);
    if (report.mired_from_sun)
        text += fmt::format("; that sun {:.0f} K: the lamp is {:.0f} mired {}",
                            std::round(*report.sun->kelvin / 100) * 100,
                            std::abs(*report.mired_from_sun),
                            *report.mired_from_sun > 0 ? "warmer" : "cooler");
    return text;
}

}  // namespace

std::string stand_length(const study::StandAnswer& stand, double metres, site::Units units) {
    return stand.wanted.is_reachable() ? words::placed_length(metres, units)
                                       : words::rough_length(metres, units);
}

std::string beside_window_in_brief(const study::StandAnswer& stand, site::Units units) {
    const study::StandPlace& place = *stand.place();
    if (std::abs(place.along_wall_m) < 0.005)
        return stand_length(stand, place.off_wall_m, units) +
               " off the wall before the window's middle";
    return fmt::format("{} off the wall, {} {} of the window's middle",
                       stand_length(stand, place.off_wall_m, units),
                       stand_length(stand, std::abs(place.along_wall_m), units),
                       place.along_wall_m > 0 ? "right" : "left");
}

std::string traded(const study::StandAnswer& stand, site::Units units) {
    const std::string is = words::rough_length(stand.nearest->distance_m, units),
                      wanted = words::rough_length(stand.wanted.distance_m, units);
    std::string text = fmt::format("{:.0f} degrees off that direction", stand.nearest_off_deg);
    if (stand.nearest_off_deg < 0.5) text = "in that direction";
    return is == wanted ? text : text + fmt::format(" and {} from the mark, not {}", is, wanted);
}

std::string stand_doubt_words(const study::StandDoubt& doubt, site::Units units) {
    const auto least = static_cast<int>(std::floor(100 * doubt.least_coverage)),
               most = static_cast<int>(std::floor(100 * doubt.most_coverage));
    const std::string lit =
        least == most ? std::to_string(least) : fmt::format("{} to {}", least, most);
    return fmt::format("with the stand {} off, any way: mark lit {} %, {} to {}",
                       words::length(doubt.within_m, units), lit, words::level(doubt.least_lx),
                       words::level(doubt.most_lx));
}

std::string aim_in_brief(const study::LampLight& light) {
    const double pan = light.pan.in_degrees(), tilt = light.tilt.in_degrees();
    std::string text = fmt::format("tilt {:.0f} {}", std::abs(tilt), tilt < 0 ? "down" : "up");
    if (std::abs(pan) < 0.5) return text + ", square to the wall";
    return text + fmt::format(", pan {:.0f} {}", std::abs(pan), pan > 0 ? "right" : "left");
}

std::string against(const study::StandPlace& place, const room::Room& room, const site::Lamp& lamp,
                    site::Units units) {
    std::string text;
    for (const study::Obstacle& o : place.obstacles) {
        if (!text.empty()) text += "; ";
        if (o.what == study::Hindrance::above_stand && units == site::Units::feet)
            text += "the stand goes to " + words::length(lamp.stand_max_m.value_or(0), units);
        else
            text += study::words(o, room, lamp);
    }
    return text;
}

std::string beside_the_sun(const study::SunDifference& d, const room::Room& room,
                           site::Units units) {
    std::string text =
        fmt::format("its patch on {} is {:.1f} times as wide as the sun's ({}, not {})",
                    room::words(d.surface, room), d.growth, words::area(d.lamp_m2, units),
                    words::area(d.sun_m2, units));
    if (d.centroid_apart_m)
        text += fmt::format(", soft edge {}, not {}", words::small_length(d.lamp_edge_m, units),
                            words::small_length(d.sun_edge_m, units));
    return text;
}

std::vector<std::string> lamp_light_lines(const study::LampReport& report,
                                          const study::LampQuestion& question,
                                          const room::Room& room, const site::Lamp& lamp,
                                          site::Units units) {
    const study::LampLight& l = *report.light;
    std::vector<std::string> lines{patch_text(report, room, units)};
    if (report.difference) {
        const study::SunDifference& d = *report.difference;
        const std::string no = against(d.alike, room, lamp, units);
        if (d.centroid_apart_m)
            lines.push_back("the middles of its patch and the sun's lie " +
                            words::length(*d.centroid_apart_m, units) + " apart");
        lines.push_back(
            fmt::format("at most {:.0f} % wider from {} to the mark on{}",
                        100 * question.alike_share, words::placed_length(d.alike_from_m, units),
                        no.empty() ? ", which can be reached" : ": not from there, " + no));
    }
    std::string level =
        fmt::format("bare {}; glass passes {:.2f} at {:.0f} degrees", words::level(l.bare_lx),
                    l.transmittance, l.incidence.in_degrees());
    if (report.sun && report.sun->direct_lx > 0)
        level += "; that sun " + words::rough_level(report.sun->direct_lx);
    lines.push_back(level);
    lines.push_back(fmt::format(
        "the level falls by {:.2f} stop across the mark and {:.1f} from there to what is behind it "
        "(the sun: none); its rays spread by {:.1f} degrees across the mark",
        l.fall_off_across_mark_stops, l.fall_off_to_wall_stops, l.spread_across_mark.in_degrees()));
    lines.push_back(
        fmt::format("the room gives back {} of the lamp's", words::fill_level(l.given_back_lx)));
    if (report.levels.key_lx > 0 && report.levels.fill_lx > 0) lines.push_back(ratio_text(report));
    lines.push_back(colour_text(report, lamp));
    return lines;
}

std::vector<std::string> fill_lines(const study::LampReport& report,
                                    const study::WantedFill& wanted, const site::Lamp& lamp,
                                    const room::Room& room, site::Units units) {
    const std::string head = fmt::format("{} for {:g}:1, {}: ", lamp.name, wanted.ratio,
                                         light::words(wanted.convention));
    if (!report.fill) return {head + "there is no key to fill"};
    const study::FillAnswer& f = *report.fill;
    if (f.lamp_lx <= 0)
        return {head + fmt::format("not needed, the room gives {} and {} is wanted",
                                   words::rough_level(report.levels.fill_lx),
                                   words::level(f.wanted_fill_lx))};
    std::vector<std::string> lines;
    lines.push_back(
        head +
        (f.distance_m
             ? words::length(*f.distance_m, units) + " from the mark, aimed at it" +
                   (*f.distance_m > f.farthest_m ? ", farther than the room is deep: dim it" : "")
             : std::string{"it is not as bright at any distance"}) +
        fmt::format(": {} beside the {} that the room gives", words::level(f.lamp_lx),
                    words::rough_level(report.levels.fill_lx)));
    if (!f.placed_m) return lines;
    std::string text = fmt::format("from its place, {} off: ", words::length(*f.placed_m, units));
    if (f.blocked)
        text += room::words(*f.blocked, room) + " stands between";
    else if (f.placed_dim_stops && *f.placed_dim_stops >= 0)
        text += fmt::format("{}, dim it by {:.1f} stops", words::level(*f.placed_lx),
                            *f.placed_dim_stops);
    else
        text += fmt::format("{}, {:.1f} stops too little", words::level(*f.placed_lx),
                            -f.placed_dim_stops.value_or(0));
    lines.push_back(text);
    return lines;
}

}  // namespace keyhour::tell
