#include "lamp_key_sentences.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

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
    return text.empty() ? "no other open window lets sun in: nothing to cover" : text;
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

std::string daylight_words(const LampKey& key) {
    const auto& move = key.planned.day.move;
    if (!move) return {};
    return fmt::format("daylight moves the key by {:.1f} stops over the lock, its ratio by {:.1f}",
                       move->key_stops, move->ratio_stops);
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
        fmt::format("{} {}, {} up", lamp.name, beside_window_in_brief(*place, key.units),
                    words::placed_length(place->height_above_ground_m, key.units));
    if (!report.stand.wanted.is_reachable())
        text += fmt::format(" (not from where it is wanted, {}: the nearest, {:.0f} degrees off)",
                            no, report.stand.nearest_off_deg);
    if (report.light) text += ", " + words::level(report.light->level_lx) + " at the mark";
    return text;
}

std::vector<std::string> lamp_key_sentences(const LampKey& key) {
    const study::LampDay& day = key.planned.day;
    const study::LampDayQuestion& q = key.planned.question;
    std::vector<std::string> out{lock_words(key)};
    const auto add = [&](std::string text) {
        if (!text.empty()) out.push_back(std::move(text));
    };
    if (q.lamp && day.lamp) {
        add(lamp_key_place(key));
        if (q.lamp->fill && day.lamp->light)
            add(fill_lines(*day.lamp, *q.lamp->fill, key.study.location().lamps[q.lamp->fill->lamp],
                           key.study.room(), key.units)
                    .front());
    }
    if (!day.lock) return out;
    add(cloth_words(key));
    add(leak_words(key));
    add(daylight_words(key));
    return out;
}

}  // namespace keyhour::tell
