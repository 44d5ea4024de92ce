#include <fmt/format.h>
#include <fmt/ostream.h>

#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "command.hpp"
#include "keyhour/site/dates.hpp"
#include "numbers.hpp"
#include "room_options.hpp"
#include "site_options.hpp"
#include "tell/room_documents.hpp"
#include "text.hpp"

namespace keyhour::cli {
namespace {

struct LockRequest {
    RoomOptions room;
    DateOptions dates;
    std::string key_window, start, end, hours;
    double minutes = 0;  // not given
    bool json = false;
};

const std::string usual_hours = "08:00,20:00";

/// How the lock's place in the day was given.
struct Placement {
    std::optional<std::chrono::seconds> start, end;  // since local midnight
    Seconds length{0};
    std::pair<Seconds, Seconds> hours;
};

Answer<Placement> placement(const LockRequest& request) {
    Placement p;
    if (!request.start.empty()) {
        const auto time = site::read_time_of_day(request.start);
        if (!time) return usage_failure("--start: " + time.error());
        p.start = *time;
    }
    if (!request.end.empty()) {
        const auto time = site::read_time_of_day(request.end);
        if (!time) return usage_failure("--end: " + time.error());
        p.end = *time;
    }
    if (request.minutes != 0 && !(request.minutes >= 1 && request.minutes <= 1440))
        return usage_failure("--minutes: accepted: 1 to 1440");
    p.length = Seconds{60 * request.minutes};
    if (p.start && p.end && *p.start == *p.end)
        return usage_failure(
            "--start and --end name the same time; for a whole day: --minutes 1440");
    if (p.end && !p.start) return usage_failure("--end needs --start");
    if (p.start && !p.end && request.minutes == 0)
        return usage_failure("--start needs --end or --minutes");
    if (p.end && request.minutes != 0)
        return usage_failure("--end and --minutes: give one of them");
    if (!p.start && request.minutes == 0)
        return usage_failure(
            "no lock: give --start 10:00 --end 13:00, or --start 10:00 --minutes 180, or --minutes "
            "180 alone for the best place in the day");
    if (p.start && !request.hours.empty())
        return usage_failure("--start and --hours: give one of them");
    const auto hours = read_hours(request.hours.empty() ? usual_hours : request.hours);
    if (!hours) return usage_failure("--hours: " + hours.error());
    p.hours = *hours;
    return p;
}

/// The lock itself, or, while it still has to be placed, the hours in which it may lie.
Answer<study::Span> bounds(const site::Zone& zone, site::LocalDate date, const Placement& p) {
    const auto at = [&](std::chrono::seconds time, site::LocalDate day) {
        return zone.instant(date::local_days{day} + time);
    };
    if (!p.start) {
        const auto whole = [](Seconds s) {
            return std::chrono::duration_cast<std::chrono::seconds>(s);
        };
        const auto from = at(whole(p.hours.first), date), to = at(whole(p.hours.second), date);
        if (!from) return usage_failure("--hours: " + from.error().message);
        if (!to) return usage_failure("--hours: " + to.error().message);
        return study::Span{*from, *to, false, false};
    }
    const auto from = at(*p.start, date);
    if (!from) return usage_failure("--start: " + from.error().message);
    if (!p.end) return study::Span{*from, *from + p.length, false, false};
    // A lock may run past midnight.
    const auto to = at(*p.end, *p.end > *p.start ? date : site::next_day(date));
    if (!to) return usage_failure("--end: " + to.error().message);
    return study::Span{*from, *to, false, false};
}

/// One date's answer; nothing if the lock does not fit into the hours.
std::optional<study::LockAnswer> ask(const RoomQuestion& q, const study::Span& within,
                                     const Placement& p, std::optional<std::size_t> key_window) {
    if (p.start)
        return study::leaks_of_lock(q.seasons->at(within.from), within.from, within.to, key_window);
    return study::best_lock(q.seasons->at(within.from), within.from, within.to, p.length,
                            key_window);
}

std::string joined(const std::vector<std::string>& words) {
    return fmt::format("{}", fmt::join(words, ", "));
}

void print_leak(const study::Leak& leak, bool is_key, const RoomQuestion& q, std::ostream& out) {
    const room::Room& room = *q.location.room;
    const site::Zone& zone = q.location.site.zone;
    std::string text =
        room.windows[leak.window].name + (is_key ? " (KEY WINDOW, can't be covered): " : ": ");
    if (leak.span && leak.begins_by.kind == room::Edge::none &&
        leak.ends_by.kind == room::Edge::none) {
        text += "all through the lock";
    } else if (leak.span) {
        text += span_outward(*leak.span, zone);
        const auto said = [&](const room::LimitingEdge& edge, const char* bound) {
            return edge.kind == room::Edge::none ? std::string{bound} : room::words(edge, room);
        };
        text += fmt::format(", begins by {}, ends by {}", said(leak.begins_by, "the lock's start"),
                            said(leak.ends_by, "the lock's end"));
        text += fmt::format("; possible {}", span_outward(leak.possible, zone));
    } else {
        text += fmt::format("not at the stated bearing; possible {}",
                            span_outward(leak.possible, zone));
    }
    print_wrapped(out, text, 2, 6);
    std::vector<std::string> lands;
    for (const room::Surface& surface : leak.surfaces)
        lands.push_back(room::words(surface, room));
    if (!lands.empty()) print_wrapped(out, "lands on " + joined(lands), 6, 6);
    std::vector<std::string> marks, cameras;
    for (const std::size_t mark : leak.marks)
        marks.push_back(room.marks[mark].name);
    for (const std::size_t camera : leak.cameras)
        cameras.push_back(room.cameras[camera].name);
    if (!marks.empty())
        print_wrapped(
            out, (marks.size() == 1 ? "REACHES THE MARK " : "REACHES THE MARKS ") + joined(marks),
            6, 6);
    if (!cameras.empty())
        print_wrapped(
            out,
            (cameras.size() == 1 ? "in the frame of camera " : "in the frames of cameras ") +
                joined(cameras),
            6, 6);
}

void print_lit_sheers(const study::LockAnswer& answer, const RoomQuestion& q, std::ostream& out) {
    for (const study::LitSheer& lit : answer.lit_sheers)
        print_wrapped(out,
                      fmt::format("sun on the sheer of {}, {}: the level changes while it lasts; "
                                  "black it out if that shows",
                                  q.location.room->windows[lit.window].name,
                                  span_outward(lit.span, q.location.site.zone)),
                      0, 4);
}

void print_lock(const study::LockAnswer& answer, const RoomQuestion& q, bool was_placed,
                std::ostream& out) {
    const room::Room& room = *q.location.room;
    const site::Zone& zone = q.location.site.zone;
    print_wrapped(
        out,
        fmt::format("lock {} ({}), {}{}", clock_span(answer.lock.from, answer.lock.to, zone),
                    offsets_over(answer.lock.from, answer.lock.to, zone),
                    in_minutes(answer.lock.length()),
                    was_placed ? ": least to cover, then least sun on it, then earliest" : ""),
        0, 4);
    if (answer.leaks.empty()) {
        out << "no direct sun enters by an open window of this file: nothing to cover\n";
    } else {
        out << "leaks\n";
        for (const study::Leak& leak : answer.leaks)
            print_leak(leak, leak.window == answer.key_window, q, out);
    }
    print_lit_sheers(answer, q, out);
    if (answer.covers.empty()) return;
    fmt::print(out, "covers, {:.2f} m2 of clear opening, to hang before the lock begins\n",
               answer.cover_area_m2());
    for (const study::CoverToHang& cover : answer.covers) {
        std::string text = fmt::format("{}: {:.2f} x {:.2f} m; sun first comes at {}",
                                       room.windows[cover.window].name, cover.width_m,
                                       cover.height_m, minute_down(cover.sure_by, zone));
        if (!cover.needed_by)
            text += ", at another bearing within the doubt only";
        else if (*cover.needed_by - cover.sure_by > Seconds{60})
            text += fmt::format(" to be safe, {} at the stated bearing",
                                minute_down(*cover.needed_by, zone));
        print_wrapped(out, text, 2, 6);
    }
}

/// Windows that count as covered already.
void print_covered(const room::Room& room, std::ostream& out) {
    std::vector<std::string> covered;
    for (const room::Window& window : room.windows)
        if (!study::lets_sun_in(window))
            covered.push_back(window.name +
                              (window.cover == room::Cover::sheer ? " (sheer)" : " (blackout)"));
    if (covered.empty()) return;
    print_wrapped(out, "taken as covered: " + joined(covered), 0, 4);
    out << '\n';
}

int answer_lock(const LockRequest& request, std::ostream& out, std::ostream& err) {
    const auto place = placement(request);
    if (!place) return report(place.error(), err);
    const auto asked = RoomQuestion::ask(request.room, request.dates, names_for(request.json));
    if (!asked) return report(asked.error(), err);
    const RoomQuestion& q = **asked;
    const auto key_window = index_of("--key-window", request.key_window, q.location.room->windows);
    if (!key_window) return report(key_window.error(), err);
    // A time that does not exist on some date is told before anything is written.
    for (site::LocalDate d = q.dates.first; d <= q.dates.last; d = site::next_day(d))
        if (const auto within = bounds(q.location.site.zone, d, *place); !within)
            return report(within.error(), err);
    const auto lines = q.read_back();
    if (!request.json) {
        print_read_back(lines, out);
        print_covered(*q.location.room, out);
    }
    tell::DaysWriter document{out, tell::start_document(q.location, lines), q.dates.is_range};
    for (site::LocalDate d = q.dates.first; d <= q.dates.last && out; d = site::next_day(d)) {
        const auto within = bounds(q.location.site.zone, d, *place);
        if (!within) return report(within.error(), err);
        const auto answer = ask(q, *within, *place, *key_window);
        if (request.json) {
            tell::Json day;
            day["date"] = site::iso_date(d);
            if (answer)
                day.update(tell::json_of(*answer, q.study_on(d)));
            else
                day.update({{"lock", nullptr},
                            {"key_window", nullptr},
                            {"leaks", tell::Json::array()},
                            {"covers", tell::Json::array()},
                            {"cover_area_m2", 0},
                            {"lit_sheers", tell::Json::array()}});
            document.add(day);
            continue;
        }
        fmt::print(out, "{}\n", site::date_in_words(d));
        if (answer)
            print_lock(*answer, q, !place->start, out);
        else
            fmt::print(out, "the lock of {} is longer than the hours {}\n",
                       in_minutes(place->length),
                       clock_span(within->from, within->to, q.location.site.zone));
        out << '\n';
    }
    if (request.json) {
        document.finish();
        return answered;
    }
    print_wrapped(out,
                  fmt::format("possible, to be safe: at any bearing within {} of the stated one. "
                              "Sizes are the clear opening: add the overlap of your cloth. "
                              "Blackout leaks at its edges. Roof lights and openings that the "
                              "file does not hold are not counted.",
                              in_degrees(q.location.room->bearing.within.in_degrees())),
                  0, 0);
    print_wrapped(out,
                  "Keep exits usable; ladders and rigging only by people fit for it, with a second "
                  "person; cloth away from hot lamps. Local codes and licensed practice decide.",
                  0, 0);
    return answered;
}

}  // namespace

void offer_lock(CommandLine& line, Session& session) {
    auto request = std::make_shared<LockRequest>();
    Options* command =
        line.add_command("lock", "every leak of sun while no light may move, and covers");
    request->room.offer(*command);
    request->dates.offer(*command);
    command->add_option("--start", request->start, "local time at which the lock begins")
        ->type_name("HH:MM");
    command->add_option("--end", request->end, "and ends (if earlier: on the next day)")
        ->type_name("HH:MM");
    command->add_option("--minutes", request->minutes, "its length; without --start: best place")
        ->type_name("MIN");
    command->add_option("--hours", request->hours, "to look for it in (default: 08:00,20:00)")
        ->type_name("FROM,TO");
    command->add_option("--key-window", request->key_window, "the lamp's window: it stays open")
        ->type_name("NAME");
    command->add_flag("--json", request->json, "one JSON document instead of a table");
    command->footer(
        "example:\n"
        "  keyhour lock locations/tallow-lane.toml --date 2026-03-10 --start 10:00 \\\n"
        "    --end 13:00\n"
        "  keyhour lock locations/tallow-lane.toml --date 2026-03-10 --minutes 180");
    command->callback([request, &session] {
        session.exit_code = answer_lock(*request, session.out, session.err);
    });
}

}  // namespace keyhour::cli
