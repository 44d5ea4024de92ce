#include <fmt/format.h>
#include <fmt/ostream.h>

#include <algorithm>
#include <map>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "command.hpp"
#include "keyhour/file/room_documents.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/site/nearest.hpp"
#include "light_text.hpp"
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
    std::optional<double> coverage_percent, lock_min;
    std::string key_angle, altitude, hours;
    double near_m = 1.5;
    bool as_is = false, all = false, json = false, no_light = false;
};

/// Long ranges are worked through in stretches of this many dates, so that memory stays level.
constexpr int stretch_days = 366;
/// Rows of a range's table unless all are asked for.
constexpr std::size_t usual_rows = 20;
constexpr double usual_lock_min = 120;

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

/// Options that say nothing to the question asked.
std::optional<Failure> misplaced(const KeyRequest& request) {
    const bool by_sun = request.by == "sun";
    if (!by_sun && request.by != "lamp")
        return Failure{wrong_usage, "--by \"" + request.by + "\": accepted: sun, lamp"};
    const char* option = nullptr;
    if (by_sun && request.lock_min) option = "--lock";
    if (by_sun && !request.hours.empty()) option = "--hours";
    if (option) return Failure{wrong_usage, std::string{option} + " goes with --by lamp"};
    if (!by_sun && request.no_light) option = "--no-light";
    if (!by_sun && request.coverage_percent) option = "--coverage";
    if (!by_sun && !request.key_angle.empty()) option = "--key-angle";
    if (!by_sun && !request.altitude.empty()) option = "--altitude";
    if (option)
        return Failure{wrong_usage, std::string{option} + " is about the sun: leave out --by lamp"};
    return std::nullopt;
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
    const double percent = request.coverage_percent.value_or(w.key.coverage * 100);
    if (!(percent >= 1 && percent <= 100))
        return usage_failure(
            fmt::format("--coverage {:g}: accepted: 1 to 100 percent of the mark", percent));
    if (!(request.near_m >= 0 && request.near_m <= 100))
        return usage_failure(fmt::format("--near {:g}: accepted: 0 to 100 metres", request.near_m));
    const double lock_min = request.lock_min.value_or(usual_lock_min);
    if (!(lock_min >= 1 && lock_min <= 1440))
        return usage_failure(fmt::format("--lock {:g}: accepted: 1 to 1440 minutes", lock_min));
    w.key.coverage = percent / 100;
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
    w.lamp.lock = Seconds{60 * lock_min};
    return w;
}

// --- tables -----------------------------------------------------------------------------------

std::string who(const study::RoomStudy& study, std::size_t window, std::size_t mark,
                const std::optional<std::size_t>& camera) {
    const room::Room& room = study.room();
    std::string text = fmt::format("{} on {}", room.windows[window].name, room.marks[mark].name);
    if (!camera) return text + ", no camera";
    const std::string& name = room.cameras[*camera].name;
    text += name == "camera" ? ", camera" : ", camera " + name;
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
                       clock_span(span.from, span.to, zone),
                       offsets_over(span.from, span.to, zone));
}

template <class Interval>
std::string band(const Interval& interval, const site::Zone& zone) {
    return fmt::format("{}; possible {}",
                       interval.sure ? "sure " + span_inward(*interval.sure, zone)
                                     : std::string{"sure: no part of it"},
                       span_outward(interval.possible, zone));
}

/// As long as the clock times say.
Seconds clock_length(const study::Span& span) {
    return nearest_minute(span.to) - nearest_minute(span.from);
}

