#include "batch_rows.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "key_sentences.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/day.hpp"
#include "tell/late_light_lines.hpp"
#include "words/clock.hpp"
#include "words/late_light.hpp"

namespace keyhour::tell {
namespace {

constexpr std::size_t indent_after = 47;  // under what stands in the last column

Paragraph in_columns(std::string row) {
    return {std::move(row), 0, indent_after};
}

/// Held inward, possible outward.
study::Span told_minutes(const std::optional<study::Span>& held, const study::Span& possible) {
    if (held) return words::held_minutes(*held);
    return {words::minute_before(possible.from), words::minute_after(possible.to), false, false};
}

long clock_minutes(const study::Span& span) {
    return std::lround(words::promised_length(span).count() / 60);
}

Paragraph key_row(const BatchSubject& subject, const study::KeyInterval& k,
                  const std::string& why_not, const study::RoomStudy& study) {
    const site::Site& site = study.location().site;
    const room::Room& room = study.room();
    const study::Span span = told_minutes(k.span, k.possible);
    std::string place = fmt::format("{}: {} on {}", place_name(site.name, subject.source),
                                    room.windows[k.window].name, room.marks[k.mark].name);
    if (k.camera) place += fmt::format(" ({})", room.cameras[*k.camera].name);
    if (!k.to_cover.empty()) place += ", with covers";
    if (!why_not.empty()) place += "; NO: " + why_not;
    return in_columns(fmt::format(
        "{}  {} {}-{} {:>4} {:>4}  {}", words::row_date(site::local_date(span.from, site.zone)),
        words::offset_at(span.from, site.zone).substr(3), site::whole_minutes(span.from, site.zone),
        site::whole_minutes(span.to, site.zone),
        k.span ? fmt::format("{}", clock_minutes(*k.span)) : "-",
        k.sure ? fmt::format("{:.0f}", words::promised_length(*k.sure).count() / 60) : "-", place));
}

/// Of a place that has no interval at all: what came nearest, when.
Paragraph miss_row(const BatchSubject& subject, const study::KeyChoice& choice,
                   const study::RoomStudy& study) {
    const site::Site& site = study.location().site;
    const room::Room& room = study.room();
    std::string dates = subject.is_range ? "any date" : words::row_date(subject.first);
    std::string clock = "--", place = place_name(site.name, subject.source), why = choice.why_not;
    if (const auto& miss = choice.miss) {
        place +=
            fmt::format(": {} on {}", room.windows[miss->window].name, room.marks[miss->mark].name);
        if (miss->camera) place += fmt::format(" ({})", room.cameras[*miss->camera].name);
        why += miss->at ? fmt::format("; nearest: {}; {}", miss->reason, miss_figures(*miss))
                        : ": " + miss->reason;
        if (miss->at) {
            dates = words::row_date(site::local_date(*miss->at, site.zone));
            clock = fmt::format("{} at {}", words::offset_at(*miss->at, site.zone).substr(3),
                                site::whole_minutes(*miss->at, site.zone));
        }
    }
    return in_columns(
        fmt::format("{:<13}  {:<18} {:>4} {:>4}  {}; NO: {}", dates, clock, "-", "-", place, why));
}

std::string clock_or_dashes(const study::Day& day, study::DayEventKind kind,
                            const site::Zone& zone) {
    const auto at = std::find_if(day.events.begin(), day.events.end(),
                                 [&](const study::DayEvent& e) { return e.kind == kind; });
    return at == day.events.end()
               ? "--"
               : site::whole_minutes(words::event_minute(at->kind, at->at), zone);
}

const study::LateLight* evening_of(const std::vector<study::LateLight>& lights) {
    const auto evening =
        std::ranges::find_if(lights, [](const study::LateLight& l) { return l.evening; });
    return evening == lights.end() ? nullptr : &*evening;
}

/// "16:31-17:42"
std::string late_light_cell(const study::LateLight* evening, const site::Zone& zone) {
    if (evening == nullptr) return "--";
    return fmt::format("{}-{}", words::minute_up(evening->start, zone),
                       words::minute_down(evening->end, zone));
}

}  // namespace

const std::string& place_name(const std::string& name, const std::string& source) {
    return name.empty() ? source : name;
}

std::string batch_key_head() {
    return "               offset              hold  any\n"
           "date           UTC    clock        min  min  place: window on mark (camera)\n";
}

Paragraphs batch_key_rows(const BatchSubject& subject, const study::KeyChoice& choice,
                          const study::RoomStudy& study) {
    if (choice.fits()) {
        Paragraphs rows;
        for (const study::KeyInterval& interval : choice.fitting)
            rows.push_back(key_row(subject, interval, {}, study));
        return rows;
    }
    if (choice.nearest) return {key_row(subject, *choice.nearest, choice.why_not, study)};
    return {miss_row(subject, choice, study)};
}

std::string batch_lock_head() {
    return "               offset sun-free     free  any\n"
           "date           UTC    clock        min  min  place: window on mark; lock\n";
}

Paragraphs batch_lock_rows(const BatchSubject& subject, const LockOfDate& date,
                           const LockOfPlace& of) {
    const site::Site& site = of.study.location().site;
    const room::Room& room = of.study.room();
    std::string place =
        fmt::format("{}: {} on {}", place_name(site.name, subject.source),
                    room.windows[of.question.window].name, room.marks[of.question.mark].name);
    if (!date.why_not.empty()) place += "; NO: " + date.why_not;
    if (const std::string brief = lock_in_brief(date, of); !brief.empty()) place += "; " + brief;
    const auto row = [&](const std::string& clock, const std::string& free, const std::string& sure,
                         const std::string& what) {
        return in_columns(fmt::format(
            "{}  {} {:<11} {:>4} {:>4}  {}", words::row_date(date.day.date),
            words::offset_at(date.day.within.from, site.zone).substr(3), clock, free, sure, what));
    };
    const auto& spans = date.day.spans;
    if (spans.empty()) return {row("--", "-", "-", place)};
    Paragraphs rows;
    for (std::size_t i = 0; i < std::min(spans.size(), date.spans_shown); ++i) {
        const study::SunFreeSpan& s = spans[i];
        const study::Span told = told_minutes(s.span, s.possible);
        rows.push_back(
            row(site::whole_minutes(told.from, site.zone) + '-' +
                    site::whole_minutes(told.to, site.zone),
                s.span ? fmt::format("{}", clock_minutes(*s.span)) : "-",
                s.sure ? fmt::format("{:.0f}", words::promised_length(*s.sure).count() / 60) : "-",
                i == 0 ? place : "also"));
    }
    return rows;
}

std::string batch_day_head() {
    return "               offset       first tran- last         late light\n"
           "date           UTC    rise  sun   sit   sun   set    in the evening  place\n";
}

Paragraph batch_day_row(const BatchSubject& subject, const study::Day& day,
                        const site::Site& site) {
    using Kind = study::DayEventKind;
    const auto clock = [&](Kind kind) { return clock_or_dashes(day, kind, site.zone); };
    std::string place = place_name(site.name, subject.source);
    if (day.state == study::DayState::sun_always_up) place += ", sun up all day";
    if (day.state == study::DayState::sun_always_down) place += ", sun down all day";
    const std::string late = late_light_cell(evening_of(day.late_light), site.zone);
    return {
        fmt::format(
            "{}  {} {:<5} {:<5} {:<5} {:<5} {:<5}  {:<14}  {}", words::row_date(day.date),
            words::offset_at(site.zone.start_of(day.date) + Seconds{43200}, site.zone).substr(3),
            clock(Kind::rise), clock(Kind::first_sun), clock(Kind::transit), clock(Kind::last_sun),
            clock(Kind::set), late, place),
        0, 71};
}

std::string batch_exterior_head() {
    return "               offset direct light  as wanted    late light\n"
           "date           UTC    from  to      from  min    from  to     place: outside\n";
}

Paragraph batch_exterior_row(const BatchSubject& subject, const study::SpotDay& day,
                             const study::SpotLight& spot, const std::string& why_not) {
    const site::Zone& zone = spot.location().site.zone;
    // What is counted on is rounded towards its middle.
    const auto from = [&](Instant t) { return site::whole_minutes(words::minute_after(t), zone); };
    const auto to = [&](Instant t) { return words::minute_down(t, zone); };
    std::string direct = "--", wanted = "--";
    if (!day.direct.empty())
        direct = fmt::format("{}-{}{}", from(day.direct.front().span.from),
                             to(day.direct.back().span.to), day.direct.size() > 1 ? "+" : "");
    if (const study::SafeStart* best = study::longest(day.for_wanted))
        wanted = fmt::format("{} {:>4.0f}", from(best->light.from),
                             words::promised_length(best->light).count() / 60);
    std::string place = fmt::format("{}: {}", place_name(spot.location().site.name, subject.source),
                                    spot.spot().name);
    const study::LateLight* evening = evening_of(day.late_light);
    const std::string late = late_light_cell(evening, zone);
    if (evening) place += "; late light: " + words::sun_in_short(*evening, zone);
    if (!why_not.empty()) place += "; NO: " + why_not;
    return {fmt::format("{}  {} {:<13} {:<12} {:<12}  {}", words::row_date(day.date),
                        words::offset_at(zone.start_of(day.date) + Seconds{43200}, zone).substr(3),
                        direct, wanted, late, place),
            0, 64};
}

}  // namespace keyhour::tell
