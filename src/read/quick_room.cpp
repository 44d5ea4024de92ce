#include "quick_room.hpp"

#include <fmt/format.h>

#include <cmath>
#include <cstdlib>
#include <optional>
#include <utility>

#include "compass_reading.hpp"
#include "keyhour/site/place_check.hpp"
#include "keyhour/site/position.hpp"
#include "keyhour/site/zone_at.hpp"
#include "length.hpp"
#include "length_rules.hpp"
#include "problem.hpp"
#include "room_checks.hpp"

namespace keyhour::read {

namespace {

constexpr LengthRule room_side_rule{0, 1000, true, largest_room_m};
constexpr LengthRule off_centre_rule{-1000, 1000, false, largest_room_m};
constexpr LengthRule off_wall_rule{0, 1000, true, largest_room_m};

std::string without_margins(std::string_view text) {
    const auto first = text.find_first_not_of(" \t");
    if (first == std::string_view::npos) return {};
    return std::string{text.substr(first, text.find_last_not_of(" \t") - first + 1)};
}

std::optional<double> plain_number(const std::string& text) {
    if (text.empty()) return std::nullopt;
    char* end = nullptr;
    const double value = std::strtod(text.c_str(), &end);
    return *end == '\0' ? std::optional{value} : std::nullopt;
}

/// The unit at the end of "1.5 m", if that is all but a number.
std::string single_unit(const std::string& text) {
    char* end = nullptr;
    std::strtod(text.c_str(), &end);
    const std::string unit = without_margins(end);
    return unit.find_first_of("0123456789") == std::string::npos ? unit : std::string{};
}

class QuickReader {
public:
    explicit QuickReader(const QuickRoom& quick) : quick_{quick} {}

    tl::expected<site::Location, std::vector<std::string>> read() {
        read_site();
        room::Room room = read_room();
        if (complaints_.empty()) {
            check_room(room, SoundParts::all(room),
                       [this](const RoomPart&, const std::string& found,
                              const std::string& accepted) { complain(found, accepted); });
        }
        if (!complaints_.empty()) return tl::unexpected{std::move(complaints_)};
        for (std::string& question : room_questions(room)) {
            location_.questions.push_back(std::move(question));
        }
        location_.room = std::move(room);
        return std::move(location_);
    }

private:
    void complain(const std::string& found, const std::string& accepted) {
        complaints_.push_back(Problem{{}, 0, 0, found, accepted, {}}.message());
    }

    void read_site() {
        site::Site& site = location_.site;
        const auto place = site::read_position(quick_.position);
        if (place) {
            site.observer = {place->latitude, place->longitude, 0};
        } else {
            complain(place.error(), "");
        }
        auto zone = site::zone_at(quick_.zone,
                                  place ? std::optional<site::Coordinates>{*place} : std::nullopt);
        if (!zone) {
            complain(zone.error(), "");
            return;
        }
        site.zone = *std::move(zone);
        if (!place) return;
        const auto doubt = site::check_place(*place, site.zone);
        if (!doubt) return;
        if (doubt->is_error) {
            complain(doubt->message, "");
        } else {
            location_.questions.push_back(fmt::format("position: {}", doubt->message));
        }
    }

    double length(const char* what, const std::string& text, LengthRule rule) {
        const std::string word = without_margins(text);
        double value = 0;
        const auto number = plain_number(word);
        if (number) {
            value = *number;
        } else if (const auto read = read_length(word)) {
            value = *read;
        } else {
            complain(
                fmt::format("{} \"{}\" is not a length: {}", what, text, read.error()),
                "accepted: metres, or a unit with the number, as in \"127 cm\" or \"4 ft 2 in\"");
            return 0;
        }
        const bool low = rule.above_least ? value <= rule.least_m : value < rule.least_m;
        if (number && std::isfinite(value) && !low && value > rule.asks_above_m) {
            const UnitDoubt doubt = unit_doubt(value, word, rule.asks_above_m);
            complain(fmt::format("{} {}: {}", what, word, doubt.question), doubt.answer);
        } else if (!std::isfinite(value) || low || value > rule.most_m) {
            complain(fmt::format("{} \"{}\" is out of range", what, text), range_of(rule));
        }
        return value;
    }

