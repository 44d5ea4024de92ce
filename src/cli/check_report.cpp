#include "check_report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "keyhour/site/read_back.hpp"
#include "tell/check_document.hpp"
#include "tell/check_things.hpp"
#include "tell/recce_page.hpp"
#include "text.hpp"

namespace keyhour::cli {
namespace {

std::string sunless_question(const room::Window& window, const study::WindowHours& sun,
                             date::year year) {
    std::string question =
        fmt::format("window \"{}\" gets no sun in {}.", window.name, static_cast<int>(year));
    if (sun.opposite->sun > Seconds{0}) {
        question += fmt::format(
            " Was the bearing read facing in instead of out? With the opposite bearing it would "
            "get {:.1f} h on {}.",
            sun.opposite->sun.count() / 3600, tell::day_and_month(sun.opposite->date));
    }
    return question;
}

/// A room none of whose windows the sun ever meets: most likely its bearing is wrong.
std::optional<std::string> all_sunless_question(const site::Location& location,
                                                const std::vector<study::WindowHours>& sun,
                                                date::year year) {
    if (sun.size() < 2 ||
        std::ranges::any_of(sun, [](const study::WindowHours& w) { return w.sun_in_year; }))
        return std::nullopt;
    const room::Bearing& bearing = location.room->bearing;
    return fmt::format(
        "no window of this room gets sun on any day of {} at the bearing stated ({} faces {:g}). "
        "Is the bearing right, and is the hemisphere?",
        static_cast<int>(year), location.room->walls[bearing.wall], bearing.faces.in_degrees());
}

std::vector<std::string> read_back(const CheckReport& report, site::Units units) {
    return site::read_back(report.location, report.year / 1 / 1, report.year / 12 / 31,
                           {false, units});
}

}  // namespace

CheckReport check_report(site::Location location, date::year year) {
    CheckReport report{std::move(location), year, {}, {}};
    site::Location& place = report.location;
    if (place.room) {
        report.sun = study::window_hours(place, year);
        if (auto question = all_sunless_question(place, report.sun, year))
            place.questions.insert(place.questions.begin(), *std::move(question));
        for (std::size_t i = 0; i < report.sun.size(); ++i)
            if (!report.sun[i].sun_in_year)
                place.questions.push_back(
                    sunless_question(place.room->windows[i], report.sun[i], year));
    }
    return report;
}

void print(const CheckReport& report, const site::Recce& recce, tell::Details show,
           std::ostream& out) {
    const auto lines = read_back(report, recce.units);
    const tell::CheckAnswer answer{report.location, recce, report.year, report.sun, lines, show};
    print(out, tell::check_head(answer));
    if (!report.recce) return print(out, tell::check_page(answer));
    print(out, tell::recce_page(*report.recce, *report.location.room));
    if (!show.none()) print(out, tell::check_page(answer));
}

void print_json(const CheckReport& report, std::ostream& out) {
    const auto lines = read_back(report, site::Units::metres);
    tell::Json document = tell::json_of(
        tell::CheckAnswer{report.location, {}, report.year, report.sun, lines, {}}, lines);
    if (report.recce) document["recce"] = tell::json_of(*report.recce, *report.location.room);
    tell::write(out, document);
}

}  // namespace keyhour::cli
