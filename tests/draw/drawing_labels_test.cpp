// Labels of the plan, read back from the drawing: none lies over a wall, an opening, an object, a
// symbol or another label.

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <memory>
#include <string>
#include <vector>

#include "draw/plan_drawing.hpp"
#include "draw/plan_extent.hpp"
#include "draw/section_drawing.hpp"
#include "draw/strip_drawing.hpp"
#include "draw/year_drawing.hpp"
#include "keyhour/site/plan_frame.hpp"
#include "keyhour/study/patch_day.hpp"
#include "keyhour/study/seasonal_study.hpp"
#include "read/location_file.hpp"
#include "support/drawn.hpp"

using namespace keyhour;
using namespace date::literals;

namespace {

struct Place {
    std::string path;
    site::LocalDate date;
};

const std::string locations = KEYHOUR_LOCATIONS "/", rooms = KEYHOUR_TEST_DATA "/draw/rooms/";

const std::vector<Place>& places() {
    static const std::vector<Place> all{
        {locations + "tallow-lane.toml", 2026_y / 3 / 29},
        {locations + "flax-road.toml", 2026_y / 6 / 21},
        {locations + "sundet.toml", 2026_y / 2 / 5},
        {locations + "mill-green/mill-green.toml", 2026_y / 9 / 23},
        {rooms + "four-windows.toml", 2026_y / 10 / 25},
        {rooms + "midnight-sun.toml", 2026_y / 6 / 21},
        {rooms + "small.toml", 2026_y / 7 / 4},
        {rooms + "hall.toml", 2026_y / 3 / 29},
        {rooms + "nine-walls.toml", 2026_y / 5 / 10},
        {rooms + "many.toml", 2026_y / 11 / 5},
    };
    return all;
}

struct DrawnPlan {
    site::Location location;
    draw::PlanDrawing plan;
    draw::PlanExtent extent;
};

DrawnPlan drawn(const Place& place, double width, site::Units units = site::Units::metres,
                bool is_covered = true) {
    auto read = read::read_location(place.path);
    REQUIRE(read);
    DrawnPlan out{*std::move(read), {}, {}};
    const draw::DrawingFrame frame{width, "plan", false, units};
    const site::Zone& zone = out.location.site.zone;
    const auto shared = study::SharedTrack::make(zone.start_of(place.date) - Seconds{86400},
                                                 zone.start_of(place.date) + Seconds{3 * 86400.0});
    if (!out.location.room) {
        out.location = site::in_season(out.location, place.date);
        out.plan = draw::draw_plan(out.location, nullptr, {place.date, {}, {}}, frame);
    } else {
        const study::SeasonalStudy seasons{out.location, shared, place.date, place.date};
        const study::RoomStudy& study = seasons.on(place.date);
        const auto keys = study::clean_key(study, zone.start_of(place.date),
                                           zone.start_of(site::next_day(place.date)));
        const auto hours = study::plan_hours(study, place.date, keys);
        std::vector<study::CoverNeed> covers;
        for (std::size_t w = 0; w < study.room().windows.size() && is_covered; w += 2)
            covers.push_back({w, {hours.at(0), hours.at(0) + Seconds{1800}, false, false}});
        out.location = study.location();
        out.plan = draw::draw_plan(out.location, &study, {place.date, hours, covers}, frame);
    }
    out.extent = draw::plan_extent(out.location, frame);
    return out;
}

/// Texts that lie over one another or are cut at the sides, in words.
std::vector<std::string> texts_apart(const std::string& svg, double width) {
    std::vector<std::string> out;
    const auto texts = texts_of(svg);
    REQUIRE(texts.size() >= 5);
    for (std::size_t i = 0; i < texts.size(); ++i) {
        const auto& a = texts[i].box;
        if (a.left < 0.5 || a.right > width - 0.5) out.push_back(texts[i].text + " is cut");
        for (std::size_t j = 0; j < i; ++j) {
            const auto& b = texts[j].box;
            if (draw::Box{a.left, a.top, a.right, a.bottom}.overlap(
                    {b.left, b.top, b.right, b.bottom}) > 0)
                out.push_back(texts[i].text + " lies over " + texts[j].text);
        }
    }
    return out;
}

/// Of floor and outer wall faces, first, then of objects and buildings.
std::vector<room::Ring> solid_lines(const DrawnPlan& d) {
    std::vector<room::Ring> rings;
    if (d.location.room) {
        const room::Room& room = *d.location.room;
        rings.push_back(d.extent.at(room.floor));
        rings.push_back(d.extent.at(draw::outer_faces(room)));
        for (const room::Object& o : room.objects)
            rings.push_back(d.extent.at(o.footprint));
    }
    for (const room::Building& b : site::buildings(d.location))
        if (b.kind == room::Building::Kind::building) rings.push_back(d.extent.at(b.footprint));
    return rings;
}

std::vector<draw::Box> symbols_of(const DrawnPlan& d) {
    std::vector<draw::Box> symbols;
    if (d.location.room) {
        for (const room::Mark& m : d.location.room->marks) {
            const room::Point2 c = d.extent.at(m.at);
            symbols.push_back({c.x - 1.8, c.y - 1.8, c.x + 1.8, c.y + 1.8});
        }
        for (const room::Camera& c : d.location.room->cameras) {
            const room::Point2 p = d.extent.at(c.at);
            symbols.push_back({p.x - 1, p.y - 1, p.x + 1, p.y + 1});
        }
    }
    // A camera outside: from its lens to its body's end.
    const Angle up = site::PlanFrame{d.location}.bearing_of_y().from_north;
    for (const site::Spot& spot : d.location.spots) {
        const double turn = (spot.camera_bearing - up).in_radians();
        const room::Point2 p = d.extent.at(site::on_plan(d.location, spot)),
                           end = p - 5.2 * room::Point2{std::sin(turn), -std::cos(turn)};
        if (d.extent.paper.grown(-8).overlap({p.x - 1, p.y - 1, p.x + 1, p.y + 1}) > 3.9)
            symbols.push_back(draw::Box{std::min(p.x, end.x), std::min(p.y, end.y),
                                        std::max(p.x, end.x), std::max(p.y, end.y)}
                                  .grown(0.9));
    }
    return symbols;
}

/// What lies over what, in words; empty if the drawing is clean.
std::vector<std::string> faults(const DrawnPlan& d) {
    std::vector<std::string> out;
    std::vector<DrawnText> texts;
    for (const DrawnText& t : texts_of(d.plan.svg))
        if (t.box.bottom < d.extent.paper.bottom) texts.push_back(t);
    REQUIRE(texts.size() >= 5);
    const std::vector<room::Ring> rings = solid_lines(d);
    const std::vector<draw::Box> symbols = symbols_of(d);
    for (std::size_t i = 0; i < texts.size(); ++i) {
        const DrawnText& t = texts[i];
        const draw::Box box{t.box.left, t.box.top, t.box.right, t.box.bottom};
        for (const room::Ring& ring : rings)
            for (std::size_t k = 0; k < ring.size(); ++k)
                if (draw::length_within(ring[k], ring[(k + 1) % ring.size()], box) > 0)
                    out.push_back(t.text + " lies over a line");
        // Between the faces of a wall.
        if (d.location.room && !contains(rings[0], box.middle()) &&
            contains(rings[1], box.middle()))
            out.push_back(t.text + " lies in a wall");
        for (const draw::Box& s : symbols)
            if (s.overlap(box) > 0) out.push_back(t.text + " lies over a symbol");
        for (std::size_t j = 0; j < i; ++j) {
            const auto& o = texts[j].box;
            if (box.overlap({o.left, o.top, o.right, o.bottom}) > 0)
                out.push_back(t.text + " lies over " + texts[j].text);
        }
        if (box.left < d.extent.paper.left || box.right > d.extent.paper.right ||
            box.top < d.extent.paper.top)
            out.push_back(t.text + " is cut by the paper's edge");
    }
    return out;
}

}  // namespace

