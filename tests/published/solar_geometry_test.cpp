// Patches on the floor from first principles of the sun's path.

#include <erfa.h>

#include <catch2/catch.hpp>

#include "keyhour/room/scene.hpp"
#include "keyhour/sun/position.hpp"
#include "support/random_room.hpp"

using namespace keyhour;
using namespace keyhour::test;
using room::Scene;

namespace {

constexpr double degree = std::numbers::pi / 180;

/// A hall so wide that all light falls on its floor; its window without reveal faces `faces_deg`.
Room hall(double faces_deg, double plan_turn_rad) {
    Room r;
    r.floor = placed({{-400, 0}, {400, 0}, {400, 400}, {-400, 400}}, plan_turn_rad, {1, 2});
    r.walls = {"window wall", "a", "b", "c"};
    r.height_m = 6;
    r.bearing.wall = 0;
    r.bearing.faces = Angle::degrees(faces_deg);
    Window w;
    w.name = "window";
    w.left_m = 399;
    w.width_m = 1.5;
    w.sill_m = 0.8;
    w.height_m = 1.6;
    r.windows.push_back(w);
    return r;
}

struct AzimuthAndAltitude {
    double azimuth_rad, altitude_rad;
};

/// The sun by ERFA 2.0: eraEpv00 for the Earth, eraAtco13 (no air) for the observer. The sun's own
/// parallax, 8.8 arcsec at most, is not in it.
AzimuthAndAltitude sun_by_erfa(Instant t, const Observer& o) {
    const double utc1 = 2440587.5, utc2 = t.unix_s() / 86400;
    double tai1, tai2, tt1, tt2, heliocentric[2][3], barycentric[2][3];
    eraUtctai(utc1, utc2, &tai1, &tai2);
    eraTaitt(tai1, tai2, &tt1, &tt2);
    eraEpv00(tt1, tt2, heliocentric, barycentric);
    double to_sun[3], ra, dec;
    for (int i = 0; i < 3; ++i)
        to_sun[i] = -heliocentric[0][i];
    eraC2s(to_sun, &ra, &dec);
    double azimuth, zenith, hour_angle, dec_seen, ra_seen, origins;
    eraAtco13(ra, dec, 0, 0, 0, 0, utc1, utc2, 0, o.longitude.in_radians(), o.latitude.in_radians(),
              o.elevation_m, 0, 0, 0, 0, 0, 0.5, &azimuth, &zenith, &hour_angle, &dec_seen,
              &ra_seen, &origins);
    return {azimuth, std::numbers::pi / 2 - zenith};
}

/// The foot on the floor of one jamb: right_m from the left one, seen from inside.
Point2 jamb_foot(const Room& r, double right_m) {
    const room::WallFrame f = room::wall_frame(r.floor, 0);
    return f.left_corner + (r.windows[0].left_m + right_m) * f.u;
}

/// Distance from p to the patch's nearest corner, metres.
double nearest_corner(const room::Patch& patch, Point2 p) {
    double least = 1e9;
    for (const Point3 c : patch.outlines.at(0))
        least = std::min(least, length(Point2{c.x, c.y} - p));
    return least;
}

}  // namespace

