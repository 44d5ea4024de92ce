// The tracer alone, on regions whose outlines are known: circles about an axis, strips between
// lines, and what is cut off by the rectangle that is searched.

#include "room/region_tracer.hpp"

#include <catch2/catch.hpp>

#include "region_points.hpp"
#include "support/dice.hpp"

using namespace keyhour;
using namespace keyhour::room;
using test::between;
using test::Dice;
using test::lies_in;
using test::toward;

namespace {

struct Circle {
    PlanDirection middle;
    double radius;
    [[nodiscard]] double within(Point3 sun) const {
        const Point3 off = sun - toward(middle.azimuth, middle.altitude);
        return radius - 2 * std::asin(std::min(1.0, std::sqrt(dot(off, off)) / 2));
    }
};

/// A question with a value that is worked out by what is handed over; it tells nothing in advance
/// but what `touch_at` does.
struct Known {
    std::function<double(Point3)> of;
    Grain looks{coarse, coarse, 1, 2};
    std::function<Touch(Point3)> touch_at = [](Point3) { return Touch{}; };
    std::function<bool(std::span<const Point3>)> between_all = [](auto) { return false; };
    mutable long asked = 0;

    [[nodiscard]] double value(Point3 sun) const {
        ++asked;
        return of(sun);
    }
    [[nodiscard]] Touch touch(Point3 sun) const { return touch_at(sun); }
    [[nodiscard]] bool is_lit_between(std::span<const Point3> suns) const {
        return between_all(suns);
    }
    [[nodiscard]] const Grain& grain(bool) const { return looks; }
    [[nodiscard]] static bool may_be_spoilt() { return false; }
    [[nodiscard]] static bool is_spoilt_in_parts() { return false; }
    [[nodiscard]] static bool is_spoilt(Point3) { return false; }
};

constexpr Domain wide{60 * degree, 120 * degree, 5 * degree, 65 * degree};

std::vector<DirectionRing> traced(const Known& question, const Domain& domain = wide,
                                  RegionBounds bounds = between(0, 1.5)) {
    std::vector<DirectionRing> out;
    Tracer{question, bounds, domain}.trace(out);
    return out;
}

Touch told(bool is_dark, bool is_lit) {
    Touch t;
    t.set_beyond(0, is_dark);
    if (is_lit) t.pane = 0;
    return t;
}

/// On azimuth and altitude as on a plane.
double area_of(const std::vector<DirectionRing>& region) {
    double twice = 0;
    for (const DirectionRing& ring : region)
        for (std::size_t i = 0, j = ring.size() - 1; i < ring.size(); j = i++)
            twice += ring[j].azimuth * ring[i].altitude - ring[j].altitude * ring[i].azimuth;
    return twice / 2;
}

/// Points at random, and close to either side of the outline.
int check_members(
    const Known& question, const std::vector<DirectionRing>& region, const Domain& domain,
    unsigned seed, const std::function<bool(Point3)>& is_judged = [](Point3) { return true; },
    double near = 1.5e-5) {
    Dice dice{seed};
    int judged = 0;
    const auto check = [&](PlanDirection d) {
        const Point3 sun = toward(d.azimuth, d.altitude);
        const double value = question.of(sun);
        if (d.azimuth < domain.x0 || d.azimuth > domain.x1 || d.altitude < domain.y0 ||
            d.altitude > domain.y1 || !is_judged(sun) || std::abs(value) < near)
            return;
        CAPTURE(d.azimuth / degree, d.altitude / degree, value);
        CHECK(lies_in(region, d) == (value > 0));
        ++judged;
    };
    for (int k = 0; k < 500; ++k) {
        const double azimuth = dice.between(domain.x0, domain.x1);
        check({azimuth, dice.between(domain.y0, domain.y1)});
    }
    for (const DirectionRing& ring : region)
        for (const PlanDirection p : ring)
            for (const double far : {3e-5, 1e-3}) {
                const double turn = dice.between(0, 2 * std::numbers::pi);
                check({p.azimuth + far * std::cos(turn), p.altitude + far * std::sin(turn)});
            }
    return judged;
}

}  // namespace

