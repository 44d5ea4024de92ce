#include "tell/opening.hpp"

#include <fmt/format.h>

#include <cmath>

#include "keyhour/site/compass.hpp"
#include "keyhour/site/dates.hpp"
#include "words/clock.hpp"

namespace keyhour::tell {
namespace {

constexpr date::days recce_range{28};  // a change of clocks within it may lie after the recce

site::LocalDate shifted(site::LocalDate day, date::days by) {
    return site::LocalDate{date::local_days{day} + by};
}

/// "1 hour", "30 min".
std::string hours_moved(const site::ClockChange& change) {
    const auto minutes =
        std::chrono::duration_cast<std::chrono::minutes>(change.after - change.before).count();
    const long size = std::labs(static_cast<long>(minutes));
    return size % 60 == 0 ? fmt::format("{} hour{}", size / 60, size == 60 ? "" : "s")
                          : fmt::format("{} min", size);
}

/// A change of the clocks between what was seen and the date that is asked about.
std::string changed_clocks(const site::ClockChange& change, bool recce_known,
                           site::LocalDate first) {
    if (change.day == first)
        return fmt::format("CLOCKS CHANGE ON THIS DATE: {}", site::in_words(change));
    const bool later = change.after > change.before;
    return fmt::format(
        "CLOCKS CHANGED {}: {} {} on {} ({} to {}); what was seen before comes as much {} by the "
        "clock",
        recce_known ? "SINCE THE RECCE" : "SINCE AN EARLIER RECCE", later ? "forward" : "back",
        hours_moved(change), site::date_in_words(change.day), site::utc_offset(change.before),
        site::utc_offset(change.after), later ? "later" : "earlier");
}

std::string hemisphere(double degrees, const char* positive, const char* negative) {
    return fmt::format("{:.2f} {}", std::abs(degrees), degrees < 0 ? negative : positive);
}

std::string date_line(const site::Zone& zone, const Dates& dates) {
    const auto noon = [&](site::LocalDate day) { return zone.start_of(day) + Seconds{43200}; };
    const std::string today = dates.is_today ? "; no --date given: today there" : "";
    if (!dates.is_range)
        return fmt::format("{}, {}{}", words::short_date(dates.first),
                           words::offset_at(noon(dates.first), zone), today);
    return fmt::format("{} to {}, {}", words::short_date(dates.first),
                       words::short_date(dates.last),
                       words::offsets_over(noon(dates.first), noon(dates.last), zone));
}

}  // namespace

std::vector<std::string> loud_lines(const site::Location& location, const site::Recce& recce,
                                    const Dates& dates) {
    std::vector<std::string> lines;
    const auto seen = recce.bearing_measured;
    const site::LocalDate from = seen ? std::min(shifted(*seen, date::days{1}), dates.first)
                                      : shifted(dates.first, -recce_range);
    for (const site::ClockChange& change :
         site::clock_changes(location.site.zone, from, dates.first))
        lines.push_back(changed_clocks(change, seen.has_value(), dates.first));
    for (const std::string& question : location.questions)
        lines.push_back("PLEASE CHECK: " + question);
    return lines;
}

std::string place_line(const site::Site& site) {
    const std::string at = hemisphere(site.observer.latitude.in_degrees(), "NORTH", "SOUTH") + ' ' +
                           hemisphere(site.observer.longitude.in_degrees(), "EAST", "WEST");
    return site.name.empty() ? at : site.name + ", " + at;
}

Paragraphs opening(const site::Location& location, const site::Recce& recce, const Dates& dates) {
    Paragraphs out;
    for (std::string& line : loud_lines(location, recce, dates))
        out.push_back({std::move(line)});
    out.push_back({place_line(location.site)});
    out.push_back({date_line(location.site.zone, dates)});
    if (dates.is_range)
        for (const site::ClockChange& change : site::clock_changes(
                 location.site.zone, shifted(dates.first, date::days{1}), dates.last))
            out.push_back({site::in_words(change)});
    return out;
}

std::string wall_in_brief(const room::Room& room, std::size_t wall) {
    const Azimuth faces = room::wall_faces(room, wall);
    const auto degrees = [](Angle a) {
        return fmt::format("{:.4g}", std::round(wrapped_turn(a).in_degrees() * 10) / 10);
    };
    const bool stated = wall == room.bearing.wall;
    std::string bearing = degrees(faces.from_north) + " true";
    if (stated && room.bearing.magnetic)
        bearing = degrees(room.bearing.faces) + " magnetic, " + bearing;
    const std::string& name = room.walls[wall];
    return fmt::format("{}{} faces {}, {}, give or take {:.3g}", name,
                       name.ends_with("wall") ? "" : " wall", site::compass_letters(faces), bearing,
                       room.bearing.within.in_degrees());
}

std::string bearing_needed(const room::Room& room) {
    return fmt::format(
        "BEARING NOT MEASURED: the usual give or take {:.3g} is taken; keyhour bearing finds it "
        "from a timed shadow",
        room.bearing.within.in_degrees());
}

std::string looks_reversed(const room::Room& room) {
    const Azimuth faces = room::wall_faces(room, room.bearing.wall);
    const Azimuth opposite{wrapped_turn(faces.from_north + Angle::degrees(180))};
    return fmt::format(
        "DOES THE BEARING LOOK IN INSTEAD OF OUT? No sun enters in the whole year with \"{}\" "
        "facing {}; facing {} it would",
        room.walls[room.bearing.wall], site::compass_letters(faces),
        site::compass_letters(opposite));
}

}  // namespace keyhour::tell
