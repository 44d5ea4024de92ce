#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "file/file_contents.hpp"
#include "parts.hpp"
#include "photometric_file.hpp"
#include "words/names.hpp"

namespace keyhour::read {
namespace {

constexpr LengthRule distance_rule{0, 1000, true, 100};
constexpr LengthRule face_rule{0, 20, false, 4};
constexpr LengthRule frame_rule{0, 20, true, 4};
constexpr LengthRule lamp_height_rule{-50, 200, false, 30};
constexpr LengthRule stand_rule{0, 200, true, 30};
constexpr NumberRule level_rule{0.001, 1e9, " lx"}, beam_rule{0.5, 170, " degrees"},
    field_rule{0.5, 180, " degrees"}, lumens_rule{1, 1e9, " lm"}, kelvin_rule{1000, 20000, " K"},
    watts_rule{0.1, 1e6, " W"}, battery_rule{0.01, 1000, " h"}, share_rule{0.01, 1, ""};

const char* const light_form =
    "accepted: one of photometry = \"lamp.ies\", sheet = { level_lx = 2400, at_m = 5, beam_deg = "
    "30 }, lumens = 4000";
const char* const sheet_form =
    "sheet = { level_lx = 2400, at_m = 5, beam_deg = 30, field_deg = 55 }";
const char* const diffusion_form =
    "diffusion = { transmittance = 0.5, diameter_m = 1.2, distance_m = 0.6 }";

/// What a data sheet says wrong, and under which of its keys it stands.
struct SheetWords {
    const char *key, *found, *accepted;
};
SheetWords words(light::SheetFault fault) {
    using enum light::SheetFault;
    switch (fault) {
        case field_not_over_beam:
            return {"field_deg", "the field is not wider than the beam",
                    "accepted: beam_deg at half of the peak, field_deg at a tenth of it"};
        case readings_at_one_distance:
            return {"second", "both readings are at one distance",
                    "accepted: a second reading nearer or farther than the first"};
        case readings_not_of_a_beam:
            return {"second", "the second reading does not fit the first",
                    "the farther level is the lower, and not lower than the inverse square says"};
        case none:
        case level_not_positive:
        case distance_not_positive:
        case beam_out_of_range:
        case face_negative:
            break;
    }
    return {"level_lx", "the sheet is not of a lamp", "accepted: numbers above 0"};
}

class LampReader {
public:
    LampReader(Fields& root, site::Location& location, Findings& findings)
        : root_{root},
          location_{location},
          findings_{findings},
          room_sound_{location.room.has_value() && findings.count() == 0} {}

    void read() {
        std::vector<std::string> names;
        for (const toml::table* table : root_.tables("lamp")) {
            Fields f{*table, "[[lamp]]", findings_};
            site::Lamp lamp;
            lamp.name = f.name(Need::required).value_or("");
            if (!lamp.name.empty() && std::ranges::find(names, lamp.name) != names.end())
                f.complain("name", fmt::format("a second lamp is called \"{}\"", lamp.name),
                           "each needs its own name");
            names.push_back(lamp.name);
            read_one(f, lamp);
            f.refuse_unknown();
            if (f.sound()) check_place(f, lamp);
            location_.lamps.push_back(std::move(lamp));
        }
    }

private:
    void read_one(Fields& f, site::Lamp& lamp) {
        const auto place = f.choice("place", Need::required, words::list(words::lamp_place_names));
        lamp.place = place == std::optional<std::size_t>{1} ? site::Lamp::Place::inside
                                                            : site::Lamp::Place::outside;
        const auto face = f.length("face_diameter_m", Need::optional, face_rule);
        lamp.face_diameter_m = face.value_or(0);
        lamp.kelvin = f.number("kelvin", Need::optional, kelvin_rule).value_or(lamp.kelvin);
        lamp.watts = f.number("watts", Need::optional, watts_rule);
        lamp.battery_h = f.number("battery_h", Need::optional, battery_rule);
        lamp.stand_max_m = f.length("stand_max_m", Need::optional, stand_rule);
        if (const auto at = f.point("at", Need::optional)) lamp.at = at->at;
        lamp.height_m = f.length("height_m", Need::optional, lamp_height_rule);
        lamp.within_m = f.length("within_m", Need::optional, within_rule);
        read_light(f, lamp);
        read_diffusion(f, lamp);
        const bool one = f.has("at") != f.has("height_m");
        if (one)
            f.complain_missing(
                f.has("at") ? "at" : "height_m",
                fmt::format("{} has {}", f.label(),
                            f.has("at") ? "at without height_m" : "height_m without at"),
                "accepted: both, where the lamp stands or hangs, or neither");
    }

