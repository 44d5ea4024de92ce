#include <fmt/format.h>

#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "command.hpp"
#include "date_options.hpp"
#include "keyhour/ask/day.hpp"
#include "keyhour/site/dates.hpp"
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

void write_json(const ask::SiteQuestion& question, const ask::DayRequest& request,
                std::ostream& out) {
    const DateRange& dates = question.dates;
    tell::DaysWriter document{out, tell::start_document(question.location, question.read_back()),
                              dates.is_range};
    for (site::LocalDate date = dates.first; date <= dates.last && out; date = site::next_day(date))
        document.add(tell::json_of(ask::day(question, date, request), request, question.zone()));
    document.finish();
}

/// A message a date.
void print_lines(const ask::SiteQuestion& question, const tell::DayQuestion& q, std::ostream& out) {
    for (site::LocalDate date = q.dates.first; date <= q.dates.last && out;
         date = site::next_day(date))
        out << tell::day_message(ask::day(question, date, {q.band}), q) << '\n';
}

/// The page of a date, or the rows of a range.
void print_days(const ask::SiteQuestion& question, const ask::DayRequest& request,
                const tell::DayQuestion& q, std::ostream& out) {
    print(out, tell::opening(q.location, question.recce, q.dates));
    if (!q.dates.is_range)
        return print(out, tell::day_page(ask::day(question, q.dates.first, request), q));
    print(out, {tell::day_row_head()});
    for (site::LocalDate date = q.dates.first; date <= q.dates.last && out;
         date = site::next_day(date))
        print(out, {tell::day_row(ask::day(question, date, {q.band}).day, question.zone())});
    print(out, {tell::day_row_foot()});
}

int answer_day(const DayRequest& request, std::ostream& out, std::ostream& err) {
    const auto band = read_band(request.late_light);
    if (!band) return report(band.error(), err);
    auto location = request.site.read(names_for(request.json));
    if (!location) return report(location.error(), err);
    const auto recce = request.site.recce();
    if (!recce) return report(recce.error(), err);
    const auto show = request.show.read();
    if (!show) return report(show.error(), err);
    if (request.line && request.json)
        return report({wrong_usage, "--line and --json: give one of them"}, err);
    const auto dates = request.dates.read(location->site.zone, now());
    if (!dates) return report(dates.error(), err);
    const auto question = ask::SiteQuestion::prepare(*std::move(location), *dates, *recce);
    const ask::DayRequest wanted{*band, !request.no_light};
    const tell::DayQuestion asked{question->location, told_dates(*dates), *band, *show};
    if (request.json) {
        write_json(*question, wanted, out);
        return answered;
    }
    if (request.line)
        print_lines(*question, asked, out);
    else
        print_days(*question, wanted, asked, out);
    if (show->has(tell::Detail::readback))
        print(out, tell::paragraphs(question->read_back(recce->units)));
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
