#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "clock_time.hpp"
#include "command.hpp"
#include "date_options.hpp"
#include "exposure_options.hpp"
#include "exterior_countdown.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/seasonal_study.hpp"
#include "numbers.hpp"
#include "show_option.hpp"
#include "site_options.hpp"
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

/// The times asked for on a date; without any, the whole hours at which the sun is up.
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

std::vector<study::SpotInstant> rows_of(const study::SpotLight& spot, const site::Zone& zone,
                                        site::LocalDate date, const std::vector<Instant>& asked) {
    std::vector<study::SpotInstant> rows;
    const site::Outlook outlook{spot.location(), spot.spot(), date};
    for (const Instant t : asked)
        rows.push_back(spot.at(t, outlook));
    if (!asked.empty()) return rows;
    const Instant to = zone.start_of(site::next_day(date));
    for (Instant t = zone.start_of(date); t < to; t = t + Seconds{3600})
        if (spot.sun_is_up(t)) rows.push_back(spot.at(t, outlook));
    return rows;
}

struct Question {
    site::Location location;
    site::Recce recce;
    tell::Details show;
    DateRange dates;
    study::SpotSettings settings;
    std::vector<ClockTime> times;
    std::optional<ClockTime> from_time;  // what still fits from then on
    study::CameraSetting camera;
    std::vector<std::size_t> spots;
    std::shared_ptr<const study::SharedTrack> track;
    std::vector<study::SpotLight> lights;
    bool with_doubt = true;
    std::optional<study::SeasonalStudy> rooms;  // if a facade throws light back
    [[nodiscard]] const site::Zone& zone() const { return location.site.zone; }
    [[nodiscard]] bool counts_down() const {
        return from_time || show.has(tell::Detail::countdown);
    }
};

bool has_facade(const site::Location& location) {
    return location.room && std::ranges::any_of(location.room->buildings,
                                                [](const auto& b) { return b.facade.has_value(); });
}

Answer<std::unique_ptr<Question>> prepare(const ExteriorRequest& request) {
    const auto settings = settings_of(request);
    if (!settings) return tl::unexpected{settings.error()};
    const auto times = times_of(request);
    if (!times) return tl::unexpected{times.error()};
    std::optional<ClockTime> from_time;
    if (!request.from_time.empty()) {
        const auto time = read_clock_time(request.from_time);
        if (!time) return usage_failure("--from-time: " + time.error());
        from_time = *time;
    }
    const auto camera = request.exposure.read();
    if (!camera) return tl::unexpected{camera.error()};
    SiteOptions site;
    site.location = request.location;
    auto location = site.read(names_for(request.json));
    if (!location) return tl::unexpected{location.error()};
    const auto recce = recce_of(request.location, request.units);
    if (!recce) return tl::unexpected{recce.error()};
    const auto show = request.show.read();
    if (!show) return tl::unexpected{show.error()};
    if (request.line && request.json) return usage_failure("--line and --json: give one of them");
    const auto spots = spots_of(*location, request.spot);
    if (!spots) return tl::unexpected{spots.error()};
    const auto dates = request.dates.read(location->site.zone, now());
    if (!dates) return tl::unexpected{dates.error()};
    auto q = std::make_unique<Question>();
    q->location = *std::move(location);
    q->recce = *recce;
    q->show = *show;
    q->dates = *dates;
    q->settings = *settings;
    q->times = *times;
    q->from_time = from_time;
    q->camera = *camera;
    q->spots = *spots;
    q->with_doubt = !request.no_doubt;
    constexpr Seconds dusk{9 * 3600};
    q->track = track_of(q->dates, q->zone(), dusk);
    for (const std::size_t spot : q->spots) {
        q->lights.emplace_back(q->location, spot, q->track, q->settings);
        if (const std::string in = q->lights.back().stands_in(); !in.empty())
            q->location.questions.push_back(fmt::format(
                "place outside \"{}\" stands in {}: direct light is judged as if from inside it",
                q->location.spots[spot].name, in));
    }
    if (has_facade(q->location))
        q->rooms.emplace(q->location, q->track, q->dates.first, q->dates.last);
    return q;
}

std::vector<study::FacadeLight> thrown_back(const Question& q, site::LocalDate date) {
    if (!q.rooms) return {};
    return study::facade_light(q.rooms->on(date), q.zone().start_of(date),
                               q.zone().start_of(site::next_day(date)));
}

/// The lamps of the street at each spot, and the evening's minute from which they outshine the sky.
struct SpotLamps {
    std::vector<study::LampAtSpot> lamps;
    std::optional<Instant> sky_below;
};

SpotLamps spot_lamps(const Question& q, std::size_t spot, site::LocalDate date) {
    SpotLamps out{study::lamps_at(q.location, q.location.spots[spot]), {}};
    const double level = study::ground_lx(out.lamps);
    if (level <= 0) return out;
    study::SpotSettings settings = q.settings;
    settings.floor_lx = level;
    out.sky_below = study::SpotLight{q.location, spot, q.track, settings}.on(date).below_floor;
    return out;
}

