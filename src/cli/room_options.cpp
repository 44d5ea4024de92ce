#include "room_options.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>

#include "keyhour/file/location_file.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/site/read_back.hpp"

namespace keyhour::cli {

void RoomOptions::offer(CLI::App& command) {
    command.add_option("location", location, "location file (TOML)");
    const auto flag = [&](const char* name, auto& value, const char* text) {
        quick_options_.push_back(
            command.add_option(name, value, text)->group("In place of a file"));
    };
    flag("--position", quick.position, "such as \"52.95N 1.15W\"");
    flag("--zone", quick.zone, "time zone, such as Europe/London");
    flag("--faces", quick.faces_deg, "bearing that the window faces, looking out, degrees");
    quick_options_.push_back(
        command.add_flag("--magnetic", quick.magnetic, "that bearing is a compass's (else true)")
            ->group("In place of a file"));
    flag("--within", within_deg, "its doubt, degrees (default: 2, magnetic 5)");
    flag("--opening", quick.window, "clear opening, width x height: \"1.2 x 1.5 m\"");
    flag("--sill", quick.sill, "its sill above the floor: 0.9");
    flag("--reveal", quick.reveal, "depth of the opening: 0.3");
    flag("--room", quick.room, "along the window's wall x depth: \"5 x 4 m\"");
    flag("--room-height", quick.height, "default: 3 m");
    flag("--mark-distance", quick.mark, "mark to the window's wall: 2.5");
    flag("--mark-height", quick.mark_height, "default: 1.2 m");
    flag("--camera-at", camera, "right of centre x from the wall: \"2 x 3 m\"");
    flag("--view", quick.view_deg, "its horizontal angle, degrees (default: 40)");
}

Answer<site::Location> RoomOptions::read() const {
    const bool any_quick =
        std::any_of(quick_options_.begin(), quick_options_.end(),
                    [](const CLI::Option* option) { return option->count() > 0; });
    if (!location.empty()) {
        if (any_quick)
            return usage_failure(
                "a location file has its own room: give the file, or the room by flags, not both");
        auto read = file::read_location(location);
        if (!read) return data_failure(file::text(read.error()));
        if (!read->room) return data_failure(location + ": has no [room]; this question needs one");
        if (read->room->windows.empty())
            return data_failure(location + ": the room has no [[window]]; this question needs one");
        return *std::move(read);
    }
    if (!any_quick)
        return usage_failure(
            "no location: give a location file, or a room by flags (--position --zone --faces "
            "--opening --sill --reveal --room --mark-distance)");
    file::QuickRoom room = quick;
    if (within_deg >= 0) room.within_deg = within_deg;
    if (!camera.empty()) room.camera = camera;
    auto made = file::location_of(room);
    if (!made) {
        std::string all;
        for (const std::string& complaint : made.error())
            all += (all.empty() ? "" : "\n") + complaint;
        return usage_failure(all);
    }
    return *std::move(made);
}

Answer<std::unique_ptr<RoomQuestion>> RoomQuestion::ask(const RoomOptions& room,
                                                        const DateOptions& dates) {
    auto location = room.read();
    if (!location) return tl::unexpected{location.error()};
    const auto range = dates.read(location->site.zone, now());
    if (!range) return tl::unexpected{range.error()};
    auto question = std::make_unique<RoomQuestion>();
    question->location = *std::move(location);
    question->dates = *range;
    // A day to either side: spans run across midnight, and a possible part may run further.
    const auto shared =
        study::SharedTrack::make(question->start_of(range->first) - Seconds{86400},
                                 question->end_of(range->last) + Seconds{2 * 86400.0});
    if (!shared) return usage_failure("the years 1800 to 2199 are served");
    question->study = std::make_unique<study::RoomStudy>(question->location, shared);
    return question;
}

Instant RoomQuestion::start_of(site::LocalDate date) const {
    return location.site.zone.start_of(date);
}

Instant RoomQuestion::end_of(site::LocalDate date) const {
    return location.site.zone.start_of(site::next_day(date));
}

std::vector<std::string> RoomQuestion::read_back() const {
    auto lines = site::read_back(location, dates.first, dates.last);
    if (dates.is_today)
        for (std::string& line : lines)
            if (line.starts_with("date: ")) line += " (no --date given: today at the site)";
    return lines;
}

}  // namespace keyhour::cli
