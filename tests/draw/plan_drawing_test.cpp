#include <png.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <sstream>

#include "draw/labels.hpp"
#include "draw/plan_symbols.hpp"
#include "prepared.hpp"
#include "support/drawn.hpp"
#include "support/scratch_folder.hpp"
#include "support/tool.hpp"

using namespace keyhour;
using namespace keyhour::test;
using namespace date::literals;

TEST_CASE("a place outside beyond the paper is as far off as it stands from the room", "[draw]") {
    Prepared p = example("tallow-lane", 2026_y / 3 / 10);
    REQUIRE(!p.location.spots.empty());
    site::Spot& far = p.location.spots.front();
    far.on_plan = true;
    far.at = {3, 47};
    far.position.reset();
    const Prepared moved{p.location, p.date};
    // 47 m behind the street wall's line, so nearer to the back wall by the room's depth.
    double nearest = 1e9;
    for (const room::Point2 corner : moved.location.room->floor)
        nearest = std::min(nearest, 47 - corner.y);
    const std::string told =
        "outside: " + far.name + ", " + std::to_string(std::lround(nearest)) + " m off";
    CAPTURE(told);
    CHECK(holds(moved.plan().svg, told));
}

TEST_CASE("the plan's patches are the outlines of the answer", "[draw]") {
    const Prepared p = example("tallow-lane", 2026_y / 3 / 10);
    const Instant t = clock(p, 14);
    const auto plan = p.plan({t});
    const auto drawn = rings_of(group_of(plan.svg, "plan-patches"));
    std::vector<std::vector<room::Point2>> wanted;
    const auto& objects = p.room()->room().objects;
    for (const study::WindowPatch& w : study::patches_at(*p.room(), t).patches) {
        if (w.patch.surface.kind == room::Surface::Kind::wall) continue;
        const bool on_floor = w.patch.surface.kind == room::Surface::Kind::floor;
        const double top = on_floor ? 0 : objects[w.patch.surface.index].height_m;
        for (const auto& outline : w.patch.outlines) {
            std::vector<room::Point2> ring;
            for (const room::Point3& q : outline)
                if (std::abs(q.z - top) < 1e-6) ring.push_back(plan.scale.to_drawing({q.x, q.y}));
            if (ring.size() == outline.size()) wanted.push_back(ring);
        }
    }
    std::size_t found = 0;
    for (const auto& ring : wanted)
        for (const auto& candidate : drawn) {
            bool same = candidate.size() == ring.size();
            for (std::size_t i = 0; same && i < ring.size(); ++i)  // two decimals of a millimetre
                same = std::hypot(ring[i].x - candidate[i].x, ring[i].y - candidate[i].y) < 0.0072;
            found += same ? 1 : 0;
        }
    REQUIRE(wanted.size() >= 2);
    CHECK(found == wanted.size());
}

namespace {

/// The same drawing with its patches filled and everything else, hatches too, taken away.
std::string filled_patches(const std::string& svg) {
    std::string patches;
    std::istringstream lines{group_of(svg, "plan-patches")};
    for (std::string each; std::getline(lines, each);)
        if (const std::size_t close = each.find("Z\"");
            close != std::string::npos && !holds(each, " fill=\"#fff\""))
            patches += each.insert(close + 2, " fill=\"#000\"") + '\n';
    return svg.substr(0, svg.find("<g ")) + patches + "</svg>\n";
}

/// A drawing in pixels.
struct Picture {
    std::vector<png_byte> grey;
    std::size_t width = 0;
    double per_mm = 0;