/// Between which times the direct light of spot number `i` comes and goes.
std::vector<study::SpotEnsemble::Ends> ends_of(const Question& q, std::size_t i,
                                               const study::SpotDay& day) {
    if (!q.with_doubt || day.direct.empty()) return {};
    return study::SpotEnsemble{q.location, q.spots[i], q.track}.ends(day.direct, day.date);
}

/// What is known of one place on one date.
struct SpotFound {
    study::SpotDay day;
    std::vector<study::SpotInstant> rows;
    std::vector<study::SpotEnsemble::Ends> ends;
    SpotLamps lamps;
};

/// @param rows  are the day's hours wanted?
/// @param all   and what a whole page or document tells beside: ends' doubt, the sky in late light
SpotFound ask(const Question& q, std::size_t i, site::LocalDate date, bool rows, bool all) {
    SpotFound found{q.lights[i].on(date), {}, {}, {}};
    if (rows && found.day.exists)
        found.rows = rows_of(q.lights[i], q.zone(), date, *instants_of(q.zone(), date, q.times));
    if (all) {
        found.ends = ends_of(q, i, found.day);
        q.lights[i].add_sky(found.day);
    }
    found.lamps = spot_lamps(q, q.spots[i], date);
    return found;
}

tell::SpotAnswer told(const Question& q, std::size_t i, const SpotFound& found) {
    return {q.lights[i], found.day,         found.ends,
            found.rows,  found.lamps.lamps, found.lamps.sky_below};
}

std::optional<Instant> from_on(const Question& q, site::LocalDate date) {
    if (!q.from_time) return std::nullopt;
    return *q.from_time->on(date, q.zone());
}

/// @param days  of all lights; one that the zone leaves out has nothing to count down to
CountdownFound countdown_on(const Question& q, site::LocalDate date,
                            const std::vector<study::SpotDay>& days) {
    if (!q.counts_down() || days.empty() || !days.front().exists) return {};
    return countdown_of(q.lights, days, from_on(q, date));
}

void write_json(const Question& q, std::ostream& out) {
    tell::Json head = tell::start_document(q.location, site_read_back(q.location, q.dates));
    head["settings"] = tell::json_of(q.settings);
    tell::DaysWriter document{out, head, q.dates.is_range};
    for (site::LocalDate d = q.dates.first; d <= q.dates.last && out; d = site::next_day(d)) {
        tell::Json before;
        before["date"] = site::iso_date(d);
        document.begin_list(before, "spots");
        std::vector<study::SpotDay> days;
        for (std::size_t i = 0; i < q.lights.size(); ++i) {
            const SpotFound found = ask(q, i, d, !q.dates.is_range || !q.times.empty(), true);
            tell::Json one = tell::json_of(found.day, found.rows, q.lights[i]);
            tell::add_ends(one, found.ends);
            one["lamps"] = tell::json_of(found.lamps.lamps, found.lamps.sky_below, q.location);
            document.add_to_list(one);
            if (q.counts_down()) days.push_back(found.day);
        }
        tell::Json after;
        after["thrown_back"] = tell::Json::array();
        for (const study::FacadeLight& f : thrown_back(q, d))
            after["thrown_back"].push_back(tell::json_of(f, q.rooms->on(d)));
        if (q.counts_down()) {
            const CountdownFound left = countdown_on(q, d, days);
            after["countdown"] = tell::countdown_json(left.spots, left.from, left.order, q.camera);
        }
        document.end_list(after);
    }
    document.finish();
}

void print_date(const Question& q, const tell::ExteriorQuestion& asked, std::ostream& out) {
    const site::LocalDate date = q.dates.first;
    std::vector<SpotFound> found;
    for (std::size_t i = 0; i < q.lights.size(); ++i)
        found.push_back(ask(q, i, date, asked.timed || asked.show.has(tell::Detail::hours), true));
    for (std::size_t i = 0; i < found.size(); ++i)
        if (tell::is_bearing_needed(told(q, i, found[i]), asked)) {
            print(out, {{tell::bearing_needed(*q.location.room)}});
            break;
        }
    print(out, tell::opening(q.location, q.recce, asked.dates));
    std::vector<study::SpotDay> days;
    if (q.counts_down())
        for (const SpotFound& f : found)
            days.push_back(f.day);
    const CountdownFound left = countdown_on(q, date, days);
    if (left.from) print(out, tell::still_fit_lines(left.spots, *left.from, left.order));
    for (std::size_t i = 0; i < found.size(); ++i) {
        print(out, tell::spot_block(told(q, i, found[i]), asked));
        if (asked.show.has(tell::Detail::countdown) && i < left.spots.size())
            print(out, tell::countdown_rows(left.spots[i], q.camera));
    }
    if (q.rooms) print(out, tell::thrown_back(thrown_back(q, date), *q.location.room, q.zone()));
}

