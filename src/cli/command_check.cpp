#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <ostream>
#include <vector>

#include "change_option.hpp"
#include "command.hpp"
#include "date_options.hpp"
#include "failure.hpp"
#include "keyhour/ask/check.hpp"
#include "keyhour/ask/recce.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/site/read_back.hpp"
#include "read/location_file.hpp"
#include "show_option.hpp"
#include "shown_names.hpp"
#include "tell/check_document.hpp"
#include "tell/check_questions.hpp"
#include "tell/meter_lines.hpp"
#include "tell/recce_page.hpp"
#include "text.hpp"
#include "units_option.hpp"

namespace keyhour::cli {
namespace {

constexpr int first_year = 1801, last_year = 2198;

struct CheckRequest {
    std::vector<std::string> locations;
    DateOptions dates;  // of the recce's ranking
    int year = 0;       // 0: this year at the site
    std::string units;
    ChangeOption what_if;
    ShowOption show{{tell::Detail::levels, tell::Detail::doubt, tell::Detail::readback}};
    bool json = false, recce = false;
};

struct CheckReport {
    site::Location location;  // with the questions that the year's sun raised
    ask::CheckAnswer found;
    std::optional<ask::RecceAnswer> recce;  // if asked for
};

CheckReport report_on(site::Location location, date::year year) {
    CheckReport report{std::move(location), {}, {}};
    report.found = ask::check(report.location, year);
    if (report.location.room)
        for (std::string& question :
             tell::meter_questions(report.found.meter, report.location.site.zone))
            report.location.questions.push_back(std::move(question));
    report.location.questions = tell::check_questions(report.location, report.found.sun, year);
    return report;
}

std::vector<std::string> read_back(const CheckReport& report, site::Units units) {
    return site::read_back(report.location, report.found.year / 1 / 1, report.found.year / 12 / 31,
                           {false, units});
}

void print_check(const CheckReport& report, const site::Recce& recce, tell::Details show,
                 std::ostream& out) {
    const auto lines = read_back(report, recce.units);
    const tell::CheckAnswer answer{report.location,  recce, report.found.year,
                                   report.found.sun, lines, show};
    print(out, tell::check_head(answer));
    if (!report.recce) return print(out, tell::check_page(answer));
    print(out, tell::recce_page(*report.recce, *report.location.room, recce.units));
    if (!show.none()) print(out, tell::check_page(answer));
}

void print_json(const CheckReport& report, std::ostream& out) {
    const auto lines = read_back(report, site::Units::metres);
    tell::Json document = tell::json_of(
        tell::CheckAnswer{report.location, {}, report.found.year, report.found.sun, lines, {}},
        lines);
    if (report.recce) document["recce"] = tell::json_of(*report.recce, *report.location.room);
    tell::write(out, document);
}

// Without dates that of the whole year.
std::optional<Failure> add_recce(const CheckRequest& request, const std::string& path,
                                 date::year year, CheckReport& report) {
    DateOptions dates = request.dates;
    if (dates.date.empty() && dates.from.empty() && dates.to.empty()) {
        dates.from = site::iso_date(year / 1 / 1);
        dates.to = site::iso_date(year / 12 / 31);
    }
    const auto range = dates.read(report.location.site.zone, now());
    if (!range) return range.error();
    if (!report.location.room)
        return Failure{bad_data, path + ": has no [room]; a recce's sheet needs one"};
    report.recce = ask::recce(report.location, *range);
    if (!report.recce) return Failure{wrong_usage, years_served};
    return std::nullopt;
}

// Problems go to `err`. @return the exit code
int check_one(const CheckRequest& request, const std::string& path, tell::Details show,
              std::ostream& out, std::ostream& err) {
    const read::Changes changes = request.what_if.changes();
    auto location = read::read_location(path, changes);
    if (!location) {
        err << read::text(location.error());
        return bad_data;
    }
    const auto recce = recce_of(path, request.units, changes);
    if (!recce) return cli::report(recce.error(), err);
    const auto year = request.year != 0 ? date::year{request.year}
                                        : site::local_date(now(), location->site.zone).year();
    site::Location told = with(names_for(request.json), *std::move(location));
    CheckReport report = report_on(std::move(told), year);
    if (request.recce) {
        const auto failure = add_recce(request, path, year, report);
        if (failure) return cli::report(*failure, err);
    }
    if (request.json)
        print_json(report, out);
    else
        print_check(report, *recce, show, out);
    return answered;
}

int answer_check(const CheckRequest& request, std::ostream& out, std::ostream& err) {
    const DateOptions& dates = request.dates;
    if (!request.recce && !(dates.date.empty() && dates.from.empty() && dates.to.empty()))
        return report({wrong_usage, "--date, --from and --to go with --recce"}, err);
    const auto show = request.show.read();
    if (!show) return report(show.error(), err);
    std::size_t sound = 0;
    for (const std::string& path : request.locations) {
        if (sound > 0 && !request.json) out << '\n';
        const int code = check_one(request, path, *show, out, err);
        if (code == wrong_usage) return code;
        if (code == answered) ++sound;
    }
    if (sound == request.locations.size()) return answered;
    return sound == 0 ? bad_data : partly_failed;
}

}  // namespace

void offer_check(CommandLine& line, Session& session) {
    auto request = std::make_shared<CheckRequest>();
    Options* command =
        line.add_command("check", "is a location file sound; what does it describe?");
    command->add_option("location", request->locations, "location files (TOML)")->required();
    command->add_option("--year", request->year, "of the sun-hours (default: this year)")
        ->range(first_year, last_year);
    command->add_flag("--recce", request->recce,
                      "what to measure next, and the form to note it in");
    command->add_option("--date", request->dates.date, "of the recce's ranking (default: the year)")
        ->type_name("DATE");
    command->add_option("--from", request->dates.from, "first local date of its range")
        ->type_name("DATE");
    command->add_option("--to", request->dates.to, "last local date of its range, inclusive")
        ->type_name("DATE");
    offer_units(*command, request->units);
    request->what_if.offer(*command);
    request->show.offer(*command);
    command->add_flag("--json", request->json, "one JSON document a file instead of a table");
    command->footer(
        "A file with errors is answered with all of them, on standard error: exit code\n"
        "1, or 3 if other files were sound.\n"
        "example:\n"
        "  keyhour check locations/tallow-lane.toml\n"
        "  keyhour check locations/tallow-lane.toml --recce --date 2026-03-10");
    command->callback([request, &session] {
        session.exit_code = answer_check(*request, session.out, session.err);
    });
}

}  // namespace keyhour::cli
