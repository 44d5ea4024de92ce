#include "batch_lock.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "batch_parts.hpp"
#include "room_documents.hpp"
#include "words/clock.hpp"
#include "words/length.hpp"
#include "words/levels.hpp"
#include "words/names.hpp"

namespace keyhour::tell {
namespace {

/// The first minute at which sun may come in, through any window; none without a leak.
std::optional<Instant> first_leak(const study::LockAnswer& lock) {
    std::optional<Instant> first;
    for (const study::Leak& leak : lock.leaks)
        first = std::min(first.value_or(leak.possible.from), leak.possible.from);
    return first;
}

double cloth_area_m2(const study::LampDay& day) {
    double sum = 0;
    for (const study::ClothToHang& cloth : day.cloth)
        sum += cloth.cloth.width_m * cloth.cloth.height_m;
    return sum;
}

const site::Lamp* lamp_of(const LockOfPlace& place) {
    return place.question.lamp ? &place.study.location().lamps[place.question.lamp->lamp] : nullptr;
}

std::string lamp_in_brief(const study::LampReport& report, const site::Lamp& lamp) {
    if (report.stand.place() == nullptr) return lamp.name + " has NO PLACE";
    std::string text = lamp.name;
    text += report.stand.wanted.is_reachable()
                ? " stands as wished"
                : fmt::format(" stands {:.0f} degrees off", report.stand.nearest_off_deg);
    if (report.light) text += ", " + words::level(report.light->level_lx);
    return text;
}

Json lamp_json(const study::LampReport& report, const site::Lamp& lamp) {
    const bool as_wished = report.stand.wanted.is_reachable();
    Json j;
    j["name"] = lamp.name;
    j["possible"] = report.stand.place() != nullptr;
    j["off_deg"] = as_wished              ? Json(0)
                   : report.stand.nearest ? Json(rounded(report.stand.nearest_off_deg))
                                          : Json();
    j["level_lx"] = report.light ? Json(rounded(report.light->level_lx, 2)) : Json();
    return j;
}

constexpr std::array lock_columns{"location",
                                  "source",
                                  "from",
                                  "to",
                                  "fits",
                                  "why_not",
                                  "window",
                                  "mark",
                                  "camera",
                                  "lock_min",
                                  "start_local",
                                  "end_local",
                                  "start_utc",
                                  "end_utc",
                                  "free_min",
                                  "sure_start_utc",
                                  "sure_end_utc",
                                  "sure_min",
                                  "lock_start_local",
                                  "lock_end_local",
                                  "leaks",
                                  "first_leak_local",
                                  "cloth_area_m2",
                                  "lamp",
                                  "lamp_possible",
                                  "lamp_off_deg",
                                  "lamp_level_lx",
                                  "questions"};

void add_span(CsvRow& r, const study::SunFreeSpan* span, const site::Zone& zone) {
    if (span && span->span)
        r.local(span->span->from, zone)
            .local(span->span->to, zone)
            .utc(span->span->from)
            .utc(span->span->to);
    else
        r.none().none().none().none();
    r.minutes(span ? span->hold() : Seconds{0});
    if (span && span->sure)
        r.utc(span->sure->from).utc(span->sure->to);
    else
        r.none().none();
    r.minutes(span ? span->sure_hold() : Seconds{0});
}

void add_lock(CsvRow& r, const study::LampDay& day, const site::Zone& zone) {
    if (!day.lock) {
        r.none().none().none().none().none();
        return;
    }
    r.local(day.lock->lock.from, zone).local(day.lock->lock.to, zone);
    r.number(static_cast<double>(day.lock->leaks.size()), 0);
    const auto first = first_leak(*day.lock);
    first ? r.local(*first, zone) : r.none();
    r.number(cloth_area_m2(day), 3);
}

void add_lamp(CsvRow& r, const study::LampDay& day, const site::Lamp* lamp) {
    if (lamp == nullptr || !day.lamp) {
        r.none().none().none().none();
        return;
    }
    const study::StandAnswer& stand = day.lamp->stand;
    r.text(lamp->name).text(stand.place() ? "yes" : "no");
    if (stand.wanted.is_reachable())
        r.number(0, 0);
    else
        stand.nearest ? r.number(stand.nearest_off_deg, 1) : r.none();
    day.lamp->light ? r.number(day.lamp->light->level_lx, 0) : r.none();
}

std::string lock_record(const BatchSubject& subject, const study::SunFreeSpan* span,
                        const LockOfDate& date, const LockOfPlace& place) {
    const room::Room& room = place.study.room();
    const site::Site& site = place.study.location().site;
    const study::LampDayQuestion& q = place.question;
    CsvRow r = start_record(subject, site.name);
    r.text(date.why_not.empty() ? "yes" : "no").text(date.why_not);
    r.text(room.windows[q.window].name).text(room.marks[q.mark].name);
    r.text(q.camera ? room.cameras[*q.camera].name : "").minutes(q.lock);
    add_span(r, span, site.zone);
    add_lock(r, date.day, site.zone);
    add_lamp(r, date.day, lamp_of(place));
    return r.text(questions_of(subject)).line();
}

std::string whole_minutes(Seconds length) {
    return fmt::format("{:.0f} min", std::floor(length.count() / 60));
}

}  // namespace

std::string fault_in_words(const ask::LockFault& fault, const room::Room& room) {
    using Kind = ask::LockFault::Kind;
    const room::Window& window = room.windows[fault.window];
    switch (fault.kind) {
        case Kind::longer_than_hours:
            return fmt::format("a lock of {} is longer than its working hours, {}",
                               words::in_minutes(fault.lock), words::in_minutes(fault.hours));
        case Kind::covered:
            return fmt::format(
                "key window \"{}\" has cover = \"{}\", and the key's light must come through it",
                window.name, words::name(window.cover));
        case Kind::no_line:
            return fmt::format(
                "no straight line leads from key window \"{}\" to {}", window.name,
                fault.mark ? "mark \"" + room.marks[*fault.mark].name + '"' : "a mark");
        case Kind::no_window:
            break;
    }
    return "no open window leads to a mark in a straight line: no lamp outside can be the key";
}

std::string why_not(const ask::LockMiss& miss) {
    using Kind = ask::LockMiss::Kind;
    switch (miss.kind) {
        case Kind::longer_than_hours:
            return "the lock is longer than the hours of this date";
        case Kind::sun_comes:
            return fmt::format("without sun through the key window for {}, {} wanted",
                               whole_minutes(miss.free), whole_minutes(miss.wanted));
        case Kind::at_another_bearing:
            return "free of sun at another bearing only";
        case Kind::unsure:
            return fmt::format("{} at any bearing, {} wanted", whole_minutes(miss.free),
                               whole_minutes(miss.wanted));
        case Kind::no_lamp_place:
            break;
    }
    return "no place for the lamp";
}

std::string lock_in_brief(const LockOfDate& date, const LockOfPlace& place) {
    const site::Zone& zone = place.study.location().site.zone;
    std::string text;
    if (const auto& lock = date.day.lock) {
        text = "lock " + words::clock_span(lock->lock.from, lock->lock.to, zone);
        if (const auto first = first_leak(*lock))
            text +=
                fmt::format("; {} leak{}, the first {}", lock->leaks.size(),
                            lock->leaks.size() == 1 ? "" : "s", words::minute_down(*first, zone));
        else
            text += "; no leak";
        if (!date.day.cloth.empty())
            text += fmt::format("; {} of cloth", words::area(cloth_area_m2(date.day), place.units));
    }
    const site::Lamp* lamp = lamp_of(place);
    if (lamp && date.day.lamp)
        text += (text.empty() ? "" : "; ") + lamp_in_brief(*date.day.lamp, *lamp);
    return text;
}

std::string lock_json_line(const BatchSubject& subject, const LockOfDate& date,
                           const LockOfPlace& place) {
    const room::Room& room = place.study.room();
    const study::LampDay& day = date.day;
    const study::LampDayQuestion& q = place.question;
    const site::Zone& zone = place.study.location().site.zone;
    Json line = start_line(subject, place.study.location().site.name, "lock");
    line["fits"] = date.why_not.empty();
    line["why_not"] = date.why_not.empty() ? Json() : Json(date.why_not);
    line["window"] = room.windows[q.window].name;
    line["mark"] = room.marks[q.mark].name;
    line["camera"] = q.camera ? Json(room.cameras[*q.camera].name) : Json();
    line["lock_min"] = rounded(q.lock.count() / 60, 5);
    line["spans"] = Json::array();
    for (std::size_t i = 0; i < std::min(day.spans.size(), date.spans_shown); ++i) {
        Json span = json_of(day.spans[i], place.study);
        for (const char* unasked : {"begins_by", "ends_by"})  // they cost more than the rest
            span.erase(unasked);
        line["spans"].push_back(std::move(span));
    }
    line["lock"] = Json();
    line["leaks"] = 0;
    line["first_leak_utc"] = Json();
    line["covers"] = Json::array();
    line["cloth_area_m2"] = rounded(cloth_area_m2(day));
    if (day.lock) {
        line["lock"] = {{"start_utc", site::iso_utc(day.lock->lock.from, 3)},
                        {"end_utc", site::iso_utc(day.lock->lock.to, 3)},
                        {"start_local", site::iso_local(day.lock->lock.from, zone, 3)},
                        {"end_local", site::iso_local(day.lock->lock.to, zone, 3)}};
        line["leaks"] = day.lock->leaks.size();
        if (const auto first = first_leak(*day.lock))
            line["first_leak_utc"] = site::iso_utc(*first, 3);
    }
    for (const study::ClothToHang& cloth : day.cloth)
        line["covers"].push_back({{"window", room.windows[cloth.window].name},
                                  {"cloth_width_m", rounded(cloth.cloth.width_m)},
                                  {"cloth_height_m", rounded(cloth.cloth.height_m)},
                                  {"needed_by_utc", site::iso_utc(cloth.needed_by, 3)}});
    const site::Lamp* lamp = lamp_of(place);
    line["lamp"] = lamp && day.lamp ? lamp_json(*day.lamp, *lamp) : Json();
    return line_of(line);
}

std::string lock_csv_head() {
    return head_of(lock_columns);
}

std::string lock_csv_records(const BatchSubject& subject, const LockOfDate& date,
                             const LockOfPlace& place) {
    const auto& spans = date.day.spans;
    if (spans.empty()) return lock_record(subject, nullptr, date, place);
    std::string out;
    for (std::size_t i = 0; i < std::min(spans.size(), date.spans_shown); ++i)
        out += lock_record(subject, &spans[i], date, place);
    return out;
}

}  // namespace keyhour::tell
