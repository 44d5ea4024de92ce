#include "batch_visit.hpp"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <ostream>

#include "batch_table.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/version.hpp"
#include "tell/csv.hpp"
#include "tell/document.hpp"
#include "text.hpp"

namespace keyhour::cli {
namespace {

study::VisitPlan plan_of(const BatchQuestion& question, const std::vector<BriefPlace>& places,
                         std::size_t date) {
    std::vector<study::VisitRoom> rooms;
    for (const BriefPlace& place : places) {
        study::VisitRoom room{place.place, {}};
        for (const BriefHold& hold : place.dates[date].holds)
            room.holds.push_back(hold.span);
        rooms.push_back(std::move(room));
    }
    return study::plan_visit(rooms, question.visit);
}

const std::string& name_of(const BriefPlace& place) {
    return place_name(place.location, place.source);
}

void print_stop(std::size_t number, const study::VisitStop& stop, const BriefPlace& place,
                std::size_t date, std::ostream& out) {
    const BriefHold& hold = place.dates[date].holds[stop.hold];
    const auto clock = [&](Instant t) { return site::whole_minutes(t, place.zone); };
    print_wrapped(out, fmt::format("{}. {}", number, name_of(place)), 0, 6);
    if (number > 1)
        print_wrapped(out,
                      fmt::format("travel {}: {:.1f} km as the crow flies", in_minutes(stop.travel),
                                  stop.distance_m / 1000),
                      3, 6);
    print_wrapped(out,
                  fmt::format("be there {}, work {} to {} ({}), slack {}",
                              site::whole_minutes(minute_before(stop.arrive), place.zone),
                              clock(stop.start), clock(stop.end), offset_at(stop.start, place.zone),
                              in_minutes(Seconds{std::floor(stop.slack.count() / 60) * 60})),
                  3, 6);
    print_wrapped(out,
                  fmt::format("{} on {}: hold {}", hold.window, hold.mark,
                              span_in_words(hold.span, place.zone)),
                  3, 6);
}

void print_table(const BatchQuestion& q, const std::vector<BriefPlace>& places, std::ostream& out) {
    for (std::size_t d = 0; d < q.dates.size(); ++d) {
        const study::VisitPlan plan = plan_of(q, places, d);
        out << fmt::format("{}: {} of {} rooms\n", site::date_in_words(q.dates[d]),
                           plan.stops.size(), places.size());
        for (std::size_t i = 0; i < plan.stops.size(); ++i)
            print_stop(i + 1, plan.stops[i], places[plan.stops[i].room], d, out);
        for (const std::size_t room : plan.left_out)
            print_wrapped(out,
                          fmt::format("left out: {}: {}", name_of(places[room]),
                                      places[room].dates[d].holds.empty()
                                          ? places[room].dates[d].why_not
                                          : "cannot be reached in its light with the others"),
                          0, 6);
        out << '\n';
    }
    print_wrapped(out,
                  fmt::format("Work {} in each room, {} of setting up before it. Travel: the "
                              "crow's flight times {:g} at {:g} km/h; check the road. Slack: by "
                              "which the work may start later and the rest of the day still holds.",
                              in_minutes(q.visit.work), in_minutes(q.visit.setup), q.visit.detour,
                              q.visit.speed_kmh),
                  0, 0);
}

tell::Json json_of(const study::VisitStop& stop, const BriefPlace& place, std::size_t date) {
    const BriefHold& hold = place.dates[date].holds[stop.hold];
    return {{"location", place.location},
            {"source", place.source},
            {"distance_m", tell::rounded(stop.distance_m, 1)},
            {"travel_min", tell::rounded(stop.travel.count() / 60, 5)},
            {"arrive_utc", site::iso_utc(stop.arrive, 3)},
            {"start_utc", site::iso_utc(stop.start, 3)},
            {"end_utc", site::iso_utc(stop.end, 3)},
            {"start_local", site::iso_local(stop.start, place.zone, 3)},
            {"end_local", site::iso_local(stop.end, place.zone, 3)},
            {"slack_min", tell::rounded(stop.slack.count() / 60, 5)},
            {"mark", hold.mark},
            {"window", hold.window},
            {"hold_start_utc", site::iso_utc(hold.span.from, 3)},
            {"hold_end_utc", site::iso_utc(hold.span.to, 3)}};
}

void write_json(const BatchQuestion& q, const std::vector<BriefPlace>& places, std::ostream& out) {
    for (std::size_t d = 0; d < q.dates.size(); ++d) {
        const study::VisitPlan plan = plan_of(q, places, d);
        tell::Json line;
        line["keyhour"] = version();
        line["question"] = "visit";
        line["date"] = site::iso_date(q.dates[d]);
        line["speed_kmh"] = q.visit.speed_kmh;
        line["detour"] = q.visit.detour;
        line["setup_min"] = q.visit.setup.count() / 60;
        line["work_min"] = q.visit.work.count() / 60;
        line["stops"] = tell::Json::array();
        for (const study::VisitStop& stop : plan.stops)
            line["stops"].push_back(json_of(stop, places[stop.room], d));
        line["left_out"] = tell::Json::array();
        for (const std::size_t room : plan.left_out)
            line["left_out"].push_back(
                {{"location", places[room].location}, {"source", places[room].source}});
        tell::write(out, line);
    }
}

void write_csv(const BatchQuestion& q, const std::vector<BriefPlace>& places, std::ostream& out) {
    if (q.with_header) out << visit_csv_head();
    for (std::size_t d = 0; d < q.dates.size(); ++d) {
        const study::VisitPlan plan = plan_of(q, places, d);
        for (std::size_t i = 0; i < plan.stops.size(); ++i) {
            const study::VisitStop& stop = plan.stops[i];
            const BriefPlace& place = places[stop.room];
            const BriefHold& hold = place.dates[d].holds[stop.hold];
            const auto local = [&](Instant t) { return site::iso_local(t, place.zone); };
            out << fmt::format("{},{},{},{},{},{},{},{},{},{},{},{}\r\n",
                               site::iso_date(q.dates[d]), i + 1, tell::csv_text(place.location),
                               tell::csv_text(place.source), tell::rounded(stop.distance_m, 1),
                               tell::rounded(stop.travel.count() / 60, 2), local(stop.arrive),
                               local(stop.start), local(stop.end),
                               tell::rounded(stop.slack.count() / 60, 2), tell::csv_text(hold.mark),
                               tell::csv_text(hold.window));
        }
    }
}

}  // namespace

std::string visit_csv_head() {
    return "date,stop,location,source,distance_m,travel_min,arrive_local,start_local,end_local,"
           "slack_min,mark,window\r\n";
}

void print_visit(const BatchQuestion& question, const std::vector<BriefPlace>& places,
                 std::ostream& out) {
    switch (question.form) {
        case BatchForm::table:
            return print_table(question, places, out);
        case BatchForm::json:
            return write_json(question, places, out);
        case BatchForm::csv:
            return write_csv(question, places, out);
    }
}

}  // namespace keyhour::cli
