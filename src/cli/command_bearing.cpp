#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "command.hpp"
#include "date_options.hpp"
#include "failure.hpp"
#include "file/replaced_text.hpp"
#include "keyhour/ask/bearing.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/site/read_back.hpp"
#include "read/bearing_line.hpp"
#include "read/clock_error.hpp"
#include "read/location_file.hpp"
#include "read/observation_file.hpp"
#include "show_option.hpp"
#include "shown_names.hpp"
#include "site_options.hpp"
#include "tell/bearing_document.hpp"
#include "tell/bearing_page.hpp"
#include "tell/observation_text.hpp"
#include "terminal.hpp"
#include "text.hpp"
#include "units_option.hpp"
#include "words/shown.hpp"

namespace keyhour::cli {
namespace {

/// A kind of observation as a flag.
struct KindFlag {
    const char* flag;
    const char* kind;
    const char* help;
};
constexpr std::array<KindFlag, 6> kind_flags{
    {{"--compass", "compass", "wall= faces= north= measured= within_deg="},
     {"--map", "map", "wall= left= right= seen_from= within_m="},
     {"--graze", "graze", "wall= sun= at= within_min="},
     {"--shadow", "shadow", "from= to= at= within_m=, or wall= angle_deg= hand="},
     {"--corner", "corner", "window= corner= floor= at= within_m="},
     {"--other-wall", "other wall", "wall= other= faces= north= turn_deg= turn="}}};

struct BearingRequest {
    std::string location, wall, observations;
    std::array<std::vector<std::string>, kind_flags.size()> typed;
    DateOptions dates;
    double clock_within_s = -1;  // not given
    std::string clock, units;
    ShowOption show{{tell::Detail::observations, tell::Detail::shifts, tell::Detail::next,
                     tell::Detail::readback}};
    bool write = false, json = false;
};

/// The file as it stands, and what it says.
struct ReadLocation {
    std::string text;
    site::Location location;
};

Answer<ReadLocation> read_location(const BearingRequest& request) {
    auto text = read::location_text(request.location);
    if (!text) return data_failure(text.error().text());
    auto location = read::read_location_text(*text, request.location);
    if (!location) return data_failure(read::text(location.error()));
    if (!location->room)
        return data_failure(words::shown(request.location) +
                            ": has no [room]; this question needs one");
    return ReadLocation{*std::move(text), *std::move(location)};
}

/// All observations, from the file and from flags; names that stand twice get a number.
Answer<read::ObservationFile> read_all(const BearingRequest& request,
                                       const site::Location& location) {
    read::ObservationFile all;
    if (!request.observations.empty()) {
        auto read = read::read_observations(request.observations, location);
        if (!read) return data_failure(read::text(read.error()));
        all = *std::move(read);
    }
    for (std::size_t k = 0; k < kind_flags.size(); ++k)
        for (const std::string& text : request.typed[k]) {
            auto read =
                read::read_observation_flag(text, kind_flags[k].kind, kind_flags[k].flag, location);
            if (!read) return usage_failure(read::text(read.error()));
            study::Observation& o = read->observations.front();
            if (o.name == std::string{kind_flags[k].kind} + " 1")
                o.name = fmt::format("{} {}", kind_flags[k].kind, all.observations.size() + 1);
            all.observations.push_back(std::move(o));
            all.questions.insert(all.questions.end(), read->questions.begin(),
                                 read->questions.end());
        }
    if (all.observations.empty()) {
        std::string flags;
        for (const KindFlag& k : kind_flags)
            flags += std::string{", "} + k.flag;
        return usage_failure("no observation: give --observations FILE, or one of " +
                             flags.substr(2));
    }
    std::vector<std::string> names;
    for (study::Observation& o : all.observations) {
        const auto seen = std::ranges::count(names, o.name);
        names.push_back(o.name);
        if (seen > 0) o.name += fmt::format(" ({})", seen + 1);
    }
    return all;
}

Answer<std::size_t> wall_asked(const BearingRequest& request, const room::Room& room) {
    if (request.wall.empty()) return room.bearing.wall;
    const auto at = index_of("--wall", request.wall, room.walls);
    if (!at) return tl::unexpected{at.error()};
    return at->value_or(room.bearing.wall);
}

double clock_doubt(const BearingRequest& request, const read::ObservationFile& seen,
                   const site::Location& location) {
    if (request.clock_within_s >= 0) return request.clock_within_s;
    return seen.clock_within_s.value_or(
        location.clock_within_s.value_or(study::usual_clock_within_s));
}

/// The page's read-back: place and room; JSON's has the observations too.
std::vector<std::string> read_back_of(const site::Location& location, const DateRange& dates,
                                      site::Units units) {
    return site::read_back(location, dates.first, dates.last,
                           {dates.is_today, units, ", for what to do next"});
}

/// Observations as a text for people shows them: their names, and what "other" says.
read::ObservationFile with(Names names, read::ObservationFile seen) {
    if (names == Names::raw) return seen;
    for (study::Observation& o : seen.observations) {
        o.name = words::shown(o.name);
        o.place = words::shown(o.place);
        if (auto* wall = std::get_if<study::OtherWall>(&o.what))
            wall->other = words::shown(wall->other);
    }
    for (std::string& question : seen.questions)
        question = words::escaped(question);
    return seen;
}

std::vector<std::string> words_of(const tell::BearingReport& report, const site::Location& location,
                                  site::Units units) {
    // report_of() has looked whether their years are served.
    const study::SunPath path{location.site, study::track_over(report.question.observations)};
    std::vector<std::string> lines;
    std::string clock = fmt::format("the clock that times were read from: within {:.3g} s",
                                    report.question.clock_within_s);
    if (report.clock_fast_s)
        clock += fmt::format(", and {}{}", study::clock_in_words(*report.clock_fast_s),
                             *report.clock_fast_s == 0 ? " as somebody found"
                                                       : ": the times below are put right by it");
    lines.push_back(clock);
    for (const study::Observation& o : report.question.observations)
        lines.push_back(tell::in_words(o, location, path, units));
    return lines;
}

/// What the clock was said to be: the flag before the file.
Answer<std::optional<double>> clock_stated(const BearingRequest& request,
                                           const read::ObservationFile& seen) {
    if (request.clock.empty()) return seen.clock_fast_s;
    const auto error = read::read_clock_error(request.clock);
    if (!error) return usage_failure("--clock: " + error.error());
    return std::optional<double>{*error};
}

/// Puts the bearing into the file, where it is settled.
std::optional<Failure> put_into_file(const BearingRequest& request, const ReadLocation& file,
                                     const study::BearingAnswer& answer,
                                     const read::BearingValue& value) {
    if (answer.clock)
        return Failure{bad_data,
                       fmt::format("--write: not written: the clock behind the times may have been "
                                   "{}; compare it with another and say so by --clock",
                                   study::clock_in_words(answer.clock->trial.fast_s))};
    if (answer.other)
        return Failure{bad_data,
                       "--write: not written: the observations leave two bearings open, which way "
                       "is out; add one that tells, such as a compass reading"};
    const auto changed = read::with_bearing(file.text, request.location, value);
    if (!changed) return Failure{bad_data, changed.error()};
    if (const auto done = file::replace_text(request.location, file.text, *changed); !done)
        return Failure{bad_data, done.error()};
    return std::nullopt;
}

/// The question that the request asks of the location.
Answer<tell::BearingReport> report_of(const BearingRequest& request, const ReadLocation& file,
                                      const DateRange& dates, Names names,
                                      std::vector<std::string>& questions) {
    const site::Location& location = file.location;
    const auto wall = wall_asked(request, *location.room);
    if (!wall) return tl::unexpected{wall.error()};
    auto seen = read_all(request, location);
    if (!seen) return tl::unexpected{seen.error()};
    seen = with(names, *std::move(seen));
    questions.insert(questions.end(), seen->questions.begin(), seen->questions.end());
    const auto clock = clock_stated(request, *seen);
    if (!clock) return tl::unexpected{clock.error()};
    tell::BearingReport report;
    report.clock_fast_s = *clock;
    report.question.wall = *wall;
    report.question.observations = study::with_clock_fast(seen->observations, clock->value_or(0));
    report.question.clock_within_s = clock_doubt(request, *seen, location);
    report.question.clock_is_checked = *clock == 0.0;
    auto found = ask::bearing(location, report.question, dates,
                              dates.is_today ? std::optional{now()} : std::nullopt);
    if (!found) return data_failure(fmt::format("{}", fmt::join(found.error(), "\n")));
    report.answer = std::move(found->bearing);
    if (!found->next) return usage_failure("--date: accepted: 1800-01-03 to 2199-12-27");
    report.next = *std::move(found->next);
    report.observations_in_words = words_of(report, with(names, location), site::Units::metres);
    return report;
}

read::BearingValue value_of(const study::BearingAnswer& answer, const room::Room& room) {
    return read::rounded({room.walls[answer.wall], answer.faces.from_north.in_degrees(),
                          answer.within_95.in_degrees()});
}

tell::Json bearing_document_of(const tell::BearingReport& report, const site::Location& location,
                               std::vector<std::string> lines,
                               const std::vector<std::string>& questions) {
    lines.insert(lines.end(), report.observations_in_words.begin(),
                 report.observations_in_words.end());
    for (std::size_t i = location.questions.size(); i < questions.size(); ++i)
        lines.push_back("please check: " + questions[i]);
    tell::Json document = tell::start_document(location, lines);
    document.update(tell::json_of(report, location));
    return document;
}

std::optional<Failure> wrong_clock(const BearingRequest& request) {
    const double within = request.clock_within_s;
    if (within == -1 || (within >= 0 && within <= 3600)) return std::nullopt;
    return Failure{wrong_usage, "--clock-within: accepted: 0 to 3600 seconds"};
}

int answer_bearing(const BearingRequest& request, std::ostream& out, std::ostream& err) {
    if (const auto failure = wrong_clock(request)) return report(*failure, err);
    const auto shown = request.show.read();
    if (!shown) return report(shown.error(), err);
    const auto read = read_location(request);
    if (!read) return report(read.error(), err);
    if (request.write)
        if (const auto may = file::may_replace(request.location); !may)
            return report({bad_data, may.error()}, err);
    const site::Location& location = read->location;
    const auto dates = request.dates.read(location.site.zone, now());
    if (!dates) return report(dates.error(), err);
    const auto recce = recce_of(request.location, request.units);
    if (!recce) return report(recce.error(), err);
    const Names names = names_for(request.json);
    const site::Location told = with(names, location);
    std::vector<std::string> questions = told.questions;
    auto answer = report_of(request, *read, *dates, names, questions);
    if (!answer) return report(answer.error(), err);
    const read::BearingValue value = value_of(answer->answer, *location.room);
    if (!answer->answer.clock) answer->line = read::bearing_line(value);
    if (request.write) {
        if (const auto failure = put_into_file(request, *read, answer->answer, value))
            return report(*failure, err);
        answer->is_written = true;
    }
    if (request.json) {
        tell::write(
            out, bearing_document_of(*answer, told, read_back_of(told, *dates, site::Units::metres),
                                     questions));
        return answered;
    }
    const auto lines = read_back_of(told, *dates, recce->units);
    const tell::BearingPage page{*answer,
                                 told,
                                 dates->is_today ? "from now on today" : short_date(dates->first),
                                 request.observations,
                                 lines,
                                 questions,
                                 words_of(*answer, told, recce->units),
                                 recce->units,
                                 *shown,
                                 request.show.words()};
    print(out, tell::bearing_page(page, line_columns(out)));
    return answered;
}

}  // namespace

void offer_bearing(CommandLine& line, Session& session) {
    auto request = std::make_shared<BearingRequest>();
    Options* command =
        line.add_command("bearing", "which way a wall faces, from what was observed");
    command->add_option("location", request->location, "location file (TOML) with a room")
        ->required()
        ->type_name("FILE");
    command->add_option("--wall", request->wall, "asked about (default: the file's bearing's)")
        ->type_name("NAME");
    command->add_option("--observations", request->observations, "TOML with [[observation]]s")
        ->type_name("FILE");
    for (std::size_t k = 0; k < kind_flags.size(); ++k)
        command->add_option(kind_flags[k].flag, request->typed[k], kind_flags[k].help)
            ->type_name("TEXT")
            ->one_at_a_time()
            ->group("Observations, each as often as wanted");
    command
        ->add_option("--clock-within", request->clock_within_s,
                     "how far the clock may be off, seconds (default: 30)")
        ->type_name("S");
    command
        ->add_option("--clock", request->clock, "what it was: \"1 h fast\", \"30 min slow\", right")
        ->type_name("TEXT");
    command->add_option("--date", request->dates.date, "to look for a next one (default: today)")
        ->type_name("DATE");
    offer_units(*command, request->units);
    request->show.offer(*command);
    command->add_flag("--write", request->write, "put the bearing into the location file");
    command->add_flag("--json", request->json, "one JSON document instead of a table");
    command->footer(
        "An observation is one text of NAME=VALUE pairs. Times are the site's; with Z or\n"
        "+01:00 behind, others. Points are x,y of the plan. A file has the same names:\n"
        "format = 1, clock_within_s, clock, and [[observation]] with its kind: compass,\n"
        "map, graze, shadow, corner, other wall. Of each an example: keyhour help bearing\n"
        "example:\n"
        "  keyhour bearing locations/tallow-lane.toml --date 2026-02-10 \\\n"
        "    --compass \"wall=street faces=193 north=magnetic measured=2026-02-10\" \\\n"
        "    --shadow \"from=2.2,0.3 to=2.1,1.29 at=2026-02-10T13:20\"\n"
        "  keyhour bearing locations/tallow-lane.toml \\\n"
        "    --observations locations/tallow-lane-recce/observations.toml");
    command->callback([request, &session] {
        session.exit_code = answer_bearing(*request, session.out, session.err);
    });
}

}  // namespace keyhour::cli
