#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "command_log.hpp"
#include "date_options.hpp"
#include "file/file_contents.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/site/nearest.hpp"
#include "keyhour/site/quoted.hpp"
#include "logged_shot.hpp"
#include "numbers.hpp"
#include "read/clock_moment.hpp"
#include "read/light_log.hpp"
#include "room_options.hpp"
#include "show_option.hpp"
#include "tell/match_document.hpp"
#include "tell/match_page.hpp"
#include "text.hpp"
#include "units_option.hpp"
#include "words/shown.hpp"

namespace keyhour::cli {
namespace {

/// Where no dates are asked for: from today, for eight weeks.
constexpr date::days usual_days{56};

struct MatchOptions {
    std::string log, shot, lamp, hours;
    RoomOptions room;  // its file alone
    DateOptions dates;
    double within_deg = study::usual_match_deg, coverage_percent = 95;
    int most = 3;
    ShowOption show{{tell::Detail::levels, tell::Detail::misses, tell::Detail::readback}};
    bool json = false, csv = false, line = false;
};

/// "day.log:7" where no file has that name: its line.
struct LogPlace {
    std::string path;
    std::optional<int> line;
};

Answer<LogPlace> log_place(const std::string& text) {
    std::error_code error;
    const auto colon = text.rfind(':');
    if (colon == std::string::npos || std::filesystem::exists(text, error))
        return LogPlace{text, std::nullopt};
    const auto line = read_whole_number(text.substr(colon + 1), "", {1, 1000000000});
    if (!line) return LogPlace{text, std::nullopt};
    return LogPlace{text.substr(0, colon), static_cast<int>(*line)};
}

Failure of(const read::Problem& problem) {
    return {bad_data, problem.text()};
}

/// The shot that is asked for: by line, by name (of several the last), else the last one.
Answer<study::LoggedShot> shot_of(const read::LightLog& log, const LogPlace& place,
                                  const std::string& name) {
    const std::string file = words::shown(place.path);
    if (place.line) {
        for (const study::LoggedShot& shot : log.shots)
            if (shot.line == *place.line) return shot;
        for (const read::Problem& problem : log.problems)
            if (problem.line == *place.line) return tl::unexpected{of(problem)};
        return data_failure(fmt::format("{}:{}: no shot stands there", file, *place.line));
    }
    if (log.shots.empty())
        return data_failure(log.problems.empty()
                                ? file + ": the log holds no shot yet; \"keyhour log\" adds one"
                                : file + ": no shot of the log can be read");
    if (name.empty()) return log.shots.back();
    std::vector<std::string> names;
    for (auto shot = log.shots.rbegin(); shot != log.shots.rend(); ++shot) {
        if (shot->name == name) return *shot;
        if (!shot->name.empty()) names.push_back(shot->name);
    }
    const auto nearest = site::nearest(name, names);
    return data_failure(fmt::format(
        "{}: there is no shot {}{}", file, site::quoted(name),
        nearest ? fmt::format("; did you mean {}?", site::quoted(*nearest)) : std::string{}));
}

/// What contradicts the log, or has changed since.
std::vector<std::string> loud_lines(const study::LoggedShot& shot, Instant at,
                                    const ask::ShotAnswer& answer, const std::string& location) {
    std::vector<std::string> out;
    if (!shot.file_digest.empty() && shot.file_digest != digest_of_file(location))
        out.push_back(
            "THE LOCATION FILE HAS CHANGED since the shot was logged: what follows is by "
            "the file as it is now");
    const site::Zone& zone = answer.day->location.site.zone;
    const std::size_t sign = shot.at.find_first_of("+-", 11);
    if (sign != std::string::npos) {
        const std::string told = "UTC" + shot.at.substr(sign), now = words::offset_at(at, zone);
        if (told != now)
            out.push_back(
                fmt::format("THE LOG SAYS {} at the shot, the clocks there had {}: is the "
                            "time right?",
                            words::shown(told), now));
    }
    constexpr double noticed_deg = 0.1;
    if (shot.key == study::ShotKey::sun && shot.azimuth_deg && shot.altitude_deg) {
        const auto toward = [](double azimuth, double altitude) {
            const Angle a = Angle::degrees(azimuth), h = Angle::degrees(altitude);
            return LevelVector{sin(a) * cos(h), cos(a) * cos(h), sin(h)};
        };
        const double off = study::degrees_between(toward(*shot.azimuth_deg, *shot.altitude_deg),
                                                  answer.light.toward);
        if (off > noticed_deg)
            out.push_back(
                fmt::format("THE LOG HAS THE SUN {:.1f} degrees elsewhere, {:.1f} true, "
                            "{:.1f} high: place or time differ; its time is taken",
                            off, *shot.azimuth_deg, *shot.altitude_deg));
    }
    if (!answer.is_lit)
        out.push_back(
            "BY THE LOCATION FILE the key did not reach the mark then: the direction is "
            "matched all the same");
    return out;
}

Answer<DateRange> dates_of(const MatchOptions& o, const site::Zone& zone) {
    auto dates = o.dates.read(zone, now());
    if (!dates || !dates->is_today) return dates;
    dates->last = site::LocalDate{date::sys_days{dates->first} + usual_days};
    dates->is_range = true;
    dates->is_today = false;
    return dates;
}

Answer<study::MatchSettings> settings_of(const MatchOptions& o, const site::Location& location) {
    study::MatchSettings out;
    if (!(o.within_deg > 0 && o.within_deg <= 30))
        return usage_failure("--within: accepted: above 0, up to 30 degrees");
    if (!(o.coverage_percent >= 5 && o.coverage_percent <= 100))
        return usage_failure("--coverage: accepted: 5 to 100 per cent");
    out.within_deg = o.within_deg;
    out.coverage = o.coverage_percent / 100;
    if (location.lock && location.lock->hours) out.hours = *location.lock->hours;
    if (o.hours.empty()) return out;
    const auto hours = read_hours(o.hours);
    if (!hours) return usage_failure("--hours: " + hours.error());
    out.hours = {std::chrono::duration_cast<std::chrono::seconds>(hours->first),
                 std::chrono::duration_cast<std::chrono::seconds>(hours->second)};
    return out;
}

/// The lamp that may stand in for the sun: as asked for, as planned, or the first that can.
Answer<std::optional<std::size_t>> lamp_of(const MatchOptions& o, const site::Location& location) {
    const auto named = index_of("--lamp", o.lamp, location.lamps);
    if (!named) return tl::unexpected{named.error()};
    if (*named && !study::can_be_key(location.lamps[**named]))
        return usage_failure("--lamp: accepted: a lamp outside that can be aimed");
    if (*named) return *named;
    if (location.lock && location.lock->lamp) return location.lock->lamp;
    const auto first = std::ranges::find_if(location.lamps, study::can_be_key);
    if (first == location.lamps.end()) return std::nullopt;
    return static_cast<std::size_t>(first - location.lamps.begin());
}

/// A name that the location lacks is the log's fault, not the command line's.
Failure of_log(Failure failure) {
    failure.code = bad_data;
    return failure;
}

class MatchAnswerer {
public:
    MatchAnswerer(MatchOptions& options, std::ostream& out, std::ostream& err)
        : o_{options}, out_{out}, err_{err} {}

