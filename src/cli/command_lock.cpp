#include <fmt/format.h>
#include <fmt/ostream.h>

#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>
#include <vector>

#include "clock_time.hpp"
#include "command.hpp"
#include "keyhour/ask/lock.hpp"
#include "keyhour/site/dates.hpp"
#include "lamp_window.hpp"
#include "numbers.hpp"
#include "overlap.hpp"
#include "room_options.hpp"
#include "show_option.hpp"
#include "tell/lamp_key_document.hpp"
#include "tell/lock_page.hpp"
#include "tell/room_documents.hpp"
#include "text.hpp"

namespace keyhour::cli {
namespace {

struct LockRequest {
    RoomOptions room;
    DateOptions dates;
    std::string key_window, start, end, hours;
    double minutes = 0;  // not given
    ShowOption show{{tell::Detail::hours, tell::Detail::doubt, tell::Detail::readback}};
    bool json = false, line = false;
};

/// How the lock's place in the day was given.
struct Placement {
    std::optional<ClockTime> start, end;
    Seconds length{0};
    std::pair<Seconds, Seconds> hours;
};

/// @param plan  the location's, which the options override
Answer<Placement> placement(const LockRequest& request, const site::LockPlan& plan) {
    Placement p;
    const bool has_length = request.minutes != 0 || (plan.length && request.end.empty());
    if (!request.start.empty()) {
        const auto time = read_clock_time(request.start);
        if (!time) return usage_failure("--start: " + time.error());
        p.start = *time;
    }
    if (!request.end.empty()) {
        const auto time = read_clock_time(request.end);
        if (!time) return usage_failure("--end: " + time.error());
        p.end = *time;
    }
    if (request.minutes != 0 && !(request.minutes >= 1 && request.minutes <= 1440))
        return usage_failure("--minutes: accepted: 1 minute to 24 hours");
    p.length = request.minutes != 0 ? Seconds{60 * request.minutes}
                                    : Seconds{plan.length.value_or(std::chrono::seconds{0})};
    if (p.start && p.end && p.start->time == p.end->time)
        return usage_failure(
            "--start and --end name the same time; for a whole day: --minutes 1440");
    if (p.end && !p.start) return usage_failure("--end needs --start");
    if (p.start && !p.end && !has_length) return usage_failure("--start needs --end or --minutes");
    if (p.end && request.minutes != 0)
        return usage_failure("--end and --minutes: give one of them");
    if (!p.start && !has_length)
        return usage_failure(
            "no lock: give --start 10:00 --end 13:00, or --start 10:00 --minutes 180, or --minutes "
            "180 alone for the best place in the day; or minutes under [lock] in the file");
    if (p.start && !request.hours.empty())
        return usage_failure("--start and --hours: give one of them");
    const site::WorkingHours usual = plan.hours.value_or(site::usual_working_hours);
    p.hours = {Seconds{usual.from}, Seconds{usual.to}};
    if (request.hours.empty()) return p;
    const auto hours = read_hours(request.hours);
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
    const auto from = p.start->on(date, zone);
    if (!from) return usage_failure("--start: " + from.error());
    if (!p.end) return study::Span{*from, *from + p.length, false, false};
    // A lock may run past midnight.
    const auto to = p.end->on(p.end->time > p.start->time ? date : site::next_day(date), zone);
    if (!to) return usage_failure("--end: " + to.error());
    return study::Span{*from, *to, false, false};
}

/// The hours of a date do not hold the lock.
std::string too_long(const RoomQuestion& q, const ask::LockTime& time) {
    return fmt::format("the lock of {} is longer than the hours {}", in_minutes(*time.length),
                       clock_span(time.within.from, time.within.to, q.location.site.zone));
}

tell::Json json_of_date(const ask::LockAnswer& answer, const RoomQuestion& q, site::LocalDate date,
                        double overlap_m) {
    tell::Json day;
    day["date"] = site::iso_date(date);
    day["by_lamp"] = nullptr;
    if (answer.by_lamp) day["by_lamp"] = tell::json_of(*answer.by_lamp, q.study_on(date));
    if (answer.lock)
        day.update(tell::json_of(*answer.lock, q.study_on(date), overlap_m));
    else
        day.update({{"lock", nullptr},
                    {"key_window", nullptr},
                    {"leaks", tell::Json::array()},
                    {"covers", tell::Json::array()},
                    {"cover_area_m2", 0},
                    {"lit_sheers", tell::Json::array()}});
    return day;
}

/// What of the options and the file is asked; names are looked up.
Answer<site::LockPlan> plan_of(const LockRequest& request, const site::Location& location) {
    site::LockPlan plan = location.lock.value_or(site::LockPlan{});
    const auto key_window = index_of("--key-window", request.key_window, location.room->windows);
    if (!key_window) return tl::unexpected{key_window.error()};
    if (*key_window) plan.window = *key_window;
    if (plan.window)
        if (const auto hung = hung_key_window("--key-window", *location.room, *plan.window))
            return tl::unexpected{*hung};
    return plan;
}

/// The lock's time on every date: one that does not exist is told before anything is written.
Answer<std::vector<ask::LockTime>> lock_times(const RoomQuestion& q, const Placement& place) {
    std::vector<ask::LockTime> times;
    for (site::LocalDate d = q.dates.first; d <= q.dates.last; d = site::next_day(d)) {
        const auto within = bounds(q.location.site.zone, d, place);
        if (!within) return tl::unexpected{within.error()};
        times.push_back({*within, {}});
        if (!place.start) times.back().length = place.length;
    }
    return times;
}

/// Writes date by date.
class LockTeller {
public:
    LockTeller(const LockRequest& request, const RoomQuestion& q, const tell::LockQuestion& told,
               std::ostream& out)
        : r_{request},
          q_{q},
          told_{told},
          out_{out},
          document_{out, tell::start_document(q.location, q.read_back()), q.dates.is_range} {
        if (is_page()) print(out_, tell::opening(q.location, q.recce, told_dates(q.dates)));
    }

