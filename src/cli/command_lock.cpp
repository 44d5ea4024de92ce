#include <fmt/format.h>
#include <fmt/ostream.h>

#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "clock_time.hpp"
#include "command.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/lamp_day.hpp"
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

/// What is told of one date.
struct LockDate {
    std::optional<study::LockAnswer> lock;      ///< none: it does not fit into the hours
    std::optional<study::PlannedLock> by_lamp;  ///< where a lamp outside is its key
};

/// Asks date by date. Of a range in rows no landing and no lamp are told.
class LockAsker {
public:
    LockAsker(const RoomQuestion& q, const Placement& p, const site::LockPlan& plan, bool is_rows)
        : q_{q},
          p_{p},
          plan_{plan},
          is_rows_{is_rows},
          sun_{*q.seasons, q.dates.first, q.dates.last,
               is_rows ? study::AskedOfSun{} : study::sun_of_lamp_day} {}

    [[nodiscard]] LockDate ask(site::LocalDate date, const study::Span& within) {
        LockDate out;
        if (!p_.start && within.length() < p_.length) return out;
        const study::RoomSun& sun = sun_.on(date);
        const auto landing = is_rows_ ? study::Landing::left_out : study::Landing::looked_at;
        if (p_.start)
            out.lock = study::leaks_of_lock(sun, within.from, within.to, plan_.window, landing);
        else
            out.lock =
                study::best_lock(sun, within.from, within.to, p_.length, plan_.window, landing);
        if (!is_rows_ && plan_.window) by_lamp(date, within, out);
        return out;
    }

private:
    void by_lamp(site::LocalDate date, const study::Span& within, LockDate& out) {
        const study::RoomSun& sun = sun_.on(date);
        auto question = study::lamp_day_question(sun.study(), plan_);
        if (!question || !question->lamp) return;
        const Instant midnight = q_.location.site.zone.start_of(date);
        const auto since = [&](Instant t) {
            return std::chrono::duration_cast<std::chrono::seconds>(t - midnight);
        };
        question->lock = out.lock->lock.length();
        question->hours = site::WorkingHours{since(within.from), since(within.to)};
        out.by_lamp =
            study::PlannedLock{*question, study::lamp_day(sun, date, true, *question, out.lock)};
    }

    const RoomQuestion& q_;
    const Placement& p_;
    const site::LockPlan& plan_;
    bool is_rows_;
    study::SeasonalSun sun_;
};

/// The hours of a date do not hold the lock.
std::string too_long(const RoomQuestion& q, const Placement& place, const study::Span& within) {
    return fmt::format("the lock of {} is longer than the hours {}", in_minutes(place.length),
                       clock_span(within.from, within.to, q.location.site.zone));
}

tell::Json json_of_date(const LockDate& answer, const RoomQuestion& q, site::LocalDate date,
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

int answer_lock(const LockRequest& request, std::ostream& out, std::ostream& err) {
    const auto asked = ask_room(request.room, request.dates, names_for(request.json));
    if (!asked) return report(asked.error(), err);
    const RoomQuestion& q = **asked;
    site::LockPlan plan = q.location.lock.value_or(site::LockPlan{});
    const auto place = placement(request, plan);
    if (!place) return report(place.error(), err);
    const auto key_window = index_of("--key-window", request.key_window, q.location.room->windows);
    if (!key_window) return report(key_window.error(), err);
    if (*key_window) plan.window = *key_window;
    if (plan.window)
        if (const auto hung = hung_key_window("--key-window", *q.location.room, *plan.window))
            return report(*hung, err);
    // A time that does not exist on some date is told before anything is written.
    for (site::LocalDate d = q.dates.first; d <= q.dates.last; d = site::next_day(d))
        if (const auto within = bounds(q.location.site.zone, d, *place); !within)
            return report(within.error(), err);
    const auto show = request.show.read();
    if (!show) return report(show.error(), err);
    if (request.line && request.json)
        return report({wrong_usage, "--line and --json: give one of them"}, err);
    const auto lines = q.read_back();
    const tell::LockQuestion told{q.location, q.recce, overlap_of(request.room.location),
                                  !place->start, *show};
    const bool page = !request.json && !request.line;
    if (page) print(out, tell::opening(q.location, q.recce, told_dates(q.dates)));
    tell::DaysWriter document{out, tell::start_document(q.location, lines), q.dates.is_range};
    bool any_cover = false, any_lamp = false;
    LockAsker asker{q, *place, plan, request.line || (q.dates.is_range && !request.json)};
    for (site::LocalDate d = q.dates.first; d <= q.dates.last && out; d = site::next_day(d)) {
        const auto within = bounds(q.location.site.zone, d, *place);
        if (!within) return report(within.error(), err);
        const LockDate date = asker.ask(d, *within);
        const auto& answer = date.lock;
        any_cover = any_cover || (answer && !answer->covers.empty());
        any_lamp = any_lamp || date.by_lamp;
        if (request.json)
            document.add(json_of_date(date, q, d, told.overlap_m));
        else if (!answer)
            print(out,
                  {{(q.dates.is_range ? row_date(d) + ": " : "") + too_long(q, *place, *within)}});
        else if (request.line)
            out << tell::lock_message(*answer, told) << '\n';
        else if (q.dates.is_range)
            print(out, {tell::lock_row(*answer, told, d)});
        else {
            print(out, tell::lock_page(*answer, told));
            if (date.by_lamp) print(out, tell::lock_key_page(*date.by_lamp, q.study_on(d), told));
        }
    }
    if (request.json) document.finish();
    if (!page) return answered;
    print(out, tell::lock_foot(told, any_cover, any_lamp));
    if (show->has(tell::Detail::readback)) print(out, tell::paragraphs(q.read_back(q.recce.units)));
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