    int answer() {
        if (int{o_.json} + int{o_.csv} + int{o_.line} > 1)
            return report({wrong_usage, "--json, --csv and --line: give one of them"}, err_);
        const auto show = o_.show.read();
        if (!show) return report(show.error(), err_);
        const auto place = log_place(o_.log);
        if (!place) return report(place.error(), err_);
        if (place->line && !o_.shot.empty())
            return report({wrong_usage, "LOG:LINE and --shot: give one of them"}, err_);
        const auto log = read::read_light_log(place->path);
        if (!log) return report(of(log.error()), err_);
        const auto shot = shot_of(*log, *place, o_.shot);
        for (const read::Problem& problem : log->problems)
            if (problem.line != place->line) err_ << problem.text() << '\n';
        if (!shot) return report(shot.error(), err_);
        return answer(*shot, fmt::format("{}:{}", words::shown(place->path), shot->line),
                      std::filesystem::path{place->path}.parent_path().string(), *show);
    }

private:
    int answer(const study::LoggedShot& shot, const std::string& where, const std::string& folder,
               tell::Details show) {
        if (o_.room.location.empty()) o_.room.location = file::path_beside(folder, shot.place);
        std::error_code error;
        if (!std::filesystem::exists(o_.room.location, error))
            return report(
                {bad_data, fmt::format("{}: there is no file {} any more; --location names "
                                       "where it is now",
                                       where, site::quoted(o_.room.location, 200))},
                err_);
        const auto location = o_.room.read(names_for(o_.json));
        if (!location) return report(location.error(), err_);
        const auto recce = o_.room.recce();
        if (!recce) return report(recce.error(), err_);
        const auto at = read::read_moment(shot.at, location->site.zone);
        if (!at) return report({bad_data, where + ": " + at.error()}, err_);
        auto request = request_of(shot, at->at, *location, where + ": ");
        if (!request) return report(of_log(request.error()), err_);
        const auto settings = settings_of(o_, *location);
        if (!settings) return report(settings.error(), err_);
        request->settings = *settings;
        if (shot.key == study::ShotKey::sun) {
            const auto lamp = lamp_of(o_, *location);
            if (!lamp) return report(lamp.error(), err_);
            request->lamp = *lamp;
        }
        const auto dates = dates_of(o_, location->site.zone);
        if (!dates) return report(dates.error(), err_);
        const auto found = ask::match(*location, *dates, *recce, *request);
        if (!found) return report({bad_data, where + ": " + in_words(found.error())}, err_);
        tell(*found, {shot, at->at, where.substr(where.rfind('/') + 1),
                      loud_lines(shot, at->at, found->shot, o_.room.location), *settings,
                      told_dates(*dates), *recce, static_cast<std::size_t>(o_.most), show});
        return answered;
    }

