#include "tell/check_questions.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "tell/check_things.hpp"

namespace keyhour::tell {
namespace {

std::string sunless_question(const room::Window& window, const study::WindowHours& sun,
                             date::year year) {
    std::string question =
        fmt::format("window \"{}\" gets no sun in {}.", window.name, static_cast<int>(year));
    if (sun.opposite->sun > Seconds{0}) {
        question += fmt::format(
            " Was the bearing read facing in instead of out? With the opposite bearing it would "
            "get {:.1f} h on {}.",
            sun.opposite->sun.count() / 3600, day_and_month(sun.opposite->date));
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

}  // namespace

std::vector<std::string> check_questions(const site::Location& location,
                                         const std::vector<study::WindowHours>& sun,
                                         date::year year) {
    std::vector<std::string> questions = location.questions;
    if (auto question = all_sunless_question(location, sun, year))
        questions.insert(questions.begin(), *std::move(question));
    for (std::size_t i = 0; i < sun.size(); ++i)
        if (!sun[i].sun_in_year)
            questions.push_back(sunless_question(location.room->windows[i], sun[i], year));
    return questions;
}

}  // namespace keyhour::tell