TEST_CASE("a circle in the sky is traced to within the chords' error, by few looks", "[room]") {
    for (const double radius_deg : {1.0, 8.0}) {
        const Circle circle{{91.3 * degree, 33.7 * degree}, radius_deg * degree};
        const Known question{[&](Point3 sun) { return circle.within(sun); }};
        const auto region = traced(question);
        CAPTURE(radius_deg);
        REQUIRE(region.size() == 1);
        const auto asked = static_cast<double>(question.asked);
        for (std::size_t i = 0; i < region[0].size(); ++i) {
            const PlanDirection a = region[0][i], b = region[0][(i + 1) % region[0].size()];
            CHECK(std::abs(circle.within(toward(a.azimuth, a.altitude))) < crossing_error);
            CHECK(std::abs(circle.within(
                      toward((a.azimuth + b.azimuth) / 2, (a.altitude + b.altitude) / 2))) <
                  chord_error + crossing_error);
        }
        CHECK(area_of(region) > 0);
        CHECK(check_members(question, region, wide, 121000) > 500);
        // Of the grid's nodes, 241 x 241, each is looked at, a cell's middle along the outline, and
        // the rest is spent on the outline: counted, and a fiftieth more.
        const double rest = asked - 241 * 241;
        const auto points = static_cast<double>(region[0].size());
        CHECK(rest < (radius_deg == 1 ? 37.8 : 16.1) * points);
    }
}

TEST_CASE("strips narrower than a cell are found, good ones and bad", "[room]") {
    for (unsigned n = 0; n < 12; ++n) {
        Dice dice{122000 + n};
        const Domain domain{90 * degree, 94 * degree, 30 * degree, 34 * degree};
        const double turn = dice.between(0, std::numbers::pi),
                     half = dice.between(0.01, 0.1) * degree;
        const Point3 through = toward(dice.between(91, 93) * degree, dice.between(31, 33) * degree);
        // Square to a plane through it: the sine of the distance to a great circle.
        const Point3 east{through.y / std::hypot(through.x, through.y),
                          -through.x / std::hypot(through.x, through.y), 0};
        const Point3 north{-through.x * through.z / std::hypot(through.x, through.y),
                           -through.y * through.z / std::hypot(through.x, through.y),
                           std::hypot(through.x, through.y)};
        const Point3 normal = std::cos(turn) * east + std::sin(turn) * north;
        const double way = n % 2 == 0 ? 1 : -1;
        const Known question{[&](Point3 sun) { return way * (half - std::abs(dot(sun, normal))); }};
        CAPTURE(n, turn / degree, half / degree);
        const auto region = traced(question, domain);
        CHECK(region.size() == (n % 2 == 0 ? 1 : 2));
        CHECK(check_members(question, region, domain, 122500 + n) > 400);
        // Cells of a hundred-thousandth of the rectangle are not looked at everywhere.
        CHECK(question.asked < 40000);
    }
}

TEST_CASE("two circles are told apart where they do not meet, and joined where they do", "[room]") {
    for (unsigned n = 0; n < 24; ++n) {
        Dice dice{123000 + n};
        const Domain domain{90 * degree, 98 * degree, 10 * degree, 18 * degree};
        const double turn = dice.between(0, 2 * std::numbers::pi);
        const double gap = dice.between(0.1, 0.4) * degree * (n % 2 == 0 ? 1 : -1);
        const double middle_x = dice.between(93.5, 94.5) * degree,
                     middle_y = dice.between(13.5, 14.5) * degree;
        const double far = 1.2 * degree + gap / 2;
        const auto circle = [&](double side) {
            return Circle{{middle_x + side * far * std::cos(turn) / std::cos(middle_y),
                           middle_y + side * far * std::sin(turn)},
                          1.2 * degree};
        };
        const Circle one = circle(1), other = circle(-1);
        const double way = n % 4 < 2 ? 1 : -1;
        const Known question{
            [&](Point3 sun) { return way * std::max(one.within(sun), other.within(sun)); }};
        CAPTURE(n, gap / degree, way);
        const auto region = traced(question, domain);
        // Of the bad ones' surroundings, the rectangle's own outline comes first.
        CHECK(region.size() == (gap > 0 ? 2U : 1U) + (way < 0 ? 1U : 0U));
        // Where they meet the outline turns by more than a right angle: such a corner is cut
        // off, by some hundredths of a degree at most.
        const auto anywhere = [](Point3) { return true; };
        CHECK(check_members(question, region, domain, 123500 + n, anywhere, 4e-4) > 300);
    }
}

