// A region of directions against single rays (support/plain_rays.hpp), in random rooms, and against
// what an opening and a sphere allow, worked out with planes through an edge and the sun.

#include <catch2/catch.hpp>

#include "keyhour/room/direction_region.hpp"
#include "random_case.hpp"
#include "region_points.hpp"
#include "support/plain_rays.hpp"

using namespace keyhour;
using namespace keyhour::test;
using room::Camera;
using room::covered_region;
using room::DirectionRing;
using room::PlanDirection;
using room::RegionRequest;
using room::Scene;

namespace {

/// The lit share of a mark's silhouette.
double share_by_rays(const Room& r, const Mark& m, std::size_t window, Point3 sun) {
    const PlainRays rays{r};
    const Point3 centre{m.at.x, m.at.y, m.height_m};
    double lit = 0, whole = 0;
    if (!m.box_m) {
        const double level = std::hypot(sun.x, sun.y);
        const Point3 across{sun.y / level, -sun.x / level, 0};
        const Point3 up{-sun.x * sun.z / level, -sun.y * sun.z / level, level};
        for (int i = 0; i < 200; ++i) {
            // A sunflower's order: each ray stands for the same area.
            const double far = m.radius_m * std::sqrt((i + 0.5) / 200), turn = 2.399963 * i;
            const Point3 p = centre + far * std::cos(turn) * across + far * std::sin(turn) * up;
            lit += rays.lit(p, window, sun) ? 1 : 0;
        }
        return lit / 200;
    }
    const Point3 axes[] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
    const auto& size = *m.box_m;
    for (std::size_t i = 0; i < 3; ++i) {
        const std::size_t j = (i + 1) % 3, k = (i + 2) % 3;
        const double towards = dot(axes[i], sun), seen = size[j] * size[k] * std::abs(towards);
        const Point3 face = centre + (towards > 0 ? 0.5001 : -0.5001) * size[i] * axes[i];
        constexpr int side = 9;
        for (int a = 0; a < side; ++a)
            for (int b = 0; b < side; ++b) {
                const Point3 p = face + ((a + 0.5) / side - 0.5) * size[j] * axes[j] +
                                 ((b + 0.5) / side - 0.5) * size[k] * axes[k];
                lit += rays.lit(p, window, sun) ? seen : 0;
                whole += seen;
            }
    }
    return lit / whole;
}

/// On the line from the mark through a spot of the window, or close to it.
PlanDirection random_direction(Dice& dice, const Room& r, std::size_t window, const Mark& m) {
    const double across = dice.between(-0.2, 1.2), up = dice.between(-0.2, 1.2);
    const Point3 to =
        in_the_beam(r, r.windows[window], {}, across, up, 0) - Point3{m.at.x, m.at.y, m.height_m};
    const double before = facing(r, window);
    const double off = std::remainder(std::atan2(to.x, to.y) - before, 2 * std::numbers::pi);
    return {before + off, std::atan2(to.z, std::hypot(to.x, to.y))};
}

/// A band of altitudes, 6 degrees high, in which light reaches the mark through some of the window:
/// a whole region takes too long.
room::RegionBounds random_band(Dice& dice, const Room& r, const RegionRequest& q) {
    double about = 0;
    for (int tries = 0; tries < 50 && (about < 3 * degree || about > 66 * degree); ++tries)
        about = random_direction(dice, r, q.window, r.marks[q.mark]).altitude;
    about = std::clamp(about, 5 * degree, 66 * degree);
    return between(about - 3 * degree, about + 3 * degree);
}

/// Within the band and the window's half of the sky.
std::optional<PlanDirection> direction_within(Dice& dice, const Room& r, const RegionRequest& q) {
    for (int tries = 0; tries < 20; ++tries) {
        PlanDirection d = random_direction(dice, r, q.window, r.marks[q.mark]);
        if (dice.chance(0.2)) d.azimuth = facing(r, q.window) + dice.between(-88, 88) * degree;
        if (dice.chance(0.5)) d.altitude = dice.between(q.bounds.lowest, q.bounds.highest);
        if (d.altitude > q.bounds.lowest && d.altitude < q.bounds.highest &&
            std::abs(d.azimuth - facing(r, q.window)) < 88 * degree)
            return d;
    }
    return std::nullopt;
}

/// A room with a mark that some light reaches.
std::optional<Case> case_with_mark(Dice& dice) {
    for (int tries = 0; tries < 20; ++tries)
        if (Case c = random_case(dice); !c.r.marks.empty()) return c;
    return std::nullopt;
}

struct Count {
    int in = 0, out = 0;
};

}  // namespace

