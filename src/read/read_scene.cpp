#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "minutes_by_crew.hpp"
#include "nearest.hpp"
#include "shoot_file.hpp"
#include "shoot_parts.hpp"
#include "words/shoot_names.hpp"

namespace keyhour::read {
namespace {

using study::LightWanted;

bool needs_window(LightWanted light) {
    return light == LightWanted::sun_key || light == LightWanted::lamp_key;
}

/// Is it judged at a camera position outside?
bool needs_spot(LightWanted light) {
    return study::needs_sun(light) && light != LightWanted::sun_key;
}

class SceneReader {
public:
    SceneReader(const toml::table& table, const ShootParts& parts, const KnownNames& scenes,
                Findings& findings)
        : table_{table},
          f_{table, "[[scene]]", findings},
          parts_{parts},
          scenes_{scenes},
          findings_{findings} {}

    study::ShootScene read(std::size_t self) {
        scene_.name = f_.name(Need::required).value_or("");
        if (const auto first = std::ranges::find(scenes_.words, scene_.name);
            !scene_.name.empty() &&
            first - scenes_.words.begin() < static_cast<std::ptrdiff_t>(self))
            f_.complain("name", fmt::format("a second scene is called \"{}\"", scene_.name),
                        "each needs its own name");
        if (const auto light =
                f_.choice("light", Need::required, words::list(words::light_wanted_names)))
            scene_.light = static_cast<LightWanted>(*light);
        read_place();
        read_times();
        read_order(self);
        f_.refuse_unknown();
        return std::move(scene_);
    }

    /// Scenes that must come after it.
    [[nodiscard]] const std::vector<std::size_t>& before() const noexcept { return before_; }

private:
    void read_place() {
        const auto place =
            f_.reference("place", Need::required, known_names("place", parts_.shoot.places));
        static const site::Location nowhere;
        const bool known = place && parts_.place_is_sound[*place];
        if (place) scene_.place = *place;
        const site::Location& location = known ? parts_.shoot.places[*place].location : nowhere;
        static const room::Room no_room;
        const room::Room& room = location.room ? *location.room : no_room;
        const auto read = [&](const char* key, const char* kind, const auto& things) {
            KnownNames names = known_names(kind, things);
            names.complete = known;
            if (known && names.words.empty() && f_.has(key)) {
                f_.complain(key,
                            fmt::format("{}: \"{}\" has no {}", f_.shown(key),
                                        parts_.shoot.places[*place].name, kind),
                            "accepted: what the place's location file names");
                (void)f_.text(key, Need::optional);
                return std::optional<std::size_t>{};
            }
            return f_.reference(key, Need::optional, names);
        };
        scene_.mark = read("mark", "mark", room.marks);
        scene_.camera = read("camera", "camera", room.cameras);
        scene_.window = read("window", "window", room.windows);
        scene_.spot = read("spot", "spot", location.spots);
        if (known && f_.sound()) settle(location, room);
    }

    /// What the scene's light needs, where the place leaves one choice only.
    void settle(const site::Location& location, const room::Room& room) {
        const char* const light = words::name(scene_.light);
        if (scene_.camera && !scene_.mark) scene_.mark = room.cameras[*scene_.camera].aims_at;
        if (scene_.camera && room.cameras[*scene_.camera].aims_at != *scene_.mark)
            f_.complain("camera",
                        fmt::format("camera \"{}\" aims at \"{}\", not at \"{}\"",
                                    room.cameras[*scene_.camera].name,
                                    room.marks[room.cameras[*scene_.camera].aims_at].name,
                                    room.marks[*scene_.mark].name),
                        "accepted: a camera that aims at the scene's mark");
        if (needs_window(scene_.light)) {
            if (!scene_.mark && room.marks.size() == 1) scene_.mark = 0;
            if (!scene_.mark)
                f_.complain_missing("mark", fmt::format("light = \"{}\" without a mark", light),
                                    room.marks.empty() ? "the place has no [[mark]] in a room"
                                                       : fmt::format("accepted: mark = \"{}\"",
                                                                     room.marks[0].name));
            if (scene_.light == LightWanted::lamp_key) check_window(room);
        }
        if (needs_spot(scene_.light)) {
            if (!scene_.spot && location.spots.size() == 1) scene_.spot = 0;
            if (!scene_.spot)
                f_.complain_missing(
                    "spot", fmt::format("light = \"{}\" without a spot", light),
                    location.spots.empty()
                        ? std::string{"the place has no [[spot]]"}
                        : fmt::format("accepted: spot = \"{}\"", location.spots[0].name));
        }
    }

