#include <fmt/format.h>

#include <algorithm>

#include "compass_reading.hpp"
#include "length.hpp"
#include "length_rules.hpp"
#include "parts.hpp"
#include "room_checks.hpp"
#include "words/names.hpp"

namespace keyhour::read {

namespace {

using Kind = RoomPart::Kind;

constexpr double most_within_deg = 45;

room::Ring ring_of(const std::vector<Coordinates>& corners) {
    room::Ring ring;
    for (const Coordinates& c : corners)
        ring.push_back(c.at);
    return ring;
}

class RoomReader {
public:
    RoomReader(Fields& root, site::Location& location, Findings& findings)
        : root_{root},
          location_{location},
          site_{location.site},
          findings_{findings},
          questions_{location.questions} {}

    void read() {
        const toml::table* table = root_.table("room", Need::optional, "a table [room]");
        if (table) {
            read_walls(*table);
            read_furniture();
        } else {
            refuse_without_room();
            sound_.floor = sound_.height = false;  // there are none
        }
        read_all("building", buildings_, sound_.buildings, [this](Fields& f) { read_building(f); });
        check_room(room_, sound_,
                   [this](const RoomPart& part, std::string found, std::string accepted) {
                       fields_of(part).complain(part.key, std::move(found), std::move(accepted));
                   });
        read_trees();
        if (table && findings_.count() == 0) {
            for (std::string& question : room_questions(room_)) {
                questions_.push_back(std::move(question));
            }
        }
        if (table)
            location_.room = std::move(room_);
        else
            location_.buildings_without_room = std::move(room_.buildings);
    }

private:
    using Tables = std::vector<Fields>;

    void read_furniture() {
        // Marks come before the cameras that aim at them.
        read_all("window", windows_, sound_.windows, [this](Fields& f) { read_window(f); });
        read_all("mark", marks_, sound_.marks, [this](Fields& f) { read_mark(f); });
        mark_names_.complete = !root_.has("mark") || !marks_.empty();
        read_all("camera", cameras_, sound_.cameras, [this](Fields& f) { read_camera(f); });
        read_all("object", objects_, sound_.objects, [this](Fields& f) { read_object(f); });
    }

    void read_trees() {
        std::vector<bool> sound;
        read_all("tree", trees_, sound,
                 [this](Fields& f) { location_.trees.push_back(read_tree(f, name_)); });
        for (std::size_t i = 0; i < sound.size(); ++i)
            if (sound[i] && room::crosses_itself(location_.trees[i].footprint))
                trees_[i].complain("footprint",
                                   fmt::format("the footprint of tree \"{}\" crosses or touches "
                                               "itself",
                                               location_.trees[i].name),
                                   "list each corner once, in order around it");
    }

    template <class ReadOne>
    void read_all(const char* kind, Tables& tables, std::vector<bool>& sound, ReadOne read_one) {
        std::vector<std::string> names;
        for (const toml::table* table : root_.tables(kind)) {
            tables.emplace_back(*table, fmt::format("[[{}]]", kind), findings_);
            Fields& fields = tables.back();
            const auto name = fields.name(Need::required);
            if (name && std::ranges::find(names, *name) != names.end()) {
                fields.complain("name", fmt::format("a second {} is called \"{}\"", kind, *name),
                                "each needs its own name");
            }
            names.push_back(name.value_or(""));
            name_ = names.back();
            read_one(fields);
            fields.refuse_unknown();
            sound.push_back(fields.sound());
        }
    }

    Fields& fields_of(const RoomPart& part) {
        switch (part.kind) {
            case Kind::window:
                return windows_[part.index];
            case Kind::mark:
                return marks_[part.index];
            case Kind::camera:
                return cameras_[part.index];
            case Kind::object:
                return objects_[part.index];
            case Kind::building:
                return buildings_[part.index];
            case Kind::room:
                break;
        }
        return room_fields_.front();
    }

