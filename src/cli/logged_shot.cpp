#include "logged_shot.hpp"

#include <fmt/format.h>

#include "date_options.hpp"
#include "file/file_contents.hpp"
#include "file/run_file.hpp"
#include "read/location_file.hpp"
#include "shown_names.hpp"

namespace keyhour::cli {
namespace {

/// Names of a room by the kind of thing that they name.
class NamesOfRoom {
public:
    NamesOfRoom(const site::Location& location, const std::string& before)
        : location_{location}, room_{*location.room}, before_{before} {}

    Answer<ask::MatchRequest> find(const study::LoggedShot& shot) {
        ask::MatchRequest out;
        out.key = shot.key;
        const auto mark = index_of((before_ + "mark").c_str(), shot.mark, room_.marks);
        if (!mark) return tl::unexpected{mark.error()};
        if (!*mark) return usage_failure(before_ + "mark: the shot names none");
        out.mark = **mark;
        const auto window = index_of((before_ + "window").c_str(), shot.window, room_.windows);
        if (!window) return tl::unexpected{window.error()};
        out.window = *window;
        const auto camera = index_of((before_ + "camera").c_str(), shot.camera, room_.cameras);
        if (!camera) return tl::unexpected{camera.error()};
        out.camera = *camera;
        if (auto wrong = lamp(shot, out)) return tl::unexpected{*std::move(wrong)};
        for (const std::string& cloth : shot.cloth)
            for (std::size_t w = 0; w < room_.windows.size(); ++w)
                if (room_.windows[w].name == cloth) out.black_cloth.push_back(w);
        return out;
    }

private:
    std::optional<Failure> lamp(const study::LoggedShot& shot, ask::MatchRequest& out) const {
        if (shot.key != study::ShotKey::lamp) return std::nullopt;
        const auto lamp = index_of((before_ + "lamp").c_str(), shot.lamp, location_.lamps);
        if (!lamp) return lamp.error();
        if (!*lamp)
            return Failure{wrong_usage, before_ + "lamp: the shot's key is a lamp; name it"};
        const site::Lamp& found = location_.lamps[**lamp];
        if (!study::can_be_key(found))
            return Failure{wrong_usage,
                           fmt::format("{}lamp \"{}\" stands inside, or hangs: accepted: a lamp "
                                       "outside that can be aimed",
                                       before_, found.name)};
        out.lamp = *lamp;
        out.lamp_at = shot.lamp_at ? shot.lamp_at : found.at;
        out.lamp_height_m = shot.lamp_height_m ? shot.lamp_height_m : found.height_m;
        return std::nullopt;
    }

    const site::Location& location_;
    const room::Room& room_;
    const std::string& before_;
};

}  // namespace

Answer<ask::MatchRequest> request_of(const study::LoggedShot& shot, Instant shot_at,
                                     const site::Location& location, const std::string& before) {
    auto out = NamesOfRoom{location, before}.find(shot);
    if (out) out->shot_at = shot_at;
    return out;
}

std::string in_words(ask::NoMatch why) {
    switch (why) {
        case ask::NoMatch::years_not_served:
            return years_served;
        case ask::NoMatch::no_direction:
            return "the shot's key was neither sun nor lamp: it has no direction to come again";
        case ask::NoMatch::sun_was_down:
            return "the sun was below the horizon then (24-hour clock?)";
        case ask::NoMatch::no_window:
            return "by the location file no sun reached the mark then; name the window that it "
                   "came "
                   "through";
        case ask::NoMatch::no_lamp_place:
            return "where the lamp stood is not known: give its place on the plan and its height "
                   "above the ground";
    }
    return {};
}

std::string digest_of_file(const std::string& path) {
    const auto text = file::file_contents(path, read::largest_location_bytes, "a location file",
                                          "accepted: a location file", file::Taken::plain_file);
    return text ? fmt::format("{:016x}", file::digest(*text)) : std::string{};
}

}  // namespace keyhour::cli
