#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "change_option.hpp"
#include "clock_time.hpp"
#include "command.hpp"
#include "date_options.hpp"
#include "exposure_options.hpp"
#include "keyhour/ask/exterior.hpp"
#include "keyhour/site/dates.hpp"
#include "numbers.hpp"
#include "show_option.hpp"
#include "site_options.hpp"
#include "tell/countdown_lines.hpp"
#include "tell/exterior_documents.hpp"
#include "tell/exterior_page.hpp"
#include "tell/facade_lines.hpp"
#include "tell/spot_hours.hpp"
#include "text.hpp"
#include "units_option.hpp"

namespace keyhour::cli {
namespace {

struct ExteriorRequest {
    std::string location;
    ChangeOption what_if;
    DateOptions dates;
    std::string spot, late_light, low_sun, sides, raking, units, from_time;
    ExposureOptions exposure;
    std::vector<std::string> times;
    double set_up_min = 20, shot_min = 10, person_m = 1.7, stand_m = 3;
    double floor_lx = 0;  // not given
    ShowOption show{{tell::Detail::levels, tell::Detail::doubt, tell::Detail::hours,
                     tell::Detail::countdown, tell::Detail::readback}};
    bool json = false, no_doubt = false, line = false;
};

Answer<study::LateLightBand> band(const char* option, const std::string& text,
                                  const study::LateLightBand& usual) {
    if (text.empty()) return usual;
    const auto pair = read_pair(text, -18, 90);
    if (!pair) return usage_failure(fmt::format("{}: {}", option, pair.error()));
    return study::LateLightBand{{Angle::degrees((*pair)[0])}, {Angle::degrees((*pair)[1])}};
}

Answer<std::array<double, 2>> limits(const char* option, const std::string& text, double highest,
                                     std::array<double, 2> usual) {
    if (text.empty()) return usual;
    const auto pair = read_pair(text, 0, highest);
    if (!pair) return usage_failure(fmt::format("{}: {}", option, pair.error()));
    return *pair;
}

bool within(double value, double least, double most) {
    return value >= least && value <= most;
}

Answer<study::SpotSettings> settings_of(const ExteriorRequest& r) {
    study::SpotSettings s;
    const auto late = band("--late-light", r.late_light, s.late_light);
    if (!late) return tl::unexpected{late.error()};
    const auto low = band("--low-sun", r.low_sun, s.low_sun);
    if (!low) return tl::unexpected{low.error()};
    const auto sides = limits("--sides", r.sides, 180, {s.front_below_deg, s.back_above_deg});
    if (!sides) return tl::unexpected{sides.error()};
    const auto raking = limits("--raking", r.raking, 90, {s.raking_from_deg, s.raking_to_deg});
    if (!raking) return tl::unexpected{raking.error()};
    if (!within(r.set_up_min, 0, 1440))
        return usage_failure("--setup: accepted: 0 to 1440 minutes");
    if (!within(r.shot_min, 1, 1440)) return usage_failure("--shot: accepted: 1 to 1440 minutes");
    if (!within(r.person_m, 0.1, 10)) return usage_failure("--person: accepted: 0.1 to 10 metres");
    if (!within(r.stand_m, 0.1, 100)) return usage_failure("--stand: accepted: 0.1 to 100 metres");
    if (r.floor_lx != 0 && !within(r.floor_lx, 0.001, 50000))
        return usage_failure("--floor-lx: accepted: 0.001 to 50000 lux");
    s.late_light = *late;
    s.low_sun = *low;
    s.front_below_deg = (*sides)[0];
    s.back_above_deg = (*sides)[1];
    s.raking_from_deg = (*raking)[0];
    s.raking_to_deg = (*raking)[1];
    s.set_up = Seconds{60 * r.set_up_min};
    s.shot = Seconds{60 * r.shot_min};
    s.person_m = r.person_m;
    s.stand_m = r.stand_m;
    if (r.floor_lx != 0) s.floor_lx = r.floor_lx;
    return s;
}

Answer<std::vector<ClockTime>> times_of(const ExteriorRequest& r) {
    std::vector<ClockTime> times;
    for (const std::string& text : r.times) {
        const auto time = read_clock_time(text);
        if (!time) return usage_failure("--time: " + time.error());
        times.push_back(*time);
    }
    std::ranges::sort(times, {}, &ClockTime::time);
    return times;
}

/// Indices of the spots asked for.
Answer<std::vector<std::size_t>> spots_of(const site::Location& location, const std::string& name) {
    if (location.spots.empty())
        return data_failure(
            "the location has no [[spot]]: add one, such as\n"
            "  [[spot]]\n  name = \"yard door\"\n  position = \"52.9536N 1.1505W\"\n"
            "  camera_bearing = 240\n  wants = \"side\"\n"
            "(with a [room], at = [x, y] in plan metres may stand in place of position)");
    const auto asked = index_of("--spot", name, location.spots);
    if (!asked) return tl::unexpected{asked.error()};
    std::vector<std::size_t> found;
    for (std::size_t i = 0; i < location.spots.size(); ++i)
        if (!*asked || **asked == i) found.push_back(i);
    return found;
}

/// The times asked for on a date.
Answer<std::vector<Instant>> instants_of(const site::Zone& zone, site::LocalDate date,
                                         const std::vector<ClockTime>& times) {
    std::vector<Instant> out;
    for (const ClockTime& time : times) {
        const auto t = time.on(date, zone);
        if (!t) return usage_failure("--time: " + t.error());
        out.push_back(*t);
    }
    return out;
}

/// What was asked, checked.
struct Question {
    tell::Details show;
    std::vector<ClockTime> times;
    std::optional<ClockTime> from_time;  // what still fits from then on
    study::CameraSetting camera;
    bool with_doubt = true;
    std::unique_ptr<ask::ExteriorQuestion> places;

