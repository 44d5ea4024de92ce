#include "shown_names.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "keyhour/site/nearest.hpp"
#include "keyhour/site/quoted.hpp"
#include "words/shown.hpp"

namespace keyhour::cli {
namespace {

constexpr std::size_t longest_name = 80;

template <class Things>
void show_each(Things& things) {
    for (auto& thing : things)
        thing.name = words::shown(thing.name);
}

void show_names(room::Room& room) {
    for (std::string& wall : room.walls)
        wall = words::shown(wall);
    show_each(room.windows);
    show_each(room.marks);
    show_each(room.cameras);
    show_each(room.objects);
    show_each(room.buildings);
}

}  // namespace

site::Location with(Names names, site::Location location) {
    if (names == Names::raw) return location;
    location.site.name = words::shown(location.site.name);
    if (location.room) show_names(*location.room);
    show_each(location.spots);
    show_each(location.buildings_without_room);
    show_each(location.trees);
    show_each(location.lamps);
    show_each(location.found.forges);
    for (site::MeterReading& reading : location.found.readings)
        reading.where = words::shown(reading.where);
    for (site::Lamp& lamp : location.lamps)
        if (auto* measured = std::get_if<site::MeasuredIntensity>(&lamp.photometry))
            measured->file = words::shown(measured->file);
    for (std::string& question : location.questions)
        question = words::escaped(question);
    return location;
}

Answer<std::optional<std::size_t>> index_of(const char* option, const std::string& asked,
                                            const std::vector<std::string>& names) {
    if (asked.empty()) return std::nullopt;
    for (const std::string& as_listed : {asked, words::shown(asked)}) {
        const auto at = std::ranges::find(names, as_listed);
        if (at != names.end()) return static_cast<std::size_t>(at - names.begin());
    }
    std::string text =
        fmt::format("{} {} is not in the location", option, site::quoted(asked, longest_name));
    if (const auto suggestion = site::nearest(asked, names))
        return usage_failure(
            fmt::format("{}; did you mean {}?", text, site::quoted(*suggestion, longest_name)));
    text += "; accepted:";
    for (std::size_t i = 0; i < names.size(); ++i)
        text += (i == 0 ? " " : ", ") + words::shown(names[i]);
    return usage_failure(text);
}

}  // namespace keyhour::cli
