#include <fmt/format.h>

#include <algorithm>

#include "keyhour/room/scene.hpp"
#include "minutes_by_crew.hpp"
#include "parts.hpp"
#include "words/names.hpp"
#include "working_hours.hpp"

namespace keyhour::read {
namespace {

constexpr double longest_lock_min = 1440;
const char* const lock_form = "window = \"north light\", minutes = 150";

bool can_be_aimed(const site::Lamp& lamp) {
    return lamp.place == site::Lamp::Place::outside &&
           !std::holds_alternative<site::Lumens>(lamp.photometry);
}

class LockReader {
public:
    LockReader(const toml::table& table, const site::Location& location, Findings& findings)
        : table_{table},
          f_{table, "[lock]", findings},
          location_{location},
          sound_so_far_{findings.count() == 0} {}

    site::LockPlan read() {
        if (!location_.room) {
            if (sound_so_far_)
                f_.complain_missing("window", "[lock] without a room",
                                    "a table [room] is missing: the lamp stands at its window");
            return plan_;
        }
        const room::Room& room = *location_.room;
        plan_.window = reference("window", "window", room.windows);
        plan_.lamp = reference("lamp", "lamp", location_.lamps);
        plan_.mark = reference("mark", "mark", room.marks);
        plan_.camera = reference("camera", "camera", room.cameras);
        if (const auto minutes =
                read_minutes(f_, table_, "minutes", Need::optional, 1, longest_lock_min))
            plan_.length = std::chrono::duration_cast<std::chrono::seconds>(Seconds{60 * *minutes});
        plan_.hours = read_hours(f_, "hours");
        f_.refuse_unknown();
        check_length();
        if (sound_so_far_ && f_.sound()) check_parts(room);
        return plan_;
    }

private:
    template <class Parts>
    std::optional<std::size_t> reference(const char* key, const char* kind, const Parts& parts) {
        return f_.reference(key, Need::optional, known_names(kind, parts, sound_so_far_));
    }

    void check_length() {
        if (!plan_.length || (f_.has("hours") && !plan_.hours)) return;
        const site::WorkingHours hours = plan_.hours.value_or(site::usual_working_hours);
        if (*plan_.length <= hours.length()) return;
        const auto minutes = [](std::chrono::seconds s) { return s.count() / 60; };
        f_.complain("minutes",
                    fmt::format("a lock of {} minutes is longer than the {}working hours, {} "
                                "minutes",
                                minutes(*plan_.length), plan_.hours ? "" : "usual ",
                                minutes(hours.length())),
                    "accepted: a shorter lock, or hours = [\"06:00\", \"24:00\"] that hold it");
    }

    /// What fits together of sound parts.
    void check_parts(const room::Room& room) {
        check_lamp();
        if (room.windows.empty())
            return f_.complain_missing("window", "[lock] in a room without a [[window]]",
                                       "accepted: a window for the lamp to stand at");
        if (plan_.camera && plan_.mark && room.cameras[*plan_.camera].aims_at != *plan_.mark)
            f_.complain("camera",
                        fmt::format("camera \"{}\" aims at \"{}\", not at \"{}\"",
                                    room.cameras[*plan_.camera].name,
                                    room.marks[room.cameras[*plan_.camera].aims_at].name,
                                    room.marks[*plan_.mark].name),
                        "accepted: a camera that aims at the mark of the lock");
        if (!plan_.mark && plan_.camera) plan_.mark = room.cameras[*plan_.camera].aims_at;
        if (plan_.window)
            check_window(room, *plan_.window);
        else if (std::ranges::none_of(room.windows, is_open))
            f_.complain_missing("window", "every window of the room is hung with cloth",
                                "accepted: cover = \"open\" in the window that the lamp shines "
                                "through");
    }

    static bool is_open(const room::Window& w) { return w.cover == room::Cover::open; }

