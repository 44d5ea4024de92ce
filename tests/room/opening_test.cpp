// What is told of an opening and of single points: against lines worked out on paper, and against
// rays in random rooms.

#include <catch2/catch.hpp>

#include "paper_room.hpp"
#include "random_case.hpp"
#include "region_points.hpp"
#include "support/face.hpp"

using namespace keyhour;
using namespace keyhour::test;
using room::Edge;
using room::LimitingEdge;
using room::Loss;
using room::Scene;
using room::Surface;

namespace {

Room marked_room(double reveal_m) {
    Room r = paper_room(reveal_m);
    r.marks = {{"mark", {4, 3}, 1.2, 0.2, {}}};
    return r;
}

/// @param aside_deg  to +x, which is to the left seen from inside
Point3 sun_at(double aside_deg, double up_deg) {
    return toward(std::numbers::pi - aside_deg * degree, up_deg * degree);
}

double fraction_of(const std::vector<Loss>& losses, LimitingEdge edge) {
    double sum = 0;
    for (const Loss& loss : losses)
        if (loss.edge == edge) sum += loss.fraction;
    return sum;
}

}  // namespace

TEST_CASE("an opening loses to jamb and head what the reveal takes, to a building its shadow",
          "[room]") {
    Room r = marked_room(0.4);
    // Ten metres off, up to x = 4: it takes all light below its roof, and that half.
    r.buildings = {{"hall", {{-60, -10}, {4, -10}, {4, -12}, {-60, -12}}, 40, {}}};
    const auto losses = Scene{r}.opening_losses(0, sun_at(0, 20));
    CHECK(losses.size() == 3);
    CHECK(fraction_of(losses, {Edge::building, 0}) == Approx(0.5));
    CHECK(fraction_of(losses, {Edge::head, 0}) == Approx(0.4 * std::tan(20 * degree) / 1.5));
    for (const double aside : {-35.0, 35.0}) {
        CAPTURE(aside);
        const auto aslant = Scene{marked_room(0.4)}.opening_losses(0, sun_at(aside, 20));
        CHECK(aslant.size() == 2);
        const Edge jamb = aside > 0 ? Edge::left_jamb : Edge::right_jamb;
        CHECK(fraction_of(aslant, {jamb, 0}) == Approx(0.4 * std::tan(35 * degree) / 2));
        CHECK(fraction_of(aslant, {Edge::head, 0}) ==
              Approx(0.4 * std::tan(20 * degree) / std::cos(35 * degree) / 1.5));
    }
    // The reveal shuts: no more than all is lost.
    const auto shut = Scene{marked_room(0.4)}.opening_losses(0, sun_at(80, 20));
    CHECK(fraction_of(shut, {Edge::left_jamb, 0}) == 1);
    const auto steep = Scene{marked_room(0.4)}.opening_losses(0, sun_at(0, 80));
    CHECK(fraction_of(steep, {Edge::head, 0}) == 1);
    // A mark loses then what lies beyond the planes through either jamb: all of it to both.
    const auto of_shut = Scene{marked_room(0.4)}.losses(0, 0, sun_at(80, 20));
    for (const Edge jamb : {Edge::left_jamb, Edge::head})
        CHECK(fraction_of(of_shut, {jamb, 0}) == 1);
    // The sun is down, or behind the wall past one jamb or the other.
    const auto down = Scene{r}.opening_losses(0, sun_at(0, -5));
    REQUIRE(down.size() == 1);
    CHECK(down[0].edge == LimitingEdge{Edge::horizon, 0});
    CHECK(down[0].fraction == 1);
    REQUIRE(Scene{r}.losses(0, 0, sun_at(0, -5)).size() == 1);
    CHECK(Scene{r}.losses(0, 0, sun_at(0, -5))[0].edge == LimitingEdge{Edge::horizon, 0});
    for (const double aside : {-100.0, 100.0}) {
        const auto behind = Scene{r}.opening_losses(0, sun_at(aside, 20));
        REQUIRE(behind.size() == 1);
        CHECK(behind[0].edge == LimitingEdge{aside > 0 ? Edge::left_jamb : Edge::right_jamb, 0});
        CHECK(behind[0].fraction == 1);
        // The mark's own losses say the same.
        const auto of_mark = Scene{r}.losses(0, 0, sun_at(aside, 20));
        REQUIRE(of_mark.size() == 1);
        CHECK(of_mark[0].edge == behind[0].edge);
    }
    const auto from_behind = Scene{r}.open_areas(0, sun_at(180, 10));
    CHECK(from_behind.panes_m2 == 0);
    CHECK(from_behind.free_m2 == 0);
    // Of two panes of 0.2 m beside a broad bar at the outer face, one is seen, 0.3 m aside.
    Room barred = marked_room(0.5);
    barred.windows[0].bars = {1, 0, 1.6, 0};
    for (const double aside : {-1.0, 1.0})
        CHECK(Scene{barred}.open_areas(0, sun_at(aside * std::atan(0.6) / degree, 0)).panes_m2 ==
              Approx(0.2 * 1.5));
}