    void read_light(Fields& f, site::Lamp& lamp) {
        const int given = f.has("photometry") + f.has("sheet") + f.has("lumens");
        if (given != 1)
            f.complain_missing("name",
                               fmt::format("{} {}", f.label(),
                                           given == 0 ? "does not say what light it gives"
                                                      : "says more than once what light it gives"),
                               light_form);
        if (const auto path = f.text("photometry", Need::optional, "lamp.ies"))
            read_photometry(*path, f.has("face_diameter_m"), lamp);
        if (const toml::table* sheet = f.table("sheet", Need::optional, sheet_form))
            read_sheet(*sheet, f.label(), lamp);
        if (const auto lm = f.number("lumens", Need::optional, lumens_rule))
            lamp.photometry = site::Lumens{*lm};
    }

    void read_photometry(const std::string& path, bool face_given, site::Lamp& lamp) {
        auto read = read_photometric_file(file::path_beside(findings_.folder(), path));
        if (!read) {
            for (Problem& problem : read.error())
                findings_.add(std::move(problem));
            return;
        }
        if (!face_given) lamp.face_diameter_m = read->face_diameter_m;
        if (!lamp.watts && read->watts > 0) lamp.watts = read->watts;
        read->intensity.file = path;
        lamp.photometry = std::move(read->intensity);
    }

    void read_sheet(const toml::table& table, const std::string& label, site::Lamp& lamp) {
        Fields f{table, "sheet of " + label, findings_};
        light::DataSheet sheet;
        const auto reading = read_reading(f);
        sheet.reading = reading.value_or(light::SheetReading{1, 1});
        sheet.beam = Angle::degrees(f.number("beam_deg", Need::required, beam_rule).value_or(30));
        if (const auto field = f.number("field_deg", Need::optional, field_rule))
            sheet.field = Angle::degrees(*field);
        if (const toml::table* second =
                f.table("second", Need::optional, "second = { level_lx = 600, at_m = 10 }")) {
            Fields s{*second, "second of sheet of " + label, findings_};
            sheet.second_reading = read_reading(s);
            s.refuse_unknown();
        }
        f.refuse_unknown();
        sheet.face_diameter_m = lamp.face_diameter_m;
        if (!f.sound()) return;
        if (const auto fault = light::fault_of(sheet); fault != light::SheetFault::none) {
            const SheetWords w = words(fault);
            f.complain(w.key, f.shown(w.key) + ": " + w.found, w.accepted);
        }
        lamp.photometry = sheet;
    }

    static std::optional<light::SheetReading> read_reading(Fields& f) {
        const auto level = f.number("level_lx", Need::required, level_rule);
        const auto at = f.length("at_m", Need::required, distance_rule);
        if (!level || !at) return std::nullopt;
        return light::SheetReading{*level, *at};
    }

    void read_diffusion(Fields& lamp_fields, site::Lamp& lamp) {
        const toml::table* table = lamp_fields.table("diffusion", Need::optional, diffusion_form);
        if (!table) return;
        Fields f{*table, "diffusion of " + lamp_fields.label(), findings_};
        light::Diffusion frame{};
        frame.transmittance = f.number("transmittance", Need::required, share_rule).value_or(1);
        frame.diameter_m = f.length("diameter_m", Need::required, frame_rule).value_or(1);
        frame.distance_m = f.length("distance_m", Need::required, frame_rule).value_or(1);
        f.refuse_unknown();
        lamp.diffusion = frame;
        if (lamp_fields.has("lumens"))
            lamp_fields.complain("diffusion",
                                 "diffusion before a lamp of which only the lumens are "
                                 "known",
                                 "accepted with photometry or sheet: it needs a beam");
    }

