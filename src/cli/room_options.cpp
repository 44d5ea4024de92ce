#include "room_options.hpp"

#include <algorithm>

#include "options.hpp"
#include "read/location_file.hpp"
#include "units_option.hpp"
#include "words/shown.hpp"

namespace keyhour::cli {
namespace {

Answer<site::Location> with_names(Answer<site::Location> location, Names names) {
    if (!location) return location;
    return with(names, *std::move(location));
}

}  // namespace

void RoomOptions::offer(Options& command) {
    command.add_option("location", location, "location file (TOML)")->type_name("FILE");
    const auto flag = [&](const char* name, auto& value, const char* type, const char* text) {
        quick_options_.push_back(command.add_option(name, value, text)
                                     ->type_name(type)
                                     ->group("In place of a file (a room with one window)"));
    };
    offer_units(command, units);
    what_if.offer(command);
    flag("--position", quick.position, "PLACE", "such as \"52.95N 1.15W\"");
    flag("--zone", quick.zone, "ZONE", "time zone, such as Europe/London");
    flag("--faces", faces_deg, "DEGREES", "bearing that the window faces, looking out");
    flag("--north", north, "WHICH", "of that bearing: true, or magnetic (a compass's)");
    flag("--within", within_deg, "DEGREES", "its doubt (default: 2, magnetic 5)");
    flag("--opening", quick.window, "SIZE", "clear width x height: \"1.2 x 1.5 m\"");
    flag("--sill", quick.sill, "LENGTH", "above the floor: 0.9");
    flag("--reveal", quick.reveal, "LENGTH", "depth of the opening: 0.3");
    flag("--room", quick.room, "SIZE", "along the window's wall x depth: \"5 x 4 m\"");
    flag("--room-height", quick.height, "LENGTH", "default: 3 m");
    flag("--mark-distance", quick.mark, "LENGTH", "mark to the window's wall: 2.5");
    flag("--mark-height", quick.mark_height, "LENGTH", "of its centre (default: 1.2 m)");
    flag("--camera-at", camera, "PLACE", "right of the centre line x off the wall");
    flag("--view", quick.view_deg, "DEGREES", "its horizontal angle (default: 40)");
}

Answer<site::Location> RoomOptions::read(Names names) const {
    const bool any_quick = std::any_of(quick_options_.begin(), quick_options_.end(),
                                       [](const Option* option) { return option->is_given(); });
    if (location.empty() && !any_quick)
        return usage_failure("no location: give a location file, or a room by flags: " +
                             missing_flags());
    if (location.empty() && !what_if.typed.empty())
        return usage_failure(
            "--if changes a location file, and there is none; of a room by flags it changes a "
            "flag, "
            "as in --if faces=199");
    if (location.empty()) return with_names(read_quick(), names);
    if (any_quick)
        return usage_failure(
            "a location file has its own room: give the file, or the room by flags, not both");
    return with_names(read_file(), names);
}

Answer<site::Location> RoomOptions::read_file() const {
    auto read = read::read_location(location, what_if.changes());
    if (!read) return data_failure(read::text(read.error()));
    if (!read->room)
        return data_failure(words::shown(location) + ": has no [room]; this question needs one");
    if (read->room->windows.empty())
        return data_failure(words::shown(location) +
                            ": the room has no [[window]]; this question needs one");
    return *std::move(read);
}

Answer<site::Recce> RoomOptions::recce() const {
    auto out = recce_of(location, units, what_if.changes());
    if (out && location.empty()) out->bearing_within_given = within_deg != -1;
    return out;
}

/// What must be said and is not.
std::string RoomOptions::missing_flags() const {
    std::string missing;
    for (const Option* option : quick_options_) {
        const std::string name = option->name();
        for (const char* needed : {"--position", "--zone", "--faces", "--north", "--opening",
                                   "--sill", "--reveal", "--room", "--mark-distance"})
            if (name == needed && !option->is_given())
                missing += (missing.empty() ? "" : " ") + name;
    }
    return missing;
}

Answer<site::Location> RoomOptions::read_quick() const {
    if (const std::string missing = missing_flags(); !missing.empty())
        return usage_failure("a room by flags also needs " + missing);
    if (north != "true" && north != "magnetic")
        return usage_failure("--north \"" + north +
                             "\": accepted: true, or magnetic for a compass's bearing");
    read::QuickRoom room = quick;
    room.faces_deg = faces_deg;
    room.magnetic = north == "magnetic";
    if (within_deg != -1) room.within_deg = within_deg;
    if (!camera.empty()) room.camera = camera;
    auto made = read::location_of(room);
    if (!made) {
        std::string all;
        for (const std::string& complaint : made.error())
            all += (all.empty() ? "" : "\n") + complaint;
        return usage_failure(all);
    }
    made->site.name = quick.position;
    return *std::move(made);
}

Answer<std::unique_ptr<RoomQuestion>> ask_room(const RoomOptions& room, const DateOptions& dates,
                                               Names names) {
    auto location = room.read(names);
    if (!location) return tl::unexpected{location.error()};
    const auto recce = room.recce();
    if (!recce) return tl::unexpected{recce.error()};
    const auto range = dates.read(location->site.zone, now());
    if (!range) return tl::unexpected{range.error()};
    auto question = RoomQuestion::prepare(*std::move(location), *range, *recce);
    if (!question) return usage_failure(years_served);
    return question;
}

}  // namespace keyhour::cli