TEST_CASE("how far a mark's middle lies within the opening is told along the ray", "[room]") {
    int beyond[4] = {}, within = 0;
    for (unsigned n = 0; n < 300; ++n) {
        Dice dice{101000 + n};
        Room r = marked_room(dice.between(0, 0.6));
        r.marks[0].at = {dice.between(1, 7), dice.between(0.5, 5.5)};
        r.marks[0].height_m = dice.between(0.3, 3);
        const double aside = dice.between(-60, 60);
        const Point3 sun = sun_at(aside, dice.between(1, 45));
        double least = 1e9;
        Edge edge = Edge::none;
        for (const double y : {0.0, -r.windows[0].reveal_m}) {
            const double t = (y - r.marks[0].at.y) / sun.y;
            const double x = r.marks[0].at.x + t * sun.x, z = r.marks[0].height_m + t * sun.z;
            for (const auto& [within_m, of] : {std::pair{5 - x, Edge::left_jamb},
                                               {x - 3, Edge::right_jamb},
                                               {z - 1, Edge::sill},
                                               {2.5 - z, Edge::head}})
                if (within_m < least) {
                    least = within_m;
                    edge = of;
                }
        }
        const Scene scene{r};
        CAPTURE(n, least, static_cast<int>(edge));
        CHECK(scene.centre_margin(0, 0, sun) == Approx(least).margin(1e-9));
        if (least >= 0) {
            ++within;
            CHECK(scene.farthest_edge(0, 0, sun) == LimitingEdge{});
        } else {
            CHECK(scene.farthest_edge(0, 0, sun) == LimitingEdge{edge, 0});
            ++beyond[static_cast<int>(edge) - static_cast<int>(Edge::head)];
        }
    }
    CHECK(within > 20);
    for (const int count : beyond)
        CHECK(count > 5);
    const Scene scene{marked_room(0.3)};
    for (const Point3 sun : {sun_at(180, 10), sun_at(0, -1)})
        CHECK(scene.centre_margin(0, 0, sun) < -100);
}

TEST_CASE("an opening has its corners and its middle where the plan says", "[room]") {
    const Scene scene{marked_room(0.2)};
    // Left below, right below, right above, left above; seen from inside left is at x = 5.
    const Point3 expected[] = {{5, 0, 1}, {3, 0, 1}, {3, 0, 2.5}, {5, 0, 2.5}};
    const auto corners = scene.corners(0);
    REQUIRE(corners.size() == 4);
    for (std::size_t i = 0; i < 4; ++i) {
        CHECK(corners[i].x == Approx(expected[i].x));
        CHECK(corners[i].y == Approx(0).margin(1e-12));
        CHECK(corners[i].z == Approx(expected[i].z));
    }
    CHECK(scene.middle(0).x == Approx(4));
    CHECK(scene.middle(0).z == Approx(1.75));
    CHECK_FALSE(scene.has_outside(0));
}

namespace {

/// Does the segment cross a side of the floor, but for the window's own?
bool crosses_a_wall(const Room& r, std::size_t wall, Point2 from, Point2 to) {
    for (std::size_t i = 0; i < r.floor.size(); ++i) {
        if (i == wall) continue;
        const Point2 a = r.floor[i], b = r.floor[(i + 1) % r.floor.size()];
        if (cross(to - from, a - from) * cross(to - from, b - from) < 0 &&
            cross(b - a, from - a) * cross(b - a, to - a) < 0)
            return true;
    }
    return false;
}

}  // namespace