    // --- where it stands ------------------------------------------------------------------------

    void check_place(Fields& f, const site::Lamp& lamp) {
        const bool inside = lamp.place == site::Lamp::Place::inside;
        if (inside && !location_.room) {
            f.complain("place",
                       fmt::format("lamp \"{}\" is inside, but there is no room", lamp.name),
                       "a table [room] is missing, or place = \"outside\"");
            return;
        }
        if (lamp.height_m && lamp.stand_max_m && *lamp.height_m > *lamp.stand_max_m)
            f.complain("height_m",
                       fmt::format("lamp \"{}\" is {:g} m high on a stand of {:g} m", lamp.name,
                                   *lamp.height_m, *lamp.stand_max_m),
                       "accepted: height_m up to stand_max_m");
        if (!lamp.at || !lamp.height_m) return;
        if (inside)
            check_inside(f, lamp);
        else
            check_outside(f, lamp);
    }

    void check_inside(Fields& f, const site::Lamp& lamp) {
        if (!room_sound_) return;
        const room::Room& room = *location_.room;
        if (!room::contains(room.floor, *lamp.at))
            return f.complain("at", fmt::format("lamp \"{}\" is outside the floor", lamp.name),
                              "accepted: a place in the room, or place = \"outside\"");
        if (*lamp.height_m < 0 || *lamp.height_m >= room.height_m)
            return f.complain("height_m",
                              fmt::format("lamp \"{}\" is {:g} m above the floor, in a room {:g} m "
                                          "high",
                                          lamp.name, *lamp.height_m, room.height_m),
                              fmt::format("accepted: 0 m, up to below {:g} m", room.height_m));
        for (const room::Object& o : room.objects)
            if (*lamp.height_m < o.height_m && room::contains(o.footprint, *lamp.at))
                f.complain(
                    "at", fmt::format("lamp \"{}\" is inside object \"{}\"", lamp.name, o.name),
                    fmt::format("accepted: beside it, or above its top at {:g} m", o.height_m));
    }

    void check_outside(Fields& f, const site::Lamp& lamp) {
        if (room_sound_) {
            if (room::contains(location_.room->floor, *lamp.at))
                return f.complain("at", fmt::format("lamp \"{}\" is in the room", lamp.name),
                                  "accepted: a place outside it, or place = \"inside\"");
            if (const auto wall = wall_around(*lamp.at))
                return f.complain(
                    "at",
                    fmt::format("lamp \"{}\" is inside the wall \"{}\"", lamp.name,
                                location_.room->walls[*wall]),
                    "accepted: a place beyond the wall's outer face, the depth of its windows' "
                    "reveals off the floor's outline");
        }
        if (findings_.count() != 0) return;
        for (const room::Building& b : site::buildings(location_))
            if (*lamp.height_m < b.height_m && room::contains(b.footprint, *lamp.at))
                f.complain(
                    "at", fmt::format("lamp \"{}\" is inside {}", lamp.name, room::words(b)),
                    fmt::format("accepted: beside it, or above its top at {:g} m", b.height_m));
    }

    /// The wall in whose thickness, as its windows show it, a point lies.
    [[nodiscard]] std::optional<std::size_t> wall_around(room::Point2 at) const {
        for (const room::Window& w : location_.room->windows) {
            const room::WallFrame frame = room::wall_frame(location_.room->floor, w.wall);
            const room::Point2 d = at - frame.left_corner;
            const double u = dot(d, frame.u), out = dot(d, frame.n);
            if (out >= 0 && out <= w.reveal_m && u >= 0 && u <= frame.width_m) return w.wall;
        }
        return std::nullopt;
    }

    Fields& root_;
    site::Location& location_;
    Findings& findings_;
    bool room_sound_;
};

}  // namespace

void read_lamps(Fields& root, site::Location& location, Findings& findings) {
    LampReader{root, location, findings}.read();
}

}  // namespace keyhour::read
