// What a lamp throws through an opening, by similar triangles: the opening seen from the lamp is
// its inner rectangle and its outer one, larger by the ratio of their distances.

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "keyhour/room/lamp_throw.hpp"
#include "paper_room.hpp"
#include "support/dice.hpp"

using namespace keyhour;
using namespace keyhour::room;
using test::Dice;
using test::paper_room;

namespace {

constexpr double reveal_m = 0.4;

/// A stretch of the inner plane.
struct Span {
    double from, to;
    [[nodiscard]] double size() const { return std::max(0.0, to - from); }
    [[nodiscard]] Span and_also(Span o) const {
        return {std::max(from, o.from), std::min(to, o.to)};
    }
};

/// What stands `depth` before the inner plane, thrown onto it by a lamp `away` before it.
Span thrown(Span s, double lamp, double away, double depth) {
    const double k = away / (away - depth);
    return {lamp + k * (s.from - lamp), lamp + k * (s.to - lamp)};
}

/// Through inner and outer edges.
Span passing(Span s, double lamp, double away) {
    return s.and_also(thrown(s, lamp, away, reveal_m));
}

constexpr Span across{3, 5}, upward{1, 2.5};

Point3 random_lamp(Dice& dice) {
    const double x = dice.between(-2, 10), y = -reveal_m - dice.between(0.2, 6);
    return {x, y, dice.between(-1, 6)};
}

}  // namespace

TEST_CASE("a lamp's light enters where inner and outer edges of the opening leave some",
          "[room][lamp]") {
    int in = 0, out = 0;
    const Room r = paper_room(reveal_m);
    const Scene scene{r};
    for (unsigned n = 0; n < 400; ++n) {
        Dice dice{111000 + n};
        Point3 at = random_lamp(dice);
        if (dice.chance(0.5)) at.y = -reveal_m - dice.between(0.01, 0.4);
        const Span u = passing(across, at.x, -at.y), z = passing(upward, at.z, -at.y);
        const LampThrow lamp{scene, 0, at};
        const bool enters = u.size() > 0 && z.size() > 0;
        CAPTURE(n, at.x, at.y, at.z);
        CHECK(lamp.enters() == enters);
        CHECK(lamp.open_share() == Approx(u.size() * z.size() / 3).margin(1e-12));
        // A low lamp's light all lands on the ceiling.
        const bool lands = !lamp.patches(0.1).empty() || lamp.on_ceiling(0.1);
        if (u.size() * z.size() < 1e-6 || u.size() * z.size() > 1e-3)
            CHECK(lands == (u.size() * z.size() > 1e-3));
        ++(enters ? in : out);
    }
    CHECK(in > 100);
    CHECK(out > 50);
}

TEST_CASE("a lamp behind the wall's outer face loses all to the jamb on its side", "[room][lamp]") {
    Room r = paper_room(reveal_m);
    r.marks = {{"mark", {4, 3}, 1.2, 0.2, {}}, {"outside", {4, -0.5}, 1.2, 0.2, {}}};
    const Scene scene{r};
    for (const auto& [x, edge] : {std::pair{9.0, Edge::left_jamb},
                                  {4.1, Edge::left_jamb},
                                  {3.9, Edge::right_jamb},
                                  {-1.0, Edge::right_jamb}}) {
        CAPTURE(x);
        for (const double y : {1.0, -0.2, -reveal_m}) {
            const auto losses = LampThrow{scene, 0, {x, y, 1.5}}.losses(0);
            REQUIRE(losses.size() == 1);
            CHECK(losses[0].edge == LimitingEdge{edge, 0});
            CHECK(losses[0].fraction == 1);
        }
        // What stands on its own side of the wall has nothing of it either.
        const LampThrow before{scene, 0, {x, -6, 1.5}};
        CHECK(before.coverage(1) == 0);
        REQUIRE(before.losses(1).size() == 1);
        CHECK(before.losses(1)[0].edge == LimitingEdge{edge, 0});
    }
}

TEST_CASE("a lamp's light loses of the opening what bars and buildings stand in", "[room][lamp]") {
    for (unsigned n = 0; n < 100; ++n) {
        Dice dice{112000 + n};
        Room r = paper_room(reveal_m);
        const Point3 at{dice.between(2.5, 5.5), -reveal_m - dice.between(3, 6), dice.between(1, 3)};
        const double away = -at.y, set_back = dice.between(0, reveal_m);
        r.windows[0].bars = {1, 1, 0.1, set_back};
        // Beyond the bars a wall that ends at x = 4.5, its near side half way to the lamp.
        const double wall = 0.5 * (away + reveal_m), depth = reveal_m - set_back;
        const double end = at.x + (4.5 - at.x) * (away - wall) / away;
        r.buildings = {{"wall",
                        {{-50, -wall}, {end, -wall}, {end, -wall - 1e-6}, {-50, -wall - 1e-6}},
                        30,
                        {}}};
        const Span u = passing(across, at.x, away).and_also({4.5, 9});
        const Span z = passing(upward, at.z, away);
        const double wide = u.size() - u.and_also(thrown({3.95, 4.05}, at.x, away, depth)).size();
        const double tall = z.size() - z.and_also(thrown({1.7, 1.8}, at.z, away, depth)).size();
        CAPTURE(n, at.x, at.y, at.z);
        const Scene scene{r};
        const LampThrow lamp{scene, 0, at};
        CHECK(lamp.open_share() == Approx(wide * tall / 3).margin(1e-6));
        // The wall beyond the lamp takes nothing.
        r.buildings[0].footprint = {
            {-50, at.y - 0.1}, {50, at.y - 0.1}, {50, at.y - 1}, {-50, at.y - 1}};
        const Scene beyond{r};
        const Span all = passing(across, at.x, away);
        const double free =
            all.size() - all.and_also(thrown({3.95, 4.05}, at.x, away, depth)).size();
        CHECK(LampThrow{beyond, 0, at}.open_share() == Approx(free * tall / 3).margin(1e-9));
    }
}