    void tell(site::LocalDate date, const ask::LockTime& time, const ask::LockAnswer& answer) {
        any_cover_ = any_cover_ || (answer.lock && !answer.lock->covers.empty());
        any_lamp_ = any_lamp_ || answer.by_lamp;
        if (r_.json)
            document_.add(json_of_date(answer, q_, date, told_.overlap_m));
        else if (!answer.lock)
            print(out_, {{(q_.dates.is_range ? row_date(date) + ": " : "") + too_long(q_, time)}});
        else if (r_.line)
            out_ << tell::lock_message(*answer.lock, told_) << '\n';
        else if (q_.dates.is_range)
            print(out_, {tell::lock_row(*answer.lock, told_, date)});
        else
            print(out_, tell::lock_page(*answer.lock, told_));
        if (is_page() && answer.by_lamp)
            print(out_, tell::lock_key_page(*answer.by_lamp, q_.study_on(date), told_));
    }

    void finish() {
        if (r_.json) document_.finish();
        if (!is_page()) return;
        print(out_, tell::lock_foot(told_, any_cover_, any_lamp_));
        if (told_.show.has(tell::Detail::readback))
            print(out_, tell::paragraphs(q_.read_back(q_.recce.units)));
    }

private:
    [[nodiscard]] bool is_page() const { return !r_.json && !r_.line; }

    const LockRequest& r_;
    const RoomQuestion& q_;
    const tell::LockQuestion& told_;
    std::ostream& out_;
    tell::DaysWriter document_;
    bool any_cover_ = false, any_lamp_ = false;
};

int answer_lock(const LockRequest& request, std::ostream& out, std::ostream& err) {
    const auto asked = ask_room(request.room, request.dates, names_for(request.json));
    if (!asked) return report(asked.error(), err);
    const RoomQuestion& q = **asked;
    const auto place = placement(request, q.location.lock.value_or(site::LockPlan{}));
    if (!place) return report(place.error(), err);
    const auto plan = plan_of(request, q.location);
    if (!plan) return report(plan.error(), err);
    const auto times = lock_times(q, *place);
    if (!times) return report(times.error(), err);
    const auto show = request.show.read();
    if (!show) return report(show.error(), err);
    if (request.line && request.json)
        return report({wrong_usage, "--line and --json: give one of them"}, err);
    const tell::LockQuestion told{q.location, q.recce,
                                  overlap_of(request.room.location, request.room.what_if.changes()),
                                  !place->start, *show};
    // Of a range in rows no landing and no lamp are told.
    const bool in_full = !request.line && (!q.dates.is_range || request.json);
    ask::Locks locks{q, {*plan, in_full, in_full}};
    LockTeller teller{request, q, told, out};
    site::LocalDate date = q.dates.first;
    for (const ask::LockTime& time : *times) {
        if (!out) break;
        teller.tell(date, time, locks.on(date, time));
        date = site::next_day(date);
    }
    teller.finish();
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
    command
        ->add_option("--minutes", request->minutes,
                     "its length; without --start: in its best place")
        ->type_name("MIN");
    command->add_option("--hours", request->hours, "to look for it in (usual: 08:00,20:00)")
        ->type_name("FROM,TO");
    command->add_option("--key-window", request->key_window, "the lamp's window: it stays open")
        ->type_name("NAME");
    request->show.offer(*command);
    command->add_flag("--line", request->line, "one line a date, to be sent as a message");
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
