#include "sheet_sections.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cautions.hpp"
#include "draw/svg.hpp"
#include "keyhour/site/compass.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/site/read_back.hpp"
#include "keyhour/study/timetable.hpp"
#include "late_light_lines.hpp"
#include "page_table.hpp"
#include "sheet_text.hpp"
#include "words/clock.hpp"
#include "words/length.hpp"
#include "words/levels.hpp"

namespace keyhour::tell {

std::string page_section(const char* id, const std::string& title, const std::string& body,
                         const char* css_class) {
    if (body.empty()) return {};
    return fmt::format(
        "<section aria-labelledby=\"{0}\"{1}>\n<h2 id=\"{0}\">{2}</h2>\n{3}</section>\n", id,
        *css_class ? fmt::format(" class=\"{}\"", css_class) : "", draw::escaped(title), body);
}

namespace {

/// The whole hours at which the sun is up.
std::vector<const study::SheetStep*> whole_hours(const SheetContent& c) {
    std::vector<const study::SheetStep*> out;
    for (const study::SheetStep& step : c.day.steps)
        if (site::whole_minutes(step.now.at, zone_of(c)).ends_with(":00")) out.push_back(&step);
    return out;
}

}  // namespace

std::string hours_section(const SheetContent& c) {
    if (!c.room) return {};
    const study::KeyInterval* best = study::best_key(c.day.strip);
    const std::size_t mark = best ? best->mark : 0;
    const bool has_mark = !c.room->room().marks.empty();
    const std::vector<const study::SheetStep*> hours = whole_hours(c);
    std::string rows;
    for (const study::SheetStep* hour : hours) {
        const study::SheetStep& step = *hour;
        Rows cells{
            site::whole_minutes(step.now.at, zone_of(c)),
            fmt::format("{:.1f} {}", step.now.sun.azimuth.from_north.in_degrees(),
                        site::compass_letters(step.now.sun.azimuth)),
            fmt::format("{:.1f}", step.now.sun.apparent_altitude.above_horizon.in_degrees())};
        if (has_mark) {
            const study::MarkReading& m = step.marks[mark];
            cells.push_back(
                times(m.coverage > 0 ? fmt::format("{:.0f} %", 100 * m.coverage) : "none"));
            cells.push_back(times(words::level(m.level_lx)));
            cells.push_back(times(stop_text(m.level_lx.likely, c.camera.exposure)));
        }
        rows += row(cells);
    }
    Rows head{"Time", "Sun bearing, true", "Sun altitude"};
    if (has_mark)
        for (const char* h : {"Lit", "Level", "Stop"})
            head.emplace_back(h);
    std::string body = table(head, rows);
    if (!body.empty() && has_mark)
        body +=
            note(fmt::format("Lit: the share of {} that the sun reaches. Level: key and fill "
                             "together, on a flat receptor turned to the "
                             "brightest window. {}",
                             c.room->room().marks[mark].name, exposure_words(c.camera.exposure)));
    return page_section("hours", "Hour by hour", body);
}

namespace {

/// Between which times direct light comes and goes.
std::string ends_text(const study::SpotEnsemble::Ends& ends, const site::Zone& zone) {
    std::string text;
    if (ends.begins) text = "begins " + words::clock_outward(*ends.begins, zone);
    if (ends.ends)
        text += (text.empty() ? "ends " : ", ends ") + words::clock_outward(*ends.ends, zone);
    return text;
}

}  // namespace

std::string spots_section(const SheetContent& c) {
    std::string rows;
    const site::Zone& zone = zone_of(c);
    const auto direct = [&](std::size_t spot) {
        std::string out;
        const std::vector<study::DirectSpan>& spans = c.day.strip.spots[spot].direct;
        for (std::size_t i = 0; i < spans.size(); ++i)
            out += (out.empty() ? "" : "<br>") + times(words::clock_inward(spans[i].span, zone)) +
                   below(ends_text(c.day.spot_ends[spot][i], zone));
        return out.empty() ? std::string{"none"} : out;
    };
    const study::SpotSettings usual;
    const auto wanted = [&](const study::SpotDay& spot) {
        const study::SafeStart* longest = study::longest(spot.for_wanted);
        if (!longest) return std::string{"none"};
        return times(words::clock_inward(longest->light, zone)) +
               below(set_up_words(*longest, usual.shot, zone));
    };
    for (std::size_t i = 0; i < c.day.strip.spots.size(); ++i) {
        const study::SpotDay& spot = c.day.strip.spots[i];
        const site::Spot& place = c.location.spots[i];
        std::string late;
        for (const study::LateLight& l : spot.late_light)
            if (l.evening)
                late += times(words::clock_inward({l.start, l.end}, zone)) +
                        below(sun_in_late_light(l, zone));
        if (!late.empty()) late += below(late_start_words(spot, place.wants, usual.shot, zone));
        rows += row({draw::escaped(place.name), direct(i), wanted(spot),
                     late.empty() ? std::string{"none"} : late});
    }
    std::string body = table({"Place", "Direct sun", "Wanted light", "Late light"}, rows);
    if (!body.empty())
        body +=
            note(fmt::format("Begins, ends: in 9 of 10 cases, with every figure moved within its "
                             "doubt. Set up by: then {} of set-up and {} of shot are done before "
                             "the light goes that the shot wants. Late light: of the evening; the "
                             "sky's levels are a clear, open sky's.",
                             words::in_minutes(usual.set_up), words::in_minutes(usual.shot)));
    return page_section("spots", "Places outside", body);
}

namespace {

std::string call_words(const SheetContent& c, Instant start) {
    if (!c.rigging.call) return {};
    const auto call = zone_of(c).instant(date::local_days{c.day.strip.date} + *c.rigging.call);
    if (!call) return "The call has no such local time on this date.";
    const std::string clock = site::whole_minutes(*call, zone_of(c));
    return *call <= start
               ? fmt::format("Call {}: {} in hand.", clock, words::in_minutes(start - *call))
               : fmt::format("Call {}: {} TOO LATE.", clock, words::in_minutes(*call - start));
}

std::string tasks_table(const SheetContent& c, const study::Timetable& t) {
    std::string rows;
    for (const study::TimedTask& task : t.tasks)
        rows += row({words::minute_down(task.from, zone_of(c)),
                     name_cell(c.rigging.tasks[task.task].name),
                     words::in_minutes(task.to - task.from)});
    rows += row({words::minute_down(t.ready_by, zone_of(c)),
                 c.day.strip.planned ? "ready: the lock begins"
                 : c.room            ? "ready: the best key begins"
                                     : "ready: the light begins",
                 ""});
    return table({"Begin", "Task", "Takes"}, rows);
}

std::string nothing_to_count(const SheetContent& c) {
    if (!c.room) return "<p>No wanted light on this date: nothing to count back from.</p>\n";
    return fmt::format(
        "<p>There is no clean key {} to count back to.{}</p>\n",
        c.day.strip.keys.empty() ? "on this date" : "at the bearing stated",
        c.location.spots.empty() ? "" : " Each place outside has its own &quot;set up by&quot;.");
}

}  // namespace

std::string timetable_section(const SheetContent& c) {
    if (c.rigging.tasks.empty()) return {};
    if (!c.day.ready_by)
        return page_section("rigging", "Rigging, counted back", nothing_to_count(c));
    std::string body, sizes;
    for (const int crew : study::crew_sizes(c.rigging)) {
        const study::Timetable t = study::count_back(c.rigging, crew, *c.day.ready_by);
        const bool is_ours = c.rigging.crew ? *c.rigging.crew == crew : body.empty();
        if (t.needs_more) {
            sizes += row({fmt::format("{}", crew), "none",
                          name_cell("too few for " + c.rigging.tasks[*t.needs_more].name)});
            continue;
        }
        if (is_ours)
            body = fmt::format("<p>With a crew of {}: rigging begins at {}.</p>\n", crew,
                               words::minute_down(t.start, zone_of(c))) +
                   tasks_table(c, t);
        sizes += row({fmt::format("{}", crew), words::minute_down(t.start, zone_of(c)),
                      draw::escaped(call_words(c, t.start))});
    }
    body += table({"Crew", "Begins", "Against the call"}, sizes);
    const study::KeyInterval* best = c.day.strip.planned ? nullptr : study::best_key(c.day.strip);
    body +=
        note((best ? key_window_words(c, *best) + " That goes before any task. " : std::string{}) +
             "Minutes as entered in the location file, one task after the other by the whole "
             "crew. Add time to carry, to park and to eat.");
    return page_section("rigging", "Rigging, counted back", body);
}

std::string day_line(const SheetContent& c) {
    std::string out;
    if (c.day.strip.day.state == study::DayState::sun_always_down)
        out = "the sun stays below the horizon";
    if (c.day.strip.day.state == study::DayState::sun_always_up) out = "the sun does not set";
    for (const study::DayEvent& e : c.day.strip.day.events) {
        using Kind = study::DayEventKind;
        if (e.kind == Kind::astronomical_dawn || e.kind == Kind::astronomical_dusk ||
            e.kind == Kind::nautical_dawn || e.kind == Kind::nautical_dusk)
            continue;
        out += (out.empty() ? "" : ", ") + study::in_words(e.kind) + ' ' +
               site::whole_minutes(words::event_minute(e.kind, e.at), zone_of(c));
    }
    for (const site::ClockChange& change : c.day.strip.clock_changes)
        out += (out.empty() ? "" : "; ") + site::in_words(change);
    return out;
}

}  // namespace keyhour::tell