    void check_lamp() {
        std::vector<std::string> fit;
        for (const site::Lamp& lamp : location_.lamps)
            if (can_be_aimed(lamp)) fit.push_back(lamp.name);
        if (!plan_.lamp && fit.size() > 1)
            return f_.complain_missing(
                "lamp",
                fmt::format("[lock] does not say which lamp is the key: {} stand outside",
                            fmt::join(fit, ", ")),
                fmt::format("accepted: one, as in lamp = \"{}\"", fit.front()));
        if (!plan_.lamp || can_be_aimed(location_.lamps[*plan_.lamp])) return;
        const site::Lamp& lamp = location_.lamps[*plan_.lamp];
        if (lamp.place == site::Lamp::Place::inside)
            f_.complain("lamp", fmt::format("lamp \"{}\" has place = \"inside\"", lamp.name),
                        "accepted: a lamp outside, as the key comes through the window");
        else
            f_.complain("lamp",
                        fmt::format("lamp \"{}\" is known by its lumens alone, as a lamp hung to "
                                    "shine down",
                                    lamp.name),
                        "accepted: a lamp that can be aimed: with photometry or a sheet");
    }

    void check_window(const room::Room& room, std::size_t window) {
        const room::Window& w = room.windows[window];
        if (!is_open(w))
            f_.complain("window",
                        fmt::format("window \"{}\" has cover = \"{}\", and the key's light must "
                                    "come through it",
                                    w.name, words::name(w.cover)),
                        "accepted: a window with cover = \"open\"");
        if (room.marks.empty()) return;
        const std::size_t mark = plan_.mark.value_or(0);
        const room::Scene scene{room};
        if (scene.faces(window, mark)) return;
        std::vector<std::string> fit;
        for (std::size_t i = 0; i < room.windows.size(); ++i)
            if (is_open(room.windows[i]) && scene.faces(i, mark))
                fit.push_back("\"" + room.windows[i].name + "\"");
        f_.complain("window",
                    fmt::format("no straight line leads from window \"{}\" to mark \"{}\"", w.name,
                                room.marks[mark].name),
                    fit.empty() ? "no open window of the room has one"
                                : fmt::format("accepted: {}", fmt::join(fit, ", ")));
    }

    const toml::table& table_;
    Fields f_;
    const site::Location& location_;
    bool sound_so_far_;
    site::LockPlan plan_;
};

/// Does the line from a place outside to a mark pass the window, seen from above?
bool passes_window(const room::Room& room, std::size_t window, room::Point2 from,
                   room::Point2 mark) {
    const room::Window& w = room.windows[window];
    const room::WallFrame wall = room::wall_frame(room.floor, w.wall);
    const double before = dot(from - wall.left_corner, wall.n),
                 behind = dot(mark - wall.left_corner, wall.n);
    if (before <= 0 || behind >= 0) return false;
    const double share = before / (before - behind);
    const double along = dot(from - wall.left_corner, wall.u) * (1 - share) +
                         dot(mark - wall.left_corner, wall.u) * share;
    return along > w.left_m && along < w.left_m + w.width_m;
}

/// Which lamp the plan means: named, or the only one that it can be.
std::optional<std::size_t> key_lamp(const site::Location& location) {
    if (location.lock->lamp) return location.lock->lamp;
    const auto only = std::ranges::find_if(location.lamps, can_be_aimed);
    if (only == location.lamps.end()) return std::nullopt;
    return static_cast<std::size_t>(only - location.lamps.begin());
}

/// Asks about a second lamp that has its place before the key's window.
void ask_about_second_lamps(site::Location& location) {
    const room::Room& room = *location.room;
    const auto window = location.lock->window;
    if (!window || room.marks.empty()) return;
    const room::Mark& mark = room.marks[location.lock->mark.value_or(0)];
    const auto key = key_lamp(location);
    for (std::size_t i = 0; i < location.lamps.size(); ++i) {
        const site::Lamp& lamp = location.lamps[i];
        if (i == key || !can_be_aimed(lamp) || !lamp.at) continue;
        if (passes_window(room, *window, *lamp.at, mark.at))
            location.questions.push_back(fmt::format(
                "lamp \"{}\" has its place before window \"{}\" too, where the lock's "
                "key \"{}\" shines through: two keys on \"{}\"; is it off during the lock?",
                lamp.name, room.windows[*window].name, key ? location.lamps[*key].name : "lamp",
                mark.name));
    }
}

}  // namespace

void read_lock(Fields& root, site::Location& location, Findings& findings) {
    const toml::table* table = root.table("lock", Need::optional, lock_form);
    if (!table) return;
    location.lock = LockReader{*table, location, findings}.read();
    if (findings.count() == 0 && location.room) ask_about_second_lamps(location);
}

}  // namespace keyhour::read