    /// "1.2 x 1.5 m": a unit at the end serves both.
    std::pair<double, double> pair(const char* what, const std::string& text, LengthRule first,
                                   LengthRule second) {
        constexpr std::string_view times = "\u00d7";
        std::size_t at = text.find('x'), width = 1;
        if (at == std::string::npos) {
            at = text.find(times);
            width = times.size();
        }
        if (at == std::string::npos) {
            complain(fmt::format("{} \"{}\" is not two lengths", what, text),
                     "accepted: as in \"1.2 x 1.5 m\" or \"4 ft x 5 ft 2 in\"");
            return {1, 1};
        }
        std::string a = without_margins(std::string_view{text}.substr(0, at));
        const std::string b = without_margins(std::string_view{text}.substr(at + width));
        const std::string unit = plain_number(b) ? std::string{} : single_unit(b);
        if (plain_number(a) && !unit.empty()) a.append(" ").append(unit);
        if (plain_number(a).has_value() != plain_number(b).has_value()) {
            complain(fmt::format("{} \"{}\" has a unit on one length only", what, text),
                     "accepted: a unit for each, as in \"4 ft x 5 ft 2 in\"");
            return {1, 1};
        }
        return {length(what, a, first), length(what, b, second)};
    }

    room::Room read_room() {
        room::Room room;
        const auto [wide, deep] = pair("room", quick_.room, room_side_rule, room_side_rule);
        room.floor = {{0, 0}, {wide, 0}, {wide, deep}, {0, deep}};
        room.walls = {"window", "left", "back", "right"};
        room.height_m = length("height", quick_.height, room_height_rule);
        read_bearing(room);
        room::Window window;
        window.name = "window";
        const auto [across, tall] = pair("window", quick_.window, opening_rule, opening_rule);
        window.width_m = across;
        window.height_m = tall;
        window.left_m = (wide - across) / 2;
        window.sill_m = length("sill", quick_.sill, sill_rule);
        window.reveal_m = length("reveal", quick_.reveal, reveal_rule);
        if (complaints_.empty() && window.left_m < 0) {
            complain(fmt::format("the window is {} m wide, its wall {} m", across, wide),
                     fmt::format("accepted: a window up to {} m wide", wide));
        }
        room.windows.push_back(std::move(window));
        room::Mark mark;
        mark.name = "mark";
        mark.at = {wide / 2, length("mark", quick_.mark, off_wall_rule)};
        mark.height_m = length("mark height", quick_.mark_height, mark_height_rule);
        room.marks.push_back(std::move(mark));
        if (quick_.camera) room.cameras.push_back(read_camera(wide));
        return room;
    }

    void read_bearing(room::Room& room) {
        room.bearing.magnetic = quick_.magnetic;
        room.bearing.faces = Angle::degrees(degrees("bearing", quick_.faces_deg, 0, 360));
        const double usual = quick_.magnetic ? 5 : 2;
        room.bearing.within =
            Angle::degrees(degrees("within", quick_.within_deg.value_or(usual), 0, 45));
        if (!quick_.magnetic || !complaints_.empty()) return;
        const auto reading = compass_reading(location_.site.observer, std::nullopt);
        if (!reading) {
            complain(reading.error(), "give the true bearing");
            return;
        }
        room.bearing.declination = reading->declination;
        if (reading->question) location_.questions.push_back(*reading->question);
    }

    double degrees(const char* what, double value, double least, double most) {
        if (!(value >= least && value <= most)) {
            complain(fmt::format("{} {} is out of range", what, value),
                     fmt::format("accepted: {} to {} degrees", least, most));
        }
        return value;
    }

    room::Camera read_camera(double wide) {
        room::Camera camera;
        camera.name = "A";
        const auto [right, off] = pair("camera", *quick_.camera, off_centre_rule, off_wall_rule);
        camera.at = {wide / 2 - right, off};
        camera.height_m = length("camera height", quick_.camera_height, camera_height_rule);
        const double view = degrees("view", quick_.view_deg, 1, 170);
        camera.view = Angle::degrees(view);
        camera.view_vertical = Angle::degrees(view * 9 / 16);
        return camera;
    }

    const QuickRoom& quick_;
    site::Location location_;
    std::vector<std::string> complaints_;
};

}  // namespace

tl::expected<site::Location, std::vector<std::string>> location_of(const QuickRoom& quick) {
    return QuickReader{quick}.read();
}

}  // namespace keyhour::read