TEST_CASE("a post close about a mark takes of it what rays say", "[room]") {
    int partly = 0;
    for (unsigned n = 0; n < 400; ++n) {
        Dice dice{56000 + n};
        Room r;
        r.floor = {{0, 0}, {8, 0}, {8, 6}, {0, 6}};
        r.walls = {"window", "right", "back", "left"};
        r.height_m = 4;
        r.windows.emplace_back();
        Window& w = r.windows[0];
        w.name = "window";
        w.left_m = dice.between(2, 5);
        w.width_m = dice.between(0.2, 1.5);
        w.sill_m = 0.2;
        w.height_m = 3.6;
        const double y = dice.between(0.8, 2.5);
        r.marks = {{"mark", {dice.between(3, 5), y}, 1.2, 0.3, {}}};
        // Clear of the sphere, or only just, all round it.
        const Mark& m = r.marks[0];
        const double turn = dice.between(0, 2 * std::numbers::pi), far = dice.between(0.34, 0.6);
        const Point2 at = m.at + far * Point2{std::cos(turn), std::sin(turn)};
        const double half = dice.between(0.01, 0.03);
        r.objects = {{"post",
                      {{at.x - half, at.y - half},
                       {at.x + half, at.y - half},
                       {at.x + half, at.y + half},
                       {at.x - half, at.y + half}},
                      3}};
        const PlanDirection d = random_direction(dice, r, 0, m);
        const Point3 sun = toward(d.azimuth, std::clamp(d.altitude, 0.02, 0.5));
        const double share = share_by_rays(r, m, 0, sun);
        CAPTURE(n, share, d.azimuth);
        // 200 rays, and a strip's two sides.
        CHECK(Scene{r}.coverage(0, 0, sun) == Approx(share).margin(0.03));
        r.objects.clear();
        partly += share > 0.02 && Scene{r}.coverage(0, 0, sun) > share + 0.03 ? 1 : 0;
    }
    CHECK(partly > 40);
}

TEST_CASE("from a region's directions rays light enough of the mark and from no others", "[room]") {
    Count count;
    for (unsigned n = 0; n < 8; ++n) {
        Dice dice{51000 + n};
        const Case c = *case_with_mark(dice);
        RegionRequest q;
        q.window = dice.index(c.r.windows.size());
        q.mark = dice.index(c.r.marks.size());
        q.coverage = std::array{0.1, 0.4, 0.7, 0.95}[n % 4];
        q.bounds = random_band(dice, c.r, q);
        const auto region = covered_region(Scene{c.r}, q);
        for (int k = 0; k < 40; ++k) {
            const auto d = direction_within(dice, c.r, q);
            if (!d) continue;
            const double share =
                share_by_rays(c.r, c.r.marks[q.mark], q.window, toward(d->azimuth, d->altitude));
            if (std::abs(share - q.coverage) < 0.05) continue;
            CAPTURE(n, k, share, q.coverage, d->azimuth, d->altitude);
            CHECK(lies_in(region, *d) == (share > q.coverage));
            ++(share > q.coverage ? count.in : count.out);
        }
    }
    CHECK(count.in > 30);
    CHECK(count.out > 70);
}

