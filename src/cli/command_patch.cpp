#include <fmt/format.h>

#include <array>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <ostream>

#include "clock_time.hpp"
#include "command.hpp"
#include "draw_option.hpp"
#include "keyhour/ask/patch.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/site/quoted.hpp"
#include "length_option.hpp"
#include "room_options.hpp"
#include "show_option.hpp"
#include "tell/patch_page.hpp"
#include "tell/room_documents.hpp"
#include "tell/way_page.hpp"
#include "text.hpp"
#include "words/shown.hpp"

namespace keyhour::cli {
namespace {

struct PatchRequest {
    RoomOptions room;
    DateOptions dates;
    DrawOption draw;
    std::string time;
    int step_min = 0;  // not given
    ShowOption show{{tell::Detail::levels, tell::Detail::doubt, tell::Detail::haze,
                     tell::Detail::corners, tell::Detail::readback}};
    std::vector<std::string> points;
    bool json = false, no_light = false, no_doubt = false, way = false;
};

constexpr int usual_step_min = 30;

Answer<std::vector<Instant>> instants(const PatchRequest& request, const RoomQuestion& q,
                                      site::LocalDate date) {
    std::vector<Instant> out;
    if (!request.time.empty()) {
        const auto time = read_clock_time(request.time);
        if (!time) return usage_failure("--time: " + time.error());
        const auto at = time->on(date, q.location.site.zone);
        if (!at) return usage_failure("--time: " + at.error());
        if (study::sun_is_up(q.study_on(date), *at)) out.push_back(*at);
        return out;
    }
    const int step_min = request.step_min > 0 ? request.step_min : usual_step_min;
    return ask::sunlit_instants(q, date, Seconds{60.0 * step_min});
}

/// Opens a question about one date of which no window has sun in it: what would explain that.
std::string reversed(const PatchRequest& request, const RoomQuestion& q) {
    if (q.dates.is_range) return {};
    if (ask::any_patch(q, *instants(request, q, q.dates.first))) return {};
    return q.looks_reversed() ? tell::looks_reversed(*q.location.room) : std::string{};
}

void open(const PatchRequest& request, const RoomQuestion& q, std::ostream& out) {
    if (const std::string question = reversed(request, q); !question.empty())
        print(out, {{question}});
    print(out, tell::opening(q.location, q.recce, told_dates(q.dates)));
}

/// In place of the table: at the time or the steps asked for, else at whole hours.
int draw_patches(const PatchRequest& request, const RoomQuestion& q, std::ostream& out) {
    std::vector<Instant> hours;
    if (!request.time.empty() || request.step_min > 0) {
        const auto list = instants(request, q, q.dates.first);
        if (list) hours = *list;
    }
    open(request, q, out);
    request.draw.print(out, q, {}, hours);
    return answered;
}

void write_json(const PatchRequest& request, const RoomQuestion& q, std::ostream& out) {
    ask::Patches patches{q, {!request.no_light, !request.no_doubt}};
    tell::DaysWriter document{out, tell::start_document(q.location, q.read_back()),
                              q.dates.is_range};
    for (site::LocalDate d = q.dates.first; d <= q.dates.last && out; d = site::next_day(d)) {
        tell::Json day;
        day["date"] = site::iso_date(d);
        day["instants"] = tell::Json::array();
        const auto list = instants(request, q, d);
        for (const Instant t : *list)
            day["instants"].push_back(tell::json_of(patches.at(t, d), q.study_on(d)));
        document.add(day);
    }
    document.finish();
}

/// "3.2,1.8,0.9": x and y of the plan, height above the floor.
Answer<std::vector<study::NamedPoint>> named_points(const PatchRequest& request) {
    constexpr double farthest_m = 1000;
    std::vector<study::NamedPoint> out;
    for (const std::string& text : request.points) {
        const std::size_t first = text.find(','), second = text.find(',', first + 1);
        if (first == std::string::npos || second == std::string::npos ||
            text.find(',', second + 1) != std::string::npos)
            return usage_failure("--point " + site::quoted(text) +
                                 R"(: accepted: x,y,height, as "3.2,1.8,0.9" or )"
                                 R"("10 ft 6 in,6 ft,3 ft": of the plan, and above the floor)");
        std::array<double, 3> place{};
        const std::array parts{text.substr(0, first), text.substr(first + 1, second - first - 1),
                               text.substr(second + 1)};
        for (std::size_t i = 0; i < place.size(); ++i) {
            const auto length =
                read_length_option("--point", parts[i], i == 2 ? 0 : -farthest_m, farthest_m);
            if (!length) return tl::unexpected{length.error()};
            place[i] = *length;
        }
        out.push_back({words::shown(text), {place[0], place[1], place[2]}});
    }
    return out;
}

void write_ways(const RoomQuestion& q, const std::vector<ask::WayAnswer>& answers,
                std::ostream& out) {
    tell::DaysWriter document{out, tell::start_document(q.location, q.read_back()),
                              q.dates.is_range};
    for (const ask::WayAnswer& answer : answers) {
        tell::Json day;
        day["date"] = site::iso_date(answer.date);
        day["crossings"] = tell::json_of(answer);
        document.add(day);
    }
    document.finish();
}

void print_ways(const PatchRequest& request, const RoomQuestion& q, tell::Details show,
                const std::vector<ask::WayAnswer>& answers, std::ostream& out) {
    open(request, q, out);
    for (const ask::WayAnswer& answer : answers) {
        if (q.dates.is_range && !answer.crossings.empty()) print(out, {{row_date(answer.date)}});
        print(out, tell::way_page(answer));
    }
    print(out, tell::way_foot(answers));
    print(out, {{tell::wall_in_brief(*q.location.room, q.location.room->bearing.wall)}});
    if (show.has(tell::Detail::readback)) print(out, tell::paragraphs(q.read_back(q.recce.units)));
}

/// What a way's question has no use for.
std::optional<Failure> misplaced(const PatchRequest& request) {
    if (!request.way && !request.points.empty())
        return Failure{wrong_usage, "--point goes with --way"};
    if (request.way && (!request.time.empty() || request.step_min > 0 || request.draw.draw))
        return Failure{wrong_usage, "--way is about a whole day: leave out --time, --step, --draw"};
    if (!request.time.empty() && request.step_min > 0)
        return Failure{wrong_usage, "--time and --step: give one of them"};
    if (request.step_min < 0 || request.step_min > 1440)
        return Failure{wrong_usage, "--step: accepted: 1 to 1440 minutes"};
    return std::nullopt;
}

/// A date without an instant.
std::string not_up(const PatchRequest& request, const RoomQuestion& q, site::LocalDate date) {
    const std::string day = q.dates.is_range ? row_date(date) + ": " : std::string{};
    if (request.time.empty()) return day + "the sun is not up";
    return fmt::format("{}the sun is not up at {} (24-hour clock)", day, request.time);
}

void print_page(const PatchRequest& request, const RoomQuestion& q, tell::Details show,
                std::ostream& out) {
    using tell::Detail;
    bool in_full = !request.time.empty();
    for (const Detail d : {Detail::levels, Detail::doubt, Detail::haze, Detail::corners})
        in_full = in_full || show.has(d);
    const tell::PatchQuestion asked{q.location, q.recce, told_dates(q.dates), show};
    ask::Patches patches{q, {in_full && !request.no_light, in_full && !request.no_doubt}};
    std::optional<std::size_t> wall;
    open(request, q, out);
    for (site::LocalDate d = q.dates.first; d <= q.dates.last && out; d = site::next_day(d)) {
        const auto list = instants(request, q, d);
        if (list->empty()) print(out, {{not_up(request, q, d)}});
        for (const Instant t : *list) {
            const ask::PatchAnswer answer = patches.at(t, d);
            if (!wall && !answer.instant.patches.empty())
                wall = q.location.room->windows[answer.instant.patches.front().window].wall;
            print(out, in_full ? tell::patch_block(answer, asked)
                               : tell::Paragraphs{tell::patch_row(answer, asked)});
        }
    }
    print(out, tell::patch_foot(asked, wall.value_or(q.location.room->bearing.wall)));
    if (show.has(Detail::readback)) print(out, tell::paragraphs(q.read_back(q.recce.units)));
}

int answer_patch(const PatchRequest& request, std::ostream& out, std::ostream& err) {
    if (const auto failure = misplaced(request)) return report(*failure, err);
    const auto show = request.show.read();
    if (!show) return report(show.error(), err);
    const auto points = named_points(request);
    if (!points) return report(points.error(), err);
    const auto asked = ask_room(request.room, request.dates, names_for(request.json));
    if (!asked) return report(asked.error(), err);
    const RoomQuestion& q = **asked;
    // A time that does not exist on some date is told before anything is written.
    for (site::LocalDate d = q.dates.first; d <= q.dates.last && !request.time.empty();
         d = site::next_day(d))
        if (const auto list = instants(request, q, d); !list) return report(list.error(), err);
    if (const auto failure = request.draw.misplaced(q.dates, request.json))
        return report(*failure, err);
    if (request.draw.draw) return draw_patches(request, q, out);
    if (request.way) {
        const auto answers = ask::ways(q, *points);
        if (request.json)
            write_ways(q, answers, out);
        else
            print_ways(request, q, *show, answers, out);
        return answered;
    }
    if (request.json)
        write_json(request, q, out);
    else
        print_page(request, q, *show, out);
    return answered;
}

}  // namespace

void offer_patch(CommandLine& line, Session& session) {
    auto request = std::make_shared<PatchRequest>();
    Options* command = line.add_command("patch", "where the sun falls in the room, step by step");
    request->room.offer(*command);
    request->dates.offer(*command);
    request->draw.offer(*command);
    command->add_option("--time", request->time, "only this local time")->type_name("HH:MM");
    command->add_option("--step", request->step_min, "minutes between instants (default: 30)")
        ->type_name("MIN");
    command->add_flag("--way", request->way,
                      "when patches cross marks, objects, frames and lenses");
    command
        ->add_option("--point", request->points, "and this place: \"3.2,1.8,0.9\"; more may follow")
        ->type_name("X,Y,HEIGHT")
        ->one_at_a_time();
    request->show.offer(*command);
    command->add_flag("--no-light", request->no_light, "leave out levels, ratio and colour");
    command->add_flag("--no-doubt", request->no_doubt, "leave out how far edges may be off");
    command->add_flag("--json", request->json, "one JSON document instead of a table");
    command->footer(
        "example:\n"
        "  keyhour patch locations/tallow-lane.toml --date 2026-03-10 --time 14:30\n"
        "  keyhour patch locations/tallow-lane.toml --date 2026-03-10 --way \\\n"
        "    --point 5.2,1.5,1.2");
    command->callback([request, &session] {
        session.exit_code = answer_patch(*request, session.out, session.err);
    });
}

}  // namespace keyhour::cli
