// From where sun comes in through a window: against single rays through the opening
// (support/plain_rays.hpp) and against areas worked out on paper.

#include <catch2/catch.hpp>

#include "keyhour/room/direction_region.hpp"
#include "paper_room.hpp"
#include "random_case.hpp"
#include "region_points.hpp"
#include "room/beam.hpp"
#include "support/plain_rays.hpp"

using namespace keyhour;
using namespace keyhour::test;
using room::no_mark;
using room::PlanDirection;
using room::Scene;
using room::sunlit_region;
using room::Touch;

namespace {

/// Of the opening, m2, that rays from just inside its inner plane pass.
double open_by_rays(const Room& r, std::size_t window, Point3 sun, int each_way = 16) {
    const PlainRays rays{r};
    const Window& w = r.windows[window];
    const room::WallFrame f = room::wall_frame(r.floor, w.wall);
    int open = 0;
    for (int i = 0; i < each_way; ++i)
        for (int k = 0; k < each_way; ++k) {
            const Point3 p = in_the_beam(r, w, {}, (i + 0.5) / each_way, (k + 0.5) / each_way, 0);
            if (rays.lit({p.x - 1e-6 * f.n.x, p.y - 1e-6 * f.n.y, p.z}, window, sun)) ++open;
        }
    return w.width_m * w.height_m * open / (each_way * each_way);
}

/// A room whose only use is to be looked into from outside.
Room bare_room(Dice& dice) {
    Room r = random_room(dice);
    r.objects.clear();
    return r;
}

PlanDirection random_direction(Dice& dice, const Room& r, std::size_t window) {
    const double off = dice.between(-85, 85) * degree;
    return {facing(r, window) + off, dice.between(1, 65) * degree};
}

}  // namespace

TEST_CASE("sun comes in from a region's directions and from no others", "[room]") {
    int in = 0, out = 0;
    for (unsigned n = 0; n < 40; ++n) {
        Dice dice{61000 + n};
        const Room r = bare_room(dice);
        const std::size_t w = dice.index(r.windows.size());
        const double lowest = dice.between(1, 50) * degree;
        const auto bounds = between(lowest, lowest + 8 * degree);
        const Scene scene{r};
        const auto region = sunlit_region(scene, w, bounds);
        for (int k = 0; k < 40; ++k) {
            PlanDirection d = random_direction(dice, r, w);
            d.altitude = dice.between(lowest, bounds.highest);
            const Point3 sun = toward(d.azimuth, d.altitude);
            const double open_m2 = scene.open_area(w, sun);
            if (std::abs(open_m2 - room::smallest_patch_m2) < 0.3 * room::smallest_patch_m2)
                continue;
            CAPTURE(n, k, open_m2, d.azimuth, d.altitude);
            if (open_by_rays(r, w, sun, 8) > 0) CHECK(open_m2 > 0);
            CHECK(lies_in(region, d) == (open_m2 > room::smallest_patch_m2));
            ++(open_m2 > 0 ? in : out);
        }
    }
    CHECK(in > 300);
    CHECK(out > 100);
}

TEST_CASE("a window's region ends where its reveal leaves nothing of it", "[room]") {
    const Room r = paper_room(0.4);
    const auto region = sunlit_region(Scene{r}, 0, between(2 * degree, 80 * degree));
    REQUIRE(region.size() == 1);
    int points = 0;
    for (std::size_t i = 0; i < region[0].size(); ++i) {
        const PlanDirection a = region[0][i], b = region[0][(i + 1) % region[0].size()];
        if (a.altitude < 2 * degree + 1e-6 || b.altitude < 2 * degree + 1e-6) continue;
        for (const PlanDirection d :
             {a, PlanDirection{(a.azimuth + b.azimuth) / 2, (a.altitude + b.altitude) / 2}}) {
            const double aside = d.azimuth - std::numbers::pi;
            const double wide = 2 - 0.4 * std::abs(std::tan(aside));
            const double tall = 1.5 - 0.4 * std::tan(d.altitude) / std::cos(aside);
            // A hundred-thousandth of a radian, where the tangents are steep.
            const double steep = 1 / std::pow(std::cos(aside) * std::cos(d.altitude), 2);
            CHECK(wide * tall == Approx(room::smallest_patch_m2).margin(3e-5 * steep));
            ++points;
        }
    }
    CHECK(points > 100);
}