namespace {

/// Eight metres by six; its only window in the wall along y = 0, which looks to -y.
Room plain_room(double reveal_m) {
    Room r;
    r.floor = {{0, 0}, {8, 0}, {8, 6}, {0, 6}};
    r.walls = {"window", "right", "back", "left"};
    r.height_m = 4;
    r.windows.emplace_back();
    Window& w = r.windows[0];
    w.name = "window";
    w.left_m = 3;
    w.width_m = 2;
    w.sill_m = 0.9;
    w.height_m = 1.6;
    w.reveal_m = reveal_m;
    r.marks = {{"mark", {4.4, 2.5}, 1.2, 0.2, {}}};
    return r;
}

/// How far the mark's centre lies within the opening: from the planes through its edges, inner and
/// outer, and the sun. Of left, right, sill and head; the least comes first.
std::array<double, 4> margins_of(const Room& r, Point3 sun) {
    const Mark& m = r.marks[0];
    const Window& w = r.windows[0];
    const double x0 = 8 - w.left_m - w.width_m, x1 = 8 - w.left_m;
    std::array<double, 4> least{1e9, 1e9, 1e9, 1e9};
    for (const double y : {0.0, -w.reveal_m}) {
        const double to_x = m.at.x - (m.at.y - y) / sun.y * sun.x;  // in the plane of the edges
        const double to_z = m.height_m - (m.at.y - y) / sun.y * sun.z;
        const double upright = std::abs(sun.y) / std::hypot(sun.x, sun.y);
        const double level = std::abs(sun.y) / std::hypot(sun.y, sun.z);
        const double here[] = {upright * (to_x - x0), upright * (x1 - to_x),
                               level * (to_z - w.sill_m), level * (w.sill_m + w.height_m - to_z)};
        for (std::size_t i = 0; i < 4; ++i)
            least[i] = std::min(least[i], here[i]);
    }
    std::ranges::sort(least);
    return least;
}

double margin_of(const Room& r, Point3 sun) {
    return margins_of(r, sun)[0];
}

/// Of a disc of radius 1, the share within a chord so far from its middle.
double share_within(double c) {
    c = std::clamp(c, -1.0, 1.0);
    return (c * std::sqrt(1 - c * c) + std::asin(c) + std::numbers::pi / 2) / std::numbers::pi;
}

/// Calls `each` with every corner of the outlines and every chord's middle but for those on the
/// band's own rim.
template <class Each>
void for_each_point(const std::vector<DirectionRing>& region, const room::RegionBounds& bounds,
                    const Each& each) {
    const auto is_rim = [&](PlanDirection d) {
        return d.altitude < bounds.lowest + 1e-9 || d.altitude > bounds.highest - 1e-9;
    };
    for (const DirectionRing& ring : region)
        for (std::size_t i = 0; i < ring.size(); ++i) {
            const PlanDirection a = ring[i], b = ring[(i + 1) % ring.size()];
            if (is_rim(a)) continue;
            each(a);
            if (!is_rim(b)) each({(a.azimuth + b.azimuth) / 2, (a.altitude + b.altitude) / 2});
        }
}

}  // namespace

TEST_CASE("a region ends where the opening's edges leave just enough of a sphere", "[room]") {
    for (const double reveal_m : {0.0, 0.3})
        for (const double wanted : {1.0, 0.95, 0.5, 0.05}) {
            CAPTURE(reveal_m, wanted);
            const Room r = plain_room(reveal_m);
            RegionRequest q;
            q.coverage = wanted;
            q.bounds = between(5 * degree, 35 * degree);
            const auto region = covered_region(Scene{r}, q);
            REQUIRE(region.size() == 1);
            int points = 0, on_one_edge = 0;
            for_each_point(region, q.bounds, [&](PlanDirection d) {
                ++points;
                const auto margins = margins_of(r, toward(d.azimuth, d.altitude));
                const double radius_m = r.marks[0].radius_m;
                // A second edge, where it cuts the sphere too, takes more.
                CHECK(share_within(margins[0] / radius_m) > wanted - 1e-4);
                if (margins[1] < radius_m) return;
                ++on_one_edge;
                if (wanted == 1)
                    CHECK(margins[0] == Approx(radius_m).margin(6e-5));
                else
                    CHECK(share_within(margins[0] / radius_m) == Approx(wanted).margin(1e-4));
            });
            CHECK(points > 100);
            CHECK(on_one_edge > 0.3 * points);
            // Counter-clockwise.
            double twice = 0;
            for (std::size_t i = 0; i < region[0].size(); ++i) {
                const PlanDirection a = region[0][i], b = region[0][(i + 1) % region[0].size()];
                twice += a.azimuth * b.altitude - a.altitude * b.azimuth;
            }
            CHECK(twice > 0);
        }
}