    void read_walls(const toml::table& table) {
        room_fields_.emplace_back(table, "[room]", findings_);
        Fields& fields = room_fields_.front();
        sound_.floor = read_floor(fields);
        const auto height = fields.length("height_m", Need::required, room_height_rule);
        sound_.height = height.has_value();
        room_.height_m = height.value_or(0);
        room_.floor_above_ground_m =
            fields.length("floor_above_ground_m", Need::optional, ground_rule).value_or(0);
        read_bearing(fields);
        read_reflectance(fields);
        fields.refuse_unknown();
    }

    bool read_floor(Fields& fields) {
        const auto corners = fields.corners("floor", Need::required);
        const auto walls = fields.names("walls", Need::required);
        room_.within_m = fields.length("within_m", Need::optional, within_rule);
        if (walls) room_.walls = *walls;
        wall_names_ = {"wall", room_.walls, walls.has_value()};
        if (!corners) return false;
        room_.floor = ring_of(*corners);
        if (looks_like_feet(fields, *corners)) return false;
        if (!walls) return false;
        if (walls->size() == room_.floor.size()) return true;
        fields.complain(
            "walls", fmt::format("{} wall names for {} corners", walls->size(), room_.floor.size()),
            "accepted: one name for each wall; wall i runs from corner i to the next");
        return false;
    }

    bool looks_like_feet(Fields& fields, const std::vector<Coordinates>& corners) {
        if (std::ranges::none_of(corners, &Coordinates::plain)) return false;
        const auto [left, right] = std::ranges::minmax(room_.floor, {}, &room::Point2::x);
        const auto [low, high] = std::ranges::minmax(room_.floor, {}, &room::Point2::y);
        const double wide = right.x - left.x, deep = high.y - low.y;
        if (std::max(wide, deep) <= largest_room_m) return false;
        const double size = std::max(wide, deep);
        const UnitDoubt doubt = unit_doubt(size, fmt::format("{:.5g}", size), largest_room_m);
        fields.complain(
            "floor", fmt::format("the floor is {:.5g} by {:.5g} m: {}", wide, deep, doubt.question),
            fmt::format("{}; a unit with every number", doubt.answer));
        return true;
    }

    void read_bearing(Fields& fields) {
        const toml::table* table =
            fields.table("bearing", Need::required,
                         "bearing = { wall = \"street\", faces = 196, north = \"true\" }");
        if (!table) return;
        Fields bearing{*table, "bearing", findings_};
        room_.bearing.wall = bearing.reference("wall", Need::required, wall_names_).value_or(0);
        const Measured faces = read_faces(bearing);
        const Angle stated = Angle::degrees(faces.value);
        room_.bearing.faces = faces.within ? wrapped_turn(stated) : stated;
        const auto north = bearing.choice("north", Need::required, {"true", "magnetic"});
        room_.bearing.magnetic = north == std::size_t{1};
        const double usual = room_.bearing.magnetic ? 5 : 2;
        room_.bearing.within = Angle::degrees(
            bearing.number("within_deg", Need::optional, {0, most_within_deg, " degrees"})
                .value_or(faces.within.value_or(usual)));
        read_compass(bearing);
        bearing.refuse_unknown();
    }

    /// One bearing, or a range of them, clockwise from the first to the second.
    Measured read_faces(Fields& bearing) {
        const NumberRule rule{0, 360, " degrees"};
        const auto faces = bearing.measured_turn("faces", Need::required, rule);
        if (!faces) return {};
        if (faces->within && *faces->within > most_within_deg)
            bearing.complain(
                "faces",
                fmt::format("{} is {:g} degrees wide, clockwise from the first to the second",
                            bearing.shown("faces"), 2 * *faces->within),
                fmt::format("accepted: a range of up to {:g} degrees", 2 * most_within_deg));
        if (faces->within && bearing.has("within_deg"))
            bearing.complain("within_deg", bearing.shown("within_deg") + " beside a range",
                             "accepted: faces = [least, most], or one bearing and within_deg");
        return *faces;
    }

