#include "lamp_key_sentences.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "keyhour/site/dates.hpp"
#include "lamp_sentences.hpp"
#include "words/clock.hpp"
#include "words/length.hpp"
#include "words/levels.hpp"

namespace keyhour::tell {
namespace {

const site::Zone& zone_of(const LampKey& key) {
    return key.study.location().site.zone;
}

const site::Lamp* lamp_of(const LampKey& key) {
    const auto& lamp = key.planned.question.lamp;
    return lamp ? &key.study.location().lamps[lamp->lamp] : nullptr;
}

const std::string& window_name(const LampKey& key, std::size_t window) {
    return key.study.room().windows[window].name;
}

std::string lock_words(const LampKey& key) {
    const study::LampDay& day = key.planned.day;
    const std::string through = window_name(key, key.planned.question.window);
    if (!day.lock)
        return fmt::format("no lock of {}: the hours of this date, {}, are shorter",
                           words::in_minutes(key.planned.question.lock),
                           words::span_in_words(day.within, zone_of(key)));
    std::string text =
        fmt::format("lock {} ({})", words::clock_nearest(day.lock->lock, zone_of(key)),
                    words::in_minutes(words::clock_length(day.lock->lock)));
    if (!day.span)
        return text + ": SUN COMES THROUGH THE KEY WINDOW " + through + " while it lasts";
    text += fmt::format("; no sun through {} {}", through,
                        words::clock_inward(*day.span->span, zone_of(key)));
    if (day.is_sure()) return text + ", at any bearing for the whole lock";
    return text + (day.span->sure
                       ? ", at any bearing " + words::clock_inward(*day.span->sure, zone_of(key))
                       : std::string{", no part of it at every bearing within the doubt"});
}

std::string cloth_words(const LampKey& key) {
    std::string text;
    for (const study::ClothToHang& c : key.planned.day.cloth)
        text += fmt::format(
            "{}{}, cloth {}, by {}", text.empty() ? "cover " : "; ", window_name(key, c.window),
            words::size(c.cloth.width_m, c.cloth.height_m, key.units, words::Rounding::up),
            words::minute_down(c.needed_by, zone_of(key)));
    return text.empty() ? "no other open window lets sun in" : text;
}

/// Sun through the key window, which no cloth may stop.
std::string leak_words(const LampKey& key) {
    std::vector<study::Span> spans;
    for (const study::Leak& leak : key.planned.day.lock->leaks) {
        if (leak.window != key.planned.question.window) continue;
        if (!spans.empty() && leak.possible.from <= spans.back().to)
            spans.back().to = std::max(spans.back().to, leak.possible.to);
        else
            spans.push_back(leak.possible);
    }
    std::string times;
    for (const study::Span& span : spans)
        times += (times.empty() ? "" : ", ") + words::clock_outward(span, zone_of(key));
    return times.empty() ? "" : "sun may come through the key window itself " + times;
}

/// Sun on the cloth of a sheer.
std::string sheer_words(const LampKey& key) {
    std::string text;
    for (const study::LitSheer& lit : key.planned.day.lock->lit_sheers)
        text +=
            fmt::format("{}{} {}", text.empty() ? "sun on a sheer changes the level: " : ", ",
                        window_name(key, lit.window), words::clock_outward(lit.span, zone_of(key)));
    return text.empty() ? text : text + "; black it out if that shows";
}

std::string ratio_at(const study::LampHour& hour) {
    const double ratio = std::exp2(hour.key_to_fill_stops);
    return words::ratio(ratio, ratio);
}

/// Key to fill at both ends, and what moves it.
std::string daylight_words(const LampKey& key) {
    const study::LampDay& day = key.planned.day;
    if (!day.move) return {};
    const auto at = [&](const study::LampHour& hour) {
        return ratio_at(hour) + " at " + site::whole_minutes(hour.at, zone_of(key));
    };
    return fmt::format(
        "key:fill {}, {}; daylight moves the key by {:.1f} stops over the lock, its ratio by "
        "{:.1f}",
        at(day.hours.front()), at(day.hours.back()), day.move->key_stops, day.move->ratio_stops);
}

/// The lamp through a window that is not the key's.
std::string enters_words(const LampKey& key, const study::AlsoEnters& in) {
    const std::string text =
        fmt::format("the lamp also enters {}, {} there: ", window_name(key, in.window),
                    words::level(in.level_lx));
    switch (key.study.room().windows[in.window].cover) {
        case room::Cover::blackout:
            return text + "its blackout keeps it out";
        case room::Cover::sheer:
            return text + "its sheer scatters it";
        case room::Cover::open:
            break;
    }
    for (const study::ClothToHang& c : key.planned.day.cloth_against_lamp)
        if (c.window == in.window)
            return text + fmt::format("cover it, cloth {}, or flag the lamp",
                                      words::size(c.cloth.width_m, c.cloth.height_m, key.units,
                                                  words::Rounding::up));
    return text + (key.planned.day.lock ? "its cloth keeps it out" : "cover it, or flag the lamp");
}

}  // namespace

std::string lamp_key_who(const LampKey& key) {
    const site::Lamp* lamp = lamp_of(key);
    return fmt::format("{} by {} through {}",
                       key.study.room().marks[key.planned.question.mark].name,
                       lamp ? lamp->name : "a lamp", window_name(key, key.planned.question.window));
}

std::string lamp_key_place(const LampKey& key) {
    const site::Lamp& lamp = *lamp_of(key);
    const study::LampReport& report = *key.planned.day.lamp;
    const study::StandPlace* place = report.stand.place();
    const std::string no = against(report.stand.wanted, key.study.room(), lamp, key.units);
    if (place == nullptr) return fmt::format("{} has NO PLACE: {}", lamp.name, no);
    std::string text =
        fmt::format("{} {}, {} up", lamp.name, beside_window_in_brief(report.stand, key.units),
                    words::placed_length(place->height_above_ground_m, key.units));
    if (lamp.stand_max_m)
        text += fmt::format(" of the stand's {}", words::length(*lamp.stand_max_m, key.units));
    if (!report.stand.wanted.is_reachable())
        text += fmt::format(" (not from where it is wanted, {}: {})", no,
                            traded(report.stand, key.units));
    if (report.light)
        text += fmt::format(", {}, {} at the mark", aim_in_brief(*report.light),
                            words::level(report.light->level_lx));
    return text;
}

std::string lamp_key_hour(const LampKey& key, const study::LampHour& hour) {
    std::string text = fmt::format(
        "{} key {}, fill {}, key:fill {}", site::whole_minutes(hour.at, zone_of(key)),
        words::level(hour.levels.key_lx), words::fill_level(hour.levels.fill_lx), ratio_at(hour));
    if (hour.key_mired && std::abs(*hour.key_mired) >= 0.5)
        text += fmt::format("; key {:.0f} mired {} than the lamp", std::abs(*hour.key_mired),
                            *hour.key_mired < 0 ? "cooler" : "warmer");
    return text;
}

std::vector<std::string> lamp_light_sentences(const LampKey& key) {
    const study::LampDay& day = key.planned.day;
    const study::LampDayQuestion& q = key.planned.question;
    std::vector<std::string> out;
    if (!q.lamp || !day.lamp) return out;
    out.push_back(lamp_key_place(key));
    if (day.lamp->light) {
        for (const study::AlsoEnters& in : day.lamp->light->also_enters)
            out.push_back(enters_words(key, in));
        if (q.lamp->fill)
            out.push_back(fill_lines(*day.lamp, *q.lamp->fill,
                                     key.study.location().lamps[q.lamp->fill->lamp],
                                     key.study.room(), key.units)
                              .front());
    }
    if (std::string moved = daylight_words(key); !moved.empty()) out.push_back(std::move(moved));
    return out;
}

std::vector<std::string> lamp_key_sentences(const LampKey& key) {
    std::vector<std::string> out{lock_words(key)};
    for (std::string& sentence : lamp_light_sentences(key))
        out.push_back(std::move(sentence));
    if (!key.planned.day.lock) return out;
    out.push_back(cloth_words(key));
    for (std::string more : {leak_words(key), sheer_words(key)})
        if (!more.empty()) out.push_back(std::move(more));
    return out;
}

}  // namespace keyhour::tell