    [[nodiscard]] bool is_black(room::Point2 mm) const {
        const auto column = static_cast<std::size_t>(mm.x * per_mm);
        const auto row = static_cast<std::size_t>(mm.y * per_mm);
        return grey[row * width + column] < 128;
    }
};

Picture rendered(const std::string& drawing, double width_mm) {
    constexpr int wide = 1440;  // pixels: eight a millimetre
    const test::ScratchFolder folder;
    const std::string svg = folder.path("p.svg"), png = folder.path("p.png");
    std::ofstream{svg} << drawing;
    REQUIRE(
        runs_well("rsvg-convert -w " + std::to_string(wide) + " '" + svg + "' -o '" + png + "'"));
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    REQUIRE(png_image_begin_read_from_file(&image, png.c_str()) != 0);
    image.format = PNG_FORMAT_GRAY;
    Picture out{std::vector<png_byte>(PNG_IMAGE_SIZE(image)), image.width, wide / width_mm};
    REQUIRE(png_image_finish_read(&image, nullptr, out.grey.data(), 0, nullptr) != 0);
    return out;
}

std::vector<room::Ring> outlines_on_floor(const study::PatchInstant& instant) {
    std::vector<room::Ring> rings;
    for (const study::WindowPatch& w : instant.patches)
        if (w.patch.surface.kind == room::Surface::Kind::floor)
            for (const auto& outline : w.patch.outlines) {
                room::Ring& ring = rings.emplace_back();
                for (const room::Point3& q : outline)
                    ring.push_back({q.x, q.y});
            }
    return rings;
}

bool is_near_an_edge(const std::vector<room::Ring>& rings, room::Point2 q, double off_m) {
    return std::ranges::any_of(rings, [&](const room::Ring& r) {
        for (std::size_t i = 0; i < r.size(); ++i)
            if (const room::Point2 a = r[i], b = r[(i + 1) % r.size()];
                draw::length_within(a, b, {q.x - off_m, q.y - off_m, q.x + off_m, q.y + off_m}) > 0)
                return true;
        return false;
    });
}

/// Objects and bars along walls have drawings of their own.
bool is_bare_floor(const room::Room& room, room::Point2 q) {
    return contains(room.floor, q) && contains(room.floor, {q.x + 0.4, q.y + 0.4}) &&
           std::ranges::none_of(room.objects,
                                [&](const room::Object& o) { return contains(o.footprint, q); });
}

}  // namespace

TEST_CASE("a rendered patch is black inside its outline and white outside", "[draw]") {
    if (!has_tool("rsvg-convert")) return;
    const Prepared p = example("flax-road", 2026_y / 3 / 10);
    const Instant t = clock(p, 15);
    const auto plan = p.plan({t});
    const Picture picture = rendered(filled_patches(plan.svg), plan.width_mm);
    const auto rings = outlines_on_floor(study::patches_at(*p.room(), t));
    REQUIRE(!rings.empty());
    // The outline's own line is three pixels wide.
    const double off_m = 3 / (plan.scale.mm_per_m * picture.per_mm);
    std::size_t inside = 0, wrong = 0;
    for (double x = 0.6; x < 7.8; x += 0.02)
        for (double y = 0.6; y < 6.6; y += 0.02) {
            const room::Point2 q{x, y};
            if (!is_bare_floor(p.room()->room(), q) || is_near_an_edge(rings, q, off_m)) continue;
            const bool is_lit =
                std::ranges::count_if(rings, [&](const room::Ring& r) { return contains(r, q); }) %
                    2 ==
                1;
            inside += is_lit ? 1 : 0;
            wrong += picture.is_black(plan.scale.to_drawing(q)) != is_lit ? 1 : 0;
        }
    CHECK(inside > 1000);
    CHECK(wrong == 0);
}

TEST_CASE("a plan in a page leaves what its numbers mean to the page", "[draw]") {
    auto read = read::read_location(KEYHOUR_TEST_DATA "/draw/rooms/many.toml");
    REQUIRE(read);
    const Prepared p{*std::move(read), 2026_y / 11 / 5};
    const draw::PlanContent content{p.date, {clock(p, 13)}, {}};
    const auto page = draw::draw_plan(p.there(), p.room(), content, {92, "plan", true});
    const auto file = draw::draw_plan(p.there(), p.room(), content, {92, "plan", false});
    REQUIRE(page.numbered.size() > 5);
    CHECK(page.numbered == file.numbered);
    for (const std::string& meaning : page.numbered) {
        const std::string words = draw::escaped(meaning);
        CAPTURE(words);
        CHECK_FALSE(holds(words_of(page.svg), words));
        CHECK(holds(words_of(file.svg), words));
    }
}