    void read_compass(Fields& bearing) {
        const auto day = bearing.date("measured", Need::optional);
        if (!room_.bearing.magnetic || (bearing.has("measured") && !day)) return;
        const auto reading = compass_reading(site_.observer, day);
        if (!reading) {
            bearing.complain(day ? "measured" : "north", reading.error(),
                             "write the true bearing, with north = \"true\"");
            return;
        }
        room_.bearing.declination = reading->declination;
        if (reading->question) questions_.push_back(*reading->question);
    }

    void read_reflectance(Fields& fields) {
        const toml::table* table =
            fields.table("reflectance", Need::optional,
                         "reflectance = { floor = 0.2, walls = 0.5, ceiling = 0.7 }");
        if (!table) return;
        Fields shares{*table, "reflectance", findings_};
        room::Reflectance& r = room_.reflectance;
        r.floor = shares.number("floor", Need::optional, {0, 1}).value_or(r.floor);
        r.walls = shares.number("walls", Need::optional, {0, 1}).value_or(r.walls);
        r.ceiling = shares.number("ceiling", Need::optional, {0, 1}).value_or(r.ceiling);
        shares.refuse_unknown();
    }

    void read_window(Fields& f) {
        room::Window w;
        w.name = name_;
        w.wall = f.reference("wall", Need::required, wall_names_).value_or(0);
        const auto all = f.length("within_m", Need::optional, within_rule);
        const auto taped = [&](const char* key, LengthRule rule, double& value,
                               std::optional<double>& within) {
            const Measured m = f.measured_length(key, Need::required, rule).value_or(Measured{});
            value = m.value;
            within = m.within ? m.within : all;
        };
        taped("left_m", left_rule, w.left_m, w.within.left_m);
        taped("width_m", opening_rule, w.width_m, w.within.width_m);
        taped("sill_m", sill_rule, w.sill_m, w.within.sill_m);
        taped("height_m", opening_rule, w.height_m, w.within.height_m);
        taped("reveal_m", reveal_rule, w.reveal_m, w.within.reveal_m);
        const toml::table* bars =
            f.table("bars", Need::optional, "bars = { upright = 1, level = 2, width_m = 0.03 }");
        if (bars) w.bars = read_bars(*bars, f.label());
        const auto glass = f.choice("glass", Need::optional, words::list(words::glass_names));
        w.glass = glass ? static_cast<room::Glass>(*glass) : room::Glass::single_pane;
        const auto cover = f.choice("cover", Need::optional, words::list(words::cover_names));
        w.cover = cover ? static_cast<room::Cover>(*cover) : room::Cover::open;
        room_.windows.push_back(std::move(w));
    }

    room::Bars read_bars(const toml::table& table, const std::string& window) {
        Fields f{table, fmt::format("bars of {}", window), findings_};
        room::Bars bars;
        bars.upright = f.whole("upright", Need::optional, 0, 100).value_or(0);
        bars.level = f.whole("level", Need::optional, 0, 100).value_or(0);
        const bool any = bars.upright + bars.level > 0;
        bars.width_m =
            f.length("width_m", any ? Need::required : Need::optional, bar_rule).value_or(0);
        bars.set_back_m = f.length("set_back_m", Need::optional, set_back_rule).value_or(0);
        f.refuse_unknown();
        return bars;
    }

    void read_mark(Fields& f) {
        room::Mark m;
        m.name = name_;
        m.at = f.point("at", Need::required).value_or(Coordinates{}).at;
        const Measured height =
            f.measured_length("height_m", Need::required, mark_height_rule).value_or(Measured{});
        m.height_m = height.value;
        m.within.at_m = f.length("within_m", Need::optional, within_rule);
        m.within.height_m = height.within ? height.within : m.within.at_m;
        m.radius_m = f.length("radius_m", Need::optional, radius_rule).value_or(m.radius_m);
        if (const auto box = f.lengths("box_m", Need::optional, 3, box_rule)) {
            m.box_m = {(*box)[0], (*box)[1], (*box)[2]};
        }
        if (f.has("box_m") && f.has("radius_m")) {
            f.complain("radius_m", f.shown("radius_m") + " beside box_m",
                       "a mark is a sphere or a box: write one of the two");
        }
        mark_names_.words.push_back(m.name);
        room_.marks.push_back(std::move(m));
    }