TEST_CASE("over a long roof the sun comes into a window from where the line to its head passes",
          "[room]") {
    Room r = paper_room(0);
    // Ten metres off and 6 m high.
    r.buildings = {{"row", {{-300, -10}, {300, -10}, {300, -14}, {-300, -14}}, 6, {}}};
    const auto region = sunlit_region(Scene{r}, 0, between(3 * degree, 50 * degree));
    REQUIRE(region.size() == 1);
    const double lit_m = room::smallest_patch_m2 / 2;  // of the window's 2 m width
    for (double off = -70; off <= 70; off += 7) {
        const double azimuth = std::numbers::pi + off * degree;
        const double roof = std::atan((6 - 2.5 + lit_m) / 10 * std::cos(off * degree));
        CAPTURE(off);
        CHECK_FALSE(lies_in(region, {azimuth, roof - 2e-5}));
        CHECK(lies_in(region, {azimuth, roof + 2e-5}));
    }
}

TEST_CASE("between two towers the sun comes in over a gap's width", "[room]") {
    Room r = paper_room(0);
    r.windows[0].width_m = 0.2;  // x = 4.8..5 on the plan
    for (const double x : {-20.0, 5.3})
        r.buildings.push_back(
            {"tower", {{x, -30}, {x + 25, -30}, {x + 25, -31}, {x, -31}}, 90, {}});
    const auto region = sunlit_region(Scene{r}, 0, between(20 * degree, 30 * degree));
    // The gap is 5..5.3, seen from 30 m, the towers a metre thick: the sun that comes from beyond
    // the gap passes one's far corner, the other's near one.
    const auto azimuth_of = [](double x, double away) {
        return std::numbers::pi - std::atan2(x, away);
    };
    const double lit_m = room::smallest_patch_m2 / 1.5;
    const double from = azimuth_of(5.3 - 4.8 - lit_m, 31), to = azimuth_of(lit_m, 30);
    for (const double altitude : {22 * degree, 27.7 * degree}) {
        for (const double a : {from, to}) {
            CAPTURE(a, altitude);
            const double inward = a == from ? 1 : -1;
            CHECK(lies_in(region, {a + inward * 3e-5, altitude}));
            CHECK_FALSE(lies_in(region, {a - inward * 3e-5, altitude}));
        }
    }
}

namespace {

/// Four corners of a small square of directions.
std::array<PlanDirection, 4> square(PlanDirection d, double size) {
    return {{{d.azimuth, d.altitude},
             {d.azimuth + size, d.altitude},
             {d.azimuth + size, d.altitude + size},
             {d.azimuth, d.altitude + size}}};
}

std::vector<Point3> suns_of(const std::array<PlanDirection, 4>& corners) {
    std::vector<Point3> suns;
    for (const PlanDirection d : corners)
        suns.push_back(toward(d.azimuth, d.altitude));
    return suns;
}

}  // namespace