    void tell(const ask::MatchAnswer& found, const tell::MatchQuestion& q) {
        const RoomQuestion& asked = *found.dates_asked;
        if (o_.json) {
            tell::Json document = tell::start_document(asked.location, asked.read_back());
            document.update(tell::json_of(found, q));
            tell::write(out_, document);
        } else if (o_.csv) {
            out_ << tell::match_csv(found, q);
        } else if (o_.line) {
            for (const std::string& line : tell::match_messages(found, q))
                out_ << line << '\n';
        } else {
            print(out_, tell::match_page(found, q));
            if (q.show.has(tell::Detail::readback))
                print(out_, tell::paragraphs(asked.read_back(asked.recce.units)));
        }
    }

    MatchOptions& o_;
    std::ostream& out_;
    std::ostream& err_;
};

}  // namespace

void offer_match(CommandLine& line, Session& session) {
    auto options = std::make_shared<MatchOptions>();
    MatchOptions& o = *options;
    Options* command = line.add_command("match", "when a logged shot's light comes again");
    command->add_option("log", o.log, "light log; LOG:LINE is the shot of that line")
        ->type_name("LOG")
        ->required();
    command->add_option("--shot", o.shot, "by its name (default: the last of the log)")
        ->type_name("NAME");
    o.dates.offer(*command);
    command->get_option("--date")->description("local date (default: eight weeks from today)");
    command->add_option("--within", o.within_deg, "of the shot's direction (default: 2)")
        ->type_name("DEG");
    command->add_option("--coverage", o.coverage_percent, "of the mark, wanted (default: 95)")
        ->type_name("PERCENT");
    command->add_option("--hours", o.hours, "of work (default: the file's, or 08:00,20:00)")
        ->type_name("FROM,TO");
    command->add_option("--lamp", o.lamp, "that may restore it (default: lock's, or first)")
        ->type_name("NAME");
    command->add_option("--location", o.room.location, "the location file, if it has moved")
        ->type_name("FILE");
    command->add_option("--most", o.most, "tell so many dates, the least off first (default: 3)")
        ->type_name("N")
        ->range(1, 100000);
    offer_units(*command, o.room.units);
    o.show.offer(*command);
    command->add_flag("--line", o.line, "one line a date, to be sent as a message");
    command->add_flag("--csv", o.csv, "a record a date, for a spreadsheet");
    command->add_flag("--json", o.json, "one JSON document instead of a table");
    command->footer(
        "example:\n"
        "  keyhour match locations/bindery-and-wharf/light.log \\\n"
        "    --shot \"hands in the sun\" --from 2026-03-23 --to 2026-05-03");
    command->callback([options, &session] {
        session.exit_code = MatchAnswerer{*options, session.out, session.err}.answer();
    });
}

}  // namespace keyhour::cli
