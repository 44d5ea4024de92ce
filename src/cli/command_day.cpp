#include <fmt/format.h>
#include <fmt/ostream.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>
#include <vector>

#include "command.hpp"
#include "date_options.hpp"
#include "keyhour/site/compass.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/day.hpp"
#include "keyhour/study/day_light.hpp"
#include "light_text.hpp"
#include "numbers.hpp"
#include "site_options.hpp"
#include "tell/cautions.hpp"
#include "tell/day_document.hpp"
#include "tell/document.hpp"
#include "text.hpp"
#include "words/clock.hpp"

namespace keyhour::cli {
namespace {

using study::DayEventKind;

struct DayRequest {
    SiteOptions site;
    DateOptions dates;
    std::string late_light;  // "LOW,HIGH"
    bool json = false, no_light = false;
};

constexpr const char* kBandWanted =
    "write two altitudes of the sun in degrees, the lower first, -18 to 90, such as -4,6";

Answer<study::LateLightBand> read_band(const std::string& text) {
    if (text.empty()) return study::LateLightBand{};
    if (const auto band = read_pair(text, -18, 90))
        return study::LateLightBand{{Angle::degrees((*band)[0])}, {Angle::degrees((*band)[1])}};
    return usage_failure(fmt::format("--late-light \"{}\": {}", text, kBandWanted));
}

// --- tables -------------------------------------------------------------------------------------

std::string length_in_words(Seconds length) {
    const auto minutes = std::lround(length.count() / 60);
    return fmt::format("{} h {:02} min", minutes / 60, minutes % 60);
}

std::string absent_in_words(const study::AbsentEvent& absent) {
    const bool skyline =
        absent.kind == DayEventKind::first_sun || absent.kind == DayEventKind::last_sun;
    switch (absent.sun) {
        case sun::Side::always_above:
            return skyline ? "none: the sun stays above the site's horizon"
                           : "none: the sun stays above that altitude";
        case sun::Side::always_below:
            return skyline ? "none: the sun stays below the site's horizon"
                           : "none: the sun stays below that altitude";
        case sun::Side::crosses:
            break;
    }
    return "none on this date";
}

void print_event(const study::DayEvent& event, const site::Zone& zone, std::ostream& out) {
    fmt::print(out, "  {:<18} {}  {:<9}  azimuth {:5.1f} {:<3}  altitude {:5.1f}\n",
               study::in_words(event.kind), site::whole_minutes(event.at, zone),
               site::utc_offset(zone.at(event.at).utc_offset),
               tell::rounded_turn(event.azimuth.from_north, 1),
               site::compass_letters(event.azimuth),
               tell::rounded(event.true_altitude.above_horizon.in_degrees(), 1));
}

std::string span_in_words(Instant start, Instant end, const site::Zone& zone) {
    // An end at midnight belongs to the next date on the clock, but closes this one.
    return fmt::format("{} to {} {}", site::whole_minutes(start, zone),
                       site::whole_minutes(end - Seconds{0.001}, zone),
                       site::utc_offset(zone.at(start).utc_offset));
}

void print_late_light(const study::Day& day, const site::Zone& zone,
                      const study::LateLightBand& band, bool is_default, std::ostream& out) {
    fmt::print(out, "late light, sun {:g} to {:g} degrees{}\n",
               band.high.above_horizon.in_degrees(), band.low.above_horizon.in_degrees(),
               is_default ? " (common practice, no source)" : "");
    if (day.late_light.empty()) out << "  none on this date\n";
    for (const study::LateLight& light : day.late_light) {
        // Light to shoot in: what it promises lies within it, and is as long as it says.
        const Instant start = words::minute_after(light.start),
                      end = std::max(start, words::minute_before(light.end));
        fmt::print(out, "  {:<18} {}, {}\n", light.evening ? "evening" : "morning",
                   span_in_words(start, end, zone), length_in_words(end - start));
    }
}

void print_day(const study::Day& day, const site::Zone& zone, const study::LateLightBand& band,
               bool is_default_band, std::ostream& out) {
    fmt::print(out, "{}\n", site::date_in_words(day.date));
    if (!day.exists) {
        fmt::print(out, "  {} leaves this date out\n\n", zone.name());
        return;
    }
    if (day.state == study::DayState::sun_always_up) out << "  the sun is up all day\n";
    if (day.state == study::DayState::sun_always_down) out << "  the sun does not rise\n";
    for (const study::DayEvent& event : day.events)
        print_event(event, zone, out);
    for (const study::AbsentEvent& absent : day.absent)
        fmt::print(out, "  {:<18} {}\n", study::in_words(absent.kind), absent_in_words(absent));
    fmt::print(out, "  {:<18} {}\n\n", "day length", length_in_words(day.length));
    print_late_light(day, zone, band, is_default_band, out);
    out << '\n';
}

/// "06:12 rise": an event is named, a whole hour is not.
std::string when(const study::DayLight& l, const site::Zone& zone) {
    const std::string time = site::whole_minutes(l.at, zone);
    return l.event ? time + ' ' + study::in_words(*l.event) : time;
}

std::string kelvin(const std::optional<double>& k) {
    return k ? fmt::format("{:.0f}", std::round(*k / 100) * 100) : "--";
}

void print_light(const std::vector<study::DayLight>& light, const site::Zone& zone,
                 std::ostream& out) {
    constexpr double darkest_deg = -7;  // civil twilight; JSON has the night's levels
    out << "light on open level ground\n"
           "                           sun  clear sky                mean\n"
           "                           deg  likely   low to high     cloud    overcast K\n";
    for (const study::DayLight& l : light)
        if (l.true_altitude_deg > darkest_deg)
            fmt::print(out, "  {:<20} {:>7.1f}  {:<8} {:<15} {:<8} {:<8} {}\n", when(l, zone),
                       tell::rounded(l.true_altitude_deg, 1), level_text(l.clear_lx.likely),
                       level_range(l.clear_lx.low, l.clear_lx.high), level_text(l.mean_cloud_lx),
                       level_text(l.overcast_lx), kelvin(l.mix_kelvin));
    print_wrapped(out,
                  "low to high: over the air's neighbouring classes and the published models. Mean "
                  "cloud: an average over time, the sun out half of it; overcast: a mean, a stop "
                  "and more to either side. K of sun and sky together; cloud about 6500.",
                  0, 0);
    print_wrapped(out, tell::sun_caution, 0, 0);
    out << '\n';
}

constexpr std::array kColumns{
    DayEventKind::civil_dawn, DayEventKind::rise, DayEventKind::first_sun, DayEventKind::transit,
    DayEventKind::last_sun,   DayEventKind::set,  DayEventKind::civil_dusk};

void print_range_head(std::ostream& out) {
    fmt::print(out, "{:<15}{:<7}{:<7}{:<7}{:<7}{:<9}{:<7}{:<7}{:<7}{}\n", "", "offset", "civil", "",
               "first", "", "last", "", "civil", "day");
    fmt::print(out, "{:<15}{:<7}{:<7}{:<7}{:<7}{:<9}{:<7}{:<7}{:<7}{}\n", "date", "UTC", "dawn",
               "rise", "sun", "transit", "sun", "set", "dusk", "length");
}

// First of its kind on the date; "+" if there is another.
std::string cell(const study::Day& day, DayEventKind kind, const site::Zone& zone) {
    std::string text;
    for (const study::DayEvent& event : day.events) {
        if (event.kind != kind) continue;
        if (!text.empty()) return text + '+';
        text = site::whole_minutes(event.at, zone);
    }
    return text.empty() ? "--" : text;
}

void print_range_row(const study::Day& day, const site::Zone& zone, std::ostream& out) {
    const date::weekday weekday{date::local_days{day.date}};
    const Instant noon = zone.start_of(day.date) + Seconds{43200};
    fmt::print(out, "{} {}  {:<7}", site::date_in_words(day.date).substr(0, 2),
               site::iso_date(day.date), site::utc_offset(zone.at(noon).utc_offset).substr(3));
    for (const DayEventKind kind : kColumns)
        fmt::print(out, "{:<{}}", cell(day, kind, zone), kind == DayEventKind::transit ? 9 : 7);
    if (day.state == study::DayState::sun_always_up)
        out << "up";
    else if (day.state == study::DayState::sun_always_down)
        out << "down";
    else {
        const auto minutes = std::lround(day.length.count() / 60);
        fmt::print(out, "{}:{:02}", minutes / 60, minutes % 60);
    }
    out << '\n';
}

int answer_day(const DayRequest& request, std::ostream& out, std::ostream& err) {
    const auto band = read_band(request.late_light);
    if (!band) return report(band.error(), err);
    const auto location = request.site.read(names_for(request.json));
    if (!location) return report(location.error(), err);
    const site::Site& site = location->site;
    const auto dates = request.dates.read(site.zone, now());
    if (!dates) return report(dates.error(), err);

    const auto track = track_of(*dates, site.zone);
    const study::SunPath path{site, track};
    // The rows of a range's table have no room for it.
    const bool lit = !request.no_light && (request.json || !dates->is_range);
    const auto lines = site_read_back(*location, *dates);
    tell::DaysWriter document{out, tell::start_document(*location, lines), dates->is_range};
    if (!request.json) print_read_back(lines, out);
    if (!request.json && dates->is_range) print_range_head(out);
    for (site::LocalDate date = dates->first; date <= dates->last && out;
         date = site::next_day(date)) {
        const study::Day day = study::day(site, track->track(), date, *band);
        const auto light = lit ? study::day_light(site, path, day) : std::vector<study::DayLight>{};
        if (request.json) {
            tell::Json told = tell::json_of(day, site.zone, *band);
            if (lit) told["light"] = tell::json_of(light, site.zone);
            document.add(told);
        } else if (dates->is_range) {
            print_range_row(day, site.zone, out);
        } else {
            print_day(day, site.zone, *band, request.late_light.empty(), out);
            if (!light.empty()) print_light(light, site.zone, out);
        }
    }
    if (request.json)
        document.finish();
    else if (dates->is_range)
        out << "\nfirst and last sun: over the site's own horizon; --: none on this date\n";
    return answered;
}

}  // namespace

void offer_day(CommandLine& line, Session& session) {
    auto request = std::make_shared<DayRequest>();
    Options* command =
        line.add_command("day", "rise, transit, set, twilights and late light of a day");
    request->site.offer(*command);
    request->dates.offer(*command);
    command
        ->add_option("--late-light", request->late_light,
                     "altitudes of the sun, LOW,HIGH degrees (default: -4,6)")
        ->type_name("DEG,DEG");
    command->add_flag("--no-light", request->no_light, "leave out levels and colour");
    command->add_flag("--json", request->json, "one JSON document instead of a table");
    command->footer(
        "example:\n"
        "  keyhour day locations/tallow-lane.toml --date 2026-03-10\n"
        "  keyhour day --position \"52.95N 1.15W\" --zone Europe/London --date 2026-03-10");
    command->callback([request, &session] {
        session.exit_code = answer_day(*request, session.out, session.err);
    });
}

}  // namespace keyhour::cli
