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

namespace {

/// Does a point lie to the left of all edges, or how near is it to one? Positive inside.
double depth_in(const Convex& c, Point2 p) {
    double least = c.n >= 3 ? 1e9 : -1e9;
    for (int i = 0, j = c.n - 1; i < c.n; j = i++) {
        const Point2 a{c.x[j], c.y[j]}, ab = Point2{c.x[i], c.y[i]} - a;
        if (length(ab) > 1e-12) least = std::min(least, cross(ab, p - a) / length(ab));
    }
    return least;
}

Point2 random_point(Dice& dice) {
    const double x = dice.between(-3, 3);
    return {x, dice.between(-3, 3)};
}

constexpr double near_m = 1e-7;

}  // namespace

TEST_CASE("what a line, a box or an outline cuts off is what lies beyond it", "[room]") {
    Dice dice{79};
    int in = 0;
    for (int n = 0; n < 300; ++n) {
        const Point2 middle = 0.3 * random_point(dice), other = 0.5 * random_point(dice);
        const Convex c = random_convex(dice, middle, 3);
        const Convex by = random_convex(dice, other, 3);
        const double turn = dice.between(0, 2 * pi), off = dice.between(-1, 1);
        const Point2 from = random_point(dice);
        const Box2 box{from.x, from.x + dice.between(0.2, 4), from.y, from.y + 2};
        const Convex by_line = clip(c, std::cos(turn), std::sin(turn), off);
        const Convex by_box = clip(c, box), by_outline = clip(c, by);
        CAPTURE(n);
        CHECK(area(by_outline) == Approx(area(clip(by, c))).margin(1e-9));
        for (int k = 0; k < 60; ++k) {
            const Point2 p = random_point(dice);
            const double whole = depth_in(c, p);
            const double line = off - std::cos(turn) * p.x - std::sin(turn) * p.y;
            const double boxed = std::min({p.x - box.x0, box.x1 - p.x, p.y - box.y0, box.y1 - p.y});
            const double common = depth_in(by, p);
            for (const auto& [cut, depth] :
                 {std::pair{&by_line, line}, {&by_box, boxed}, {&by_outline, common}}) {
                if (std::min(std::abs(whole), std::abs(depth)) < near_m) continue;
                CHECK((depth_in(*cut, p) > 0) == (whole > 0 && depth > 0));
            }
            in += whole > 0 && common > 0 ? 1 : 0;
        }
        // The box round an outline touches it on all four sides.
        const Box2 b = bounds(c);
        double x0 = 1e9, x1 = -1e9, y0 = 1e9, y1 = -1e9;
        for (int i = 0; i < c.n; ++i) {
            x0 = std::min(x0, c.x[i]);
            x1 = std::max(x1, c.x[i]);
            y0 = std::min(y0, c.y[i]);
            y1 = std::max(y1, c.y[i]);
        }
        CHECK((b.x0 == x0 && b.x1 == x1 && b.y0 == y0 && b.y1 == y1));
    }
    CHECK(in > 200);
    CHECK(bounds(Convex{}).is_empty());
}

TEST_CASE("an outline that has no room for more corners drops them", "[room]") {
    Convex c;
    for (int i = 0; i < Convex::capacity + 9; ++i)
        c.add(i, 0);
    CHECK(c.n == Convex::capacity);
    CHECK(c.x[Convex::capacity - 1] == Convex::capacity - 1);
    const Convex copy = c;
    CHECK(copy.n == c.n);
    CHECK(copy.x[3] == 3);
}

