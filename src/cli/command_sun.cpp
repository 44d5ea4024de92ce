#include <fmt/format.h>
#include <fmt/ostream.h>

#include <filesystem>
#include <fstream>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "clock_time.hpp"
#include "command.hpp"
#include "date_options.hpp"
#include "keyhour/site/compass.hpp"
#include "keyhour/site/dates.hpp"
#include "show_option.hpp"
#include "site_options.hpp"
#include "sun_rows.hpp"
#include "tell/document.hpp"
#include "text.hpp"

namespace keyhour::cli {
namespace {

struct SunRequest {
    SiteOptions site;
    DateOptions dates;
    std::string time;   // HH:MM on every date; or
    int step_min = 60;  // so many minutes apart, from local midnight
    std::string rows;   // CSV file, or "-"
    ShowOption show{{tell::Detail::readback}};
    bool json = false;
};

constexpr int longest_step_min = 1440;

struct Row {
    Instant at;
    sun::Position sun;
};

// The instants asked for on one date.
tl::expected<std::vector<Instant>, std::string> instants(const SunRequest& request,
                                                         const site::Zone& zone,
                                                         site::LocalDate day) {
    if (!request.time.empty()) {
        const auto at = read_clock_time(request.time)->on(day, zone);
        if (!at) return tl::unexpected{at.error()};
        return std::vector{*at};
    }
    std::vector<Instant> out;
    const Instant end = zone.start_of(site::next_day(day));
    const Seconds step{60.0 * request.step_min};
    for (Instant t = zone.start_of(day); t < end; t = t + step)
        out.push_back(t);
    return out;
}

std::vector<Row> rows_of(const std::vector<Instant>& at, const sun::Track& track,
                         const sun::Place& place) {
    std::vector<Row> rows;
    rows.reserve(at.size());
    for (const Instant t : at)
        rows.push_back({t, place.position(track.at(t))});
    return rows;
}

tell::Json json_of(const std::vector<Row>& rows, const site::Zone& zone) {
    tell::Json list = tell::Json::array();
    for (const Row& row : rows) {
        tell::Json r;
        r["utc"] = site::iso_utc(row.at);
        r["local"] = site::iso_local(row.at, zone);
        r["azimuth_deg"] = tell::rounded_turn(row.sun.azimuth.from_north);
        r["altitude_deg"] = tell::rounded(row.sun.true_altitude.above_horizon.in_degrees());
        r["apparent_altitude_deg"] =
            tell::rounded(row.sun.apparent_altitude.above_horizon.in_degrees());
        r["declination_deg"] = tell::rounded(row.sun.declination.in_degrees());
        r["right_ascension_deg"] = tell::rounded_turn(row.sun.right_ascension);
        r["distance_au"] = tell::rounded(row.sun.distance_au, 9);
        list.push_back(std::move(r));
    }
    return list;
}

void print_table(const std::vector<Row>& rows, const site::Zone& zone, site::LocalDate day,
                 std::ostream& out) {
    fmt::print(out, "{}\n", site::date_in_words(day));
    fmt::print(out, "  {:<5}  {:<9}  {:>7}  {:<3}  {:>8}  {:>8}  {:>11}\n", "clock", "offset",
               "azimuth", "", "altitude", "apparent", "declination");
    for (const Row& row : rows)
        fmt::print(out, "  {}  {:<9}  {:7.2f}  {:<3}  {:8.2f}  {:8.2f}  {:11.2f}\n",
                   site::whole_minutes(row.at, zone), site::utc_offset(zone.at(row.at).utc_offset),
                   tell::rounded_turn(row.sun.azimuth.from_north, 2),
                   site::compass_letters(row.sun.azimuth),
                   tell::rounded(row.sun.true_altitude.above_horizon.in_degrees(), 2),
                   tell::rounded(row.sun.apparent_altitude.above_horizon.in_degrees(), 2),
                   tell::rounded(row.sun.declination.in_degrees(), 2));
    out << '\n';
}

Answer<void> check(const SunRequest& request) {
    if (!request.time.empty()) {
        const auto time = read_clock_time(request.time);
        if (!time) return usage_failure("--time: " + time.error());
    }
    if (request.step_min < 1 || request.step_min > longest_step_min)
        return usage_failure(fmt::format("--step {}: accepted: 1 to {} whole minutes",
                                         request.step_min, longest_step_min));
    return {};
}

/// Date by date. @return partly_failed if a time does not exist on some date
int tell_dates(const SunRequest& request, const site::Location& location, const DateRange& dates,
               std::ostream& out, std::ostream& err) {
    const site::Site& site = location.site;
    const auto track = track_of(dates, site.zone);
    const sun::Place place{site.observer, site.weather};
    tell::DaysWriter document{out, tell::start_document(location, site_read_back(location, dates)),
                              dates.is_range};
    int code = answered;
    for (site::LocalDate day = dates.first; day <= dates.last && out; day = site::next_day(day)) {
        const auto at = instants(request, site.zone, day);
        if (!at) {
            err << "--time: " << at.error() << '\n';
            code = partly_failed;
            continue;
        }
        const auto rows = rows_of(*at, track->track(), place);
        if (!request.json) {
            print_table(rows, site.zone, day, out);
            continue;
        }
        tell::Json part;
        part["date"] = site::iso_date(day);
        part["rows"] = json_of(rows, site.zone);
        document.add(part);
    }
    if (request.json) document.finish();
    return code;
}

int answer_sun(const SunRequest& request, std::ostream& out, std::ostream& err) {
    if (const auto sound = check(request); !sound) return report(sound.error(), err);
    const auto location = request.site.read(names_for(request.json));
    if (!location) return report(location.error(), err);
    const site::Site& site = location->site;
    const auto recce = request.site.recce();
    if (!recce) return report(recce.error(), err);
    const auto show = request.show.read();
    if (!show) return report(show.error(), err);
    const auto dates = request.dates.read(site.zone, now());
    if (!dates) return report(dates.error(), err);

    // A time that one date lacks must not spoil a range; it spoils a single date.
    if (const auto at = instants(request, site.zone, dates->first); !at && !dates->is_range)
        return report({bad_data, "--time: " + at.error()}, err);

    if (!request.json) {
        print(out, tell::opening(*location, *recce, told_dates(*dates)));
        out << "azimuth from true north, altitude airless and as refracted, degrees\n\n";
    }
    const int code = tell_dates(request, *location, *dates, out, err);
    if (!request.json && show->has(tell::Detail::readback))
        print(out, tell::paragraphs(site_read_back(*location, *dates, recce->units)));
    return code;
}

int answer_rows_of(const SunRequest& request, std::istream& in, std::ostream& out,
                   std::ostream& err) {
    const DateOptions& dates = request.dates;
    if (request.site.is_given() || request.json || !request.time.empty() || !dates.date.empty() ||
        !dates.from.empty() || !dates.to.empty())
        return report({wrong_usage,
                       "--rows takes place and time from each row and answers in CSV: "
                       "leave out the location, the dates, --time and --json"},
                      err);
    if (request.rows == "-") return answer_rows(in, "standard input", out, err);
    std::error_code error;
    if (std::filesystem::is_fifo(request.rows, error) && !request.rows.starts_with("/dev/fd/"))
        return report({bad_data, request.rows + ": this is no plain file; accepted: a CSV file, or "
                                                "- for standard input"},
                      err);
    std::ifstream file{request.rows, std::ios::binary};
    if (!file || std::filesystem::is_directory(request.rows, error))
        return report({bad_data, request.rows + ": cannot be read; accepted: a CSV file, or - for "
                                                "standard input"},
                      err);
    return answer_rows(file, request.rows, out, err);
}

}  // namespace

void offer_sun(CommandLine& line, Session& session) {
    auto request = std::make_shared<SunRequest>();
    Options* command = line.add_command("sun", "where the sun stands, for a place and times");
    request->site.offer(*command);
    request->dates.offer(*command);
    Option* time =
        command->add_option("--time", request->time, "one local time, HH:MM")->type_name("TIME");
    command->add_option("--step", request->step_min, "minutes between rows (default: 60)")
        ->type_name("MIN")
        ->excludes(time);
    command->add_option("--rows", request->rows, "CSV of instants and places; - reads a pipe")
        ->type_name("FILE");
    request->show.offer(*command);
    command->add_flag("--json", request->json, "one JSON document instead of a table");
    command->footer(
        "example:\n"
        "  keyhour sun locations/tallow-lane.toml --date 2026-03-10 --step 30\n"
        "  keyhour sun --position \"52.95N 1.15W\" --zone Europe/London --date 2026-03-10\n"
        "  keyhour sun --rows instants.csv > suns.csv\n"
        "columns of the CSV: utc,latitude_deg,longitude_deg,elevation_m, by name");
    command->callback([request, &session] {
        session.exit_code = request->rows.empty()
                                ? answer_sun(*request, session.out, session.err)
                                : answer_rows_of(*request, session.in, session.out, session.err);
    });
}

}  // namespace keyhour::cli
