#include "visit_page.hpp"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "batch_parts.hpp"
#include "batch_rows.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/version.hpp"
#include "words/clock.hpp"

namespace keyhour::tell {
namespace {

using ask::BriefHold;
using ask::BriefPlace;

const std::string& name_of(const BriefPlace& place) {
    return place_name(place.location, place.source);
}

void add_stop(Paragraphs& page, std::size_t number, const study::VisitStop& stop,
              const BriefPlace& place, std::size_t date) {
    const BriefHold& hold = place.dates[date].holds[stop.hold];
    const auto clock = [&](Instant t) { return site::whole_minutes(t, place.zone); };
    page.push_back({fmt::format("{}. {}", number, name_of(place)), 0, 6});
    if (number > 1)
        page.push_back({fmt::format("travel {}: {:.1f} km as the crow flies",
                                    words::in_minutes(stop.travel), stop.distance_m / 1000),
                        3, 6});
    page.push_back(
        {fmt::format("be there {}, work {} to {} ({}), slack {}",
                     site::whole_minutes(words::minute_before(stop.arrive), place.zone),
                     clock(stop.start), clock(stop.end), words::offset_at(stop.start, place.zone),
                     words::in_minutes(Seconds{std::floor(stop.slack.count() / 60) * 60})),
         3, 6});
    page.push_back({fmt::format("{} on {}: hold {}", hold.window, hold.mark,
                                words::span_inward(hold.span, place.zone)),
                    3, 6});
}

std::string why_left_out(const BriefPlace& place, std::size_t date) {
    return place.dates[date].holds.empty() ? place.dates[date].why_not
                                           : "cannot be reached in its light with the others";
}

Json json_of(const study::VisitStop& stop, const BriefPlace& place, std::size_t date) {
    const BriefHold& hold = place.dates[date].holds[stop.hold];
    return {{"location", place.location},
            {"source", place.source},
            {"distance_m", rounded(stop.distance_m, 1)},
            {"travel_min", rounded(stop.travel.count() / 60, 5)},
            {"arrive_utc", site::iso_utc(stop.arrive, 3)},
            {"start_utc", site::iso_utc(stop.start, 3)},
            {"end_utc", site::iso_utc(stop.end, 3)},
            {"start_local", site::iso_local(stop.start, place.zone, 3)},
            {"end_local", site::iso_local(stop.end, place.zone, 3)},
            {"slack_min", rounded(stop.slack.count() / 60, 5)},
            {"mark", hold.mark},
            {"window", hold.window},
            {"hold_start_utc", site::iso_utc(hold.span.from, 3)},
            {"hold_end_utc", site::iso_utc(hold.span.to, 3)}};
}

}  // namespace

Paragraphs visit_page(const VisitAnswer& answer) {
    Paragraphs page;
    for (std::size_t d = 0; d < answer.days.size(); ++d) {
        const study::VisitPlan& plan = answer.days[d].plan;
        page.push_back({fmt::format("{}: {} of {} rooms", site::date_in_words(answer.days[d].date),
                                    plan.stops.size(), answer.places.size())});
        for (std::size_t i = 0; i < plan.stops.size(); ++i)
            add_stop(page, i + 1, plan.stops[i], answer.places[plan.stops[i].room], d);
        for (const std::size_t room : plan.left_out)
            page.push_back({fmt::format("left out: {}: {}", name_of(answer.places[room]),
                                        why_left_out(answer.places[room], d)),
                            0, 6});
        page.push_back({});
    }
    const study::VisitSettings& s = answer.settings;
    page.push_back(
        {fmt::format("Work {} in each room, {} of setting up before it. Travel: the crow's flight "
                     "times {:g} at {:g} km/h; check the road. Slack: by which the work may start "
                     "later and the rest of the day still holds.",
                     words::in_minutes(s.work), words::in_minutes(s.setup), s.detour, s.speed_kmh),
         0, 0});
    return page;
}

std::vector<Json> visit_documents(const VisitAnswer& answer) {
    std::vector<Json> out;
    const study::VisitSettings& s = answer.settings;
    for (std::size_t d = 0; d < answer.days.size(); ++d) {
        const study::VisitPlan& plan = answer.days[d].plan;
        Json line;
        line["keyhour"] = version();
        line["question"] = "visit";
        line["date"] = site::iso_date(answer.days[d].date);
        line["speed_kmh"] = s.speed_kmh;
        line["detour"] = s.detour;
        line["setup_min"] = s.setup.count() / 60;
        line["work_min"] = s.work.count() / 60;
        line["stops"] = Json::array();
        for (const study::VisitStop& stop : plan.stops)
            line["stops"].push_back(json_of(stop, answer.places[stop.room], d));
        line["left_out"] = Json::array();
        for (const std::size_t room : plan.left_out)
            line["left_out"].push_back({{"location", answer.places[room].location},
                                        {"source", answer.places[room].source}});
        out.push_back(std::move(line));
    }
    return out;
}

std::string visit_csv_head() {
    return "date,stop,location,source,distance_m,travel_min,arrive_local,start_local,end_local,"
           "slack_min,mark,window\r\n";
}

std::string visit_csv_records(const VisitAnswer& answer) {
    std::string out;
    for (std::size_t d = 0; d < answer.days.size(); ++d) {
        const auto& stops = answer.days[d].plan.stops;
        for (std::size_t i = 0; i < stops.size(); ++i) {
            const study::VisitStop& stop = stops[i];
            const BriefPlace& place = answer.places[stop.room];
            const BriefHold& hold = place.dates[d].holds[stop.hold];
            CsvRow r;
            r.date(answer.days[d].date).number(static_cast<double>(i + 1), 0);
            r.text(place.location).text(place.source);
            r.number(stop.distance_m, 1).minutes(stop.travel);
            r.local(stop.arrive, place.zone).local(stop.start, place.zone);
            r.local(stop.end, place.zone).minutes(stop.slack);
            out += r.text(hold.mark).text(hold.window).line();
        }
    }
    return out;
}

}  // namespace keyhour::tell