TEST_CASE("a hull's corners are points, turn left, and have all points between them", "[room]") {
    Dice dice{80};
    for (int n = 0; n < 400; ++n) {
        std::vector<Point2> points;
        for (int i = dice.whole(3, 30); i > 0; --i) {
            const Point2 p = random_point(dice);
            // Some in rows, some twice: what a box's corners give.
            points.push_back(n % 2 == 0 ? p : Point2{std::round(p.x), std::round(p.y)});
        }
        auto sorted = points;
        const Convex h = hull(sorted.data(), static_cast<int>(sorted.size()));
        CAPTURE(n, points.size(), h.n);
        if (h.n < 3) {
            for (const Point2 p : points)
                CHECK(cross(points[1] - points[0], p - points[0]) == 0);
            continue;
        }
        for (int i = 0; i < h.n; ++i) {
            const Point2 a{h.x[i], h.y[i]}, b{h.x[(i + 1) % h.n], h.y[(i + 1) % h.n]},
                c{h.x[(i + 2) % h.n], h.y[(i + 2) % h.n]};
            CHECK(cross(b - a, c - b) > 0);
            CHECK(std::ranges::find(points, a) != points.end());
        }
        for (const Point2 p : points)
            CHECK(depth_in(h, p) > -1e-12);
    }
}

TEST_CASE("an outline holds a box, or stands apart from another, where their corners say so",
          "[room]") {
    Dice dice{81};
    int held = 0, apart_ones = 0, meeting = 0;
    for (int n = 0; n < 2000; ++n) {
        const Convex c = random_convex(dice, {0, 0}, 3);
        const Point2 from = 0.4 * random_point(dice);
        const Box2 box{from.x, from.x + dice.between(0, 0.6), from.y,
                       from.y + dice.between(0, 0.6)};
        double least = 1e9;
        for (const double x : {box.x0, box.x1})
            for (const double y : {box.y0, box.y1})
                least = std::min(least, depth_in(c, {x, y}));
        if (std::abs(least) > near_m) CHECK(holds(c, box) == (least > 0));
        held += least > 0 ? 1 : 0;
        const Convex other = random_convex(dice, 0.7 * random_point(dice), 2);
        const double common_m2 = area(clip(c, other));
        const bool is_apart = apart(c, other) || apart(other, c);
        CAPTURE(n, common_m2);
        if (common_m2 > 1e-6) CHECK_FALSE(is_apart);
        if (common_m2 == 0) CHECK(is_apart);
        ++(is_apart ? apart_ones : meeting);
    }
    CHECK(held > 100);
    CHECK(apart_ones > 100);
    CHECK(meeting > 100);
    CHECK_FALSE(holds(Convex{}, {0, 0, 0, 0}));
}

TEST_CASE("what outlines leave of another is where none of them lies", "[room]") {
    Dice dice{82};
    for (int n = 0; n < 60; ++n) {
        const Convex part = random_convex(dice, {0, 0}, 3);
        std::vector<Convex> covers;
        for (int i = dice.whole(0, 5); i > 0; --i)
            covers.push_back(random_convex(dice, 0.5 * random_point(dice), 2));
        covers.resize(covers.size() + (n % 2 == 0 ? 1 : 0));  // one without corners
        std::vector<Convex> pieces;
        for_each_uncovered(part, covers.data(), static_cast<int>(covers.size()),
                           [&](const Convex& piece) { pieces.push_back(piece); });
        double sum = 0;
        for (const Convex& piece : pieces)
            sum += area(piece);
        CAPTURE(n, covers.size());
        CHECK(uncovered(part, covers.data(), static_cast<int>(covers.size()),
                        [](const Convex& c) { return area(c); }) == Approx(sum));
        for (int k = 0; k < 100; ++k) {
            const Point2 p = random_point(dice);
            const double whole = depth_in(part, p);
            double cover = -1e9;
            for (const Convex& c : covers)
                cover = std::max(cover, depth_in(c, p));
            int found = 0;
            bool is_near = std::abs(whole) < near_m || std::abs(cover) < near_m;
            for (const Convex& piece : pieces) {
                found += depth_in(piece, p) > 0 ? 1 : 0;
                is_near = is_near || std::abs(depth_in(piece, p)) < near_m;
            }
            if (!is_near) CHECK(found == (whole > 0 && cover < 0 ? 1 : 0));
        }
    }
}