TEST_CASE("a plan's hours are those of the best key, else those of sun", "[draw]") {
    const Prepared p = example("tallow-lane", 2026_y / 2 / 14);
    const auto strip = study::day_strip(p.location, p.room(), p.shared, p.date);
    REQUIRE(study::best_key(strip) != nullptr);
    const study::KeyInterval key = *study::best_key(strip);
    const auto hours = study::plan_hours(*p.room(), p.date, strip.keys);
    CHECK(std::ranges::is_sorted(hours));
    CHECK(hours.size() <= draw::most_plan_hours);
    CHECK(hours.size() == 3);
    for (const Instant t : hours) {
        CHECK(std::fmod(t.unix_s(), 60) == 0);
        CHECK_FALSE(study::patches_at(*p.room(), t).patches.empty());
        CHECK(key.span->from <= t);
        CHECK(t <= key.span->to);
        double lit = 0;
        for (const study::MarkCoverage& c : study::patches_at(*p.room(), t).coverages)
            if (c.mark == key.mark) lit = std::max(lit, c.fraction);
        CHECK(lit >= study::KeySettings{}.coverage);
    }
    CHECK(study::plan_hours(*p.room(), p.date, {}) == study::hours_of_patches(*p.room(), p.date));
}

TEST_CASE("under a mark stand the drawn hours that light it at its height", "[draw]") {
    const Prepared p = example("tallow-lane", 2026_y / 2 / 14);
    // The patch of 14:00 on the floor misses the mark, which is lit; at 10:00 and 16:00 it is not.
    const std::vector<Instant> hours{clock(p, 10), clock(p, 13), clock(p, 14), clock(p, 16)};
    std::string lit;
    for (const Instant t : hours)
        for (const study::MarkCoverage& c : study::patches_at(*p.room(), t).coverages)
            if (c.mark == 0 && c.fraction >= study::KeySettings{}.coverage)
                lit += (lit.empty() ? "lit " : ", ") + site::whole_minutes(t, p.location.site.zone);
    CHECK(lit == "lit 13:00, 14:00");
    const std::string svg = p.plan(hours).svg;
    CHECK(holds(svg, ">" + lit + "<"));
    CHECK(holds(svg, "a mark is judged at its height"));
    CHECK_FALSE(holds(p.plan({clock(p, 16)}).svg, ">lit "));
}

TEST_CASE("a plan tells what its openings' sizes are where it has them", "[draw]") {
    const Prepared p = example("tallow-lane", 2026_y / 2 / 14);
    const std::string words = "sizes of openings";
    CHECK(holds(p.plan().svg, words));
    const auto narrow = draw::draw_plan(p.there(), p.room(), {p.date, {clock(p, 13)}, {}},
                                        {draw::phone_width_mm, "plan", false});
    CHECK_FALSE(holds(narrow.svg, words));
}

TEST_CASE("the scale bar's feet are as long as feet", "[draw]") {
    for (const auto& [units, unit_m] :
         {std::pair{site::Units::metres, 1.0}, {site::Units::feet, 0.3048}}) {
        draw::Svg svg{{180, "t", false}, "t", "d"};
        const double width = draw::draw_scale_bar(svg, {10, 10}, 20, 60, units);
        const auto texts = texts_of(svg.finish(30));
        REQUIRE(!texts.empty());
        CHECK(width == Approx(std::stod(texts.back().text) * unit_m * 20));
        CHECK(texts.back().text.ends_with(units == site::Units::feet ? " ft" : " m"));
        CHECK(width > 30);
    }
}
