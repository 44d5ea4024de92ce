#include "tell/check_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "keyhour/site/compass.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/site/doubts.hpp"
#include "tell/check_things.hpp"
#include "tell/check_words.hpp"
#include "tell/opening.hpp"
#include "words/clock.hpp"
#include "words/length.hpp"
#include "words/levels.hpp"
#include "words/names.hpp"

namespace keyhour::tell {
namespace {

template <class Part>
std::string taped_text(const Part& part, site::Units units) {
    const bool feet = units == site::Units::feet;
    std::string text = part.name + (feet ? ": " : ", m: ");
    bool first = true;
    for (const Taped& t : taped(part)) {
        text += fmt::format(
            "{}{} {}{}", first ? "" : ", ", t.word,
            feet ? words::length(t.doubt.within_m, units) : fmt::format("{:.2g}", t.doubt.within_m),
            t.doubt.given ? "" : "*");
        first = false;
    }
    return text;
}

/// "A, B and 3 more": a town's footprints say little as a list.
template <class Parts>
std::string few(const Parts& parts) {
    constexpr std::size_t most = 4;
    std::string text;
    for (std::size_t i = 0; i < std::min(parts.size(), most); ++i)
        text += (i == 0 ? "" : ", ") + parts[i].name;
    if (parts.size() > most) text += fmt::format(" and {} more", parts.size() - most);
    return text;
}

class CheckPage {
public:
    explicit CheckPage(const CheckAnswer& answer)
        : a_{answer}, location_{answer.location}, units_{answer.recce.units} {}

    Paragraphs head() {
        for (const std::string& question : location_.questions)
            say("PLEASE CHECK: " + question);
        const bool needed =
            location_.room && !location_.room->windows.empty() && !a_.recce.bearing_within_given;
        if (needed) say(bearing_needed(*location_.room));
        say(fmt::format("{}, {} above the sea", place_line(location_.site),
                        words::elevation(location_.site.observer.elevation_m, units_)));
        clocks();
        const std::size_t count = location_.questions.size();
        say(count == 0 ? std::string{"sound; nothing to ask"}
                       : fmt::format("it can be read, but {} to be settled first: \"please check\" "
                                     "above",
                                     count == 1 ? std::string{"one thing is"}
                                                : fmt::format("{} things are", count)));
        return std::move(out_);
    }

    Paragraphs page() {
        const bool full = a_.show.has(Detail::readback);
        if (full) {
            for (const std::string& line : a_.read_back)
                say(line);
            add(windows_in_full(a_));
            add(things_in_full(a_));
        } else {
            if (location_.room) room();
            things();
        }
        if (a_.show.has(Detail::levels))
            add(lamps_in_full(a_));
        else if (!location_.lamps.empty())
            say("lamps: " + lamps());
        if (a_.show.has(Detail::doubt)) add(check_doubts(location_, units_));
        return std::move(out_);
    }

private:
    void say(std::string text, std::size_t indent = 0) {
        out_.push_back({std::move(text), indent, indent + 2});
    }
    void add(Paragraphs more) {
        for (Paragraph& p : more)
            out_.push_back(std::move(p));
    }

    void clocks() {
        constexpr std::size_t most = 3;
        const site::Zone& zone = location_.site.zone;
        const auto changes = site::clock_changes(zone, a_.year / 1 / 1, a_.year / 12 / 31);
        std::string text = "clocks: " + zone.name();
        if (changes.empty())
            text += fmt::format(", {} all year",
                                words::offset_at(zone.start_of(a_.year / 7 / 1), zone));
        for (std::size_t i = 0; i < std::min(changes.size(), most); ++i)
            text +=
                fmt::format("{} from {}",
                            (i == 0 ? ", " + site::utc_offset(changes[i].before) + ", " : ", ") +
                                site::utc_offset(changes[i].after),
                            words::short_date(changes[i].day));
        if (changes.size() > most) text += ", and more";
        say(text);
    }

    void room() {
        const room::Room& room = *location_.room;
        say(wall_in_brief(room, room.bearing.wall));
        say(fmt::format("room: {}, {} high, floor {} above the ground",
                        words::area(std::abs(room::signed_area(room.floor)), units_),
                        words::length(room.height_m, units_),
                        words::length(room.floor_above_ground_m, units_)));
        if (room.windows.empty()) return;
        const auto dates = study::turning_dates(a_.year);
        say(fmt::format("windows, with hours of sun on {}, {} and {} {}:", day_and_month(dates[0]),
                        day_and_month(dates[1]), day_and_month(dates[2]),
                        static_cast<int>(a_.year)));
        for (std::size_t i = 0; i < room.windows.size(); ++i)
            window(room.windows[i], a_.sun[i]);
    }

