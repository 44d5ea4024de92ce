#include "keyhour/room/plan.hpp"

#include <catch2/catch.hpp>

#include "support/random_room.hpp"

using namespace keyhour::room;
using keyhour::test::Dice;

TEST_CASE("a ring's area is positive when its corners run counter-clockwise", "[room]") {
    const Ring square{{0, 0}, {2, 0}, {2, 3}, {0, 3}};
    CHECK(signed_area(square) == Approx(6));
    CHECK(signed_area({square.rbegin(), square.rend()}) == Approx(-6));
}

TEST_CASE("a point on the edge counts as inside", "[room]") {
    const Ring ell{{0, 0}, {4, 0}, {4, 2}, {2, 2}, {2, 4}, {0, 4}};
    CHECK(contains(ell, {2, 3}));
    CHECK(contains(ell, {1, 1}));
    CHECK_FALSE(contains(ell, {3, 3}));
}

TEST_CASE("a floor like a bow tie crosses itself", "[room]") {
    CHECK(crosses_itself({{0, 0}, {2, 2}, {2, 0}, {0, 2}}));
    CHECK(crosses_itself({{0, 0}, {2, 0}, {1, 0}, {1, 2}}));
    CHECK(crosses_itself({{0, 0}, {2, 0}, {2, 0}, {0, 2}}));
    CHECK_FALSE(crosses_itself({{0, 0}, {4, 0}, {4, 2}, {2, 2}, {2, 4}, {0, 4}}));
}

namespace {

/// By the angle that the outline turns round a point.
bool winds_round(const Ring& ring, Point2 p) {
    double turn = 0;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Point2 a = ring[i] - p, b = ring[(i + 1) % ring.size()] - p;
        turn += std::atan2(cross(a, b), dot(a, b));
    }
    return std::abs(turn) > 3;
}

Point2 random_point(Dice& dice, double reach) {
    const double x = dice.between(-reach, reach);
    return {x, dice.between(-reach, reach)};
}

/// By the shares of both sides at which their lines meet.
bool meet(Point2 a, Point2 b, Point2 c, Point2 d) {
    const double det = cross(b - a, d - c);
    if (det == 0) return false;
    const double s = cross(c - a, d - c) / det, t = cross(c - a, b - a) / det;
    return s >= 0 && s <= 1 && t >= 0 && t <= 1;
}

}  // namespace

TEST_CASE("an outline has those points inside round which it turns", "[room]") {
    int in = 0;
    for (unsigned n = 0; n < 200; ++n) {
        Dice dice{94000 + n};
        const Ring ring = keyhour::test::shuffled(dice, keyhour::test::outline(dice, 2));
        for (int k = 0; k < 20; ++k) {
            const Point2 p = random_point(dice, 3);
            if (keyhour::test::distance_to_edge(ring, p) < 1e-8) continue;
            CHECK(contains(ring, p) == winds_round(ring, p));
            in += winds_round(ring, p) ? 1 : 0;
        }
        // On the edge and a hair off it, to either side.
        const std::size_t i = dice.index(ring.size());
        const Point2 a = ring[i], ab = ring[(i + 1) % ring.size()] - a;
        const Point2 on = a + dice.unit() * ab, aside = (1 / length(ab)) * Point2{ab.y, -ab.x};
        for (const double off : {-5e-10, 0.0, 5e-10})
            CHECK(contains(ring, on + off * aside));
    }
    CHECK(in > 500);
}

TEST_CASE("an outline crosses itself where two of its sides meet that are no neighbours",
          "[room]") {
    int crossing = 0, simple = 0;
    for (unsigned n = 0; n < 1500; ++n) {
        Dice dice{95000 + n};
        Ring ring;
        const std::size_t corners = 4 + dice.index(4);
        for (std::size_t i = 0; i < corners; ++i)
            ring.push_back(random_point(dice, 2));
        bool meets = false;
        for (std::size_t i = 0; i < corners; ++i)
            for (std::size_t k = i + 2; k < corners; ++k)
                if (i != 0 || k != corners - 1)
                    meets = meets || meet(ring[i], ring[(i + 1) % corners], ring[k],
                                          ring[(k + 1) % corners]);
        CHECK(crosses_itself(ring) == meets);
        ++(meets ? crossing : simple);
        CHECK_FALSE(crosses_itself(keyhour::test::shuffled(dice, keyhour::test::outline(dice, 2))));
    }
    CHECK(crossing > 300);
    CHECK(simple > 100);
}

TEST_CASE("an outline that touches itself, folds back or has a side of no length is unsound",
          "[room]") {
    CHECK(crosses_itself({}));
    CHECK(crosses_itself({{0, 0}, {1, 0}}));
    // A corner on another side, or nearer to it than a thousand-millionth of a metre.
    for (const double off : {0.0, 5e-10})
        CHECK(crosses_itself({{0, 0}, {4, 0}, {4, 3}, {2, off}, {0, 3}}));
    CHECK_FALSE(crosses_itself({{0, 0}, {4, 0}, {4, 3}, {2, 1e-8}, {0, 3}}));
    // A spike that folds back on its neighbour, at each of the corners; a straight corner does not.
    const Ring spike{{0, 0}, {3, 0}, {2, 0}, {2, 2}, {0, 2}};
    for (std::size_t first = 0; first < spike.size(); ++first) {
        Ring ring = spike;
        std::rotate(ring.begin(), ring.begin() + static_cast<long>(first), ring.end());
        CHECK(crosses_itself(ring));
    }
    // Three corners in line, of which any two sides are neighbours.
    const Ring flat{{1, 2}, {4, 3}, {2.5, 2.5}};
    for (std::size_t first = 0; first < 3; ++first)
        CHECK(crosses_itself({flat[first], flat[(first + 1) % 3], flat[(first + 2) % 3]}));
    CHECK_FALSE(crosses_itself({{0, 0}, {1, 0}, {2, 0}, {2, 2}, {0, 2}}));
    CHECK_FALSE(crosses_itself({{0, 0}, {0.5, 0}, {1, 0}, {1, 1}, {0, 1}}));
    CHECK_FALSE(crosses_itself({{0, 0}, {2, 0}, {0, 0.01}}));
    CHECK(crosses_itself({{0, 0}, {2, 0}, {2, 5e-7}, {0, 2}}));
    CHECK_FALSE(crosses_itself({{0, 0}, {2, 0}, {2, 2e-6}, {0, 2}}));
}