TEST_CASE("a jamb's shadow points away from the sun that ERFA gives", "[room][sun][published]") {
    // A corner at height h throws its light h / tan(altitude) from the jamb's foot, towards the
    // azimuth opposite the sun's. The instant goes in; no figure of the program's sun is shared.
    Dice dice{41};
    int seen = 0;
    for (int n = 0; n < 600; ++n) {
        const Observer o{Angle::degrees(dice.between(-66, 66)),
                         Angle::degrees(dice.between(-180, 180)), dice.between(0, 500)};
        const Instant t = Instant::from_unix_s(dice.between(946684800, 1767225600));  // 2000-2025
        const AzimuthAndAltitude sun = sun_by_erfa(t, o);
        if (sun.altitude_rad < 3 * degree || sun.altitude_rad > 85 * degree) continue;
        ++seen;
        const double faces_deg = sun.azimuth_rad / degree + dice.between(-75, 75);
        const Room r = hall(faces_deg, dice.between(0, 6.28));
        const Point3 to_sun = room::PlanTurn{room::plan_bearing(r)}.to_plan(
            sun::Place{o}.direction(sun::geocentric_sun(t), false));
        const auto patches = Scene{r}.patches(0, to_sun);
        REQUIRE(patches.size() == 1);
        REQUIRE(patches[0].outlines.size() == 1);
        CHECK(patches[0].outlines[0].size() == 4);

        // The plan's own bearing, from the wall that faces faces_deg.
        const Point2 out = room::wall_frame(r.floor, 0).n;
        const double turn = std::atan2(out.y, out.x) + faces_deg * degree;  // of azimuth 0, from +x
        const double away = turn - sun.azimuth_rad + std::numbers::pi;
        const Window& w = r.windows[0];
        for (const double right_m : {0.0, w.width_m})
            for (const double h : {w.sill_m, w.sill_m + w.height_m}) {
                const double reach = h / std::tan(sun.altitude_rad);
                const Point2 expected =
                    jamb_foot(r, right_m) + reach * Point2{std::cos(away), std::sin(away)};
                // 0.005 degree of direction: twice the parallax left out, turned into metres along
                // the floor (the farther, the lower the sun).
                const double margin = 0.005 * degree * h / std::pow(std::sin(sun.altitude_rad), 2);
                CHECK(nearest_corner(patches[0], expected) < margin);
            }
    }
    CHECK(seen > 200);
}

TEST_CASE("on the equinox a corner's light runs along a straight line from west to east",
          "[room][published]") {
    // Gnomonics (Rohr, Sundials: History, Theory, and Practice, on the equinoctial line; from
    // memory): with declination 0 the tip of a shadow stays h tan(latitude) to the north of its
    // foot.
    for (const double latitude_deg : {12.0, 35.0, 52.5, 60.0}) {
        const double phi = latitude_deg * degree;
        const Room r = hall(180, 0.7);
        const Scene scene{r};
        const room::PlanTurn turn{room::plan_bearing(r)};
        const Point3 north = turn.to_plan({0, 1, 0});
        for (double hour_angle = -60; hour_angle <= 60; hour_angle += 7.5) {
            const double H = hour_angle * degree;  // sun in the south at 0, on the equator
            const Point3 sun = turn.to_plan(
                {-std::sin(H), -std::cos(H) * std::sin(phi), std::cos(H) * std::cos(phi)});
            const auto patches = scene.patches(0, sun);
            REQUIRE(patches.size() == 1);
            double most_north = -1e9;
            for (const Point3 c : patches[0].outlines.at(0)) {
                const Point2 from_foot = Point2{c.x, c.y} - jamb_foot(r, 0);
                most_north = std::max(most_north, dot(from_foot, Point2{north.x, north.y}));
            }
            const double head_m = r.windows[0].sill_m + r.windows[0].height_m;
            CHECK(most_north == Approx(head_m * std::tan(phi)).margin(1e-5));
        }
    }
}

TEST_CASE("at noon a corner's light reaches h tan(latitude - declination) into the room",
          "[room][published]") {
    // Spherical astronomy: the sun's zenith distance in transit is latitude less declination, for
    // instance Meeus, Astronomical Algorithms, 2nd ed. (1998), chapter 13. From memory.
    const Room r = hall(180, 2.1);
    const room::PlanTurn turn{room::plan_bearing(r)};
    for (const double latitude_deg : {30.0, 45.0, 52.95})
        for (const double declination_deg : {-23.44, -10.0, 0.0, 10.0, 23.44}) {
            const double z = (latitude_deg - declination_deg) * degree;
            const auto patches = Scene{r}.patches(0, turn.to_plan({0, -std::sin(z), std::cos(z)}));
            REQUIRE(patches.size() == 1);
            const Point2 in = -1.0 * room::wall_frame(r.floor, 0).n;
            double deepest = 0, nearest = 1e9;
            for (const Point3 c : patches[0].outlines.at(0)) {
                const double depth = dot(Point2{c.x, c.y} - jamb_foot(r, 0), in);
                deepest = std::max(deepest, depth);
                nearest = std::min(nearest, depth);
            }
            const Window& w = r.windows[0];
            CHECK(deepest == Approx((w.sill_m + w.height_m) * std::tan(z)).margin(1e-5));
            CHECK(nearest == Approx(w.sill_m * std::tan(z)).margin(1e-5));
        }
}
