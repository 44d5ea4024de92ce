#include "tell/key_sentences.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "keyhour/site/dates.hpp"
#include "words/clock.hpp"

namespace keyhour::tell {

std::string who(const room::Room& room, std::size_t window, std::size_t mark,
                const std::optional<std::size_t>& camera) {
    std::string text = fmt::format("{} on {}", room.windows[window].name, room.marks[mark].name);
    if (!camera) return text + ", no camera";
    const std::string& name = room.cameras[*camera].name;
    text += name == "camera" ? ", camera" : ", camera " + name;
    return text;
}

std::string who_in_short(const room::Room& room, const study::KeyInterval& key) {
    std::string text =
        fmt::format("{} on {}", room.windows[key.window].name, room.marks[key.mark].name);
    if (key.camera) text += fmt::format(" ({})", room.cameras[*key.camera].name);
    return text;
}

std::string edges(const room::LimitingEdge& begins, const room::LimitingEdge& ends,
                  const room::Room& room) {
    const auto said = [&](const room::LimitingEdge& edge) {
        return edge.kind == room::Edge::none ? std::string{"the hours asked for"}
                                             : room::words(edge, room);
    };
    return fmt::format("begins by {}, ends by {}", said(begins), said(ends));
}

std::string band(const std::optional<study::Span>& sure, const study::Span& possible,
                 const site::Zone& zone) {
    return fmt::format("at any bearing {}, at some {}",
                       sure ? words::span_inward(*sure, zone) : std::string{"never"},
                       words::clock_outward(possible, zone));
}

std::string covers(const std::vector<study::CoverSpan>& list, site::LocalDate date,
                   const room::Room& room, const site::Zone& zone) {
    if (list.empty()) return "nothing to cover";
    std::string text = "to cover: ";
    for (const study::CoverSpan& c : list) {
        const site::LocalDate day = site::local_date(c.from, zone);
        text += fmt::format("{}{} {}{}", &c == list.data() ? "" : "; ", room.windows[c.window].name,
                            day == date ? "" : words::short_date(day) + " ",
                            words::clock_outward({c.from, c.to, false, false}, zone));
    }
    return text;
}

std::string told_span(const study::Span& span, const site::Zone& zone) {
    const study::Span held = words::held_minutes(span);
    const std::string clock = words::clock_span(held.from, held.to, zone);
    const std::string offsets = words::offsets_over(span.from, span.to, zone);
    const Instant noon = zone.start_of(site::local_date(span.from, zone)) + Seconds{43200};
    return offsets == words::offset_at(noon, zone) ? clock : fmt::format("{} ({})", clock, offsets);
}

namespace {

struct Figure {
    std::string value, wanted;  ///< "74" and " for 70"; nothing is wanted of one that is met
};

/// As few decimals as tell it from what is wanted: never "70 for 70".
/// @param value  a share in percent, which is rounded down
Figure figure(double value, study::Shortfall::Of of, const study::NearestMiss& miss) {
    const bool is_share = of == study::Shortfall::Of::coverage;
    const auto rounded = [&](double power) {
        return (is_share ? std::floor(value * power) : std::round(value * power)) / power;
    };
    const auto lacks = std::ranges::find(miss.shortfalls, of, &study::Shortfall::of);
    if (lacks == miss.shortfalls.end()) return {fmt::format("{:.0f}", rounded(1)), {}};
    const double wanted = lacks->wanted * (is_share ? 100 : 1);
    int decimals = 0;
    while (decimals < 3 && rounded(std::pow(10, decimals)) == wanted)
        ++decimals;
    return {fmt::format("{:.{}f}", rounded(std::pow(10, decimals)), decimals),
            fmt::format(" for {:g}", wanted)};
}

}  // namespace

std::string miss_figures(const study::NearestMiss& miss) {
    using Of = study::Shortfall::Of;
    const Figure lit = figure(100 * miss.coverage, Of::coverage, miss);
    std::string text =
        miss.coverage > 0 ? lit.value + " % lit" + lit.wanted + ", " : "mark not lit, ";
    const Figure sun = figure(miss.altitude_deg, Of::altitude, miss);
    text += "sun " + sun.value + " high" + sun.wanted;
    if (miss.key_angle_deg) {
        const Figure angle = figure(*miss.key_angle_deg, Of::key_angle, miss);
        text += ", key angle " + angle.value + angle.wanted;
    }
    return text;
}

std::string miss_in_words(const study::NearestMiss& miss, const room::Room& room,
                          const site::Zone& zone, bool with_date) {
    std::string text = who(room, miss.window, miss.mark, miss.camera);
    if (!miss.at) return text + ": " + miss.reason;
    text += with_date
                ? fmt::format(
                      " on {} at {} ({}): ", words::short_date(site::local_date(*miss.at, zone)),
                      site::whole_minutes(*miss.at, zone), words::offset_at(*miss.at, zone))
                : fmt::format(" at {}: ", site::whole_minutes(*miss.at, zone));
    text += miss.reason + "; " + miss_figures(miss);
    if (miss.centre)
        text += fmt::format("; the mark's centre alone would hold {}",
                            words::in_minutes(words::promised_length(*miss.centre)));
    return text;
}

std::string remedy(const study::NearestMiss& miss, const room::Room& room) {
    using room::Edge;
    if (!miss.at) return "another window or date; check that the bearing was read looking out";
    switch (miss.edge.kind) {
        case Edge::head:
            return "the mark nearer to the window or lower, or a date with a lower sun";
        case Edge::sill:
            return "the mark higher or farther from the window, or a date with a higher sun";
        case Edge::left_jamb:
            return "the mark to the right (looking at the window), or another hour or date";
        case Edge::right_jamb:
            return "the mark to the left (looking at the window), or another hour or date";
        case Edge::bar:
            return "--coverage, if stripes of the glazing bars may show";
        case Edge::object:
            return room::words(miss.edge, room) + " out of the way";
        case Edge::key_angle:
            return "the camera, or --key-angle";
        case Edge::altitude:
            return "another date, or --altitude";
        case Edge::frame:
            return "where the camera stands or looks";
        case Edge::cover:
            return "cover " + room.windows[miss.edge.index].name + " (leave out --as-is)";
        default:
            break;
    }
    return "another window, mark or date";
}

const study::NearestMiss* nearest(const std::vector<study::NearestMiss>& misses) {
    const auto best = std::min_element(misses.begin(), misses.end(), study::is_nearer);
    return best == misses.end() ? nullptr : &*best;
}

}  // namespace keyhour::tell
