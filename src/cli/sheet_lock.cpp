#include "sheet_lock.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "keyhour/room/scene.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/sun_in_room.hpp"
#include "shown_names.hpp"
#include "text.hpp"

namespace keyhour::cli {
namespace {

using std::chrono::seconds;

Answer<seconds> time_of_day(const char* option, const std::string& text) {
    const auto read = site::read_time_of_day(text);
    if (!read) return usage_failure(option + (": " + read.error()));
    return *read;
}

/// A lamp outside that has a beam to aim.
bool can_be_key(const site::Lamp& lamp) {
    return lamp.place == site::Lamp::Place::outside &&
           !std::holds_alternative<site::Lumens>(lamp.photometry);
}

/// Of a window named by flag: open, and with a mark in a straight line.
std::optional<Failure> unfit(const room::Room& room, site::LockPlan& plan) {
    const room::Window& w = room.windows[*plan.window];
    if (!study::lets_sun_in(w))
        return Failure{wrong_usage, fmt::format("--key-window \"{}\" is covered, and the key's "
                                                "light must come through it",
                                                w.name)};
    const room::Scene scene{room};
    for (std::size_t mark = 0; !plan.mark && mark < room.marks.size(); ++mark)
        if (scene.faces(*plan.window, mark)) plan.mark = mark;
    if (plan.mark && scene.faces(*plan.window, *plan.mark)) return std::nullopt;
    return Failure{
        wrong_usage,
        fmt::format("--key-window \"{}\": no straight line leads from it to the mark", w.name)};
}

}  // namespace

void LockOptions::offer(Options& command) {
    command.add_option("--lock", minutes, "a lock so long, keyed by a lamp, in its best place")
        ->type_name("MIN");
    command.add_option("--start", start, "the lock begins then, local time")->type_name("HH:MM");
    command.add_option("--end", end, "and ends then, on the same date")->type_name("HH:MM");
    command.add_option("--key-window", key_window, "the lamp's window: it stays open")
        ->type_name("NAME");
    command.add_option("--key-lamp", lamp, "the lamp outside that is the key")->type_name("NAME");
}

std::optional<Failure> LockOptions::plan(site::Location& location) const {
    const bool placed = !start.empty() || !end.empty();
    if (minutes == 0 && !placed && key_window.empty() && lamp.empty()) return std::nullopt;
    if (!location.room || location.room->windows.empty() || location.room->marks.empty())
        return Failure{wrong_usage, "a lock needs a [room] with a [[window]] and a [[mark]]"};
    if (minutes != 0 && placed)
        return Failure{wrong_usage, "--lock and --start with --end: give one of them"};
    if (start.empty() != end.empty()) return Failure{wrong_usage, "--start and --end: give both"};
    if (minutes != 0 && !(minutes >= 1 && minutes <= 1440))
        return Failure{wrong_usage, fmt::format("--lock of {}: accepted: 1 minute to 24 hours",
                                                in_minutes(Seconds{60 * minutes}))};
    site::LockPlan plan = location.lock.value_or(site::LockPlan{});
    const auto window = index_of("--key-window", key_window, location.room->windows);
    if (!window) return window.error();
    if (*window) plan.window = *window;
    const auto key = index_of("--key-lamp", lamp, location.lamps);
    if (!key) return key.error();
    if (*key && !can_be_key(location.lamps[**key]))
        return Failure{wrong_usage, fmt::format("--key-lamp \"{}\": accepted: a lamp outside that "
                                                "can be aimed",
                                                location.lamps[**key].name)};
    if (*key) plan.lamp = *key;
    if (placed) {
        const auto from = time_of_day("--start", start), to = time_of_day("--end", end);
        for (const auto* one : {&from, &to})
            if (!*one) return one->error();
        if (*from >= *to)
            return Failure{wrong_usage, fmt::format("--start {} --end {}: the lock of a sheet "
                                                    "begins and ends on its date",
                                                    start, end)};
        plan.hours = {*from, *to};
        plan.length = *to - *from;
    } else if (minutes != 0) {
        plan.length = std::chrono::duration_cast<seconds>(Seconds{60 * minutes});
    }
    const auto hours = plan.hours.value_or(site::usual_working_hours);
    if (plan.length.value_or(site::usual_lock) > hours.length())
        return Failure{wrong_usage, fmt::format("the lock is longer than its working hours, {}",
                                                in_minutes(hours.length()))};
    if (plan.window)
        if (auto failure = unfit(*location.room, plan)) return failure;
    location.lock = plan;
    return std::nullopt;
}

}  // namespace keyhour::cli
