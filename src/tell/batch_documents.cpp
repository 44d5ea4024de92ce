#include "batch_documents.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>

#include "batch_parts.hpp"
#include "day_document.hpp"
#include "document.hpp"
#include "exterior_documents.hpp"
#include "key_sentences.hpp"
#include "keyhour/site/dates.hpp"
#include "room_documents.hpp"
#include "words/names.hpp"

namespace keyhour::tell {
namespace {

constexpr std::array key_columns{"location",
                                 "source",
                                 "from",
                                 "to",
                                 "fits",
                                 "why_not",
                                 "mark",
                                 "camera",
                                 "window",
                                 "start_local",
                                 "end_local",
                                 "start_utc",
                                 "end_utc",
                                 "hold_min",
                                 "sure_start_utc",
                                 "sure_end_utc",
                                 "sure_min",
                                 "possible_start_utc",
                                 "possible_end_utc",
                                 "begins_by",
                                 "ends_by",
                                 "key_angle_start_deg",
                                 "key_angle_end_deg",
                                 "altitude_start_deg",
                                 "altitude_end_deg",
                                 "to_cover",
                                 "miss_local",
                                 "miss_utc",
                                 "miss_coverage",
                                 "miss_altitude_deg",
                                 "miss_key_angle_deg",
                                 "miss_fails_by",
                                 "miss",
                                 "questions"};

std::string edge_words(const room::LimitingEdge& edge, const room::Room& room) {
    return edge.kind == room::Edge::none ? std::string{} : room::words(edge, room);
}

std::string windows_to_cover(const study::KeyInterval& interval, const room::Room& room) {
    std::string out;
    std::vector<std::size_t> told;
    for (const study::CoverSpan& cover : interval.to_cover) {
        if (std::find(told.begin(), told.end(), cover.window) != told.end()) continue;
        told.push_back(cover.window);
        if (!out.empty()) out += "; ";
        out += room.windows[cover.window].name;
    }
    return out;
}

/// The columns of a near miss, or as many without anything.
void add_miss(CsvRow& r, const study::NearestMiss* miss, const study::RoomStudy& study) {
    constexpr int columns = 7;
    if (miss == nullptr) {
        for (int i = 0; i < columns; ++i)
            r.none();
        return;
    }
    if (miss->at) {
        r.local(*miss->at, study.location().site.zone).utc(*miss->at);
        r.number(miss->coverage, 4).number(miss->altitude_deg, 2);
    } else {
        r.none().none().none().none();
    }
    miss->key_angle_deg ? r.number(*miss->key_angle_deg, 2) : r.none();
    r.text(edge_words(miss->edge, study.room()));
    r.text(miss->at ? miss->reason + "; " + miss_figures(*miss) : miss->reason);
}

/// Why no interval of a place fits, without one.
std::string record_without_key(const BatchSubject& subject, const study::KeyChoice& choice,
                               const study::RoomStudy& study) {
    const room::Room& room = study.room();
    CsvRow r = start_record(subject, study.location().site.name);
    r.text("no").text(choice.why_not);
    if (const auto& miss = choice.miss) {
        r.text(room.marks[miss->mark].name);
        r.text(miss->camera ? room.cameras[*miss->camera].name : "");
        r.text(room.windows[miss->window].name);
    } else {
        r.none().none().none();
    }
    constexpr std::size_t first = 9, after = 26;
    static_assert(key_columns[first] == std::string_view{"start_local"} &&
                  key_columns[after] == std::string_view{"miss_local"});
    for (std::size_t i = first; i < after; ++i)
        r.none();
    add_miss(r, choice.miss ? &*choice.miss : nullptr, study);
    return r.text(questions_of(subject)).line();
}

std::string key_record(const BatchSubject& subject, const study::KeyInterval& k,
                       const std::string& why_not, const study::RoomStudy& study) {
    const site::Site& site = study.location().site;
    const room::Room& room = study.room();
    CsvRow r = start_record(subject, site.name);
    r.text(why_not.empty() ? "yes" : "no").text(why_not);
    r.text(room.marks[k.mark].name);
    r.text(k.camera ? room.cameras[*k.camera].name : "").text(room.windows[k.window].name);
    if (k.span)
        r.local(k.span->from, site.zone)
            .local(k.span->to, site.zone)
            .utc(k.span->from)
            .utc(k.span->to);
    else
        r.none().none().none().none();
    r.minutes(k.hold());
    if (k.sure)
        r.utc(k.sure->from).utc(k.sure->to);
    else
        r.none().none();
    r.minutes(k.sure_hold()).utc(k.possible.from).utc(k.possible.to);
    r.text(edge_words(k.begins_by, room)).text(edge_words(k.ends_by, room));
    if (k.span && k.camera)
        r.number(k.key_angle_deg[0], 2).number(k.key_angle_deg[1], 2);
    else
        r.none().none();
    if (k.span)
        r.number(k.altitude_deg[0], 2).number(k.altitude_deg[1], 2);
    else
        r.none().none();
    r.text(windows_to_cover(k, room));
    add_miss(r, nullptr, study);
    return r.text(questions_of(subject)).line();
}

constexpr std::array exterior_columns{"location",
                                      "source",
                                      "from",
                                      "to",
                                      "spot",
                                      "wants",
                                      "fits",
                                      "why_not",
                                      "direct_start_local",
                                      "direct_end_local",
                                      "direct_begins_by",
                                      "direct_ends_by",
                                      "direct_min",
                                      "wanted_start_local",
                                      "wanted_end_local",
                                      "wanted_min",
                                      "set_up_latest_local",
                                      "late_light_start_local",
                                      "late_light_end_local",
                                      "late_light_sun_until_local",
                                      "late_light_sun_behind",
                                      "set_local",
                                      "questions"};

constexpr std::array day_events{study::DayEventKind::civil_dawn, study::DayEventKind::rise,
                                study::DayEventKind::first_sun,  study::DayEventKind::transit,
                                study::DayEventKind::last_sun,   study::DayEventKind::set,
                                study::DayEventKind::civil_dusk};

/// From, to, and of an evening until when the sun is out in it, and behind what it goes.
void late_light_cells(CsvRow& row, const std::vector<study::LateLight>& lights, bool evening,
                      const site::Zone& zone) {
    const auto at = std::ranges::find_if(
        lights, [&](const study::LateLight& l) { return l.evening == evening; });
    const bool any = at != lights.end();
    any ? row.local(at->start, zone).local(at->end, zone) : row.none().none();
    if (!evening) return;
    const std::optional<Instant> until = any ? study::sun_until(*at) : std::nullopt;
    until ? row.local(*until, zone) : row.none();
    row.text(any ? at->behind : "");
}

}  // namespace

std::string key_json_line(const BatchSubject& subject, const study::KeyChoice& choice,
                          const study::RoomStudy& study) {
    Json line = start_line(subject, study.location().site.name, "key");
    line["fits"] = choice.fits();
    line["why_not"] = choice.fits() ? Json() : Json(choice.why_not);
    line["intervals"] = Json::array();
    for (const study::KeyInterval& interval : choice.fitting)
        line["intervals"].push_back(json_of(interval, study));
    line["nearest"] = choice.nearest ? json_of(*choice.nearest, study) : Json();
    line["nearest_miss"] = choice.miss ? json_of(*choice.miss, study) : Json();
    return line_of(line);
}

std::string day_json_line(const BatchSubject& subject, const study::Day& day,
                          const site::Site& site, const study::LateLightBand& band) {
    Json line = start_line(subject, site.name, "day");
    line.update(json_of(day, site.zone, band));
    return line_of(line);
}

std::string why_not(const ask::Standing& spot, Seconds least) {
    if (spot.fits) return {};
    if (spot.hold <= Seconds{0}) return "no direct light as wanted";
    return fmt::format("light of {:.0f} min, {:g} wanted", std::floor(spot.hold.count() / 60),
                       least.count() / 60);
}

std::string exterior_json_line(const BatchSubject& subject, const study::SpotDay& day,
                               const study::SpotLight& spot, const std::string& why_not) {
    Json line = start_line(subject, spot.location().site.name, "exterior");
    line["fits"] = why_not.empty();
    line["why_not"] = why_not.empty() ? Json() : Json(why_not);
    line["spot"] = json_of(day, {}, spot);
    return line_of(line);
}

std::string key_csv_head() {
    return head_of(key_columns);
}

std::string key_csv_records(const BatchSubject& subject, const study::KeyChoice& choice,
                            const study::RoomStudy& study) {
    if (!choice.fits())
        return choice.nearest ? key_record(subject, *choice.nearest, choice.why_not, study)
                              : record_without_key(subject, choice, study);
    std::string out;
    for (const study::KeyInterval& interval : choice.fitting)
        out += key_record(subject, interval, {}, study);
    return out;
}

std::string day_csv_head() {
    CsvRow record;
    for (const char* name : {"location", "source", "from", "to", "state", "day_length_min"})
        record.text(name);
    for (const study::DayEventKind kind : day_events)
        record.text(std::string{study::name(kind)} + "_local");
    for (const char* name :
         {"morning_late_light_start_local", "morning_late_light_end_local",
          "evening_late_light_start_local", "evening_late_light_end_local",
          "evening_late_light_sun_until_local", "evening_late_light_sun_behind", "questions"})
        record.text(name);
    return record.line();
}

std::string day_csv_record(const BatchSubject& subject, const study::Day& day,
                           const site::Site& site) {
    CsvRow record = start_record(subject, site.name);
    record.text(day.state == study::DayState::sun_rises_or_sets ? ""
                : day.state == study::DayState::sun_always_up   ? "sun_always_up"
                                                                : "sun_always_down");
    record.minutes(day.length);
    for (const study::DayEventKind kind : day_events) {
        const auto at = std::find_if(day.events.begin(), day.events.end(),
                                     [&](const study::DayEvent& e) { return e.kind == kind; });
        at == day.events.end() ? record.none() : record.local(at->at, site.zone);
    }
    late_light_cells(record, day.late_light, false, site.zone);
    late_light_cells(record, day.late_light, true, site.zone);
    return record.text(questions_of(subject)).line();
}

std::string exterior_csv_head() {
    return head_of(exterior_columns);
}

std::string exterior_csv_record(const BatchSubject& subject, const study::SpotDay& day,
                                const study::SpotLight& spot, const std::string& why_not) {
    const site::Zone& zone = spot.location().site.zone;
    CsvRow r = start_record(subject, spot.location().site.name);
    r.text(spot.spot().name).text(words::name(spot.spot().wants));
    r.text(why_not.empty() ? "yes" : "no").text(why_not);
    if (day.direct.empty()) {
        r.none().none().none().none();
    } else {
        const study::DirectSpan &first = day.direct.front(), &last = day.direct.back();
        r.local(first.span.from, zone).local(last.span.to, zone);
        r.text(first.begins_by).text(last.ends_by);
    }
    Seconds direct{0};
    for (const study::DirectSpan& span : day.direct)
        direct += span.span.length();
    r.minutes(direct);
    if (const study::SafeStart* best = study::longest(day.for_wanted)) {
        r.local(best->light.from, zone).local(best->light.to, zone).minutes(best->light.length());
        best->latest ? r.local(*best->latest, zone) : r.none();
    } else {
        r.none().none().minutes(Seconds{0}).none();
    }
    late_light_cells(r, day.late_light, true, zone);
    day.set ? r.local(*day.set, zone) : r.none();
    return r.text(questions_of(subject)).line();
}

}  // namespace keyhour::tell
