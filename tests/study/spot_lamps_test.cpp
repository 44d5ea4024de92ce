// The level that street and yard lamps give at a spot.
// Source of the laws: inverse square and cosine; for a lamp of intensity I at height h, seen at an
// angle g off its nadir, level ground has I cos^3 g / h^2 (IES handbook, from memory).

#include "keyhour/study/spot_lamps.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

using namespace keyhour;
using namespace keyhour::study;

namespace {

site::Location yard() {
    site::Location l;
    l.site.observer = {Angle::degrees(52), {}, 0};
    site::Lamp lamp;
    lamp.name = "street lamp";
    lamp.photometry = site::Lumens{4000};
    lamp.at = room::Point2{0, 0};
    lamp.height_m = 5;
    l.lamps = {lamp};
    return l;
}

site::Spot spot_at(double x, double eye_m = 1.6) {
    site::Spot spot;
    spot.name = "spot";
    spot.at = {x, 0};
    spot.on_plan = true;
    spot.eye_m = eye_m;
    return spot;
}

}  // namespace

TEST_CASE("level ground under a lamp has the cosine-cubed law's level", "[study][lamp]") {
    site::Location l = yard();
    for (const double x : {0.0, 2.0, 5.0, 12.0, 30.0}) {
        const double g = std::atan2(x, 5);
        const double down = 4000 / std::numbers::pi;  // a downlight obeys Lambert
        const auto lamps = lamps_at(l, spot_at(x));
        REQUIRE(lamps.size() == 1);
        CHECK(lamps[0].along_ground_m == Approx(x));
        CHECK(lamps[0].ground_lx ==
              Approx(down * std::cos(g) * std::pow(std::cos(g), 3) / (5 * 5)));
        CHECK(ground_lx(lamps) == lamps[0].ground_lx);
    }
    // Even intensity to all sides, as measured: the law itself.
    l.lamps[0].photometry = site::MeasuredIntensity{{0, 90}, {0}, {800, 800}, 1, "even.ies"};
    for (const double x : {0.0, 2.0, 5.0, 12.0}) {
        const double g = std::atan2(x, 5);
        CHECK(lamps_at(l, spot_at(x))[0].ground_lx == Approx(800 * std::pow(std::cos(g), 3) / 25));
        // A face at 1.6 m, turned to it: the inverse square alone.
        CHECK(lamps_at(l, spot_at(x))[0].eye_lx == Approx(800 / (x * x + 3.4 * 3.4)));
    }
}

TEST_CASE("all its light falls on the ground below", "[study][lamp]") {
    const site::Location l = yard();
    // Rings of ground out to 300 m: lumens, by the middle of each ring.
    double lumens = 0;
    for (double r = 0.05; r < 300; r += 0.1)
        lumens += 2 * std::numbers::pi * r * 0.1 * lamps_at(l, spot_at(r))[0].ground_lx;
    CHECK(lumens == Approx(4000).epsilon(2e-3));
}

TEST_CASE("a building between takes the lamp away, one beside it or below does not",
          "[study][lamp]") {
    site::Location l = yard();
    l.buildings_without_room = {{"shed", {{4, -1}, {6, -1}, {6, 1}, {4, 1}}, 4, {}}};
    const auto blocked = lamps_at(l, spot_at(10))[0];
    CHECK(blocked.blocked_by == "building shed");
    CHECK(blocked.eye_lx == 0);
    CHECK(blocked.ground_lx == 0);
    // Over the shed's roof at 4 m from a lamp 20 m high, far enough off.
    l.lamps[0].height_m = 20;
    CHECK(lamps_at(l, spot_at(10))[0].blocked_by.empty());
    l.lamps[0].height_m = 5;
    l.buildings_without_room[0].height_m = 0.5;  // a low wall: the eye sees over it, the ground not
    l.buildings_without_room[0].footprint = {{9, -1}, {9.5, -1}, {9.5, 1}, {9, 1}};
    const auto low = lamps_at(l, spot_at(10))[0];
    CHECK(low.eye_lx > 0);
    CHECK(low.ground_lx == 0);
    l.buildings_without_room[0].footprint = {{4, 2}, {6, 2}, {6, 3}, {4, 3}};
    CHECK(lamps_at(l, spot_at(10))[0].ground_lx > 0);
}

TEST_CASE("lamps on stands, lamps inside and lamps without a place are not of the street",
          "[study][lamp]") {
    site::Location l = yard();
    l.lamps[0].stand_max_m = 6;
    CHECK(lamps_at(l, spot_at(3)).empty());
    l.lamps[0].stand_max_m.reset();
    l.lamps[0].place = site::Lamp::Place::inside;
    CHECK(lamps_at(l, spot_at(3)).empty());
    l.lamps[0].place = site::Lamp::Place::outside;
    l.lamps[0].at.reset();
    CHECK(lamps_at(l, spot_at(3)).empty());
}

TEST_CASE("a lamp in a building is behind its walls, even seen over its very corner",
          "[study][lamp]") {
    site::Location l = yard();
    l.buildings_without_room = {{"shed", {{-1, -1}, {1, -1}, {1, 1}, {-1, 1}}, 8}};
    // The way passes a corner exactly: from (3, 3) through (1, 1) to the lamp in the middle.
    for (const room::Point2 at : {room::Point2{3, 3}, room::Point2{3, 0.5}}) {
        site::Spot spot = spot_at(0);
        spot.at = at;
        CHECK(lamps_at(l, spot)[0].blocked_by == "building shed");
    }
    // On the roof it stands free of it, seen from far enough.
    l.lamps[0].height_m = 9;
    CHECK(lamps_at(l, spot_at(30))[0].blocked_by.empty());
    // And an eye inside sees no lamp outside.
    l.lamps[0].at = room::Point2{10, 0};
    l.lamps[0].height_m = 5;
    CHECK(lamps_at(l, spot_at(0))[0].blocked_by == "building shed");
}

TEST_CASE("a building whose corner alone stands between hides a lamp", "[study][lamp]") {
    site::Location l = yard();
    l.lamps[0].at = room::Point2{-10, 0};
    // Squares that stand on a corner's side of the way along y = 0, each corner reaching 0.5 m
    // over.
    for (const double sign : {1.0, -1.0})
        for (const std::size_t turn : {0U, 1U, 2U, 3U}) {
            room::Ring square{{0, -0.5 * sign}, {2, 1.5 * sign}, {0, 3.5 * sign}, {-2, 1.5 * sign}};
            std::rotate(square.begin(), square.begin() + static_cast<std::ptrdiff_t>(turn),
                        square.end());
            l.buildings_without_room = {{"kiosk", square, 8}};
            CAPTURE(sign, turn);
            CHECK(lamps_at(l, spot_at(10))[0].blocked_by == "building kiosk");
            for (room::Point2& corner : square)
                corner.y += sign;  // half a metre clear of it now
            l.buildings_without_room = {{"kiosk", square, 8}};
            CHECK(lamps_at(l, spot_at(10))[0].blocked_by.empty());
        }
}