TEST_CASE("what is told of a window's light in four directions holds between them", "[room]") {
    int dark = 0, lit = 0, spots = 0, truly_lit = 0;
    for (unsigned n = 0; n < 700; ++n) {
        Dice dice{62000 + n};
        const Room r = bare_room(dice);
        const Scene scene{r};
        const std::size_t w = dice.index(r.windows.size());
        const double size = std::array{0.25, 1.0, 2.0}[n % 3] * degree;
        const auto corners = square(random_direction(dice, r, w), size);
        const auto suns = suns_of(corners);
        Touch all = Touch::everything();
        for (const Point3 sun : suns)
            all = all.and_also(scene.touch(no_mark, w, sun, 1));
        const bool has_spot = lights_a_spot(scene, w, suns);
        CAPTURE(n, w, all.beyond, all.hidden, all.pane);
        bool open_all_over = true;
        for (int k = 0; k < 6; ++k) {
            const double east = dice.unit(), up = dice.unit();
            const double open = open_by_rays(
                r, w, toward(corners[0].azimuth + east * size, corners[0].altitude + up * size), 9);
            open_all_over = open_all_over && open > 0.1;
            if (all.is_dark()) CHECK(open == 0);
            const double exact = scene.open_area(
                w, toward(corners[0].azimuth + east * size, corners[0].altitude + up * size));
            if (all.is_lit() || has_spot) CHECK(exact > room::smallest_patch_m2);
        }
        dark += all.is_dark() ? 1 : 0;
        lit += all.is_lit() ? 1 : 0;
        spots += has_spot ? 1 : 0;
        truly_lit += open_all_over ? 1 : 0;
    }
    // Bounds that never held would be true, too.
    CHECK(dark > 100);
    CHECK(lit > 150);
    CHECK(spots > 0.9 * truly_lit);
}

TEST_CASE("a window's edges and what stands outside are told apart from one direction", "[room]") {
    const Room open = paper_room(0.5);
    const auto touch_at = [](const Room& r, double aside_deg, double up_deg) {
        return Scene{r}.touch(no_mark, 0,
                              toward(std::numbers::pi + aside_deg * degree, up_deg * degree), 1);
    };
    // The reveal shuts where 0.5 tan a = 2 and where 0.5 tan h = 1.5.
    const double side = std::atan(4) / degree, over = std::atan(3) / degree;
    for (const double way : {-1.0, 1.0}) {
        CHECK(touch_at(open, way * (side + 0.1), 5).is_dark());
        CHECK_FALSE(touch_at(open, way * (side - 0.1), 5).is_dark());
    }
    CHECK(touch_at(open, 0, over + 0.1).is_dark());
    CHECK_FALSE(touch_at(open, 0, over - 0.1).is_dark());
    CHECK(touch_at(open, 180, 5).is_dark());
    // Shut by one side from here and by another from there, it may be open between.
    const Touch shut[] = {touch_at(open, side + 5, 5), touch_at(open, -side - 5, 5),
                          touch_at(open, 0, over + 5), touch_at(open, 180, 5)};
    for (std::size_t i = 0; i < 4; ++i)
        for (std::size_t k = 0; k < i; ++k)
            CHECK_FALSE(shut[i].and_also(shut[k]).is_dark());
    // Lit where 12 mm of a pane are left both ways.
    const double side_mm = std::atan(1.988 / 0.5) / degree;
    CHECK(touch_at(open, side_mm - 0.01, 5).is_lit());
    CHECK_FALSE(touch_at(open, side_mm + 0.01, 5).is_lit());
    const double over_mm = std::atan(1.488 / 0.5) / degree;
    CHECK(touch_at(open, 0, over_mm - 0.01).is_lit());
    CHECK_FALSE(touch_at(open, 0, over_mm + 0.01).is_lit());

    // A tower hides all of the opening, part of it, or none: its shadow lies to a side or below.
    const auto tower = [&](double x0, double x1, double top) {
        Room r = open;
        r.buildings = {{"tower", {{x0, -10}, {x1, -10}, {x1, -12}, {x0, -12}}, top, {}}};
        return touch_at(r, 0, 10);
    };
    const double drop = 10 * std::tan(10 * degree);
    CHECK(tower(2.99, 5.01, 2.51 + drop + 2).is_dark());
    CHECK_FALSE(tower(2.99, 5.01, 2.49 + drop - 0.01).is_dark());
    CHECK_FALSE(tower(3.01, 5.01, 20).is_dark());
    CHECK_FALSE(tower(2.99, 4.99, 20).is_dark());
    CHECK_FALSE(tower(3.01, 5.01, 20).is_lit());
    CHECK(tower(3.01, 5.01, 20).nears_outside());
    CHECK(tower(0, 2.99, 20).is_lit());
    CHECK(tower(5.01, 8, 20).is_lit());
    CHECK_FALSE(tower(0, 3.01, 20).is_lit());
    CHECK_FALSE(tower(4.99, 8, 20).is_lit());
    // A slanting ray: the outer rectangle is seen beside the inner one.
    for (const double aside : {-30.0, 30.0}) {
        const double shift = std::tan(aside * degree);  // of x, inward, for each metre
        const double x0 = std::min(3.0, 3 + 0.5 * shift), x1 = std::max(5.0, 5 + 0.5 * shift);
        const auto beside = [&](double from, double to) {
            Room r = open;
            r.buildings = {{"tower",
                            {{from - 10 * shift, -10},
                             {to - 10 * shift, -10},
                             {to - 10 * shift, -10.001},
                             {from - 10 * shift, -10.001}},
                            30,
                            {}}};
            return touch_at(r, aside, 10);
        };
        CAPTURE(aside);
        CHECK(beside(x0 - 3, x0 - 0.01).is_lit());
        CHECK_FALSE(beside(x0 - 3, x0 + 0.01).is_lit());
        CHECK(beside(x1 + 0.01, x1 + 3).is_lit());
        CHECK_FALSE(beside(x1 - 0.01, x1 + 3).is_lit());
    }
    // Below the sill of the inner rectangle as the rays cross the outer one.
    CHECK(tower(0, 8, 1 + drop - 0.5 * std::tan(10 * degree) - 0.01).is_lit());
    CHECK_FALSE(tower(0, 8, 1 + drop + 0.01).is_lit());
}