TEST_CASE("a window faces a mark that sees some of it past the inner walls", "[room]") {
    int seen = 0, hidden = 0;
    for (unsigned n = 0; n < 400; ++n) {
        Dice dice{102000 + n};
        Room r = random_room(dice);
        r.objects.clear();
        r.marks.clear();
        for (int tries = 0; tries < 30 && r.marks.size() < 4; ++tries) {
            const double x = dice.between(-6, 6);
            const Point2 at = r.floor[0] + Point2{x, dice.between(-6, 6)};
            if (room::contains(r.floor, at) && test::distance_to_edge(r.floor, at) > 0.02)
                r.marks.push_back({"mark", at, 1, 0.01, {}});
        }
        const Scene scene{r};
        for (std::size_t w = 0; w < r.windows.size(); ++w)
            for (std::size_t m = 0; m < r.marks.size(); ++m) {
                const Window& window = r.windows[w];
                const room::WallFrame f = room::wall_frame(r.floor, window.wall);
                const Point2 at = r.marks[m].at;
                int free = 0;
                constexpr int parts = 40;
                for (int i = 0; i <= parts; ++i) {
                    const double u = window.left_m + window.width_m * i / parts;
                    const Point2 from = f.left_corner + u * f.u - 1e-7 * f.n;
                    free += crosses_a_wall(r, window.wall, from, at) ? 0 : 1;
                }
                const bool is_before = dot(at - f.left_corner, f.n) < 0;
                if (!is_before) free = 0;
                CAPTURE(n, w, m, free);
                // Looked at from the mark, what is seen is one stretch of the opening: five of 40
                // parts are no less than two of 16.
                if (free >= 5) CHECK(scene.faces(w, m));
                if (free == 0) CHECK_FALSE(scene.faces(w, m));
                ++(free > 0 ? seen : hidden);
            }
    }
    CHECK(seen > 500);
    CHECK(hidden > 100);
}

TEST_CASE("down the ray from the sun the next surface is the nearest that it meets", "[room]") {
    int floors = 0, walls = 0, objects = 0;
    for (unsigned n = 0; n < 300; ++n) {
        Dice dice{103000 + n};
        const Room r = random_room(dice);
        const Scene scene{r};
        const std::vector<Face> faces = faces_of(r);
        for (int k = 0; k < 6; ++k) {
            const double x = dice.between(-4, 4);
            const Point2 at = r.floor[0] + Point2{x, dice.between(-4, 4)};
            const Point3 from{at.x, at.y, dice.between(0.2, r.height_m)};
            if (!room::contains(r.floor, at) || distance_to_edge(r.floor, at) < 1e-3) continue;
            if (std::ranges::any_of(r.objects, [&](const Object& o) {
                    return from.z < o.height_m + 1e-3 && (room::contains(o.footprint, at) ||
                                                          distance_to_edge(o.footprint, at) < 1e-3);
                }))
                continue;
            const Point3 sun = direction(dice.between(0, 6.28), dice.between(0.02, 1.5));
            double nearest = 1e9, second = 1e9;
            const Face* met = nullptr;
            for (const Face& face : faces) {
                const double down = -dot(sun, face.normal);
                if (down >= 0) continue;
                const double t = -face.height_over(from) / down;
                if (t < 0 || !inside({face.outline}, face.flat(from - t * sun))) continue;
                if (t < nearest) {
                    second = nearest;
                    nearest = t;
                    met = &face;
                } else {
                    second = std::min(second, t);
                }
            }
            // Two at once: the ray meets an edge.
            if (!met || second - nearest < 1e-6) continue;
            const Surface surface = scene.surface_down_sun(from, sun);
            CAPTURE(n, k, nearest);
            const Surface expected{met->part == Part::floor  ? Surface::Kind::floor
                                   : met->part == Part::wall ? Surface::Kind::wall
                                                             : Surface::Kind::object,
                                   met->index};
            CHECK(words(surface, r) == words(expected, r));
            ++(met->part == Part::floor ? floors : met->part == Part::wall ? walls : objects);
        }
    }
    CHECK(floors > 50);
    CHECK(walls > 100);
    CHECK(objects > 20);
}

TEST_CASE("a ray down the sun ends on the first of two tables, whichever is told first", "[room]") {
    Room r = marked_room(0);
    const Object high{"high", {{3, 2}, {4, 2}, {4, 3}, {3, 3}}, 1};
    const Object low{"low", {{3, 3}, {4, 3}, {4, 4}, {3, 4}}, 0.5};
    const Point3 sun = sun_at(0, 45);  // the ray goes down and to +y
    for (const bool low_first : {false, true}) {
        r.objects = low_first ? std::vector{low, high} : std::vector{high, low};
        // Through (3.5, 2.8) at 1 m, on to (3.5, 3.3) at 0.5 m.
        CHECK(words(Scene{r}.surface_down_sun({3.5, 2.3, 1.5}, sun), r) == "object high");
        CHECK(words(Scene{r}.surface_down_sun({3.5, 3.1, 0.9}, sun), r) == "object low");
        // One through the other: what lies within the first is not met.
        r.objects[low_first ? 0 : 1].footprint = {{3.2, 2.5}, {3.8, 2.5}, {3.8, 3.5}, {3.2, 3.5}};
        r.objects[low_first ? 0 : 1].height_m = 0.9;
        CHECK(words(Scene{r}.surface_down_sun({3.5, 2.3, 1.5}, sun), r) == "object high");
    }
}

