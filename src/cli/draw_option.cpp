#include "draw_option.hpp"

#include <ostream>

#include "character_drawing.hpp"
#include "options.hpp"

namespace keyhour::cli {

void DrawOption::offer(Options& command) {
    command.add_flag("--draw", draw, "plan and strip of one date in plain characters");
    command.add_flag("--ascii", ascii, "draw with ASCII alone");
}

std::optional<Failure> DrawOption::misplaced(const DateRange& dates, bool json) const {
    if (ascii && !draw) return Failure{wrong_usage, "--ascii goes with --draw"};
    if (draw && json) return Failure{wrong_usage, "--draw and --json: give one of them"};
    if (draw && dates.first != dates.last)
        return Failure{wrong_usage, "--draw is of one date: give --date"};
    return std::nullopt;
}

void DrawOption::print(std::ostream& out, const RoomQuestion& q, const study::KeySettings& settings,
                       std::vector<Instant> hours) const {
    const CharacterSet set = character_set(ascii, out);
    const site::LocalDate date = q.dates.first;
    const study::RoomStudy& study = q.study_on(date);
    // Spots stand outside the room: no row of theirs is drawn here.
    site::Location without_spots = q.location;
    without_spots.spots.clear();
    const auto shared = track_of(q.dates, q.location.site.zone, Seconds{3 * 3600});
    if (!shared) return;
    const auto strip = study::day_strip(without_spots, &study, shared, date, settings);
    if (hours.empty()) hours = study::plan_hours(study, date, strip.keys);
    out << '\n';
    print_plan(out, study, hours, set);
    out << '\n';
    print_strip(out, study, strip, set);
    out << '\n';
}

}  // namespace keyhour::cli