namespace {

/// Judges a request of the plain room, whose mark is lit wherever it is wanted, by what may spoil
/// a direction. @param is_near  too near to an edge to be told
template <class IsGood, class IsNear>
void judge(const Room& r, const RegionRequest& q, const IsGood& is_good, const IsNear& is_near,
           unsigned seed) {
    const auto region = covered_region(Scene{r}, q);
    Dice dice{seed};
    int good = 0, bad = 0;
    for (int k = 0; k < 600; ++k) {
        const PlanDirection d{dice.between(100, 260) * degree,
                              dice.between(q.bounds.lowest, q.bounds.highest)};
        const Point3 sun = toward(d.azimuth, d.altitude);
        const double share = share_within(margin_of(r, sun) / r.marks[0].radius_m);
        if (is_near(sun) || std::abs(share - q.coverage) < 0.05) continue;
        CAPTURE(k, d.azimuth / degree, d.altitude / degree, share);
        const bool expected = share > q.coverage && is_good(sun);
        CHECK(lies_in(region, d) == expected);
        if (share > q.coverage) ++(is_good(sun) ? good : bad);
    }
    CHECK(good > 15);
    CHECK(bad > 15);
}

Room wide_open_room() {
    Room r = plain_room(0);
    r.windows[0] = {};
    r.windows[0].name = "window";
    r.windows[0].width_m = 8;
    r.windows[0].height_m = 4;
    return r;
}

/// Of the light's way and the camera's, on the level, at the mark.
double key_angle_of(const Room& r, const Camera& camera, Point3 sun) {
    const Point2 to_camera = camera.at - r.marks[camera.aims_at].at, light{sun.x, sun.y};
    return std::acos(
        std::clamp(dot(to_camera, light) / (length(to_camera) * length(light)), -1.0, 1.0));
}

}  // namespace

TEST_CASE("with a camera a region keeps to the key angles asked for, on either side", "[room]") {
    const Room r = wide_open_room();
    unsigned seed = 52000;
    int in = 0;
    for (const double camera_deg : {0.0, 60.0, 170.0, 250.0})
        for (const auto& [from, to] :
             std::vector<std::pair<double, double>>{{20, 50}, {0, 70}, {90, 180}, {40, 130}}) {
            Camera camera;
            camera.at = r.marks[0].at +
                        3 * Point2{std::sin(camera_deg * degree), std::cos(camera_deg * degree)};
            camera.height_m = 1.2;
            camera.view = camera.view_vertical = Angle::degrees(4);  // no sun in so small a frame
            RegionRequest q;
            q.camera = &camera;
            q.key_angle_deg[0] = from;
            q.key_angle_deg[1] = to;
            q.coverage = 0.5;
            q.bounds = between(10 * degree, 18 * degree);
            CAPTURE(camera_deg, from, to);
            const auto region = covered_region(Scene{r}, q);
            Dice dice{++seed};
            for (int k = 0; k < 100; ++k) {
                const PlanDirection d{dice.between(110, 250) * degree,
                                      dice.between(10, 18) * degree};
                const Point3 sun = toward(d.azimuth, d.altitude);
                const double angle = key_angle_of(r, camera, sun) / degree;
                const double share = share_within(margin_of(r, sun) / r.marks[0].radius_m);
                if (std::abs(angle - from) < 0.1 || std::abs(angle - to) < 0.1) continue;
                if (std::abs(share - 0.5) < 0.05) continue;
                CAPTURE(d.azimuth / degree, d.altitude / degree, angle, share);
                const bool expected = share > 0.5 && angle > from && angle < to;
                CHECK(lies_in(region, d) == expected);
                in += expected ? 1 : 0;
            }
        }
    CHECK(in > 100);
}