    void window(const room::Window& w, const study::WindowHours& sun) {
        const std::string& wall = location_.room->walls[w.wall];
        std::string hours;
        for (const Seconds s : sun.on_turning_dates)
            hours += fmt::format("{}{:.1f}", hours.empty() ? "" : ", ", s.count() / 3600);
        const std::string cover =
            w.cover == room::Cover::open ? "" : std::string{", "} + words::name(w.cover);
        say(fmt::format("{} ({}{}): {}, sill {}, reveal {}{}; {} h", w.name, wall,
                        wall.ends_with("wall") ? "" : " wall",
                        words::size(w.width_m, w.height_m, units_), words::length(w.sill_m, units_),
                        words::length(w.reveal_m, units_), cover,
                        sun.sun_in_year ? hours : "none all year, 0"),
            2);
    }

    void things() {
        if (location_.room) {
            const room::Room& room = *location_.room;
            for (const room::Mark& m : room.marks)
                say(fmt::format("mark {} at {}, {}, {} high", m.name, words::length(m.at.x, units_),
                                words::length(m.at.y, units_), words::length(m.height_m, units_)));
            for (const room::Camera& c : room.cameras)
                say(fmt::format("camera {} at {}, {}, aims at {}", c.name,
                                words::length(c.at.x, units_), words::length(c.at.y, units_),
                                room.marks[c.aims_at].name));
            if (!room.objects.empty()) say("objects inside: " + few(room.objects));
        }
        if (!site::buildings(location_).empty())
            say("buildings outside: " + few(site::buildings(location_)));
        if (!location_.trees.empty()) say("trees: " + few(location_.trees));
        for (const site::Spot& spot : location_.spots)
            say(fmt::format("place outside {}: camera looks {}, wants {} light", spot.name,
                            site::compass_letters({wrapped_turn(spot.camera_bearing)}),
                            words::name(spot.wants)));
    }

    std::string lamps() const {
        std::string text;
        for (const site::Lamp& lamp : location_.lamps)
            text += fmt::format("{}{}, {}", text.empty() ? "" : "; ", lamp.name,
                                words::name(lamp.place));
        return text;
    }

    const CheckAnswer& a_;
    const site::Location& location_;
    site::Units units_;
    Paragraphs out_;
};

}  // namespace

Paragraphs check_head(const CheckAnswer& answer) {
    return CheckPage{answer}.head();
}

Paragraphs check_page(const CheckAnswer& answer) {
    return CheckPage{answer}.page();
}

Paragraphs check_doubts(const site::Location& location, site::Units units) {
    Paragraphs out{{"how far each figure may be off; *: the usual, as the file does not say"}};
    const auto add = [&](std::string text) { out.push_back({std::move(text), 2, 4}); };
    if (location.room) {
        add("bearing " + words::in_degrees(location.room->bearing.within.in_degrees()));
        for (const room::Window& window : location.room->windows)
            add(taped_text(window, units));
        for (const room::Mark& mark : location.room->marks)
            add(taped_text(mark, units));
        for (const room::Camera& camera : location.room->cameras)
            add(taped_text(camera, units));
        const site::LengthDoubt floor = site::floor_doubt(*location.room);
        add(fmt::format("the floor's longest length: {}{}", words::length(floor.within_m, units),
                        floor.given ? "" : "*"));
    }
    for (const site::Lamp& lamp : location.lamps)
        add(taped_text(lamp, units));
    std::string text =
        fmt::format("clocks {:g} s{}; refraction {:.0f} %*", site::clock_within_s(location),
                    location.clock_within_s ? "" : "*", 100 * site::usual_refraction_within);
    if (const Angle skyline = site::horizon_within(location.site); skyline > Angle{})
        text += fmt::format("; skyline {}*", words::in_degrees(skyline.in_degrees()));
    if (anything_outside(location))
        text += fmt::format("; heights outside {:.0f} %*; places outside up to {}{}",
                            100 * site::usual_building_within,
                            words::length(places_outside(location).within_m, units),
                            places_outside(location).given ? "" : "*");
    add(text);
    return out;
}

}  // namespace keyhour::tell
