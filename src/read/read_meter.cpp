#include <fmt/format.h>

#include <algorithm>

#include "clock_moment.hpp"
#include "found_light_tables.hpp"
#include "keyhour/study/sun_path.hpp"
#include "metered_level.hpp"

namespace keyhour::read {
namespace {

constexpr LengthRule held_at_rule{0, 100, false, 4};

class MeterReader {
public:
    MeterReader(Fields& root, const site::Location& location, site::FoundLight& out,
                Findings& findings)
        : root_{root},
          location_{location},
          out_{out},
          findings_{findings},
          room_sound_{location.room.has_value() && findings.count() == 0} {
        marks_.kind = "mark";
        if (location.room)
            for (const room::Mark& m : location.room->marks)
                marks_.words.push_back(m.name);
        marks_.complete = location.room.has_value();
    }

    void read() {
        for (const toml::table* table : root_.tables("meter")) {
            Fields f{*table, "[[meter]]", findings_};
            site::MeterReading reading;
            const bool outside =
                f.choice("place", Need::optional, {"inside", "outside"}) == std::size_t{1};
            if (const auto sky =
                    f.choice("sky", Need::required, {"clear", "mean cloud", "overcast"}))
                reading.sky = static_cast<light::Cloud>(*sky);
            reading.lx = read_metered_level(f).value_or(1);
            read_time(f, reading);
            if (outside)
                reading.where = "outside";
            else
                read_place(f, reading);
            f.refuse_unknown();
            out_.readings.push_back(std::move(reading));
        }
    }

private:
    void read_time(Fields& f, site::MeterReading& reading) {
        const auto text = f.moment("time", Need::required);
        if (!text) return;
        const auto time = read_moment(*text, location_.site.zone);
        if (!time) return f.complain("time", time.error());
        reading.at = time->at;
        const auto track =
            study::SharedTrack::make(time->at - Seconds{3600}, time->at + Seconds{3600});
        if (!track)
            return f.complain("time", f.shown("time") + " is beyond the sun's tables",
                              "accepted: the years 1800 to 2200");
        const double altitude = study::SunPath{location_.site, track}
                                    .position(time->at)
                                    .true_altitude.above_horizon.in_degrees();
        if (altitude < 0)
            f.complain(
                "time",
                fmt::format("at {} the sun is {:.0f} degrees below the horizon", *text, -altitude),
                "accepted: a reading by day, which has a sky to compare with; is it a "
                "12-hour clock, or another zone's?");
    }

    void read_place(Fields& f, site::MeterReading& reading) {
        if (!location_.room)
            return f.complain_missing("place", fmt::format("{} is of no room", f.label()),
                                      "accepted: place = \"outside\", or a location with a [room]");
        const room::Room& room = *location_.room;
        const auto mark = f.reference("mark", Need::optional, marks_);
        const Need needed = f.has("mark") ? Need::optional : Need::required;
        const auto at = f.point("at", needed);
        const auto height = f.length("height_m", needed, held_at_rule);
        if (f.has("mark")) {
            if (f.has("at") || f.has("height_m"))
                return f.complain("mark", f.label() + " says twice where it was read",
                                  "accepted: mark, or at with height_m");
            if (!mark || *mark >= room.marks.size()) return;
            const room::Mark& m = room.marks[*mark];
            reading.where = m.name;
            reading.inside_at = room::Point3{m.at.x, m.at.y, m.height_m};
            return;
        }
        if (!at || !height) return;
        reading.where = fmt::format("x {:.2f} y {:.2f}", at->at.x, at->at.y);
        reading.inside_at = room::Point3{at->at.x, at->at.y, *height};
        if (!room_sound_) return;
        if (!room::contains(room.floor, at->at))
            f.complain("at", f.shown("at") + " lies behind a wall of the room",
                       "accepted: a place on the room's floor, or place = \"outside\"");
        if (*height >= room.height_m)
            f.complain("height_m",
                       fmt::format("{} is above the ceiling of {:g} m", f.shown("height_m"),
                                   room.height_m),
                       "accepted: metres above the floor, below the ceiling");
    }

    Fields& root_;
    const site::Location& location_;
    site::FoundLight& out_;
    Findings& findings_;
    bool room_sound_;
    KnownNames marks_;
};

}  // namespace

void read_meters(Fields& root, const site::Location& location, site::FoundLight& out,
                 Findings& findings) {
    MeterReader{root, location, out, findings}.read();
}

}  // namespace keyhour::read