void print_range(const Question& q, const tell::ExteriorQuestion& asked, std::ostream& out) {
    tell::FacadeDates facades;
    print(out, tell::opening(q.location, q.recce, asked.dates));
    for (site::LocalDate d = q.dates.first; d <= q.dates.last && out; d = site::next_day(d)) {
        std::vector<study::SpotDay> days;
        for (std::size_t i = 0; i < q.lights.size(); ++i) {
            const SpotFound found = ask(q, i, d, asked.timed, false);
            print(out, {tell::spot_row(told(q, i, found), asked)});
            if (asked.timed) print(out, tell::spot_hours(told(q, i, found), asked));
            if (q.from_time) days.push_back(found.day);
        }
        const CountdownFound left = countdown_on(q, d, days);
        if (left.from) print(out, tell::still_fit_lines(left.spots, *left.from, left.order));
        for (const study::FacadeLight& f : thrown_back(q, d))
            facades.add(d, f);
    }
    if (q.rooms) print(out, tell::thrown_back(facades, *q.location.room, q.zone()));
}

void print_lines(const Question& q, const tell::ExteriorQuestion& asked, std::ostream& out) {
    for (site::LocalDate d = q.dates.first; d <= q.dates.last && out; d = site::next_day(d))
        for (std::size_t i = 0; i < q.lights.size(); ++i)
            out << tell::spot_message(told(q, i, ask(q, i, d, false, false)), asked) << '\n';
}

int answer_exterior(const ExteriorRequest& request, std::ostream& out, std::ostream& err) {
    const auto prepared = prepare(request);
    if (!prepared) return report(prepared.error(), err);
    const Question& q = **prepared;
    // A time that does not exist on some date is told before anything is written.
    for (site::LocalDate d = q.dates.first; d <= q.dates.last; d = site::next_day(d))
        if (const auto instants = instants_of(q.zone(), d, q.times); !instants)
            return report(instants.error(), err);
        else if (q.from_time)
            if (const auto t = q.from_time->on(d, q.zone()); !t)
                return report({wrong_usage, "--from-time: " + t.error()}, err);
    if (request.json) {
        write_json(q, out);
        return answered;
    }
    const tell::ExteriorQuestion asked{q.location, q.recce,         told_dates(q.dates),
                                       q.settings, q.lights.size(), !q.times.empty(),
                                       q.show};
    if (request.line) {
        print_lines(q, asked, out);
        return answered;
    }
    if (q.dates.is_range)
        print_range(q, asked, out);
    else
        print_date(q, asked, out);
    print(out, tell::exterior_foot(asked));
    if (q.show.has(tell::Detail::readback))
        print(out, tell::paragraphs(site_read_back(q.location, q.dates, q.recce.units)));
    return answered;
}

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
    command->add_option("--setup", request->set_up_min, "minutes of set-up (default: 20)")
        ->type_name("MIN");
    command->add_option("--shot", request->shot_min, "minutes of the shot (default: 10)")
        ->type_name("MIN");
    command->add_option("--late-light", request->late_light, "altitudes of the sun (default: -4,6)")
        ->type_name("DEG,DEG");
    command->add_option("--low-sun", request->low_sun, "a second band (default: 0,6)")
        ->type_name("DEG,DEG");
    command->add_option("--sides", request->sides, "side light: key angles (default: 60,120)")
        ->type_name("DEG,DEG");
    command
        ->add_option("--raking", request->raking,
                     "raking light: degrees off square (default: 60,88)")
        ->type_name("DEG,DEG");
    command->add_option("--person", request->person_m, "height for shadows (default: 1.7)")
        ->type_name("M");
    command->add_option("--stand", request->stand_m, "another, of a stand (default: 3)")
        ->type_name("M");
    command->add_option("--floor-lx", request->floor_lx, "level below which it is too dark")
        ->type_name("LX");
    offer_units(*command, request->units);
    request->exposure.offer(*command);
    command->get_option("--stop")->description("wanted: the countdown says how far the light is");
    command->remove_option(command->get_option("--tolerance"));  // no light is left out
    request->show.offer(*command);
    command->add_flag("--line", request->line, "one line a place, to be sent as a message");
    command->add_flag("--no-doubt", request->no_doubt,
                      "leave out between which times the light comes and goes");
    command->add_flag("--json", request->json, "one JSON document instead of a table");
    command->footer(
        "example:\n"
        "  keyhour exterior locations/flax-road.toml --date 2026-03-10\n"
        "  keyhour exterior locations/flax-road.toml --spot \"yard gate\" \\\n"
        "    --from 2026-03-01 --to 2026-03-31\n"
        "  keyhour exterior locations/flax-road.toml --date 2026-03-10 \\\n"
        "    --from-time 15:30 --show countdown --iso 800");
    command->callback([request, &session] {
        session.exit_code = answer_exterior(*request, session.out, session.err);
    });
}

}  // namespace keyhour::cli