TEST_CASE("a ray down the sun ends on a table close below", "[room]") {
    Room r = marked_room(0);
    r.objects = {{"bench", {{3, 2}, {4, 2}, {4, 3}, {3, 3}}, 1}};
    // 45 degrees down and to +y: 0.3 m above the top it has 0.42 m to go.
    CHECK(words(Scene{r}.surface_down_sun({3.5, 2.3, 1.3}, sun_at(0, 45)), r) == "object bench");
    CHECK(words(Scene{r}.surface_down_sun({3.5, 2.3, 1.01}, sun_at(0, 45)), r) == "object bench");
}

TEST_CASE("a camera sees half its angle of view to either side, however it stands to the walls",
          "[room]") {
    Room r = test::paper_room(0);
    for (const Point2 mark : {Point2{4, 5}, Point2{2, 5}, Point2{6, 2}, Point2{0.5, 0.4}}) {
        r.marks = {{"stool", mark, 1.5, 0.1, {}}};
        room::Camera camera;
        camera.at = {1, 1};
        camera.height_m = 1.5;
        const double ahead = std::atan2(mark.y - 1, mark.x - 1), degree = std::numbers::pi / 180;
        const auto sees = [&](double left_deg, double up_deg) {
            const double way = ahead + left_deg * degree;
            return room::in_frame(r, camera,
                                  Point3{std::cos(way), std::sin(way), std::tan(up_deg * degree)});
        };
        // 40 degrees across, 22.5 upright.
        for (const double side : {-1.0, 1.0}) {
            CHECK(sees(19.9 * side, 0));
            CHECK_FALSE(sees(20.1 * side, 0));
            CHECK(sees(0, 11.2 * side));
            CHECK_FALSE(sees(0, 11.3 * side));
        }
        CHECK_FALSE(sees(180, 0));
    }
}

TEST_CASE("a cupboard of less than a square metre has its windows' frames as a hall has",
          "[room]") {
    const room::Ring left{{0, 0}, {0.8, 0}, {0.8, 0.9}, {0, 0.9}};
    const room::Ring right{{0.8, 0}, {0, 0}, {0, 0.9}, {0.8, 0.9}};  // the other way round
    for (const room::Ring& floor : {left, right}) {
        const room::WallFrame f = room::wall_frame(floor, 0);
        // Looking out along -y the left hand is where x is larger.
        CHECK(f.left_corner == Point2{0.8, 0});
        CHECK(f.u == Point2{-1, 0});
        CHECK(f.n.x == 0);
        CHECK(f.n.y == -1);
        CHECK(f.width_m == Approx(0.8));
    }
}

TEST_CASE("an edge is told in words with the name of what it belongs to", "[room]") {
    Room r = marked_room(0);
    r.objects = {{"table", {{1, 1}, {2, 1}, {2, 2}}, 0.7}};
    r.buildings = {{"mill", {{1, -9}, {2, -9}, {2, -8}}, 7, {}},
                   {"lime", {{5, -9}, {6, -9}, {6, -8}}, 7, {}, Building::Kind::tree}};
    using enum Edge;
    const std::pair<Edge, std::string> plain[] = {{none, "none"},
                                                  {head, "head"},
                                                  {sill, "sill"},
                                                  {left_jamb, "left jamb"},
                                                  {right_jamb, "right jamb"},
                                                  {bar, "bar"},
                                                  {object, "object table"},
                                                  {building, "building mill"},
                                                  {own_walls, "own walls outside"},
                                                  {wall, "wall window"},
                                                  {horizon, "horizon"},
                                                  {key_angle, "key angle"},
                                                  {altitude, "altitude"},
                                                  {frame, "camera frame"},
                                                  {cover, "sun through window"},
                                                  {midnight, "midnight"}};
    for (const auto& [edge, expected] : plain)
        CHECK(words(LimitingEdge{edge, 0}, r) == expected);
    CHECK(words(LimitingEdge{building, 1}, r) == "tree lime");
    CHECK(words(LimitingEdge{wall, 2}, r) == "wall back");
    CHECK(words(Surface{Surface::Kind::object, 0}, r) == "object table");
}
