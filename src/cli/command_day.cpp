#include <fmt/format.h>

#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>
#include <vector>

#include "command.hpp"
#include "date_options.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/day.hpp"
#include "keyhour/study/day_light.hpp"
#include "numbers.hpp"
#include "show_option.hpp"
#include "site_options.hpp"
#include "tell/day_document.hpp"
#include "tell/day_page.hpp"
#include "tell/document.hpp"
#include "text.hpp"

namespace keyhour::cli {
namespace {

struct DayRequest {
    SiteOptions site;
    DateOptions dates;
    std::string late_light;  // "LOW,HIGH"
    ShowOption show{{tell::Detail::levels, tell::Detail::hours, tell::Detail::readback}};
    bool json = false, no_light = false, line = false;
};

constexpr const char* kBandWanted =
    "write two altitudes of the sun in degrees, the lower first, -18 to 90, such as -4,6";

Answer<study::LateLightBand> read_band(const std::string& text) {
    if (text.empty()) return study::LateLightBand{};
    if (const auto band = read_pair(text, -18, 90))
        return study::LateLightBand{{Angle::degrees((*band)[0])}, {Angle::degrees((*band)[1])}};
    return usage_failure(fmt::format("--late-light \"{}\": {}", text, kBandWanted));
}

/// Nothing where it is not asked for.
std::vector<study::DayLight> light_of(const DayRequest& request, const site::Site& site,
                                      const study::SunPath& path, const study::Day& day) {
    return request.no_light ? std::vector<study::DayLight>{} : study::day_light(site, path, day);
}

void write_json(const DayRequest& request, const site::Location& location, const DateRange& dates,
                const study::LateLightBand& band, std::ostream& out) {
    const site::Site& site = location.site;
    const auto track = track_of(dates, site.zone);
    const study::SunPath path{site, track};
    tell::DaysWriter document{out, tell::start_document(location, site_read_back(location, dates)),
                              dates.is_range};
    for (site::LocalDate date = dates.first; date <= dates.last && out;
         date = site::next_day(date)) {
        study::Day day = study::day(site, track->track(), date, band);
        if (!request.no_light) study::add_sky(day.late_light, site, path);
        tell::Json told = tell::json_of(day, site.zone, band);
        if (!request.no_light)
            told["light"] = tell::json_of(light_of(request, site, path, day), site.zone);
        document.add(told);
    }
    document.finish();
}

/// The page of a date, the rows of a range, or a message a date.
void print_days(const DayRequest& request, const tell::DayQuestion& q, const DateRange& dates,
                const site::Recce& recce, std::ostream& out) {
    const site::Site& site = q.location.site;
    const auto track = track_of(dates, site.zone);
    const study::SunPath path{site, track};
    if (!request.line) print(out, tell::opening(q.location, recce, q.dates));
    if (!request.line && dates.is_range) print(out, {tell::day_row_head()});
    for (site::LocalDate date = dates.first; date <= dates.last && out;
         date = site::next_day(date)) {
        study::Day day = study::day(site, track->track(), date, q.band);
        if (!request.line && !dates.is_range && !request.no_light)
            study::add_sky(day.late_light, site, path);
        if (request.line)
            out << tell::day_message(day, q) << '\n';
        else if (dates.is_range)
            print(out, {tell::day_row(day, site.zone)});
        else
            print(out, tell::day_page(day, light_of(request, site, path, day), q));
    }
    if (!request.line && dates.is_range)
        print(out, {{"civil dawn and dusk; first and last sun: over the site's own horizon; --: "
                     "none on this date",
                     0, 0}});
}

int answer_day(const DayRequest& request, std::ostream& out, std::ostream& err) {
    const auto band = read_band(request.late_light);
    if (!band) return report(band.error(), err);
    const auto location = request.site.read(names_for(request.json));
    if (!location) return report(location.error(), err);
    const auto recce = request.site.recce();
    if (!recce) return report(recce.error(), err);
    const auto show = request.show.read();
    if (!show) return report(show.error(), err);
    if (request.line && request.json)
        return report({wrong_usage, "--line and --json: give one of them"}, err);
    const auto dates = request.dates.read(location->site.zone, now());
    if (!dates) return report(dates.error(), err);
    if (request.json) {
        write_json(request, *location, *dates, *band, out);
        return answered;
    }
    print_days(request, {*location, told_dates(*dates), *band, *show}, *dates, *recce, out);
    if (show->has(tell::Detail::readback))
        print(out, tell::paragraphs(site_read_back(*location, *dates, recce->units)));
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
    request->show.offer(*command);
    command->add_flag("--line", request->line, "one line a date, to be sent as a message");
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
