#include "keyhour/site/read_back.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "keyhour/site/compass.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/site/position.hpp"
#include "keyhour/site/seasons.hpp"

namespace keyhour::site {
namespace {

constexpr date::days recce_range{28};  // how far from a single date a change of clocks is told
constexpr std::size_t most_changes = 4;

// A tenth of a degree where there is one; nobody measures finer.
std::string degrees(Angle a) {
    const auto tenths = std::lround(wrapped_turn(a).in_degrees() * 10) % 3600;
    if (tenths % 10 == 0) return std::to_string(tenths / 10);
    return fmt::format("{}.{}", tenths / 10, tenths % 10);
}

std::string date_line(LocalDate first, LocalDate last, ReadBackWords words) {
    if (first == last)
        return "date: " + date_in_words(first) + words.date_is +
               (words.is_today ? " (no --date given: today at the site)" : "");
    return fmt::format("dates: {} to {}", date_in_words(first), date_in_words(last));
}

std::string clock_line(const Zone& zone, LocalDate first, LocalDate last) {
    const auto offset_at_noon = [&](LocalDate day) {
        return utc_offset(zone.at(zone.start_of(day) + Seconds{43200}).utc_offset);
    };
    const std::string at_first = offset_at_noon(first), at_last = offset_at_noon(last);
    if (first == last) return fmt::format("clocks: {}, {} on this date", zone.name(), at_first);
    if (at_first == at_last)
        return fmt::format("clocks: {}, {} on the first and the last date", zone.name(), at_first);
    return fmt::format("clocks: {}, {} on the first date, {} on the last", zone.name(), at_first,
                       at_last);
}

std::string change_near_one_date(const ClockChange& change, LocalDate day) {
    const auto days = (date::local_days{day} - date::local_days{change.day}).count();
    const std::string words = in_words(change);
    if (days == 0) return words + ": ON THIS DATE";
    return fmt::format("{}: {} day{} {} this date", words, std::abs(days),
                       std::abs(days) == 1 ? "" : "s", days > 0 ? "before" : "after");
}

LocalDate shifted(LocalDate day, date::days by) {
    return LocalDate{date::local_days{day} + by};
}

void add_clock_changes(std::vector<std::string>& lines, const Zone& zone, LocalDate first,
                       LocalDate last) {
    if (first == last) {
        for (const ClockChange& change :
             clock_changes(zone, shifted(first, -recce_range), shifted(first, recce_range)))
            lines.push_back(change_near_one_date(change, first));
        return;
    }
    const auto changes = clock_changes(zone, first, last);
    for (std::size_t i = 0; i < std::min(changes.size(), most_changes); ++i)
        lines.push_back(in_words(changes[i]) + ", between the two dates");
    if (changes.size() > most_changes)
        lines.push_back(
            fmt::format("and {} more changes of the clocks", changes.size() - most_changes));
}

/// "61 m", "200 ft": above the sea.
std::string elevation(double metres, Units units) {
    constexpr double foot_m = 0.3048;
    return units == Units::feet ? fmt::format("{:.0f} ft", metres / foot_m)
                                : fmt::format("{:.5g} m", metres);
}

/// "7 points", "9 bearings surveyed with an inclinometer, magnetic, turned by 1.2 degrees WEST".
std::string horizon_source(const Site& site, Units units) {
    const std::size_t n = site.horizon.points().size();
    const HorizonSource& source = site.horizon_source;
    const char* plural = n == 1 ? "" : "s";
    std::string words;
    switch (source.kind) {
        case HorizonSource::Kind::list:
            return fmt::format("{} point{}", n, plural);
        case HorizonSource::Kind::terrain:
            return fmt::format("from {} terrain grid{}, eye {} above the sea", source.tiles,
                               source.tiles == 1 ? "" : "s",
                               elevation(std::round(source.eye_above_sea_m), units));
        case HorizonSource::Kind::file:
            words = fmt::format("{} bearing{} from a file", n, plural);
            break;
        case HorizonSource::Kind::survey:
            words = fmt::format("{} bearing{} surveyed with an inclinometer", n, plural);
            break;
    }
    if (!source.magnetic) return words + ", true";
    const double by = source.declination.in_degrees();
    return words + fmt::format(", magnetic, turned by {:.1f} degrees {}", std::abs(by),
                               by < 0 ? "WEST" : "EAST");
}

std::string horizon_line(const Site& site, Units units) {
    if (site.horizon.is_level()) return "horizon: level all round";
    const auto& points = site.horizon.points();
    const auto highest = std::max_element(
        points.begin(), points.end(),
        [](const HorizonPoint& a, const HorizonPoint& b) { return a.altitude < b.altitude; });
    return fmt::format("horizon: {}, highest {:.3g} degrees towards {} ({} true)",
                       horizon_source(site, units), highest->altitude.in_degrees(),
                       compass_words({highest->bearing}), degrees(highest->bearing));
}

const char* month_in_leaf(date::month month) {
    constexpr const char* names[] = {"January",   "February", "March",    "April",
                                     "May",       "June",     "July",     "August",
                                     "September", "October",  "November", "December"};
    return names[static_cast<unsigned>(month) - 1];
}

/// What the tree does on one date.
std::string state_on(const Tree& tree, LocalDate date) {
    const bool leafy = in_leaf(tree, date);
    if (is_closed(tree, date))
        return leafy ? "in leaf, counts as closed" : "bare, counts as closed";
    return fmt::format("{}, direct sun passes, weakened by {:.0f} %", leafy ? "in leaf" : "bare",
                       100 * opacity_on(tree, date));
}

void add_surroundings(std::vector<std::string>& lines, const Location& location, LocalDate first,
                      LocalDate last) {
    const bool on_plan = std::any_of(location.spots.begin(), location.spots.end(),
                                     [](const Spot& spot) { return spot.on_plan; });
    const bool any = !buildings(location).empty() || !location.trees.empty() || on_plan;
    if (!location.room && any)
        lines.emplace_back("plan: from the site's position, x to the east, y to true north");
    if (location.imported_buildings > 0)
        lines.push_back(fmt::format("buildings: {} from footprints", location.imported_buildings));
    for (const Tree& tree : location.trees)
        lines.push_back(tree_in_words(tree, first, last));
}

}  // namespace

std::string tree_in_words(const Tree& tree, LocalDate first, LocalDate last) {
    const bool evergreen = tree.first_leaf == date::month{1} && tree.last_leaf == date::month{12};
    const std::string leaf = evergreen
                                 ? "evergreen"
                                 : fmt::format("leaf {} to {}", month_in_leaf(tree.first_leaf),
                                               month_in_leaf(tree.last_leaf));
    Location alone;
    alone.trees = {tree};
    const auto stretches = seasons(alone, first, last);
    std::string state = state_on(tree, first);
    for (std::size_t i = 1; i < std::min(stretches.size(), most_changes); ++i)
        state += fmt::format("; from {}: {}", iso_date(stretches[i].first),
                             state_on(tree, stretches[i].first));
    if (stretches.size() > most_changes) state += "; and so on";
    return fmt::format("tree {} ({}): {} (a judgement, not a measurement)", tree.name, leaf, state);
}

std::string wall_in_words(const room::Room& room, std::size_t wall) {
    const Azimuth faces = room::wall_faces(room, wall);
    const bool stated = wall == room.bearing.wall;
    std::string bearing = degrees(faces.from_north) + " true";
    if (stated && room.bearing.magnetic)
        bearing = degrees(room.bearing.faces) + " magnetic, " + bearing;
    if (stated) bearing += fmt::format(", give or take {:.3g}", room.bearing.within.in_degrees());
    const std::string& name = room.walls[wall];
    return fmt::format("{}{} faces {} ({}): looking out you look {}", name,
                       name.ends_with("wall") ? "" : " wall", compass_words(faces), bearing,
                       compass_letters(faces));
}

std::vector<std::string> site_read_back(const Location& location, LocalDate first, LocalDate last,
                                        ReadBackWords words) {
    const Site& site = location.site;
    const Coordinates place{site.observer.latitude, site.observer.longitude};
    std::vector<std::string> lines;
    if (!site.name.empty()) lines.push_back(site.name);
    lines.push_back("position: " + in_words(place));
    lines.push_back(fmt::format("in minutes: {}; {} above the sea", degrees_and_minutes(place),
                                elevation(site.observer.elevation_m, words.units)));
    lines.push_back(date_line(first, last, words));
    lines.push_back(clock_line(site.zone, first, last));
    add_clock_changes(lines, site.zone, first, last);
    lines.push_back(horizon_line(site, words.units));
    add_surroundings(lines, location, first, last);
    for (const std::string& question : location.questions)
        lines.push_back("please check: " + question);
    return lines;
}

std::vector<std::string> read_back(const Location& location, LocalDate first, LocalDate last,
                                   ReadBackWords words) {
    std::vector<std::string> lines = site_read_back(location, first, last, words);
    if (!location.room) return lines;
    for (std::size_t wall = 0; wall < location.room->walls.size(); ++wall)
        lines.push_back(wall_in_words(*location.room, wall));
    return lines;
}

}  // namespace keyhour::site