    [[nodiscard]] const DateRange& dates() const { return places->site->dates; }
    [[nodiscard]] const site::Zone& zone() const { return places->zone(); }
    [[nodiscard]] std::size_t spots() const { return places->spots.size(); }
    [[nodiscard]] bool counts_down() const {
        return from_time || show.has(tell::Detail::countdown);
    }
};

Answer<std::optional<ClockTime>> from_time_of(const ExteriorRequest& request) {
    if (request.from_time.empty()) return std::nullopt;
    const auto time = read_clock_time(request.from_time);
    if (!time) return usage_failure("--from-time: " + time.error());
    return *time;
}

/// The places asked about. @param settings  of the light
Answer<std::unique_ptr<ask::ExteriorQuestion>> places_of(const ExteriorRequest& request,
                                                         const study::SpotSettings& settings) {
    SiteOptions site;
    site.location = request.location;
    site.what_if = request.what_if;
    auto location = site.read(names_for(request.json));
    if (!location) return tl::unexpected{location.error()};
    const auto recce = recce_of(request.location, request.units, request.what_if.changes());
    if (!recce) return tl::unexpected{recce.error()};
    if (const auto show = request.show.read(); !show) return tl::unexpected{show.error()};
    if (request.line && request.json) return usage_failure("--line and --json: give one of them");
    auto spots = spots_of(*location, request.spot);
    if (!spots) return tl::unexpected{spots.error()};
    const auto dates = request.dates.read(location->site.zone, now());
    if (!dates) return tl::unexpected{dates.error()};
    auto places = ask::ExteriorQuestion::prepare(*std::move(location), *dates, *recce,
                                                 *std::move(spots), settings);
    if (!places) return usage_failure(years_served);
    for (const ask::SpotInside& spot : places->inside)
        places->site->location.questions.push_back(tell::stands_inside(spot, places->location()));
    return places;
}

Answer<Question> read_exterior(const ExteriorRequest& request) {
    Question q;
    const auto settings = settings_of(request);
    if (!settings) return tl::unexpected{settings.error()};
    const auto times = times_of(request);
    if (!times) return tl::unexpected{times.error()};
    const auto from_time = from_time_of(request);
    if (!from_time) return tl::unexpected{from_time.error()};
    const auto camera = request.exposure.read();
    if (!camera) return tl::unexpected{camera.error()};
    auto places = places_of(request, *settings);
    if (!places) return tl::unexpected{places.error()};
    q.show = *request.show.read();
    q.times = *times;
    q.from_time = *from_time;
    q.camera = *camera;
    q.with_doubt = !request.no_doubt;
    q.places = *std::move(places);
    return q;
}

/// @param rows  are the day's hours wanted?
/// @param all   and what a whole page or document tells beside: ends' doubt, the sky in late light
ask::SpotAnswer answer_of(const Question& q, std::size_t spot, site::LocalDate date, bool rows,
                          bool all) {
    const ask::SpotRequest wanted{rows, *instants_of(q.zone(), date, q.times), all && q.with_doubt,
                                  all};
    return ask::exterior(*q.places, spot, date, wanted);
}

ask::CountdownAnswer countdown_on(const Question& q, site::LocalDate date,
                                  const std::vector<study::SpotDay>& days) {
    if (!q.counts_down()) return {};
    std::optional<Instant> from;
    if (q.from_time) from = *q.from_time->on(date, q.zone());
    return ask::countdown(*q.places, days, from);
}

/// Writes place by place: there may be too many to be kept.
void write_json(const Question& q, std::ostream& out) {
    const ask::ExteriorQuestion& places = *q.places;
    const DateRange& dates = q.dates();
    tell::Json head = tell::start_document(places.location(), places.site->read_back());
    head["settings"] = tell::json_of(places.settings);
    tell::DaysWriter document{out, head, dates.is_range};
    for (site::LocalDate d = dates.first; d <= dates.last && out; d = site::next_day(d)) {
        tell::Json before;
        before["date"] = site::iso_date(d);
        document.begin_list(before, "spots");
        std::vector<study::SpotDay> days;
        for (std::size_t i = 0; i < q.spots(); ++i) {
            const ask::SpotAnswer answer =
                answer_of(q, i, d, !dates.is_range || !q.times.empty(), true);
            document.add_to_list(tell::json_of(answer));
            if (q.counts_down()) days.push_back(answer.day);
        }
        tell::Json after;
        after["thrown_back"] = tell::Json::array();
        for (const study::FacadeLight& f : ask::thrown_back(places, d))
            after["thrown_back"].push_back(tell::json_of(f, places.rooms->on(d)));
        if (q.counts_down())
            after["countdown"] = tell::countdown_json(countdown_on(q, d, days), q.camera);
        document.end_list(after);
    }
    document.finish();
}

void print_date(const Question& q, const tell::ExteriorQuestion& asked, std::ostream& out) {
    const ask::ExteriorQuestion& places = *q.places;
    const site::LocalDate date = q.dates().first;
    std::vector<ask::SpotAnswer> answers;
    std::vector<study::SpotDay> days;
    for (std::size_t i = 0; i < q.spots(); ++i) {
        answers.push_back(
            answer_of(q, i, date, asked.timed || asked.show.has(tell::Detail::hours), true));
        if (q.counts_down()) days.push_back(answers.back().day);
    }
    const auto needs_bearing = [&](const ask::SpotAnswer& answer) {
        return tell::is_bearing_needed(answer, asked);
    };
    if (std::ranges::any_of(answers, needs_bearing))
        print(out, {{tell::bearing_needed(*places.location().room)}});
    print(out, tell::opening(places.location(), places.site->recce, asked.dates));
    const ask::CountdownAnswer left = countdown_on(q, date, days);
    print(out, tell::still_fit_lines(left));
    for (std::size_t i = 0; i < answers.size(); ++i) {
        print(out, tell::spot_block(answers[i], asked));
        if (asked.show.has(tell::Detail::countdown) && i < left.spots.size())
            print(out, tell::countdown_rows(left.spots[i], q.camera));
    }
    if (places.rooms)
        print(out,
              tell::thrown_back(ask::thrown_back(places, date), *places.location().room, q.zone()));
}

void print_range(const Question& q, const tell::ExteriorQuestion& asked, std::ostream& out) {
    const ask::ExteriorQuestion& places = *q.places;
    tell::FacadeDates facades;
    print(out, tell::opening(places.location(), places.site->recce, asked.dates));
    for (site::LocalDate d = q.dates().first; d <= q.dates().last && out; d = site::next_day(d)) {
        std::vector<study::SpotDay> days;
        for (std::size_t i = 0; i < q.spots(); ++i) {
            const ask::SpotAnswer answer = answer_of(q, i, d, asked.timed, false);
            print(out, {tell::spot_row(answer, asked)});
            if (asked.timed) print(out, tell::spot_hours(answer, asked));
            if (q.from_time) days.push_back(answer.day);
        }
        print(out, tell::still_fit_lines(countdown_on(q, d, days)));
        for (const study::FacadeLight& f : ask::thrown_back(places, d))
            facades.add(d, f);
    }
    if (places.rooms) print(out, tell::thrown_back(facades, *places.location().room, q.zone()));
}

void print_lines(const Question& q, const tell::ExteriorQuestion& asked, std::ostream& out) {
    for (site::LocalDate d = q.dates().first; d <= q.dates().last && out; d = site::next_day(d))
        for (std::size_t i = 0; i < q.spots(); ++i)
            out << tell::spot_message(answer_of(q, i, d, false, false), asked) << '\n';
}

/// A time that does not exist on some date.
std::optional<Failure> no_such_time(const Question& q) {
    for (site::LocalDate d = q.dates().first; d <= q.dates().last; d = site::next_day(d)) {
        if (const auto instants = instants_of(q.zone(), d, q.times); !instants)
            return instants.error();
        if (!q.from_time) continue;
        if (const auto t = q.from_time->on(d, q.zone()); !t)
            return Failure{wrong_usage, "--from-time: " + t.error()};
    }
    return std::nullopt;
}

int answer_exterior(const ExteriorRequest& request, std::ostream& out, std::ostream& err) {
    const auto read = read_exterior(request);
    if (!read) return report(read.error(), err);
    const Question& q = *read;
    const ask::ExteriorQuestion& places = *q.places;
    // Told before anything is written.
    if (const auto failure = no_such_time(q)) return report(*failure, err);
    if (request.json) {
        write_json(q, out);
        return answered;
    }
    const tell::ExteriorQuestion asked{places.location(),
                                       places.site->recce,
                                       told_dates(q.dates()),
                                       places.settings,
                                       q.spots(),
                                       !q.times.empty(),
                                       q.show};
    if (request.line) {
        print_lines(q, asked, out);
        return answered;
    }
    if (q.dates().is_range)
        print_range(q, asked, out);
    else
        print_date(q, asked, out);
    print(out, tell::exterior_foot(asked));
    if (q.show.has(tell::Detail::readback))
        print(out, tell::paragraphs(places.site->read_back(places.site->recce.units)));
    return answered;
}

/// By what the light is judged.
void offer_settings(Options& command, ExteriorRequest& r) {
    command.add_option("--setup", r.set_up_min, "minutes of set-up (default: 20)")
        ->type_name("MIN");
    command.add_option("--shot", r.shot_min, "minutes of the shot (default: 10)")->type_name("MIN");
    command.add_option("--late-light", r.late_light, "altitudes of the sun (default: -4,6)")
        ->type_name("DEG,DEG");
    command.add_option("--low-sun", r.low_sun, "a second band (default: 0,6)")
        ->type_name("DEG,DEG");
    command.add_option("--sides", r.sides, "side light: key angles (default: 60,120)")
        ->type_name("DEG,DEG");
    command.add_option("--raking", r.raking, "raking light: degrees off square (default: 60,88)")
        ->type_name("DEG,DEG");
    command.add_option("--person", r.person_m, "height for shadows (default: 1.7)")->type_name("M");
    command.add_option("--stand", r.stand_m, "another, of a stand (default: 3)")->type_name("M");
    command.add_option("--floor-lx", r.floor_lx, "level below which it is too dark")
        ->type_name("LX");
}

constexpr const char* exterior_examples =
    "example:\n"
    "  keyhour exterior locations/flax-road.toml --date 2026-03-10\n"
    "  keyhour exterior locations/flax-road.toml --spot \"yard gate\" \\\n"
    "    --from 2026-03-01 --to 2026-03-31\n"
    "  keyhour exterior locations/flax-road.toml --date 2026-03-10 \\\n"
    "    --from-time 15:30 --show countdown --iso 800";

}  // namespace

void offer_exterior(CommandLine& line, Session& session) {
    auto request = std::make_shared<ExteriorRequest>();
    Options* command =
        line.add_command("exterior", "when the light outside suits the shot, and goes");
    command->add_option("location", request->location, "location file (TOML)")
        ->type_name("FILE")
        ->required();
    request->dates.offer(*command);
    command
        ->add_option("--spot", request->spot, "one place outside, a [[spot]] there (default: all)")
        ->type_name("NAME");
    command->add_option("--time", request->times, "rows at these times (default: whole hours)")
        ->type_name("HH:MM")
        ->delimiter(',');
    command->add_option("--from-time", request->from_time, "which shots still fit from then on")
        ->type_name("HH:MM");
    offer_settings(*command, *request);
    offer_units(*command, request->units);
    request->what_if.offer(*command);
    request->exposure.offer(*command);
    command->get_option("--stop")->description("wanted: the countdown says how far the light is");
    command->remove_option(command->get_option("--tolerance"));  // no light is left out
    request->show.offer(*command);
    command->add_flag("--line", request->line, "one line a place, to be sent as a message");
    command->add_flag("--no-doubt", request->no_doubt,
                      "leave out between which times the light comes and goes");
    command->add_flag("--json", request->json, "one JSON document instead of a table");
    command->footer(exterior_examples);
    command->callback([request, &session] {
        session.exit_code = answer_exterior(*request, session.out, session.err);
    });
}

}  // namespace keyhour::cli