TEST_CASE("a region that leaves the rectangle is closed along its sides", "[room]") {
    const Domain domain{90 * degree, 97 * degree, 10 * degree, 15 * degree};
    const auto closed = [&](const Known& question) {
        const auto region = traced(question, domain);
        for (const DirectionRing& ring : region)
            for (const PlanDirection p : ring) {
                CHECK(p.azimuth > domain.x0 - 1e-9);
                CHECK(p.azimuth < domain.x1 + 1e-9);
                CHECK(p.altitude > domain.y0 - 1e-9);
                CHECK(p.altitude < domain.y1 + 1e-9);
            }
        return region;
    };
    const Known all{[](Point3) { return 1.0; }};
    const auto whole = closed(all);
    REQUIRE(whole.size() == 1);
    CHECK(area_of(whole) == Approx(7 * degree * 5 * degree));
    CHECK(closed(Known{[](Point3) { return -1.0; }}).empty());
    // A circle about each corner and each side's middle.
    unsigned seed = 124000;
    for (const double i : {0.0, 0.5, 1.0})
        for (const double k : {0.0, 0.5, 1.0}) {
            const Circle circle{{domain.x0 + i * 7 * degree, domain.y0 + k * 5 * degree},
                                1.7 * degree};
            const Known question{[&](Point3 sun) { return circle.within(sun); }};
            CAPTURE(i, k);
            const auto region = closed(question);
            CHECK(region.size() == 1);
            CHECK(check_members(question, region, domain, ++seed) > 500);
        }
}

TEST_CASE("what is told in advance spares looks and changes no outline", "[room]") {
    const Circle circle{{90.5 * degree, 35.2 * degree}, 12 * degree};
    Known plain{[&](Point3 sun) { return circle.within(sun); }};
    const auto region = traced(plain);
    // Bounds as planes give them: all of a cell is dark or lit where its corners are.
    Known knowing = plain;
    knowing.asked = 0;
    knowing.touch_at = [&](Point3 sun) {
        const double within = circle.within(sun);
        return told(within<-4 * degree, within> 4 * degree);
    };
    const auto same = traced(knowing);
    CHECK(area_of(same) == Approx(area_of(region)).epsilon(1e-5));
    CHECK(check_members(plain, same, wide, 125000) > 800);
    // Counted, and a fiftieth more; so are the other numbers of looks.
    CHECK(knowing.asked < 18200);
    // Cells too large to be looked at by their corners, unless they are lit all over.
    Known finer = knowing;
    finer.asked = 0;
    finer.looks.largest = finer.looks.finest = coarse / 4;
    long cells = 0;
    finer.between_all = [&](std::span<const Point3> suns) {
        ++cells;
        CHECK((suns.size() == 4 || suns.size() == 5));
        return std::ranges::all_of(suns,
                                   [&](Point3 sun) { return circle.within(sun) > 3 * degree; });
    };
    const auto fine = traced(finer);
    CHECK(check_members(plain, fine, wide, 125500) > 800);
    CHECK(finer.asked < 206400);
    CHECK(cells < 65600);
}

TEST_CASE("nothing is asked of a sky that no light can come from", "[room]") {
    const Circle circle{{90.5 * degree, 35.2 * degree}, 12 * degree};
    const Known question{[&](Point3 sun) { return circle.within(sun); }};
    // A belt 4 degrees wide, level, and what lies within 1.5 degrees of it.
    RegionBounds bounds = between(0, 1.5);
    bounds.may_come = [](Point3 sun, double slack) {
        return std::abs(std::asin(sun.z) - 40 * degree) < 2 * degree + slack;
    };
    const auto region = traced(question, wide, bounds);
    const auto in_belt = [](Point3 sun) {
        return std::abs(std::asin(sun.z) - 40 * degree) < 2 * degree;
    };
    CHECK(check_members(question, region, wide, 126000, in_belt) > 30);
    // Of 60 degrees 7, and the cells that these cut.
    CHECK(question.asked < 8350);
    bounds.may_come = [](Point3, double) { return false; };
    const Known dark{[&](Point3 sun) { return circle.within(sun); }};
    CHECK(traced(dark, wide, bounds).empty());
    CHECK(dark.asked == 0);
}
