#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "found_light_tables.hpp"
#include "metered_level.hpp"
#include "room/vectors.hpp"

namespace keyhour::read {
namespace {

constexpr LengthRule hearth_height_rule{0, 100, false, 4}, hearth_opening_rule{0, 5, true, 2},
    metered_at_rule{0, 50, true, 20};
constexpr NumberRule hearth_tilt_rule{-90, 90, " degrees"}, glow_rule{1000, 3500, " K"};

class ForgeReader {
public:
    ForgeReader(Fields& root, const site::Location& location, site::FoundLight& out,
                Findings& findings)
        : root_{root},
          location_{location},
          out_{out},
          findings_{findings},
          room_sound_{location.room.has_value() && findings.count() == 0} {}

    void read() {
        std::vector<std::string> names;
        for (const toml::table* table : root_.tables("forge")) {
            Fields f{*table, "[[forge]]", findings_};
            site::Forge forge;
            forge.name = f.name(Need::required).value_or("");
            if (!forge.name.empty() && std::ranges::find(names, forge.name) != names.end())
                f.complain("name", fmt::format("a second forge is called \"{}\"", forge.name),
                           "each needs its own name");
            names.push_back(forge.name);
            read_one(f, forge);
            f.refuse_unknown();
            if (!location_.room)
                f.complain_missing("name", fmt::format("{} stands in no room", f.label()),
                                   "accepted: a forge in a location with a [room]");
            if (f.sound()) check_place(f, forge);
            out_.forges.push_back(std::move(forge));
        }
    }

private:
    void read_one(Fields& f, site::Forge& forge) {
        const auto at = f.point("at", Need::required), to = f.point("toward", Need::required);
        forge.at.z = f.length("height_m", Need::required, hearth_height_rule).value_or(0);
        const double tilt =
            Angle::degrees(f.number("tilt_deg", Need::optional, hearth_tilt_rule).value_or(0))
                .in_radians();
        forge.width_m =
            f.length("opening_width_m", Need::required, hearth_opening_rule).value_or(1);
        forge.height_m =
            f.length("opening_height_m", Need::required, hearth_opening_rule).value_or(1);
        forge.metered_lx = read_metered_level(f).value_or(1);
        forge.metered_at_m = f.length("at_m", Need::required, metered_at_rule).value_or(1);
        forge.kelvin = f.number("kelvin", Need::optional, glow_rule).value_or(forge.kelvin);
        if (!at || !to) return;
        forge.at.x = at->at.x;
        forge.at.y = at->at.y;
        const room::Point2 way = to->at - at->at;
        const double far = length(way);
        if (far < 0.01)
            return f.complain("toward", f.shown("toward") + " is the opening's own place",
                              "accepted: a point of the plan that it looks towards");
        forge.facing = {way.x / far * std::cos(tilt), way.y / far * std::cos(tilt), std::sin(tilt)};
    }

    void check_place(Fields& f, const site::Forge& forge) {
        if (!room_sound_) return;
        const room::Room& room = *location_.room;
        const room::Point2 at{forge.at.x, forge.at.y};
        constexpr double hair_m = 0.02;
        const room::Point2 ahead = at + hair_m * room::Point2{forge.facing.x, forge.facing.y};
        if (!room::contains(room.floor, ahead))
            return f.complain(
                room::contains(room.floor, at) ? "toward" : "at",
                fmt::format("forge \"{}\" is inside or behind wall \"{}\"", forge.name,
                            room.walls[nearest_wall(room, at)]),
                "accepted: an opening on the wall's inner face or before it, towards the room");
        if (forge.at.z >= room.height_m)
            return f.complain(
                "height_m",
                fmt::format("forge \"{}\" is {:g} m above the floor, in a room {:g} m "
                            "high",
                            forge.name, forge.at.z, room.height_m),
                fmt::format("accepted: 0 m, up to below {:g} m", room.height_m));
        for (const room::Object& o : room.objects)
            if (forge.at.z < o.height_m && room::contains(o.footprint, ahead))
                f.complain("at",
                           fmt::format("forge \"{}\" is inside object \"{}\"", forge.name, o.name),
                           fmt::format("accepted: on its side or beside it, or above its top at "
                                       "{:g} m",
                                       o.height_m));
    }

    static std::size_t nearest_wall(const room::Room& room, room::Point2 p) {
        std::size_t best = 0;
        double least = HUGE_VAL;
        for (std::size_t i = 0; i < room.floor.size(); ++i) {
            const room::WallFrame w = room::wall_frame(room.floor, i);
            const room::Point2 d = p - w.left_corner;
            const double u = std::clamp(dot(d, w.u), 0.0, w.width_m);
            const double off = length(d - u * w.u);
            if (off < least) {
                least = off;
                best = i;
            }
        }
        return best;
    }

    Fields& root_;
    const site::Location& location_;
    site::FoundLight& out_;
    Findings& findings_;
    bool room_sound_;
};

}  // namespace

void read_forges(Fields& root, const site::Location& location, site::FoundLight& out,
                 Findings& findings) {
    ForgeReader{root, location, out, findings}.read();
}

}  // namespace keyhour::read
