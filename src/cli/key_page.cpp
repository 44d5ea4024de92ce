#include "key_page.hpp"

#include <fmt/format.h>
#include <fmt/ostream.h>

#include <algorithm>
#include <cmath>
#include <ostream>

#include "doubt_page.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/light_side.hpp"
#include "light_text.hpp"
#include "room_options.hpp"
#include "tell/cautions.hpp"
#include "text.hpp"

namespace keyhour::cli {

std::string who(const study::RoomStudy& study, std::size_t window, std::size_t mark,
                const std::optional<std::size_t>& camera) {
    const room::Room& room = study.room();
    std::string text = fmt::format("{} on {}", room.windows[window].name, room.marks[mark].name);
    if (!camera) return text + ", no camera";
    const std::string& name = room.cameras[*camera].name;
    text += name == "camera" ? ", camera" : ", camera " + name;
    return text;
}

namespace {

/// What the ensemble makes of interval i; null if it was not asked.
const study::HoldDoubt* doubt_of(const SunAnswer& answer, std::size_t i) {
    return i < answer.doubts.size() ? &answer.doubts[i] : nullptr;
}

/// Promised minutes are rounded down; "-" for less than one.
std::string whole_minutes_held(Seconds hold) {
    const double minutes = std::floor(hold.count() / 60);
    return minutes < 1 ? "-" : fmt::format("{:.0f}", minutes);
}

/// For a table's row: "bench window on curling bench (B)".
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

void print_light(const study::KeyInterval& k, const study::RoomStudy& study, IntervalLight& light,
                 std::ostream& out) {
    if (!light.is_wanted()) return;
    if (const auto told = light.of(k))
        for (const std::string& line : light_lines(*told, light.camera(), study.room()))
            print_wrapped(out, line, 3, 6);
}

/// From where a lamp's light would come through the middle of the window.
void print_lamp_side(const study::SunFreeSpan& s, std::ostream& out) {
    if (!s.key_angle_deg) return;
    print_wrapped(
        out,
        fmt::format("from the middle of the window: key angle {:.0f}, {}{}",
                    std::abs(*s.key_angle_deg), study::light_side_in_words(*s.key_angle_deg > 0),
                    s.window_in_frame ? "; the window stands IN FRAME" : ""),
        3, 6);
}

/// @param doubt  null if the ensemble was not asked
void print_interval(std::size_t number, const study::KeyInterval& k, const study::HoldDoubt* doubt,
                    const study::RoomStudy& study, IntervalLight& light, std::ostream& out) {
    const site::Zone& zone = study.location().site.zone;
    print_wrapped(
        out,
        fmt::format("{}. {}  {}", number,
                    k.span ? "hold " + in_minutes(clock_length(*k.span)) : "possible only",
                    who(study, k.window, k.mark, k.camera)),
        0, 6);
    print_wrapped(out, date_and_span(k, zone), 3, 6);
    const auto print_cases = [&] {
        if (doubt) print_wrapped(out, hold_doubt_text(*doubt, zone), 3, 6);
    };
    if (!k.span) {
        print_doubt(out);
        return print_cases();
    }
    print_wrapped(out, band(k, zone), 3, 6);
    print_cases();
    if (k.centre && clock_length(*k.centre) > clock_length(*k.span))
        print_wrapped(out,
                      fmt::format("the mark's centre alone would hold {}: the whole mark does not",
                                  in_minutes(clock_length(*k.centre))),
                      3, 6);
    print_wrapped(out, edges(k.begins_by, k.ends_by, study.room()), 3, 6);
    std::string sun =
        fmt::format("sun {:.0f} to {:.0f} degrees high", k.altitude_deg[0], k.altitude_deg[1]);
    if (k.camera)
        sun += fmt::format("; key angle {:.0f} to {:.0f}, {}", k.key_angle_deg[0],
                           k.key_angle_deg[1], study::light_side_in_words(k.light_from_right));
    if (k.drift_m_per_min)
        sun += fmt::format("; patch on {} moves {:.1f} cm/min", room::words(k.behind, study.room()),
                           *k.drift_m_per_min * 100);
    print_wrapped(out, sun, 3, 6);
    print_light(k, study, light, out);
    print_covers(k.to_cover, site::local_date(k.span->from, zone), study, out);
}

/// @param doubt  null if the ensemble was not asked: a row without its column
void print_row(const study::KeyInterval& k, const study::HoldDoubt* doubt,
               const study::RoomStudy& study, IntervalLight& light, std::ostream& out) {
    const site::Zone& zone = study.location().site.zone;
    const study::Span& span = k.span ? *k.span : k.possible;
    const site::LocalDate date = site::local_date(span.from, zone);
    const auto minutes = [](Seconds s) { return std::lround(s.count() / 60); };
    print_wrapped(
        out,
        fmt::format("{}  {} {}-{} {:>4} {:>4}{}  {}", row_date(date),
                    offset_at(span.from, zone).substr(3), site::whole_minutes(span.from, zone),
                    site::whole_minutes(span.to, zone),
                    k.span ? fmt::format("{}", minutes(clock_length(*k.span))) : "-",
                    k.sure ? fmt::format("{}", minutes(k.sure_hold())) : "-",
                    doubt ? fmt::format(" {:>4}", whole_minutes_held(doubt->hold_90)) : "",
                    who_in_short(study, k) + (k.to_cover.empty() ? "" : ", with covers") +
                        (k.span && light.is_wanted() && light.camera().is_given
                             ? "; " + meter_in_short(light.drift(k), light.camera())
                             : "")),
        0, doubt ? 52 : 47);
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

}  // namespace

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

void print_meaning(const RoomQuestion& q, std::ostream& out) {
    print_wrapped(out,
                  fmt::format("sure: at every bearing within {} of the stated one; possible: at "
                              "some. Times are good to a minute, not to a second.",
                              in_degrees(q.location.room->bearing.within.in_degrees())),
                  0, 0);
    print_wrapped(out, tell::sun_caution, 0, 0);
}

namespace {

/// The holds that are too dark for the wanted stop; the nearest alone is named.
void print_dark(const RoomQuestion& q, const std::vector<DarkHold>& dark,
                const study::StopWish& wish, std::ostream& out) {
    if (dark.empty()) return;
    const DarkHold& nearest = dark.front();
    print_wrapped(out,
                  fmt::format("left out as too dark for {}: {} hold{}; the nearest is {:.1f} stops "
                              "short: {}, {}",
                              t_stop_text(wish.t_number), dark.size(), dark.size() == 1 ? "" : "s",
                              nearest.missing_stops,
                              who(q.study(), nearest.interval.window, nearest.interval.mark,
                                  nearest.interval.camera),
                              date_and_span(nearest.interval, q.location.site.zone)),
                  0, 4);
}

void print_light_meaning(const IntervalLight& light, bool in_full, std::ostream& out) {
    if (light.camera().is_given)
        print_wrapped(out, "meter: key and fill together, at the mark, turned to the window.", 0,
                      0);
    print_wrapped(out,
                  "levels: clear sky, no cloud; air alone: one class clearer to one hazier; fill: "
                  "what the room gives back on average, good to a factor 2.",
                  0, 0);
    if (!in_full) return;
    print_wrapped(out,
                  fmt::format("mean cloud: the sun out half of the time; a moment has all of it or "
                              "none. {}; local codes and licensed practice decide.",
                              tell::haze_caution),
                  0, 0);
}

}  // namespace

void print_sun(const RoomQuestion& q, const SunAnswer& answer, const std::vector<DarkHold>& dark,
               std::size_t shown, IntervalLight& light, std::ostream& out) {
    const std::size_t n = answer.intervals.size();
    if (light.camera().is_given) {
        print_wrapped(out, camera_text(light.camera()), 0, 4);
        out << '\n';
    }
    if (n == 0)
        out << "no clean key " << (q.dates.is_range ? "on any of these dates" : "on this date")
            << '\n';
    if (q.dates.is_range && n > 0) {
        const bool doubts = !answer.doubts.empty();
        fmt::print(out,
                   "               offset             hold sure{}\n"
                   "date           UTC    clock        min  min{}  window on mark (camera)\n",
                   doubts ? " 9/10" : "", doubts ? "  min" : "");
        for (std::size_t i = 0; i < shown; ++i)
            print_row(answer.intervals[i], doubt_of(answer, i), q.study(), light, out);
        if (shown < n)
            fmt::print(out, "... and {} more, no better (--all shows them)\n", n - shown);
        out << "best first; sure -: no part is; hold -: possible at another bearing only\n";
        if (doubts) out << "9/10: so long or longer in 9 of 10 cases, with all doubts\n";
    } else {
        for (std::size_t i = 0; i < shown; ++i)
            print_interval(i + 1, answer.intervals[i], doubt_of(answer, i), q.study(), light, out);
    }
    if (light.camera().wish) print_dark(q, dark, *light.camera().wish, out);
    if (!answer.misses.empty()) {
        out << (n == 0 ? "\nwhy there is none\n" : "\nnone at the stated bearing\n");
        for (const study::NearestMiss& miss : answer.misses)
            print_miss(miss, q.study(), out);
    }
    out << '\n';
    print_meaning(q, out);
    if (!answer.doubts.empty()) print_doubt_meaning(out);
    const bool told = !q.dates.is_range || light.camera().is_given;  // rows have little room
    if (light.is_wanted() && n > 0 && told) print_light_meaning(light, !q.dates.is_range, out);
}

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

}  // namespace keyhour::cli