TEST_CASE("a region leaves out the suns that stand in the camera's frame", "[room]") {
    const Room r = wide_open_room();
    // From behind the mark, low: the lens looks at the window and up.
    Camera camera;
    camera.at = {4.4, 5};
    camera.height_m = 0.3;
    camera.view = Angle::degrees(40);
    camera.view_vertical = Angle::degrees(24);
    RegionRequest q;
    q.camera = &camera;
    q.coverage = 0.5;
    q.bounds = between(5 * degree, 45 * degree);
    // Straight before the lens the frame is a pyramid about an axis that rises by 0.9 in 2.5 m.
    const double rise = std::atan2(0.9, 2.5);
    const auto in_frame = [&](Point3 sun, double slack) {
        const double ahead = -sun.y * std::cos(rise) + sun.z * std::sin(rise);
        const double up = sun.z * std::cos(rise) + sun.y * std::sin(rise);
        return ahead > 0 && std::abs(sun.x) / ahead < std::tan(20 * degree) + slack &&
               std::abs(up) / ahead < std::tan(12 * degree) + slack;
    };
    judge(
        r, q, [&](Point3 sun) { return !in_frame(sun, 0); },
        [&](Point3 sun) { return in_frame(sun, 2e-3) != in_frame(sun, -2e-3); }, 53000);
}

TEST_CASE("a region leaves out what is spoilt where it is a quarter degree wide", "[room]") {
    const Room r = plain_room(0);
    RegionRequest q;
    q.coverage = 0.5;
    q.bounds = between(5 * degree, 20 * degree);
    // A cone about one of the directions, and all on one side of a plane.
    const Point3 axis = toward(195 * degree, 12 * degree);
    const auto cone = [&](Point3 sun, double radius) { return dot(sun, axis) > std::cos(radius); };
    for (const double radius_deg : {0.4, 3.0}) {
        const double radius = radius_deg * degree;
        q.spoils = [&](Point3 sun) { return cone(sun, radius) || sun.x > 0.1; };
        judge(
            r, q, [&](Point3 sun) { return !q.spoils(sun); },
            [&](Point3 sun) {
                return std::abs(sun.x - 0.1) < 1e-3 ||
                       cone(sun, radius + 1e-3) != cone(sun, radius - 1e-3);
            },
            54000);
        const auto region = covered_region(Scene{r}, q);
        // Within the region each quarter degree is asked about, and its eight neighbours with it.
        long asked = 0;
        RegionRequest free = q;
        free.spoils = [&](Point3) {
            ++asked;
            return false;
        };
        CHECK(covered_region(Scene{r}, free).size() == 1);
        CHECK(asked < 111000);  // counted, and a fiftieth more
        for (int turn = 0; turn < 360; turn += 20) {
            const auto at = [&](double far) {
                return PlanDirection{
                    195 * degree + far * std::cos(turn * degree) / std::cos(12 * degree),
                    12 * degree + far * std::sin(turn * degree)};
            };
            CHECK_FALSE(lies_in(region, at(0.9 * radius)));
            CHECK(lies_in(region, at(1.1 * radius)));
        }
    }
}

namespace {

double length_of(const std::vector<DirectionRing>& region) {
    double sum = 0;
    for (const DirectionRing& ring : region)
        for (std::size_t i = 0; i < ring.size(); ++i) {
            const PlanDirection a = ring[i], b = ring[(i + 1) % ring.size()];
            sum += std::hypot(b.azimuth - a.azimuth, b.altitude - a.altitude);
        }
    return sum;
}

}  // namespace

