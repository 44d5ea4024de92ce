#include <fmt/format.h>
#include <fmt/ostream.h>

#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "command.hpp"
#include "keyhour/file/room_documents.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/site/nearest.hpp"
#include "numbers.hpp"
#include "room_options.hpp"
#include "site_options.hpp"
#include "text.hpp"

namespace keyhour::cli {
namespace {

struct KeyRequest {
    RoomOptions room;
    DateOptions dates;
    std::string by = "sun";
    std::string mark, camera, window;
    double coverage_percent = 95;
    std::string key_angle, altitude, hours;
    double near_m = 1.5;
    double lock_min = 120;
    bool as_is = false, all = false, json = false;
};

/// Long ranges are worked through in stretches of this many dates, so that memory stays level.
constexpr int stretch_days = 30;
/// Rows of a range's table unless all are asked for.
constexpr std::size_t usual_rows = 20;

// --- what was asked -------------------------------------------------------------------------

template <class Things>
Answer<std::optional<std::string>> one_of(const char* option, const std::string& asked,
                                          const Things& things) {
    if (asked.empty()) return std::nullopt;
    std::vector<std::string> names;
    for (const auto& thing : things) {
        if (thing.name == asked) return asked;
        names.push_back(thing.name);
    }
    std::string text = fmt::format("{} \"{}\" is not in the location", option, asked);
    if (const auto suggestion = site::nearest(asked, names))
        text += fmt::format("; did you mean \"{}\"?", *suggestion);
    else
        text += fmt::format("; accepted: {}", fmt::join(names, ", "));
    return usage_failure(text);
}

struct Wanted {
    study::KeySettings key;
    study::LampSettings lamp;
};

Answer<Wanted> settings(const KeyRequest& request, const room::Room& room) {
    Wanted w;
    const auto mark = one_of("--mark", request.mark, room.marks);
    const auto camera = one_of("--camera", request.camera, room.cameras);
    const auto window = one_of("--window", request.window, room.windows);
    for (const auto* name : {&mark, &camera, &window})
        if (!*name) return tl::unexpected{name->error()};
    if (!(request.coverage_percent > 0 && request.coverage_percent <= 100))
        return usage_failure("--coverage: accepted: above 0, at most 100 percent");
    if (!(request.near_m >= 0 && request.near_m <= 100))
        return usage_failure("--near: accepted: 0 to 100 metres");
    if (!(request.lock_min >= 1 && request.lock_min <= 1440))
        return usage_failure("--lock: accepted: 1 to 1440 minutes");
    w.key.coverage = request.coverage_percent / 100;
    if (!request.key_angle.empty()) {
        const auto range = read_pair(request.key_angle, 0, 180);
        if (!range) return usage_failure("--key-angle: " + range.error());
        std::copy(range->begin(), range->end(), w.key.key_angle_deg);
    }
    if (!request.altitude.empty()) {
        const auto range = read_pair(request.altitude, 0, 90);
        if (!range) return usage_failure("--altitude: " + range.error());
        std::copy(range->begin(), range->end(), w.key.altitude_deg);
    }
    if (!request.hours.empty()) {
        const auto hours = read_hours(request.hours);
        if (!hours) return usage_failure("--hours: " + hours.error());
        w.lamp.earliest = hours->first;
        w.lamp.latest = hours->second;
    }
    w.key.near_m = w.lamp.near_m = request.near_m;
    w.key.as_is = w.lamp.as_is = request.as_is;
    w.key.mark = w.lamp.mark = *mark;
    w.key.camera = w.lamp.camera = *camera;
    w.key.window = w.lamp.window = *window;
    w.lamp.lock = Seconds{60 * request.lock_min};
    return w;
}

// --- tables -----------------------------------------------------------------------------------

std::string who(const study::RoomStudy& study, std::size_t window, std::size_t mark,
                const std::optional<std::size_t>& camera) {
    const room::Room& room = study.room();
    std::string text = fmt::format("{} on {}", room.windows[window].name, room.marks[mark].name);
    text += camera ? fmt::format(", camera {}", room.cameras[*camera].name) : ", no camera";
    return text;
}

/// For a table's row: "bench window on glazing bench (B)".
std::string who_in_short(const study::RoomStudy& study, const study::KeyInterval& k) {
    const room::Room& room = study.room();
    std::string text =
        fmt::format("{} on {}", room.windows[k.window].name, room.marks[k.mark].name);
    if (k.camera) text += fmt::format(" ({})", room.cameras[*k.camera].name);
    return text;
}

template <class Interval>
std::string date_and_span(const Interval& interval, const site::Zone& zone) {
    const study::Span& span = interval.span ? *interval.span : interval.possible;
    return fmt::format("{}  {} ({})", short_date(site::local_date(span.from, zone)),
                       clock_span(span.from, span.to, zone), offset_at(span.from, zone));
}

template <class Interval>
std::string band(const Interval& interval, const site::Zone& zone) {
    std::string text =
        interval.sure
            ? fmt::format("sure {} ({})", clock_span(interval.sure->from, interval.sure->to, zone),
                          in_minutes(interval.sure_hold()))
            : "sure: no part of it";
    return text + fmt::format("; possible {}",
                              clock_span(interval.possible.from, interval.possible.to, zone));
}

void print_covers(const std::vector<study::CoverSpan>& covers, const study::RoomStudy& study,
                  std::ostream& out) {
    const site::Zone& zone = study.location().site.zone;
    for (const study::CoverSpan& c : covers)
        print_wrapped(out,
                      fmt::format("to cover: {}, {}", study.room().windows[c.window].name,
                                  clock_span(c.from, c.to, zone)),
                      3, 6);
}

std::string edges(const room::LimitingEdge& begins, const room::LimitingEdge& ends,
                  const room::Room& room) {
    const auto said = [&](const room::LimitingEdge& edge) {
        return edge.kind == room::Edge::none ? std::string{"the hours asked for"}
                                             : room::words(edge, room);
    };
    return fmt::format("begins by {}, ends by {}", said(begins), said(ends));
}

void print_interval(std::size_t number, const study::KeyInterval& k, const study::RoomStudy& study,
                    std::ostream& out) {
    const site::Zone& zone = study.location().site.zone;
    fmt::print(out, "{}. ", number);
    print_wrapped(out,
                  (k.span ? "hold " + in_minutes(k.hold()) : "possible only") + "  " +
                      who(study, k.window, k.mark, k.camera),
                  0, 6);
    print_wrapped(out, date_and_span(k, zone), 3, 6);
    if (!k.span) {
        print_wrapped(out,
                      "not at the stated bearing, but at another within its doubt: check the "
                      "bearing before you count on it",
                      3, 6);
        return;
    }
    print_wrapped(out, band(k, zone), 3, 6);
    print_wrapped(out, edges(k.begins_by, k.ends_by, study.room()), 3, 6);
    std::string light =
        fmt::format("sun {:.0f} to {:.0f} degrees high", k.altitude_deg[0], k.altitude_deg[1]);
    if (k.camera)
        light += fmt::format("; key angle {:.0f} to {:.0f}, from {} of the lens axis",
                             k.key_angle_deg[0], k.key_angle_deg[1],
                             k.light_from_right ? "the subject's right" : "the subject's left");
    if (k.drift_m_per_min)
        light += fmt::format("; patch on {} moves {:.1f} cm/min",
                             room::words(k.behind, study.room()), *k.drift_m_per_min * 100);
    print_wrapped(out, light, 3, 6);
    print_covers(k.to_cover, study, out);
}

void print_span(std::size_t number, const study::SunFreeSpan& s, const study::RoomStudy& study,
                std::ostream& out) {
    const site::Zone& zone = study.location().site.zone;
    fmt::print(out, "{}. ", number);
    print_wrapped(
        out, "free " + in_minutes(s.hold()) + "  " + who(study, s.window, s.mark, s.camera), 0, 6);
    print_wrapped(
        out,
        date_and_span(s, zone) + (s.whole_day ? ": the whole date without sun through it" : ""), 3,
        6);
    print_wrapped(out, band(s, zone), 3, 6);
    print_wrapped(out, edges(s.begins_by, s.ends_by, study.room()), 3, 6);
    print_covers(s.to_cover, study, out);
}

void print_row(const study::KeyInterval& k, const study::RoomStudy& study, std::ostream& out) {
    const site::Zone& zone = study.location().site.zone;
    const study::Span& span = k.span ? *k.span : k.possible;
    const site::LocalDate date = site::local_date(span.from, zone);
    const auto minutes = [](Seconds s) { return std::lround(s.count() / 60); };
    print_wrapped(out,
                  fmt::format("{:.3} {}  {}-{} {:>4} {:>5}  {}", site::date_in_words(date),
                              site::iso_date(date), site::whole_minutes(span.from, zone),
                              site::whole_minutes(span.to, zone),
                              k.span ? fmt::format("{}", minutes(k.hold())) : "-",
                              k.sure ? fmt::format("{}", minutes(k.sure_hold())) : "-",
                              who_in_short(study, k)),
                  0, 40);
}

void print_miss(const study::NearestMiss& miss, const study::RoomStudy& study, std::ostream& out) {
    std::string text = who(study, miss.window, miss.mark, miss.camera) + ": " + miss.reason;
    if (miss.at) {
        const site::Zone& zone = study.location().site.zone;
        text += fmt::format(". Nearest {} {}: {:.0f} % covered, sun {:.0f} high",
                            short_date(site::local_date(*miss.at, zone)),
                            site::whole_minutes(*miss.at, zone), 100 * miss.coverage,
                            miss.altitude_deg);
        if (miss.key_angle_deg) text += fmt::format(", key angle {:.0f}", *miss.key_angle_deg);
    }
    print_wrapped(out, text, 2, 6);
}

void print_meaning(const RoomQuestion& q, std::ostream& out) {
    print_wrapped(out,
                  fmt::format("sure: at every bearing within {:g} degrees of the stated one; "
                              "possible: at some. Times are good to a minute, not to a second.",
                              q.location.room->bearing.within.in_degrees()),
                  0, 0);
    print_wrapped(out, "Never look at the sun through a finder, lens or sight: use shadows only.",
                  0, 0);
}

// --- by the sun ---------------------------------------------------------------------------------

struct SunAnswer {
    std::vector<study::KeyInterval> intervals;  // best first
    std::vector<study::NearestMiss> misses;     // of those that give none in the whole range
};

SunAnswer ask_sun(const RoomQuestion& q, const study::KeySettings& wanted) {
    SunAnswer answer;
    date::sys_days first{q.dates.first};
    const date::sys_days last{q.dates.last};
    while (first <= last) {
        const date::sys_days end = std::min(first + date::days{stretch_days - 1}, last);
        auto found = study::clean_key(*q.study, q.start_of(first), q.end_of(end), wanted);
        answer.intervals.insert(answer.intervals.end(), found.begin(), found.end());
        first = end + date::days{1};
    }
    study::sort_best_first(answer.intervals);
    answer.misses = study::nearest_misses(*q.study, q.start_of(q.dates.first),
                                          q.end_of(q.dates.last), wanted, answer.intervals);
    return answer;
}

file::Json misses_json(const SunAnswer& answer, const study::RoomStudy& study) {
    file::Json list = file::Json::array();
    for (const study::NearestMiss& miss : answer.misses)
        list.push_back(file::json_of(miss, study));
    return list;
}

void write_sun_json(const RoomQuestion& q, const SunAnswer& answer, std::ostream& out) {
    file::Json head = file::start_document(q.location, q.read_back());
    head["by"] = "sun";
    head["without"] = misses_json(answer, *q.study);
    std::vector<std::pair<site::LocalDate, const study::KeyInterval*>> by_date;
    for (const study::KeyInterval& k : answer.intervals)
        by_date.emplace_back(
            site::local_date(k.span ? k.span->from : k.possible.from, q.location.site.zone), &k);
    std::stable_sort(by_date.begin(), by_date.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    file::DaysWriter document{out, head, q.dates.is_range};
    auto next = by_date.begin();
    for (site::LocalDate d = q.dates.first; d <= q.dates.last && out; d = site::next_day(d)) {
        file::Json day;
        day["date"] = site::iso_date(d);
        day["intervals"] = file::Json::array();
        for (; next != by_date.end() && next->first <= d; ++next)
            day["intervals"].push_back(file::json_of(*next->second, *q.study));
        document.add(day);
    }
    document.finish();
}

void print_sun(const RoomQuestion& q, const SunAnswer& answer, bool all, std::ostream& out) {
    const std::size_t n = answer.intervals.size();
    const std::size_t shown = all || !q.dates.is_range ? n : std::min(n, usual_rows);
    if (n == 0)
        out << "no clean key " << (q.dates.is_range ? "on any of these dates" : "on this date")
            << '\n';
    if (q.dates.is_range && n > 0) {
        out << "date            clock       hold  sure  window on mark (camera)\n"
               "                             min   min\n";
        for (std::size_t i = 0; i < shown; ++i)
            print_row(answer.intervals[i], *q.study, out);
        if (shown < n) fmt::print(out, "... and {} more, shorter (--all shows them)\n", n - shown);
        out << "best first; -: no part is sure, or possible at another bearing only\n";
    } else {
        for (std::size_t i = 0; i < shown; ++i)
            print_interval(i + 1, answer.intervals[i], *q.study, out);
    }
    if (!answer.misses.empty()) {
        out << (n == 0 ? "\nwhy there is none\n" : "\nwithout a clean key\n");
        for (const study::NearestMiss& miss : answer.misses)
            print_miss(miss, *q.study, out);
    }
    out << '\n';
    print_meaning(q, out);
}

int answer_by_sun(const KeyRequest& request, const RoomQuestion& q, const Wanted& wanted,
                  std::ostream& out) {
    if (!request.json) print_read_back(q.read_back(), out);
    const SunAnswer answer = ask_sun(q, wanted.key);
    if (request.json)
        write_sun_json(q, answer, out);
    else
        print_sun(q, answer, request.all, out);
    return answered;
}

// --- by a lamp ----------------------------------------------------------------------------------

int answer_by_lamp(const KeyRequest& request, const RoomQuestion& q, const Wanted& wanted,
                   std::ostream& out) {
    const auto lines = q.read_back();
    file::Json head = file::start_document(q.location, lines);
    head["by"] = "lamp";
    head["lock_min"] = file::rounded(request.lock_min);
    file::DaysWriter document{out, head, q.dates.is_range};
    if (!request.json) {
        print_read_back(lines, out);
        print_wrapped(out,
                      fmt::format("spans of at least {} without direct sun through the window "
                                  "that the lamp stands at",
                                  in_minutes(wanted.lamp.lock)),
                      0, 0);
    }
    for (site::LocalDate d = q.dates.first; d <= q.dates.last && out; d = site::next_day(d)) {
        const auto spans = study::sun_free_spans(*q.study, d, d == q.dates.first, wanted.lamp);
        if (request.json) {
            file::Json day;
            day["date"] = site::iso_date(d);
            day["intervals"] = file::Json::array();
            for (const study::SunFreeSpan& s : spans)
                day["intervals"].push_back(file::json_of(s, *q.study));
            document.add(day);
            continue;
        }
        fmt::print(out, "\n{}\n", site::date_in_words(d));
        if (spans.empty()) out << "no such span on this date\n";
        for (std::size_t i = 0; i < spans.size(); ++i)
            print_span(i + 1, spans[i], *q.study, out);
    }
    if (request.json) {
        document.finish();
        return answered;
    }
    out << '\n';
    print_meaning(q, out);
    print_wrapped(out,
                  "Lamps outside: ballast and tie the stand, mind wind and rain, have the mains "
                  "checked by a competent person; local codes and licensed practice decide.",
                  0, 0);
    return answered;
}

int answer_key(const KeyRequest& request, std::ostream& out, std::ostream& err) {
    if (request.by != "sun" && request.by != "lamp")
        return report({wrong_usage, "--by \"" + request.by + "\": accepted: sun, lamp"}, err);
    const auto asked = RoomQuestion::ask(request.room, request.dates);
    if (!asked) return report(asked.error(), err);
    const RoomQuestion& q = **asked;
    if (q.location.room->marks.empty())
        return report({bad_data, q.location.site.name +
                                     ": the room has no [[mark]]; this question needs one"},
                      err);
    const auto wanted = settings(request, *q.location.room);
    if (!wanted) return report(wanted.error(), err);
    return request.by == "sun" ? answer_by_sun(request, q, *wanted, out)
                               : answer_by_lamp(request, q, *wanted, out);
}

}  // namespace

void offer_key(CLI::App& app, Session& session) {
    auto request = std::make_shared<KeyRequest>();
    CLI::App* command =
        app.add_subcommand("key", "when a window gives a clean key, and how long it holds");
    request->room.offer(*command);
    request->dates.offer(*command);
    command->add_option("--by", request->by, "sun (default), or lamp: spans for a lamp outside");
    command->add_option("--mark", request->mark, "only this mark");
    command->add_option("--camera", request->camera, "only this camera");
    command->add_option("--window", request->window, "only this window");
    command->add_option("--coverage", request->coverage_percent,
                        "percent of the mark that must be lit (default: 95)");
    command->add_option("--key-angle", request->key_angle,
                        "LOW,HIGH degrees from the lens axis (default: 25,70)");
    command->add_option("--altitude", request->altitude,
                        "LOW,HIGH degrees of the sun, apparent (default: 8,55)");
    command->add_option("--near", request->near_m,
                        "sun this near needs a cover, metres (default: 1.5)");
    command->add_flag("--as-is", request->as_is, "only what needs no cover");
    command->add_option("--lock", request->lock_min, "by lamp: minutes without sun (default: 120)");
    command->add_option("--hours", request->hours, "by lamp: working hours, such as 08:00,20:00");
    command->add_flag("--all", request->all, "all rows of a range, not only the best");
    command->add_flag("--json", request->json, "one JSON document instead of a table");
    command->footer(
        "example:\n"
        "  keyhour key locations/tallow-lane.toml --date 2026-03-10\n"
        "  keyhour key locations/tallow-lane.toml --from 2026-02-01 --to 2026-03-31\n"
        "  keyhour key locations/tallow-lane.toml --date 2026-03-10 --by lamp --lock 180\n"
        "  keyhour key --position \"52N 0E\" --zone Europe/London --faces 225 \\\n"
        "    --opening \"1.2 x 1.5 m\" --sill 0.9 --reveal 0.3 --room \"6 x 6 m\" \\\n"
        "    --mark-distance 2.5 --date 2026-03-10\n"
        "defaults of coverage, key angle and altitude: common practice, no source");
    command->callback([request, &session] {
        session.exit_code = answer_key(*request, session.out, session.err);
    });
}

}  // namespace keyhour::cli
