#include "command_plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "change_option.hpp"
#include "clock_time.hpp"
#include "date_options.hpp"
#include "keyhour/ask/plan.hpp"
#include "keyhour/site/dates.hpp"
#include "plan_papers.hpp"
#include "read/named_files.hpp"
#include "read/shoot_file.hpp"
#include "shown_names.hpp"
#include "tell/plan_document.hpp"
#include "tell/plan_page.hpp"
#include "text.hpp"
#include "words/shown.hpp"

namespace keyhour::cli {
namespace {

struct PlanOptions {
    ChangeOption what_if;
    std::string file, date, now_time, call, place;
    std::vector<std::string> done;
    double late_min = 20;
    Option* late = nullptr;
    bool json = false, csv = false, slack = false;
    std::string out_folder;
    bool force = false, pdf = false;
};

/// For people every name is made safe for its line; JSON keeps them.
study::Shoot shown_shoot(Names names, study::Shoot shoot) {
    if (names == Names::raw) return shoot;
    shoot.name = words::shown(shoot.name);
    for (study::ShootPlace& place : shoot.places) {
        place.name = words::shown(place.name);
        place.location = with(names, std::move(place.location));
    }
    for (study::ShootPerson& person : shoot.people)
        person.name = words::shown(person.name);
    for (study::ShootScene& scene : shoot.scenes)
        scene.name = words::shown(scene.name);
    return shoot;
}

Answer<study::Shoot> read_shoot_file(const std::string& file, const read::Changes& changes,
                                     Names names) {
    auto shoot = read::read_shoot(file, changes);
    if (!shoot) {
        std::string message = read::text(shoot.error());
        message.pop_back();  // its last line end
        return data_failure(std::move(message));
    }
    return shown_shoot(names, *std::move(shoot));
}

/// Which day of the shoot is under way.
Answer<std::size_t> day_of(const PlanOptions& options, const study::Shoot& shoot) {
    site::LocalDate day = site::local_date(now(), shoot.zone());
    if (!options.date.empty()) {
        const auto read = site::read_date(options.date);
        if (!read) return usage_failure("--date: " + read.error());
        day = *read;
    } else if (shoot.days.size() == 1) {
        day = shoot.days.front();
    }
    const auto at = std::ranges::find(shoot.days, day);
    if (at != shoot.days.end()) return static_cast<std::size_t>(at - shoot.days.begin());
    std::vector<std::string> days;
    for (const site::LocalDate d : shoot.days)
        days.push_back(site::iso_date(d));
    return usage_failure(fmt::format("{} is no day of the shoot; accepted: --date {}",
                                     site::iso_date(day), fmt::join(days, " or ")));
}

Answer<std::vector<std::size_t>> done_of(const PlanOptions& options, const study::Shoot& shoot) {
    std::vector<std::size_t> out;
    for (const std::string& name : options.done) {
        const auto scene = index_of("--done", name, shoot.scenes);
        if (!scene) return tl::unexpected{scene.error()};
        if (*scene) out.push_back(**scene);
    }
    return out;
}

Answer<Instant> time_on(const char* option, const std::string& text, const study::Shoot& shoot,
                        std::size_t day) {
    const auto time = read_clock_time(text);
    if (!time) return usage_failure(fmt::format("{}: {}", option, time.error()));
    const auto at = time->on(shoot.days[day], shoot.zone());
    if (!at) return usage_failure(fmt::format("{}: {}", option, at.error()));
    return *at;
}

/// The rest of a day, where the time is given.
Answer<std::optional<study::ShootUnderWay>> under_way(const PlanOptions& options,
                                                      const study::Shoot& shoot) {
    if (options.now_time.empty()) {
        for (const auto& [name, given] : {std::pair{"--done", !options.done.empty()},
                                          {"--call", !options.call.empty()},
                                          {"--place", !options.place.empty()},
                                          {"--date", !options.date.empty()}})
            if (given)
                return usage_failure(fmt::format(
                    "{} is about a day under way; give its time, as in --now 11:40", name));
        return std::nullopt;
    }
    study::ShootUnderWay out;
    const auto day = day_of(options, shoot);
    if (!day) return tl::unexpected{day.error()};
    out.day = *day;
    const auto done = done_of(options, shoot);
    if (!done) return tl::unexpected{done.error()};
    out.done = *done;
    const auto at = time_on("--now", options.now_time, shoot, *day);
    if (!at) return tl::unexpected{at.error()};
    out.free_from = *at + Seconds{60 * (options.late->is_given() ? options.late_min : 0)};
    const auto hours =
        shoot.zone().instant(date::local_days{shoot.days[*day]} + shoot.rules.hours.from);
    out.work_since = std::min(*hours, out.free_from);
    if (!options.call.empty()) {
        const auto call = time_on("--call", options.call, shoot, *day);
        if (!call) return tl::unexpected{call.error()};
        if (*call > *at) return usage_failure("--call is later than --now");
        out.work_since = *call;
    }
    const auto place = index_of("--place", options.place, shoot.places);
    if (!place) return tl::unexpected{place.error()};
    out.place = *place ? **place : out.done.empty() ? 0 : shoot.scenes[out.done.back()].place;
    return out;
}

std::optional<Failure> misplaced(const PlanOptions& options) {
    if (options.json && options.csv)
        return Failure{wrong_usage, "--json and --csv: give one of them"};
    if (!options.out_folder.empty() && (options.json || options.csv))
        return Failure{wrong_usage,
                       "--out writes page, calendar and spreadsheet: leave out --json "
                       "and --csv"};
    if (options.pdf && options.out_folder.empty())
        return Failure{wrong_usage, "--pdf needs --out FOLDER"};
    if (!(options.late_min >= 0 && options.late_min <= 720))
        return Failure{wrong_usage, "--late: accepted: 0 to 720 minutes"};
    return std::nullopt;
}

/// The shoot file, the locations and what these lead to.
std::vector<std::string> inputs_of(const PlanOptions& options, const study::Shoot& shoot) {
    std::vector<std::string> out{options.file};
    for (const study::ShootPlace& place : shoot.places)
        for (std::string& file : read::files_read(place.file))
            out.push_back(std::move(file));
    return out;
}

int answer_plan(const PlanOptions& options, std::ostream& out, std::ostream& err) {
    if (!study::can_plan())
        return report({bad_data,
                       "plan's search is not here: libkeyhour_plan.so beside the program or in "
                       "../lib/keyhour, with Gecode's libraries; a build with -DKEYHOUR_PLAN=OFF "
                       "has none"},
                      err);
    if (const auto failure = misplaced(options)) return report(*failure, err);
    const auto shoot =
        read_shoot_file(options.file, options.what_if.changes(), names_for(options.json));
    if (!shoot) return report(shoot.error(), err);
    const auto rest = under_way(options, *shoot);
    if (!rest) return report(rest.error(), err);
    ask::PlanRequest request;
    request.under_way = *rest;
    request.late_min = static_cast<int>(std::ceil(options.late_min));
    request.variants = !request.under_way;
    const PlanPapers papers{options.out_folder, options.force, options.pdf,
                            inputs_of(options, *shoot)};
    if (!papers.folder.empty())
        if (const auto failure = may_write_plan(*shoot, papers)) return report(*failure, err);
    const auto answer = ask::plan(*shoot, request);
    if (!answer) return report({bad_data, years_served}, err);
    const tell::PlanQuestion asked{*shoot, request.late_min, request.under_way.has_value(),
                                   options.slack};
    if (!papers.folder.empty() && answer->exists) {
        const auto failure = write_plan(*answer, asked, papers, out, err);
        return failure ? report(*failure, err) : answered;
    }
    if (options.json)
        tell::write(out, tell::plan_document(*shoot, *answer, request.late_min));
    else if (options.csv)
        out << tell::plan_csv(*shoot, *answer);
    else
        print(out, tell::plan_page(*answer, asked));
    return answered;
}

}  // namespace

void offer_plan(CommandLine& line, Session& session) {
    auto options = std::make_shared<PlanOptions>();
    Options* command =
        line.add_command("plan", "a shoot's scenes over its days, by light and locks");
    command->add_option("shoot", options->file, "shoot file (TOML)")->type_name("FILE")->required();
    command->add_option("--now", options->now_time, "plan what is left from then on, local time")
        ->type_name("HH:MM");
    command->add_option("--date", options->date, "of --now (default: today)")
        ->type_name("YYYY-MM-DD");
    command->add_option("--done", options->done, "scenes that are shot, the last one last")
        ->type_name("NAME,...")
        ->delimiter(',');
    options->late = command
                        ->add_option("--late", options->late_min,
                                     "with --now: so much later; else what breaks first (20)")
                        ->type_name("MIN");
    command->add_option("--call", options->call, "when the day's work began (default: its hours)")
        ->type_name("HH:MM");
    command->add_option("--place", options->place, "where the crew is (default: of the last done)")
        ->type_name("NAME");
    options->what_if.offer(*command);
    command->add_flag("--slack", options->slack, "the slack of every scene");
    command->add_option("--out", options->out_folder, "folder for a page a day, calendar, CSV")
        ->type_name("FOLDER");
    command->add_flag("--pdf", options->pdf, "print the pages too, by a browser");
    command->add_flag("--force", options->force, "overwrite files that keyhour did not write");
    command->add_flag("--csv", options->csv, "a record a scene, for a spreadsheet");
    command->add_flag("--json", options->json, "one JSON document instead of a timetable");
    command->footer(
        "example:\n"
        "  keyhour plan locations/bindery-and-wharf/shoot.toml\n"
        "  keyhour plan locations/bindery-and-wharf/shoot.toml --date 2026-03-10 \\\n"
        "    --now 11:40 --done interview,sewing --late 20");
    command->callback([options, &session] {
        session.exit_code = answer_plan(*options, session.out, session.err);
    });
}

}  // namespace keyhour::cli