    void read_camera(Fields& f) {
        room::Camera c;
        c.name = name_;
        c.at = f.point("at", Need::required).value_or(Coordinates{}).at;
        c.height_m = f.length("height_m", Need::required, camera_height_rule).value_or(0);
        c.aims_at = f.reference("aims_at", Need::required, mark_names_).value_or(0);
        const NumberRule view_rule{1, 170, " degrees"};
        const double view = f.number("view_deg", Need::optional, view_rule).value_or(40);
        const double vertical =
            f.number("view_vertical_deg", Need::optional, view_rule).value_or(view * 9 / 16);
        c.view = Angle::degrees(view);
        c.view_vertical = Angle::degrees(vertical);
        c.within_m = f.length("within_m", Need::optional, within_rule);
        room_.cameras.push_back(std::move(c));
    }

    void read_object(Fields& f) {
        room::Object o;
        o.name = name_;
        if (const auto corners = f.corners("footprint", Need::required)) {
            o.footprint = ring_of(*corners);
        }
        o.height_m = f.length("height_m", Need::required, object_height_rule).value_or(0);
        room_.objects.push_back(std::move(o));
    }

    void read_building(Fields& f) {
        room::Building b;
        b.name = name_;
        if (const auto corners = f.corners("footprint", Need::required)) {
            b.footprint = ring_of(*corners);
        }
        b.height_m = f.length("height_m", Need::required, building_height_rule).value_or(0);
        b.within_m = f.length("within_m", Need::optional, place_within_rule);
        b.facade = read_facade(f, b);
        room_.buildings.push_back(std::move(b));
    }

    /// The side of a building that throws light back.
    std::optional<room::Facade> read_facade(Fields& building, const room::Building& b) {
        const toml::table* table =
            building.table("facade", Need::optional, "{ side = 1, kind = \"glass\" }");
        if (!table) return std::nullopt;
        Fields f{*table, "facade of " + building.label(), findings_};
        room::Facade facade;
        const auto corners = static_cast<int>(b.footprint.size());
        if (const auto side = f.whole("side", Need::required, 1, std::max(corners, 3)))
            facade.side = static_cast<std::size_t>(*side - 1);
        const auto kind = f.choice("kind", Need::required, words::list(words::facade_names));
        if (kind) facade.kind = static_cast<room::Facade::Kind>(*kind);
        const LengthRule within{0, b.height_m > 0 ? b.height_m : building_height_rule.most_m, false,
                                building_height_rule.asks_above_m};
        facade.bottom_m = f.length("bottom_m", Need::optional, within).value_or(0);
        facade.top_m = f.length("top_m", Need::optional, within).value_or(b.height_m);
        if (f.sound() && b.height_m > 0 && !(facade.bottom_m < facade.top_m))
            f.complain("bottom_m",
                       fmt::format("the facade ends at {:g} m and begins at {:g} m", facade.top_m,
                                   facade.bottom_m),
                       "accepted: bottom_m below top_m");
        f.refuse_unknown();
        return f.sound() ? std::optional{facade} : std::nullopt;
    }

    void refuse_without_room() {
        for (const char* kind : {"window", "mark", "camera", "object"}) {
            const auto tables = root_.tables(kind);
            if (tables.empty() || root_.has("room")) continue;
            findings_.add_missing(findings_.source().place(*tables.front()),
                                  fmt::format("[[{}]] stands in no room", kind),
                                  "a table [room] is missing");
        }
    }

    Fields& root_;
    site::Location& location_;
    const site::Site& site_;
    Findings& findings_;
    std::vector<std::string>& questions_;
    room::Room room_;
    SoundParts sound_;
    Tables room_fields_, windows_, marks_, cameras_, objects_, buildings_, trees_;
    KnownNames wall_names_{"wall", {}, true}, mark_names_{"mark", {}, true};
    std::string name_;  // of the table being read
};

}  // namespace

void read_room(Fields& root, site::Location& location, Findings& findings) {
    RoomReader{root, location, findings}.read();
}

}  // namespace keyhour::read