/// @param date  on which the interval begins: a cover for another date names it
void print_covers(const std::vector<study::CoverSpan>& covers, site::LocalDate date,
                  const study::RoomStudy& study, std::ostream& out) {
    const site::Zone& zone = study.location().site.zone;
    for (const study::CoverSpan& c : covers)
        print_wrapped(out,
                      fmt::format("to cover: {}, {}{}", study.room().windows[c.window].name,
                                  site::local_date(c.from, zone) == date
                                      ? ""
                                      : short_date(site::local_date(c.from, zone)) + " ",
                                  span_outward({c.from, c.to, false, false}, zone)),
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

void print_doubt(std::ostream& out) {
    print_wrapped(out,
                  "not at the stated bearing, but at another within its doubt: check the bearing "
                  "before you count on it",
                  3, 6);
}

void print_light(const study::KeyInterval& k, const study::RoomStudy& study,
                 const study::RoomLight* light, std::ostream& out) {
    if (!light) return;
    print_wrapped(
        out,
        light_text(study::drift(*light, study.path(), k.mark, k.window, k.span->from, k.span->to)),
        3, 6);
}

void print_interval(std::size_t number, const study::KeyInterval& k, const study::RoomStudy& study,
                    const study::RoomLight* light, std::ostream& out) {
    const site::Zone& zone = study.location().site.zone;
    print_wrapped(
        out,
        fmt::format("{}. {}  {}", number,
                    k.span ? "hold " + in_minutes(clock_length(*k.span)) : "possible only",
                    who(study, k.window, k.mark, k.camera)),
        0, 6);
    print_wrapped(out, date_and_span(k, zone), 3, 6);
    if (!k.span) return print_doubt(out);
    print_wrapped(out, band(k, zone), 3, 6);
    if (k.centre && clock_length(*k.centre) > clock_length(*k.span))
        print_wrapped(out,
                      fmt::format("the mark's centre alone would hold {}: the whole mark does not",
                                  in_minutes(clock_length(*k.centre))),
                      3, 6);
    print_wrapped(out, edges(k.begins_by, k.ends_by, study.room()), 3, 6);
    std::string sun =
        fmt::format("sun {:.0f} to {:.0f} degrees high", k.altitude_deg[0], k.altitude_deg[1]);
    if (k.camera)
        sun += fmt::format("; key angle {:.0f} to {:.0f}, light from the subject's {}",
                           k.key_angle_deg[0], k.key_angle_deg[1],
                           k.light_from_right ? "right" : "left");
    if (k.drift_m_per_min)
        sun += fmt::format("; patch on {} moves {:.1f} cm/min", room::words(k.behind, study.room()),
                           *k.drift_m_per_min * 100);
    print_wrapped(out, sun, 3, 6);
    print_light(k, study, light, out);
    print_covers(k.to_cover, site::local_date(k.span->from, zone), study, out);
}

/// From where a lamp's light would come through the middle of the window.
void print_lamp_side(const study::SunFreeSpan& s, std::ostream& out) {
    if (!s.key_angle_deg) return;
    print_wrapped(out,
                  fmt::format("from the middle of the window: key angle {:.0f}, light from the "
                              "subject's {}{}",
                              std::abs(*s.key_angle_deg), *s.key_angle_deg > 0 ? "right" : "left",
                              s.window_in_frame ? "; the window stands IN FRAME" : ""),
                  3, 6);
}

void print_span(std::size_t number, const study::SunFreeSpan& s, Seconds lock,
                const study::RoomStudy& study, std::ostream& out) {
    const site::Zone& zone = study.location().site.zone;
    print_wrapped(
        out,
        fmt::format("{}. {}  {}", number,
                    s.span ? "free " + in_minutes(clock_length(*s.span)) : "possible only",
                    who(study, s.window, s.mark, s.camera)),
        0, 6);
    print_wrapped(
        out, date_and_span(s, zone) + (s.whole_day ? ": no sun through it on the whole date" : ""),
        3, 6);
    if (s.span) {
        print_wrapped(
            out,
            band(s, zone) +
                (s.sure_hold() < lock ? ". NOT SURE for the " + in_minutes(lock) + " asked" : ""),
            3, 6);
        print_wrapped(out, edges(s.begins_by, s.ends_by, study.room()), 3, 6);
    } else {
        print_doubt(out);
    }
    print_lamp_side(s, out);
    print_covers(s.to_cover, site::local_date((s.span ? *s.span : s.possible).from, zone), study,
                 out);
}

void print_row(const study::KeyInterval& k, const study::RoomStudy& study, std::ostream& out) {
    const site::Zone& zone = study.location().site.zone;
    const study::Span& span = k.span ? *k.span : k.possible;
    const site::LocalDate date = site::local_date(span.from, zone);
    const auto minutes = [](Seconds s) { return std::lround(s.count() / 60); };
    print_wrapped(
        out,
        fmt::format("{}  {} {}-{} {:>4} {:>4}  {}", row_date(date),
                    offset_at(span.from, zone).substr(3), site::whole_minutes(span.from, zone),
                    site::whole_minutes(span.to, zone),
                    k.span ? fmt::format("{}", minutes(clock_length(*k.span))) : "-",
                    k.sure ? fmt::format("{}", minutes(k.sure_hold())) : "-",
                    who_in_short(study, k) + (k.to_cover.empty() ? "" : ", with covers")),
        0, 47);
}

void print_miss(const study::NearestMiss& miss, const study::RoomStudy& study, std::ostream& out) {
    std::string text = who(study, miss.window, miss.mark, miss.camera) + ": " + miss.reason;
    if (miss.at) {
        const site::Zone& zone = study.location().site.zone;
        text +=
            fmt::format(". Nearest: {} {} ({}), {:.0f} % of the mark lit, sun {} high",
                        short_date(site::local_date(*miss.at, zone)),
                        site::whole_minutes(*miss.at, zone), offset_at(*miss.at, zone),
                        std::floor(100 * miss.coverage), in_degrees(std::round(miss.altitude_deg)));
        if (miss.key_angle_deg) text += fmt::format(", key angle {:.0f}", *miss.key_angle_deg);
        if (miss.centre)
            text += fmt::format(". The mark's centre alone would hold {}: the whole mark does not",
                                in_minutes(clock_length(*miss.centre)));
    }
    print_wrapped(out, text, 2, 6);
}

void print_meaning(const RoomQuestion& q, std::ostream& out) {
    print_wrapped(out,
                  fmt::format("sure: at every bearing within {} of the stated one; possible: at "
                              "some. Times are good to a minute, not to a second.",
                              in_degrees(q.location.room->bearing.within.in_degrees())),
                  0, 0);
    print_wrapped(out, "Never look at the sun through a finder, lens or sight: use shadows only.",
                  0, 0);
}

// --- by the sun ---------------------------------------------------------------------------------

struct SunAnswer {
    std::vector<study::KeyInterval> intervals;  // best first
    std::vector<study::NearestMiss> misses;     // of those that give none in the whole range
};

/// How many intervals are told: a table of a range shows the best alone.
std::size_t told(const KeyRequest& request, const RoomQuestion& q, const SunAnswer& answer) {
    const std::size_t n = answer.intervals.size();
    return request.json || request.all || !q.dates.is_range ? n : std::min(n, usual_rows);
}

Instant start_of(const study::KeyInterval& interval) {
    return interval.span ? interval.span->from : interval.possible.from;
}

/// The light of intervals, each in its own season: a tree in leaf takes sky as well.
class IntervalLight {
public:
    IntervalLight(const RoomQuestion& q, bool wanted) : q_{q}, wanted_{wanted} {}
    [[nodiscard]] bool is_wanted() const { return wanted_; }
    /// Null if no levels are wanted.
    const study::RoomLight* of(const study::KeyInterval& interval) {
        if (!wanted_) return nullptr;
        const study::RoomStudy& study = q_.seasons->at(start_of(interval));
        return &lights_.try_emplace(&study, study).first->second;
    }

private:
    const RoomQuestion& q_;
    bool wanted_;
    std::map<const study::RoomStudy*, study::RoomLight> lights_;
};

/// The one of two that came nearer.
bool is_nearer(const study::NearestMiss& a, const study::NearestMiss& b) {
    if (a.centre.has_value() != b.centre.has_value()) return a.centre.has_value();
    return a.coverage > b.coverage;
}

/// One for each mark, camera and window: those of many seasons, the nearest of each.
void keep_nearest(std::vector<study::NearestMiss>& all, std::vector<study::NearestMiss> more) {
    for (study::NearestMiss& miss : more) {
        const auto same = std::find_if(all.begin(), all.end(), [&](const study::NearestMiss& m) {
            return m.mark == miss.mark && m.camera == miss.camera && m.window == miss.window;
        });
        if (same == all.end())
            all.push_back(std::move(miss));
        else if (is_nearer(miss, *same))
            *same = std::move(miss);
    }
}

SunAnswer ask_sun(const RoomQuestion& q, const study::KeySettings& wanted) {
    SunAnswer answer;
    const auto& seasons = q.seasons->stretches();
    for (const auto& season : seasons) {
        date::sys_days first{season->season.first};
        const date::sys_days last{season->season.last};
        while (first <= last) {
            const date::sys_days end = std::min(first + date::days{stretch_days - 1}, last);
            auto found = study::clean_key(season->study, q.start_of(first), q.end_of(end), wanted);
            answer.intervals.insert(answer.intervals.end(), found.begin(), found.end());
            first = end + date::days{1};
        }
    }
    study::sort_best_first(answer.intervals);
    for (const auto& season : seasons)
        keep_nearest(answer.misses, study::nearest_misses(
                                        season->study, q.start_of(season->season.first),
                                        q.end_of(season->season.last), wanted, answer.intervals));
    return answer;
}

file::Json misses_json(const SunAnswer& answer, const study::RoomStudy& study) {
    file::Json list = file::Json::array();
    for (const study::NearestMiss& miss : answer.misses)
        list.push_back(file::json_of(miss, study));
    return list;
}

void write_sun_json(const RoomQuestion& q, const SunAnswer& answer, IntervalLight& light,
                    std::ostream& out) {
    file::Json head = file::start_document(q.location, q.read_back());
    head["by"] = "sun";
    head["without"] = misses_json(answer, q.study());
    std::vector<std::pair<site::LocalDate, const study::KeyInterval*>> by_date;
    for (const study::KeyInterval& k : answer.intervals)
        by_date.emplace_back(site::local_date(start_of(k), q.location.site.zone), &k);
    std::stable_sort(by_date.begin(), by_date.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    file::DaysWriter document{out, head, q.dates.is_range};
    auto next = by_date.begin();
    for (site::LocalDate d = q.dates.first; d <= q.dates.last && out; d = site::next_day(d)) {
        file::Json day;
        day["date"] = site::iso_date(d);
        day["intervals"] = file::Json::array();
        for (; next != by_date.end() && next->first <= d; ++next)
            day["intervals"].push_back(
                file::json_of(*next->second, q.study(), light.of(*next->second)));
        document.add(day);
    }
    document.finish();
}

/// @param shown  so many of the intervals
void print_sun(const RoomQuestion& q, const SunAnswer& answer, std::size_t shown,
               IntervalLight& light, std::ostream& out) {
    const std::size_t n = answer.intervals.size();
    if (n == 0)
        out << "no clean key " << (q.dates.is_range ? "on any of these dates" : "on this date")
            << '\n';
    if (q.dates.is_range && n > 0) {
        out << "               offset             hold sure\n"
               "date           UTC    clock        min  min  window on mark (camera)\n";
        for (std::size_t i = 0; i < shown; ++i)
            print_row(answer.intervals[i], q.study(), out);
        if (shown < n)
            fmt::print(out, "... and {} more, no better (--all shows them)\n", n - shown);
        out << "best first; sure -: no part is; hold -: possible at another bearing only\n";
    } else {
        for (std::size_t i = 0; i < shown; ++i)
            print_interval(i + 1, answer.intervals[i], q.study(), light.of(answer.intervals[i]),
                           out);
    }
    if (!answer.misses.empty()) {
        out << (n == 0 ? "\nwhy there is none\n" : "\nnone at the stated bearing\n");
        for (const study::NearestMiss& miss : answer.misses)
            print_miss(miss, q.study(), out);
    }
    out << '\n';
    print_meaning(q, out);
    if (light.is_wanted() && n > 0)
        print_wrapped(
            out,
            "levels: clear sky, no cloud; air alone: one class clearer to one hazier; fill: "
            "what the room gives back on average, good to a factor 2.",
            0, 0);
}

int answer_by_sun(const KeyRequest& request, const RoomQuestion& q, const Wanted& wanted,
                  std::ostream& out) {
    if (!request.json) print_read_back(q.read_back(), out);
    SunAnswer answer = ask_sun(q, wanted.key);
    const std::size_t shown = told(request, q, answer);
    for (std::size_t i = 0; i < shown; ++i)
        study::describe(q.seasons->at(start_of(answer.intervals[i])), wanted.key,
                        answer.intervals[i]);
    // The rows of a range's table have no room for it.
    IntervalLight light{q, !request.no_light && shown > 0 && (request.json || !q.dates.is_range)};
    if (request.json)
        write_sun_json(q, answer, light, out);
    else
        print_sun(q, answer, shown, light, out);
    return answered;
}

// --- by a lamp ----------------------------------------------------------------------------------

/// On a date without a span that is long enough.
void print_longest(const RoomQuestion& q, site::LocalDate date, study::LampSettings wanted,
                   std::ostream& out) {
    wanted.lock = Seconds{60};
    const auto shorter =
        study::sun_free_spans(q.study_on(date), date, date == q.dates.first, wanted);
    const auto longest =
        std::max_element(shorter.begin(), shorter.end(),
                         [](const auto& a, const auto& b) { return a.hold() < b.hold(); });
    std::string text = "no such span on this date";
    if (longest != shorter.end() && longest->span)
        text +=
            fmt::format("; the longest is {}, {}: {}", in_minutes(longest->hold()),
                        clock_span(longest->span->from, longest->span->to, q.location.site.zone),
                        who(q.study(), longest->window, longest->mark, longest->camera));
    print_wrapped(out, text, 0, 4);
}

/// Windows that no straight line joins to a mark.
void print_blind(const study::RoomStudy& study, std::ostream& out) {
    const room::Room& room = study.room();
    for (std::size_t w = 0; w < room.windows.size(); ++w)
        for (std::size_t mark = 0; mark < room.marks.size(); ++mark)
            if (study::lets_sun_in(room.windows[w]) && !study.scene().faces(w, mark))
                print_wrapped(out,
                              fmt::format("left out, as no straight line leads from it to {}: {}",
                                          room.marks[mark].name, room.windows[w].name),
                              0, 4);
}

int answer_by_lamp(const KeyRequest& request, const RoomQuestion& q, const Wanted& wanted,
                   std::ostream& out) {
    const auto lines = q.read_back();
    file::Json head = file::start_document(q.location, lines);
    head["by"] = "lamp";
    head["lock_min"] = file::rounded(wanted.lamp.lock.count() / 60);
    file::DaysWriter document{out, head, q.dates.is_range};
    if (!request.json) {
        print_read_back(lines, out);
        print_wrapped(out,
                      fmt::format("spans of {} or more without direct sun through the window "
                                  "that the lamp stands at",
                                  in_minutes(wanted.lamp.lock)),
                      0, 0);
        for (const room::Window& window : q.location.room->windows)
            if (!study::lets_sun_in(window))
                print_wrapped(out, "left out, as no lamp shines through its cover: " + window.name,
                              0, 4);
        print_blind(q.study(), out);
    }
    for (site::LocalDate d = q.dates.first; d <= q.dates.last && out; d = site::next_day(d)) {
        const auto spans = study::sun_free_spans(q.study_on(d), d, d == q.dates.first, wanted.lamp);
        if (request.json) {
            file::Json day;
            day["date"] = site::iso_date(d);
            day["intervals"] = file::Json::array();
            for (const study::SunFreeSpan& s : spans)
                day["intervals"].push_back(file::json_of(s, q.study()));
            document.add(day);
            continue;
        }
        fmt::print(out, "\n{}\n", site::date_in_words(d));
        if (spans.empty()) print_longest(q, d, wanted.lamp, out);
        for (std::size_t i = 0; i < spans.size(); ++i)
            print_span(i + 1, spans[i], wanted.lamp.lock, q.study(), out);
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

/// Hours that a change of clocks skips or repeats on one of the dates.
std::optional<Failure> unclear_hours(const RoomQuestion& q, const study::LampSettings& lamp) {
    for (site::LocalDate d = q.dates.first; d <= q.dates.last; d = site::next_day(d))
        for (const auto& hour : {lamp.earliest, lamp.latest}) {
            if (!hour) continue;
            const auto whole = std::chrono::duration_cast<std::chrono::seconds>(*hour);
            const auto at = q.location.site.zone.instant(date::local_days{d} + whole);
            if (!at) return Failure{wrong_usage, "--hours: " + at.error().message};
        }
    return std::nullopt;
}

int answer_key(const KeyRequest& request, std::ostream& out, std::ostream& err) {
    if (const auto failure = misplaced(request)) return report(*failure, err);
    const auto asked = RoomQuestion::ask(request.room, request.dates);
    if (!asked) return report(asked.error(), err);
    const RoomQuestion& q = **asked;
    if (q.location.room->marks.empty())
        return report({bad_data, request.room.location +
                                     ": the room has no [[mark]]; this question needs one"},
                      err);
    const auto wanted = settings(request, *q.location.room);
    if (!wanted) return report(wanted.error(), err);
    if (const auto failure = unclear_hours(q, wanted->lamp)) return report(*failure, err);
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
    const auto option = [&](const char* name, auto& value, const char* type, const char* text) {
        command->add_option(name, value, text)->type_name(type);
    };
    option("--by", request->by, "WHAT", "sun; or lamp: one outside, in spans free of sun");
    option("--mark", request->mark, "NAME", "only this mark");
    option("--camera", request->camera, "NAME", "only this camera");
    option("--window", request->window, "NAME", "only this window");
    option("--coverage", request->coverage_percent, "PERCENT",
           "of the mark that must be lit (default: 95)");
    option("--key-angle", request->key_angle, "LOW,HIGH",
           "degrees from the lens axis (default: 25,70)");
    option("--altitude", request->altitude, "LOW,HIGH",
           "degrees of the sun, apparent (default: 8,55)");
    option("--near", request->near_m, "M", "other sun this near needs a cover (default: 1.5)");
    command->add_flag("--as-is", request->as_is, "only what needs no cover");
    option("--lock", request->lock_min, "MIN",
           "by lamp: for which no light may move (default: 120)");
    option("--hours", request->hours, "FROM,TO", "by lamp: working hours, as 08:00,20:00");
    command->add_flag("--all", request->all, "all rows of a range, not only the best");
    command->add_flag("--no-light", request->no_light, "leave out levels, ratio and colour");
    command->add_flag("--json", request->json, "one JSON document instead of a table");
    command->footer(
        "example:\n"
        "  keyhour key locations/tallow-lane.toml --date 2026-03-10\n"
        "  keyhour key locations/tallow-lane.toml --from 2026-02-01 --to 2026-03-31\n"
        "  keyhour key locations/tallow-lane.toml --date 2026-03-10 --by lamp --lock 180\n"
        "  keyhour key --position \"52N 0E\" --zone Europe/London --faces 225 \\\n"
        "    --north true --opening \"1.2 x 1.5 m\" --sill 0.9 --reveal 0.3 \\\n"
        "    --room \"6 x 6 m\" --mark-distance 2.5 --date 2026-03-10\n"
        "defaults of coverage, key angle and altitude: common practice, no source");
    command->callback([request, &session] {
        session.exit_code = answer_key(*request, session.out, session.err);
    });
}

}  // namespace keyhour::cli