TEST_CASE("a region is looked at closely along its edges alone", "[room]") {
    // Cells of 4 degrees, of each of which its middle and a corner are asked about, are cut down to
    // a quarter degree where an edge may touch the mark or the opening. How many for each quarter
    // degree of outline was counted; a fifth more is allowed.
    struct Effort {
        double reveal_m;
        bool has_tower;
        double of_mark, of_window;
    };
    for (const Effort effort : {Effort{0, false, 7.5, 0.8}, Effort{0, true, 15, 1.7},
                                Effort{0.3, false, 8, 2}, Effort{0.3, true, 16, 3.1}}) {
        Room r = plain_room(effort.reveal_m);
        if (effort.has_tower)
            r.buildings = {{"tower", {{3.9, -20}, {4.3, -20}, {4.3, -22}, {3.9, -22}}, 9, {}}};
        long asked = 0;
        RegionRequest q;
        q.coverage = 0.5;
        q.bounds = between(3 * degree, 43 * degree);
        q.bounds.may_come = [&](Point3, double) {
            ++asked;
            return true;
        };
        const double roots = 2 * 45 * 10;
        const auto parts = [](const std::vector<DirectionRing>& region) {
            return length_of(region) / (0.25 * degree);
        };
        CAPTURE(effort.reveal_m, effort.has_tower);
        const auto region = covered_region(Scene{r}, q);
        CHECK(static_cast<double>(asked) < roots + effort.of_mark * parts(region));
        CHECK(static_cast<double>(asked) > roots + effort.of_mark * parts(region) / 2);
        // A camera that no sun is in the frame of makes no difference.
        const double alone = static_cast<double>(std::exchange(asked, 0));
        Camera camera;
        camera.at = {4.4, -4};
        camera.height_m = 1.2;
        q.camera = &camera;
        CHECK(covered_region(Scene{r}, q).size() == region.size());
        CHECK(static_cast<double>(asked) < 1.2 * alone);
        asked = 0;
        const auto sunlit = room::sunlit_region(Scene{r}, 0, q.bounds);
        CHECK(static_cast<double>(asked) < roots + effort.of_window * parts(sunlit));
        CHECK(static_cast<double>(asked) > roots + effort.of_window * parts(sunlit) / 2);
    }
}

TEST_CASE("a camera that looks at the window parts no region where every key angle is right",
          "[room]") {
    const Room r = plain_room(0);
    Camera camera;
    camera.at = {4, 5.5};
    camera.height_m = 1.2;
    camera.view = camera.view_vertical = Angle::degrees(4);
    RegionRequest q;
    q.camera = &camera;
    q.coverage = 0.5;
    q.bounds = between(10 * degree, 20 * degree);
    CHECK(covered_region(Scene{r}, q).size() == 1);
    q.key_angle_deg[0] = 1;  // not against the lens: still one
    CHECK(covered_region(Scene{r}, q).size() == 1);
    q.key_angle_deg[1] = 179;
    CHECK(covered_region(Scene{r}, q).size() == 2);
    camera.at = {4.2, -5};  // nor where light along the lens is right, up to an angle
    q.key_angle_deg[0] = 0;
    q.key_angle_deg[1] = 70;
    CHECK(covered_region(Scene{r}, q).size() == 1);
}

TEST_CASE("a region is right wherever light may come from", "[room]") {
    const Room r = plain_room(0.2);
    RegionRequest q;
    q.coverage = 0.5;
    q.bounds = between(3 * degree, 40 * degree);
    const auto whole = covered_region(Scene{r}, q);
    // A belt of the sky, as the sun has.
    const Point3 pole = toward(100 * degree, 50 * degree);
    const auto off_belt = [&](Point3 sun) {
        return std::abs(std::acos(dot(sun, pole)) - 80 * degree) - 5 * degree;
    };
    int asked = 0;
    q.bounds.may_come = [&](Point3 sun, double slack) {
        ++asked;
        return off_belt(sun) <= slack;
    };
    const auto region = covered_region(Scene{r}, q);
    Dice dice{55000};
    int in = 0, out = 0;
    for (int k = 0; k < 3000; ++k) {
        const PlanDirection d{dice.between(110, 250) * degree, dice.between(4, 39) * degree};
        if (off_belt(toward(d.azimuth, d.altitude)) > 0) continue;
        CAPTURE(d.azimuth / degree, d.altitude / degree);
        CHECK(lies_in(region, d) == lies_in(whole, d));
        ++(lies_in(whole, d) ? in : out);
    }
    CHECK(in > 50);
    CHECK(out > 50);
    CHECK(asked > 0);
}
