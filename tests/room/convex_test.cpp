// The small geometry of the inner loop against slower ways to the same figures.

#include "room/convex.hpp"

#include <catch2/catch.hpp>

#include "keyhour/room/scene.hpp"
#include "room/beam.hpp"
#include "support/dice.hpp"

using namespace keyhour::room;
using keyhour::test::Dice;

namespace {

constexpr double pi = std::numbers::pi;

/// A convex outline, counter-clockwise, of corners on a turned ellipse.
Convex random_convex(Dice& dice, Point2 middle, double size) {
    std::vector<double> angles;
    for (int i = dice.whole(3, 9); i > 0; --i)
        angles.push_back(dice.between(0, 2 * pi));
    std::sort(angles.begin(), angles.end());
    const double a = dice.between(0.05, 1) * size, b = dice.between(0.05, 1) * size,
                 turn = dice.between(0, pi);
    Convex c;
    for (const double t : angles) {
        const double x = a * std::cos(t), y = b * std::sin(t);
        c.add(middle.x + x * std::cos(turn) - y * std::sin(turn),
              middle.y + x * std::sin(turn) + y * std::cos(turn));
    }
    return c;
}

/// By strips: the outline and the disc each take an interval of every line y = const.
double area_by_strips(const Convex& c, double r) {
    constexpr int n = 4000;
    double sum = 0;
    for (int k = 0; k < n; ++k) {
        const double y = r * (2 * (k + 0.5) / n - 1);
        double left = 1e300, right = -1e300;
        for (int i = 0, j = c.n - 1; i < c.n; j = i++) {
            if ((c.y[i] > y) == (c.y[j] > y)) continue;
            const double x = c.x[j] + (y - c.y[j]) / (c.y[i] - c.y[j]) * (c.x[i] - c.x[j]);
            left = std::min(left, x);
            right = std::max(right, x);
        }
        const double half = std::sqrt(r * r - y * y);
        sum += std::max(0.0, std::min(right, half) - std::max(left, -half)) * 2 * r / n;
    }
    return sum;
}

/// Parallel rays as coverage has them.
struct Parallel {
    static constexpr bool is_parallel = true;
    double kx, kz;
    [[nodiscard]] Point2 seen(Point2 q, double z) const { return {q.x - q.y * kx, z - q.y * kz}; }
};

template <class Rays>
void check_shadow(const UprightPiece& piece, const Rays& rays) {
    std::vector<Point2> p;
    for (const Point2 q : piece.footprint)
        for (const double z : {piece.bottom, piece.top})
            p.push_back(rays.seen(q, z));
    const Convex expected = hull(p.data(), static_cast<int>(p.size()));
    const Convex found = shadow(piece, rays);
    CHECK(area(found) == Approx(area(expected)).margin(1e-9));
    const Box2 a = bounds(found), b = bounds(expected), c = shadow_bounds(piece, rays);
    for (const Box2& box : {b, c}) {
        CHECK(a.x0 == Approx(box.x0).margin(1e-9));
        CHECK(a.x1 == Approx(box.x1).margin(1e-9));
        CHECK(a.y0 == Approx(box.y0).margin(1e-9));
        CHECK(a.y1 == Approx(box.y1).margin(1e-9));
    }
}

UprightPiece random_piece(Dice& dice, double w_from, double w_to) {
    UprightPiece piece;
    if (dice.chance(0.2)) {  // a wall is a line
        piece.footprint = {{dice.between(-5, 5), dice.between(w_from, w_to)},
                           {dice.between(-5, 5), dice.between(w_from, w_to)}};
    } else {
        const double half = (w_to - w_from) / 2;
        const Convex c = random_convex(dice, {dice.between(-5, 5), w_from + half}, half);
        for (int i = 0; i < c.n; ++i)
            piece.footprint.push_back({c.x[i], c.y[i]});
    }
    piece.bottom = dice.between(-1, 1);
    piece.top = piece.bottom + dice.between(0.1, 4);
    return piece;
}

/// One upright window of 1 m in a wall along y = 0 of a room to the north of it.
Room plain_room(double reveal_m) {
    Room room;
    room.floor = {{0, 0}, {4, 0}, {4, 4}, {0, 4}};
    room.walls = {"south", "east", "north", "west"};
    room.height_m = 2.5;
    Window window;
    window.name = "window";
    window.wall = 0;
    window.left_m = 1.5;
    window.width_m = 1;
    window.sill_m = 0.8;
    window.height_m = 1.2;
    window.reveal_m = reveal_m;
    room.windows = {window};
    return room;
}

}  // namespace

TEST_CASE("a disc shares with an outline what strips of both share", "[room]") {
    Dice dice{77};
    int whole = 0, none = 0, cut = 0;
    for (int n = 0; n < 600; ++n) {
        const double r = dice.between(0.1, 1);
        const double size = dice.chance(0.3) ? 8 : 2;
        const Point2 middle{dice.between(-1, 1), dice.between(-1, 1)};
        const Convex c = random_convex(dice, middle, size);
        const double found = area_in_disc(c, r);
        CAPTURE(n, r, c.n);
        CHECK(found == Approx(area_by_strips(c, r)).margin(2e-3 * r * r));
        const double share = found / (pi * r * r);
        ++(share > 0.999 ? whole : share < 0.001 ? none : cut);
    }
    CHECK(whole > 10);
    CHECK(none > 10);
    CHECK(cut > 100);
}

TEST_CASE("an outline without corners, or with its corners in one place, takes nothing of a disc",
          "[room]") {
    Convex c;
    CHECK(area_in_disc(c, 1) == 0);
    for (int i = 0; i < 4; ++i)
        c.add(3, 2);
    CHECK(area_in_disc(c, 1) == 0);
    // A sliver beside the disc, on a line through its middle.
    Convex sliver;
    sliver.add(2, 0);
    sliver.add(3, 0);
    sliver.add(3, 1e-17);
    CHECK(area_in_disc(sliver, 1) == 0);
}

TEST_CASE("an upright piece's shadow is the hull of its corners'", "[room]") {
    Dice dice{78};
    for (int n = 0; n < 500; ++n) {
        CAPTURE(n);
        check_shadow(random_piece(dice, 0.5, 6),
                     Parallel{dice.between(-3, 3), dice.between(0.01, 3)});
        // A lamp stands above, between and below the piece's bottom and top.
        check_shadow(random_piece(dice, -4, -0.2),
                     PointRays{{dice.between(-3, 3), dice.between(0.5, 5), dice.between(-2, 6)},
                               {-9, 9, -9, 9}});
    }
}

TEST_CASE("a mark that reaches into the window loses light to what stands before it", "[room]") {
    // Sorting out what no ray can meet must not look from the mark's middle alone.
    for (const double reveal : {0.0, 0.3}) {
        Room room = plain_room(reveal);
        Mark mark;
        mark.name = "mark";
        mark.at = {2, 0.1};
        mark.height_m = 1.4;
        mark.radius_m = 0.3;
        room.marks = {mark};
        const Point3 sun{0, -std::cos(0.3), std::sin(0.3)};  // the plan's south
        const double free = Scene{room}.coverage(0, 0, sun);
        CHECK(free > 0.9);
        Building building;
        building.name = "opposite";
        building.footprint = {{2, -3}, {4, -3}, {4, -2}, {2, -2}};
        building.height_m = 5;
        room.buildings = {building};
        CHECK(Scene{room}.coverage(0, 0, sun) == Approx(free / 2).margin(1e-6));
    }
}