    void check_window(const room::Room& room) {
        if (!scene_.window && room.windows.size() == 1) scene_.window = 0;
        if (!scene_.window) {
            std::vector<std::string> open;
            for (const room::Window& w : room.windows)
                if (w.cover == room::Cover::open) open.push_back(w.name);
            f_.complain_missing(
                "window", "light = \"lamp key\" without a window",
                open.empty() ? "no window of the place is open" : "accepted: " + quoted_list(open));
        } else if (room.windows[*scene_.window].cover != room::Cover::open) {
            f_.complain("window",
                        fmt::format("window \"{}\" is covered, and the lamp must shine in",
                                    room.windows[*scene_.window].name),
                        "accepted: a window with cover = \"open\"");
        }
    }

    void read_times() {
        constexpr double longest = 1440;
        scene_.set_up = read_minutes_by_crew(f_, "set_up", Need::optional, findings_);
        if (const auto minutes = read_minutes(f_, table_, "minutes", Need::required, 1, longest))
            scene_.length = whole(*minutes);
        if (const auto minutes = read_minutes(f_, table_, "over_run", Need::optional, 0, longest))
            scene_.over_run = whole(*minutes);
        scene_.repeatable = f_.yes_or_no("repeatable").value_or(true);
        scene_.may_be_dropped = f_.yes_or_no("may_be_dropped").value_or(false);
        scene_.is_cover = f_.yes_or_no("cover").value_or(false);
        if (scene_.is_cover && study::needs_sun(scene_.light))
            f_.complain("cover",
                        fmt::format("a cover scene with light = \"{}\"", words::name(scene_.light)),
                        "accepted: one that can be shot in any weather, light = \"any\"");
        if (!set_up_minutes(scene_, parts_.shoot.crew))
            f_.complain("set_up",
                        fmt::format("its set-up needs {} people, the crew is {}",
                                    scene_.set_up.front().crew, parts_.shoot.crew),
                        "accepted: minutes for a crew of that size, or more crew in [shoot]");
    }

    void read_order(std::size_t self) {
        scene_.after = read_references(f_, "after", scenes_);
        before_ = read_references(f_, "before", scenes_);
        scene_.same_day = read_references(f_, "same_day_as", scenes_);
        scene_.same_set_up = f_.reference("same_set_up_as", Need::optional, scenes_);
        scene_.people = read_references(f_, "people", known_names("person", parts_.shoot.people));
        for (const auto& [key, list] : {std::pair{"after", &scene_.after},
                                        {"before", &before_},
                                        {"same_day_as", &scene_.same_day}})
            if (std::ranges::find(*list, self) != list->end())
                f_.complain(key, f_.shown(key) + " names the scene itself",
                            "accepted: other scenes");
        if (scene_.same_set_up == self)
            f_.complain("same_set_up_as", f_.shown("same_set_up_as") + " names the scene itself",
                        "accepted: another scene");
    }

    static std::chrono::minutes whole(double minutes) {
        return std::chrono::minutes{static_cast<int>(std::ceil(minutes))};
    }

    const toml::table& table_;
    Fields f_;
    const ShootParts& parts_;
    const KnownNames& scenes_;
    Findings& findings_;
    study::ShootScene scene_;
    std::vector<std::size_t> before_;
};

}  // namespace

void read_scenes(Fields& root, ShootParts& parts, Findings& findings) {
    const auto tables = root.tables("scene");
    if (tables.empty())
        root.complain_missing("scene", "the shoot has no [[scene]]",
                              "accepted: [[scene]] with name, place, light and minutes");
    if (tables.size() > most_scenes)
        root.complain("scene", fmt::format("{} scenes", tables.size()),
                      fmt::format("accepted: up to {}", most_scenes));
    KnownNames names{"scene", {}, true};
    for (const toml::table* table : tables) {
        const toml::node* name = table->get("name");
        names.words.push_back(name ? name->value<std::string>().value_or("") : "");
        names.complete = names.complete && !names.words.back().empty();
    }
    std::vector<std::vector<std::size_t>> before;
    for (std::size_t i = 0; i < tables.size(); ++i) {
        SceneReader reader{*tables[i], parts, names, findings};
        parts.shoot.scenes.push_back(reader.read(i));
        before.push_back(reader.before());
    }
    for (std::size_t i = 0; i < before.size(); ++i)
        for (const std::size_t later : before[i])
            if (auto& after = parts.shoot.scenes[later].after;
                std::ranges::find(after, i) == after.end())
                after.push_back(i);
}

}  // namespace keyhour::read