TEST_CASE("no label of a plan lies over a wall, an object, a symbol or another label", "[draw]") {
    for (const Place& place : places())
        for (const double width : {400.0, draw::paper_width_mm, 150.0, draw::phone_width_mm,
                                   draw::large_letters_width_mm}) {
            CAPTURE(place.path, width);
            const DrawnPlan shown = drawn(place, width);
            CHECK(faults(shown) == std::vector<std::string>{});
            CHECK(shown.plan.svg.size() < 200'000);
            // Feet and inches are longer words.
            CHECK(faults(drawn(place, width, site::Units::feet)) == std::vector<std::string>{});
        }
    CHECK(drawn(places()[1], 180).plan.svg == drawn(places()[1], 180).plan.svg);
}

TEST_CASE("names keep off the patches of a phone's plan", "[draw]") {
    int looked_at = 0;
    std::vector<Place> all = places();
    for (const site::LocalDate date : {2026_y / 3 / 10, 2026_y / 9 / 30, 2026_y / 12 / 21})
        for (const char* name : {"tallow-lane.toml", "flax-road.toml"})
            all.push_back({locations + name, date});
    for (const Place& place : all) {
        const DrawnPlan shown = drawn(place, draw::phone_width_mm, site::Units::metres, false);
        const auto patches = rings_of(group_of(shown.plan.svg, "plan-patches"));
        for (const DrawnText& t : texts_of(shown.plan.svg)) {
            const bool is_hour = t.text.size() == 5 && t.text[2] == ':';
            if (is_hour || t.text.size() < 3 || t.box.bottom > shown.extent.paper.bottom) continue;
            const draw::Box box{t.box.left, t.box.top, t.box.right, t.box.bottom};
            double on_patches = 0;
            for (const auto& ring : patches)
                if (ring.size() > 2)  // no line of a hatch
                    on_patches += std::abs(room::signed_area(draw::clipped(ring, box)));
            CAPTURE(place.path, t.text);
            CHECK(on_patches < 0.25 * (box.right - box.left) * (box.bottom - box.top));
            ++looked_at;
        }
    }
    CHECK(looked_at > 50);
}

TEST_CASE("no text of a section, strip or year lies over another or is cut", "[draw]") {
    for (const Place& place : places()) {
        auto read = read::read_location(place.path);
        REQUIRE(read);
        const site::Location location = *std::move(read);
        const site::Zone& zone = location.site.zone;
        const auto shared =
            study::SharedTrack::make(zone.start_of(place.date) - Seconds{86400},
                                     zone.start_of(place.date) + Seconds{3 * 86400.0});
        std::unique_ptr<study::SeasonalStudy> seasons;
        if (location.room)
            seasons =
                std::make_unique<study::SeasonalStudy>(location, shared, place.date, place.date);
        const study::RoomStudy* room = seasons ? &seasons->on(place.date) : nullptr;
        const site::Location there =
            room ? room->location() : site::in_season(location, place.date);
        const auto strip = study::day_strip(location, room, shared, place.date);
        for (const double width :
             {draw::paper_width_mm, draw::phone_width_mm, draw::large_letters_width_mm}) {
            CAPTURE(place.path, width);
            const auto drawn = draw::draw_strip(there, strip, {width, "strip", false}).svg;
            CHECK(texts_apart(drawn, width) == std::vector<std::string>{});
            CHECK(drawn.size() < 200'000);
            if (room == nullptr || width < draw::phone_width_mm) continue;  // a section's least
            for (std::size_t w = 0; w < room->room().windows.size(); ++w)
                for (std::size_t m = 0; m < room->room().marks.size(); ++m) {
                    if (!room->scene().faces(w, m)) continue;
                    CAPTURE(w, m);
                    const draw::SectionContent content{place.date, w, m,
                                                       study::hours_of_sun(strip.windows[w], zone),
                                                       draw::stands_of(location)};
                    CHECK(texts_apart(draw::draw_section(*room, content, {width, "s", false}),
                                      width) == std::vector<std::string>{});
                }
        }
    }
}

TEST_CASE("no text of a year's chart lies over another or is cut", "[draw]") {
    for (const char* name : {"tallow-lane.toml", "flax-road.toml", "four-windows.toml"}) {
        const bool made = std::string{name}.starts_with("four");
        auto read = read::read_location((made ? rooms : locations) + name);
        REQUIRE(read);
        const auto track = study::track_of_year(read->site.zone, 2026_y);
        const study::SeasonalStudy seasons{*read, track, 2026_y / 1 / 1, 2026_y / 12 / 31};
        const auto year = study::key_year(seasons, 0, 2026_y);
        for (const double width :
             {draw::paper_width_mm, draw::phone_width_mm, draw::large_letters_width_mm}) {
            CAPTURE(name, width);
            const draw::YearContent content{{}, 2026_y / 3 / 30};
            const auto svg = draw::draw_year(*read, year, content, {width, "year", false});
            CHECK(texts_apart(svg, width) == std::vector<std::string>{});
            CHECK(svg == draw::draw_year(*read, study::key_year(seasons, 0, 2026_y), content,
                                         {width, "year", false}));
            CHECK(svg.size() < 200'000);
        }
    }
}

TEST_CASE("labels that are moved onto a wall are found", "[draw]") {
    DrawnPlan d = drawn(places().front(), draw::paper_width_mm);
    const room::Point2 corner = d.extent.at(d.location.room->floor.front());
    const std::string here = "<text x=\"" + std::to_string(corner.x - 1) + "\" y=\"" +
                             std::to_string(corner.y + 1) +
                             "\" font-size=\"2.8\" fill=\"#000\" stroke=\"none\">moved</text>\n";
    d.plan.svg.insert(d.plan.svg.rfind("</svg>"), here + here);
    const auto found = faults(d);
    CHECK(std::ranges::find(found, "moved lies over a line") != found.end());
    CHECK(std::ranges::find(found, "moved lies over moved") != found.end());
}

TEST_CASE("every name of a plan stands on it, or below it by a number", "[draw]") {
    for (const Place& place : places())
        for (const double width :
             {draw::paper_width_mm, draw::phone_width_mm, draw::large_letters_width_mm}) {
            const DrawnPlan d = drawn(place, width);
            std::string all;
            for (const DrawnText& t : texts_of(d.plan.svg))
                all += t.text + ' ';
            std::vector<std::string> names;
            if (d.location.room) {
                for (const room::Window& w : d.location.room->windows)
                    names.push_back(w.name);
                for (const room::Mark& m : d.location.room->marks)
                    names.push_back(m.name);
                for (const room::Camera& c : d.location.room->cameras)
                    names.push_back(c.name);
                for (const room::Object& o : d.location.room->objects)
                    names.push_back(o.name);
            }
            for (const std::string& name : names) {
                CAPTURE(place.path, width, name, all);
                CHECK(all.find(without_marks(name)) != std::string::npos);
            }
        }
}

TEST_CASE("letters of every plan are 2.3 mm tall or more, lines 0.2 mm wide", "[draw]") {
    for (const Place& place : places()) {
        const std::string svg = drawn(place, draw::paper_width_mm).plan.svg;
        for (const DrawnText& t : texts_of(svg)) {
            CAPTURE(place.path, t.text);
            CHECK(0.72 * t.size >= 2.3);
        }
        for (std::size_t at = svg.find("stroke-width=\""); at != std::string::npos;
             at = svg.find("stroke-width=\"", at + 1))
            CHECK(std::strtod(svg.c_str() + at + 14, nullptr) >= 0.2);
    }
}