TEST_CASE("the parts of an opening that a lamp sees are told by place, way and solid angle",
          "[room][lamp]") {
    for (unsigned n = 0; n < 60; ++n) {
        Dice dice{113000 + n};
        Room r = paper_room(reveal_m);
        const Point3 at{dice.between(2, 6), -reveal_m - dice.between(0.5, 5), dice.between(0, 4)};
        r.windows[0].bars = {1, 0, 0.2, reveal_m};  // in the inner plane
        const Span u = passing(across, at.x, -at.y), z = passing(upward, at.z, -at.y);
        if (u.size() <= 0 || z.size() <= 0) continue;
        constexpr int wide = 5, tall = 3;
        const Scene scene{r};
        std::size_t found = 0;
        const auto parts = LampThrow{scene, 0, at}.parts(wide, tall);
        CAPTURE(n, at.x, at.y, at.z);
        // From the left, which is where x is larger; of each column from below.
        for (int i = 0; i < wide; ++i)
            for (int k = 0; k < tall; ++k) {
                const double du = u.size() / wide, dz = z.size() / tall;
                const Span part{u.to - (i + 1) * du, u.to - i * du};
                const double open = part.size() - part.and_also({3.9, 4.1}).size();
                if (open < 1e-12) continue;
                REQUIRE(found < parts.size());
                const ThrownPart& p = parts[found++];
                const Point3 middle{(part.from + part.to) / 2, 0, z.from + (k + 0.5) * dz};
                const Point3 way = middle - at;
                const double far = std::sqrt(dot(way, way));
                for (const auto& [said, expected] :
                     {std::pair{p.through, middle}, {p.toward, (1 / far) * way}}) {
                    CHECK(said.x == Approx(expected.x));
                    CHECK(said.y == Approx(expected.y).margin(1e-12));
                    CHECK(said.z == Approx(expected.z).margin(1e-12));
                }
                CHECK(p.incidence_cosine == Approx(-at.y / far));
                CHECK(p.solid_angle_sr == Approx(open * dz * -at.y / far / (far * far)));
            }
        CHECK(found == parts.size());
    }
}

TEST_CASE("a lamp throws the opening's image on floor and ceiling, larger by the distances",
          "[room][lamp]") {
    int below = 0, above = 0;
    for (unsigned n = 0; n < 200; ++n) {
        Dice dice{114000 + n};
        Room r = paper_room(reveal_m);
        const double x = dice.between(3, 5);
        const Point3 at{x, -reveal_m - dice.between(0.8, 3),
                        n % 2 == 0 ? dice.between(-2, 0.5) : dice.between(2.6, 6)};
        const Span u = passing(across, at.x, -at.y), z = passing(upward, at.z, -at.y);
        const Scene scene{r};
        const LampThrow lamp{scene, 0, at};
        const double plane = n % 2 == 0 ? r.height_m : 0;
        // Where the ray through height h of the inner plane lands, y m into the room.
        const auto lands = [&](double h) {
            if ((h - at.z) * (plane - at.z) <= 0) return 1e9;
            return -at.y * (plane - h) / (h - at.z);
        };
        const double one = lands(n % 2 == 0 ? z.to : z.from);
        const double other = std::min(6.0, lands(n % 2 == 0 ? z.from : z.to));
        CAPTURE(n, at.x, at.y, at.z, one, other);
        std::optional<Patch> patch;
        if (n % 2 == 0) {
            patch = lamp.on_ceiling(0.2);
        } else {
            CHECK_FALSE((at.z > r.height_m && lamp.on_ceiling(0.2)));
            for (const Patch& p : lamp.patches(0.2))
                if (p.surface == Surface{Surface::Kind::floor, 0}) patch = p;
        }
        // A trapezium, unless the side walls cut it.
        const auto half_width = [&](double y, double edge) {
            return (edge - at.x) * (y - at.y) / -at.y;
        };
        if (other - one < 1e-3 || u.size() <= 0 || z.size() <= 0) {
            CHECK_FALSE((patch && patch->area_m2 > 0.1));
            continue;
        }
        if (at.x + half_width(other, u.from) < 0 || at.x + half_width(other, u.to) > 8) continue;
        const double near = u.size() * (one - at.y) / -at.y,
                     far = u.size() * (other - at.y) / -at.y;
        const double area = (other - one) * (near + far) / 2;
        REQUIRE(patch);
        CHECK(patch->area_m2 == Approx(area).margin(1e-6));
        // The middle of a trapezium lies nearer its longer side.
        const double deep = (other - one) / 3 * (near + 2 * far) / (near + far);
        CHECK(patch->centroid.y == Approx(one + deep).margin(1e-6));
        CHECK(patch->centroid.z == Approx(plane).margin(1e-9));
        const double leans = (u.from + u.to) / 2 - at.x;
        const double at_y = one + deep;
        // Along each line of equal y the middle stands off the lamp in proportion; of the area the
        // mean of y squared counts, too: no more than the two ends allow.
        const double low = at.x + leans * (one - at.y) / -at.y,
                     high = at.x + leans * (other - at.y) / -at.y;
        CHECK(patch->centroid.x > std::min(low, high) - 1e-9);
        CHECK(patch->centroid.x < std::max(low, high) + 1e-9);
        CHECK(patch->edge_width_m ==
              Approx(0.2 * (reveal_m + at_y) / (-at.y - reveal_m)).margin(1e-9));
        ++(n % 2 == 0 ? above : below);
    }
    CHECK(below > 20);
    CHECK(above > 20);
}