TEST_CASE("a spot of the window is lit from all directions where one shadow leaves it free",
          "[room]") {
    const auto is_lit = [](const std::vector<room::Building>& buildings, double aside_deg,
                           double up_deg, double size_deg, double reveal_m = 0) {
        Room r = paper_room(reveal_m);
        r.buildings = buildings;
        return lights_a_spot(
            Scene{r}, 0,
            suns_of(square({std::numbers::pi + aside_deg * degree, up_deg * degree},
                           size_deg * degree)));
    };
    const auto tower = [](double x0, double x1, double top, double away = 10) {
        return room::Building{
            "tower", {{x0, -away}, {x1, -away}, {x1, -away - 1}, {x0, -away - 1}}, top, {}};
    };
    CHECK(is_lit({}, 0, 10, 1));
    CHECK_FALSE(is_lit({}, 180, 10, 1));    // from behind
    CHECK_FALSE(is_lit({}, 80, 10, 1, 1));  // the reveal shuts
    CHECK_FALSE(is_lit({}, 0, 60, 1, 1));
    // Three quarters of the opening taken, at either side and from below; then all of it.
    CHECK(is_lit({tower(3.5, 9, 40)}, 0, 10, 0.5));
    CHECK(is_lit({tower(-3, 4.5, 40)}, 0, 10, 0.5));
    CHECK(is_lit({tower(-3, 9, 2.1 + 10 * std::tan(10 * degree))}, 0, 10, 0.5));
    CHECK_FALSE(is_lit({tower(2, 6, 40)}, 0, 10, 0.5));
    CHECK_FALSE(is_lit({tower(2, 4, 40), tower(4, 6, 40)}, 0, 10, 0.5));
    // One half taken by each of two: from below and from a side a corner is left.
    CHECK(is_lit({tower(4, 9, 40), tower(-3, 9, 1.75 + 10 * std::tan(10 * degree))}, 0, 10, 0.5));
    // From one end of the directions the left half is free, from the other the right one.
    CHECK_FALSE(is_lit({tower(3, 5, 40, 40)}, -2, 10, 4));
    CHECK(is_lit({tower(3.9, 4.1, 40, 2)}, -2, 10, 4));
    // A spot is 12 mm wide both ways: panes of a centimetre have none, of two some have.
    const auto panes = [](int upright, int level, double pane_m) {
        Room r = paper_room(0);
        Window& w = r.windows[0];
        w.width_m = upright > 0 ? (upright + 1) * pane_m + upright * 1e-5 : 1;
        w.height_m = level > 0 ? (level + 1) * pane_m + level * 1e-5 : 1;
        w.bars = {upright, level, 1e-5, 0};
        return lights_a_spot(Scene{r}, 0,
                             suns_of(square({std::numbers::pi, 10 * degree}, 0.25 * degree)));
    };
    CHECK_FALSE(panes(5, 0, 0.0119));
    CHECK_FALSE(panes(0, 5, 0.0119));
    CHECK(panes(1, 0, 0.03));
    CHECK(panes(0, 1, 0.03));
    // Broad bars before the inner plane, seen aslant: each hides the spots of the pane that it is
    // seen before, and the other pane is seen through where there are none.
    const auto between_bars = [](bool is_upright, double aside_deg, double up_deg) {
        Room r = paper_room(0.5);
        r.windows[0].bars = {is_upright ? 1 : 0, is_upright ? 0 : 1, is_upright ? 1.6 : 1.2, 0};
        return lights_a_spot(
            Scene{r}, 0,
            suns_of(
                square({std::numbers::pi + aside_deg * degree, up_deg * degree}, 0.01 * degree)));
    };
    const double slant = std::atan(0.6) / degree;
    CHECK(between_bars(false, 0, 3));
    CHECK_FALSE(between_bars(false, 0, slant));
    for (const double aside : {slant, -slant}) {
        CHECK(between_bars(true, aside / 20, 3));
        CHECK_FALSE(between_bars(true, aside, 3));
    }
    // Spots lie close to the edges and between: a tenth of the window is left to see one by, where
    // towers leave a gap, or the reveal the part below what it takes and a roof the part above.
    const double low_sun = std::atan(0.2) / degree;
    for (const double at : {0.1, 0.4, 0.6, 0.9}) {
        CAPTURE(at);
        const double x = 3 + 2 * at;
        CHECK(is_lit({tower(-3, x - 0.1, 40), tower(x + 0.1, 9, 40)}, 0, 10, 0.1));
        const double z = 1 + 1.5 * at;
        CHECK(
            is_lit({tower(-9, 16, z - 0.08 + 0.2 * 10)}, 0, low_sun, 0.1, (2.5 - z - 0.08) / 0.2));
    }
    // A wall that runs straight away from it: from either side the spots are clear, and between the
    // two its shadow passes over them.
    Room before = paper_room(0);
    before.buildings = {{"wall", {{4, -2}, {4.001, -2}, {4.001, -30}, {4, -30}}, 8, {}}};
    const auto from_side = [](double deg) {
        return toward(std::numbers::pi + deg * degree, 12.6 * degree);
    };
    const std::array either{from_side(-26.6), from_side(26.6)};
    CHECK_FALSE(lights_a_spot(Scene{before}, 0, either));
    CHECK(lights_a_spot(Scene{before}, 0, std::span{either}.first(1)));
    // More directions than a cell has are not judged.
    const std::vector<Point3> many(6, from_side(0));
    CHECK_FALSE(lights_a_spot(Scene{paper_room(0)}, 0, many));
    CHECK(lights_a_spot(Scene{paper_room(0)}, 0, std::span{many}.first(5)));
    // A wall that runs away from the window, 3.75 m high, from x = 0 or 8: seen along the ray its
    // top slants across the opening's middle, and the box round its shadow has all of the opening.
    for (const double x : {0.0, 8.0}) {
        const room::Building slanting{
            "wall", {{x, -2}, {x + 0.001, -2}, {x + 0.001, -30}, {x, -30}}, 3.75, {}};
        const double aside = (x == 0 ? 1 : -1) * std::atan(0.5) / degree;
        const double up = std::atan(0.25 * std::cos(aside * degree)) / degree;
        CHECK(is_lit({slanting}, aside, up, 0.3));
        CHECK(is_lit({slanting}, aside, up, 0.3, 0.3));
        // Higher by the opening's height it takes all.
        room::Building higher = slanting;
        higher.height_m += 2.6;
        CHECK_FALSE(is_lit({higher}, aside, up, 0.3));
    }
}
