// Skylines from elevation grids that the test writes itself: shapes whose skyline has a closed
// form.
#include "keyhour/site/terrain.hpp"

#include <GeographicLib/Geodesic.hpp>
#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <numbers>
#include <string>
#include <vector>

#include "support/scratch_folder.hpp"

using namespace keyhour;

using namespace keyhour::site;
using keyhour::test::ScratchFolder;

namespace {

constexpr double degree = std::numbers::pi / 180;
constexpr std::int16_t hole = -32768;

/// A tile of 1201 by 1201 posts; the surface in metres at latitude and longitude in degrees.
std::string tile(double south, double west, const std::function<double(double, double)>& surface) {
    constexpr int side = 1201;
    std::string bytes;
    bytes.reserve(std::size_t{2} * side * side);
    for (int row = 0; row < side; ++row)
        for (int column = 0; column < side; ++column) {
            const double metres = surface(south + 1 - row / 1200.0, west + column / 1200.0);
            const auto post = static_cast<std::int16_t>(std::lround(metres));
            const auto bits = static_cast<std::uint16_t>(post);
            bytes += static_cast<char>(bits >> 8U);
            bytes += static_cast<char>(bits & 0xffU);
        }
    return bytes;
}

double geodesic_m(double lat0, double lon0, double lat1, double lon1) {
    double metres = 0;
    GeographicLib::Geodesic::WGS84().Inverse(lat0, lon0, lat1, lon1, metres);
    return metres;
}

Coordinates at(double latitude, double longitude) {
    return {Angle::degrees(latitude), Angle::degrees(longitude)};
}

double altitude(const Horizon& horizon, double bearing) {
    return horizon.altitude_at({wrapped_turn(Angle::degrees(bearing))}).above_horizon.in_degrees();
}

Terrain opened(const std::string& path, const Coordinates& site) {
    auto terrain = Terrain::open(path, site);
    if (!terrain) FAIL(terrain.error());
    return *std::move(terrain);
}

std::string refused(const std::string& path, const Coordinates& site) {
    const auto terrain = Terrain::open(path, site);
    REQUIRE_FALSE(terrain.has_value());
    return terrain.error();
}

std::string flat() {
    static const std::string bytes = tile(0, 0, [](double, double) { return 100; });
    return bytes;
}

}  // namespace

TEST_CASE("curvature and refraction drop a point by (1 - k) d^2 / 2R", "[site][published]") {
    // Any textbook of surveying: c - r = (1 - k) d^2 / 2R, 0.0675 d^2 metres with d in km, R = 6371
    // km and k = 0.14; with k = 0.13 here 0.0683. From memory.
    for (const double km : {1.0, 5.0, 20.0}) {
        const double drop =
            -std::tan(apparent_altitude(km * 1000, 50, 50).above_horizon.in_radians()) * km * 1000;
        CHECK(drop == Approx(0.0683 * km * km).epsilon(0.002));
    }
}

TEST_CASE("the sea's horizon dips by 1.78 arcminutes a root of metres", "[site][published]") {
    // Nautical almanacs: dip = 1.76' sqrt(h), for a refraction of about k = 0.16; with k = 0.13 the
    // same formula, sqrt(2 h (1 - k) / R), gives 1.797'. From memory.
    for (const double eye : {4.0, 25.0, 100.0}) {
        const double at_m = visible_range_m(eye, 0);
        const double dip_arcmin = -apparent_altitude(at_m, eye, 0).above_horizon.in_degrees() * 60;
        CHECK(dip_arcmin == Approx(1.797 * std::sqrt(eye)).epsilon(0.001));
        // It is the highest that the sea ever stands.
        CHECK(apparent_altitude(at_m * 0.9, eye, 0) < apparent_altitude(at_m, eye, 0));
        CHECK(apparent_altitude(at_m * 1.1, eye, 0) < apparent_altitude(at_m, eye, 0));
    }
    // 3.57 km a root of metres without air becomes 3.83 with k = 0.13.
    CHECK(visible_range_m(1, 0) == Approx(3827).margin(2));
}

TEST_CASE("a plain looks level but for its dip", "[site]") {
    const ScratchFolder folder;
    folder.write("N00E000.hgt", flat());
    const Terrain terrain = opened(folder.path(), at(0.5, 0.5));
    const auto skyline = terrain.skyline(at(0.5, 0.5), 10, 100);
    REQUIRE(skyline.has_value());
    CHECK(skyline->eye_m == Approx(110));
    CHECK(skyline->missing.empty());
    CHECK_FALSE(skyline->has_voids);
    const double dip = apparent_altitude(visible_range_m(10, 0), 10, 0).above_horizon.in_degrees();
    for (const double bearing : {0.0, 77.0, 180.0, 301.5})
        CHECK(altitude(skyline->horizon, bearing) == Approx(dip).margin(5e-4));
}

TEST_CASE("a straight ridge stands as its closed form says", "[site]") {
    // A knife edge 600 m high along the parallel 0.7 N, the posts of one row; the plain at 100 m.
    const ScratchFolder folder;
    folder.write("N00E000.hgt", tile(0, 0, [](double latitude, double) {
                     return std::abs(latitude - 0.7) < 1e-6 ? 600 : 100;
                 }));
    const Terrain terrain = opened(folder.path(), at(0.5, 0.5));
    const auto skyline = terrain.skyline(at(0.5, 0.5), 1.6, 100);
    REQUIRE(skyline.has_value());
    for (const double bearing : {0.0, 20.0, -35.0, 50.0}) {
        // Where the geodesic meets the parallel, by bisection with GeographicLib.
        double low = 1000, high = 60000;
        for (int i = 0; i < 60; ++i) {
            const double middle = (low + high) / 2;
            double latitude = 0, longitude = 0;
            GeographicLib::Geodesic::WGS84().Direct(0.5, 0.5, bearing, middle, latitude, longitude);
            (latitude < 0.7 ? low : high) = middle;
        }
        const double expected = apparent_altitude(low, 101.6, 600).above_horizon.in_degrees();
        // The profile is straight between bearings a quarter of a degree apart.
        CAPTURE(bearing, low, expected);
        CHECK(altitude(skyline->horizon, bearing) == Approx(expected).margin(0.01));
        CHECK(altitude(skyline->horizon, bearing) <= expected + 0.004);
    }
    CHECK(altitude(skyline->horizon, 180) < 0);
}

TEST_CASE("a cone stands as its closed form says, all across", "[site]") {
    // Peak 1100 m at 0.6 N 0.7 E, falling 0.2 m a metre of arc to the plain at 100 m.
    const ScratchFolder folder;
    const double peak_latitude = 0.6, peak_longitude = 0.7;
    folder.write("N00E000.hgt", tile(0, 0, [&](double latitude, double longitude) {
                     // Near the equator within 0.1 %: the cone as the eye's plane has it.
                     const double north = (latitude - peak_latitude) * 110574.3;
                     const double east = (longitude - peak_longitude) * 111313.6;
                     return std::max(100.0, 1100 - 0.2 * std::hypot(north, east));
                 }));
    const Terrain terrain = opened(folder.path(), at(0.5, 0.5));
    const auto skyline = terrain.skyline(at(0.5, 0.5), 1.6, 100);
    REQUIRE(skyline.has_value());
    double away = 0, towards = 0, back = 0;
    GeographicLib::Geodesic::WGS84().Inverse(0.5, 0.5, peak_latitude, peak_longitude, away, towards,
                                             back);
    // Straight at it: the peak itself. 24.85 km off, 1000 m high: 2.2 degrees. A quarter of a
    // degree is 108 m there: half of that beside the tip the cone is 11 m or 0.025 degrees lower.
    CHECK(altitude(skyline->horizon, towards) ==
          Approx(apparent_altitude(away, 101.6, 1100).above_horizon.in_degrees()).margin(0.03));
    // Aside the highest point lies before the axis: searched on the exact surface, step by step.
    for (const double aside : {-6.0, -2.5, 1.0, 4.0, 8.0}) {
        double highest = -90;
        for (double t = 100; t < 60000; t += 5) {
            const double x = t * std::sin(aside * degree), y = t * std::cos(aside * degree) - away;
            const double top = std::max(100.0, 1100 - 0.2 * std::hypot(x, y));
            highest =
                std::max(highest, apparent_altitude(t, 101.6, top).above_horizon.in_degrees());
        }
        CAPTURE(aside, highest);
        CHECK(altitude(skyline->horizon, towards + aside) == Approx(highest).margin(0.02));
    }
}

TEST_CASE("a far peak sinks behind the Earth's bulge", "[site]") {
    // 300 m over a sea, 90 km off: beyond 3.83 km (sqrt 4 + sqrt 300) = 74 km it is out of sight.
    const ScratchFolder folder;
    const auto peak = [](double latitude, double longitude) {
        return std::hypot(latitude - 0.95, longitude - 0.5) < 0.02 ? 300 : 0;
    };
    folder.write("N00E000.hgt", tile(0, 0, peak));
    const Terrain terrain = opened(folder.path(), at(0.14, 0.5));
    const auto hidden = terrain.skyline(at(0.14, 0.5), 4, 100);
    const auto seen = terrain.skyline(at(0.5, 0.5), 4, 100);
    REQUIRE(hidden.has_value());
    REQUIRE(seen.has_value());
    const double dip = apparent_altitude(visible_range_m(4, 0), 4, 0).above_horizon.in_degrees();
    CHECK(altitude(hidden->horizon, 0) == Approx(dip).margin(1e-3));
    const double near = geodesic_m(0.5, 0.5, 0.93, 0.5);
    CHECK(altitude(seen->horizon, 0) ==
          Approx(apparent_altitude(near, 4, 300).above_horizon.in_degrees()).margin(0.005));
    // Each spot has its own: from the south of the peak it stands north, from the north of it
    // south.
    const auto behind = terrain.skyline(at(0.99, 0.5), 4, 100);
    CHECK(altitude(behind->horizon, 180) > 3);
    CHECK(altitude(behind->horizon, 0) < 0);
}

TEST_CASE("voids are passed over and told", "[site]") {
    const ScratchFolder folder;
    folder.write("N00E000.hgt", tile(0, 0, [](double latitude, double longitude) -> double {
                     if (latitude > 0.8) return hole;
                     return std::abs(longitude - 0.7) < 0.01 ? 500 : 100;
                 }));
    const Terrain terrain = opened(folder.path(), at(0.5, 0.5));
    const auto skyline = terrain.skyline(at(0.5, 0.5), 1.6, 100);
    REQUIRE(skyline.has_value());
    CHECK(skyline->has_voids);
    CHECK(altitude(skyline->horizon, 90) > 0.5);
    CHECK(refused(folder.path(), at(0.9, 0.5)).find("has a void at the site; ") !=
          std::string::npos);
    CHECK_FALSE(terrain.skyline(at(0.9, 0.5), 1.6, 100).has_value());
}

TEST_CASE("what is wrong with terrain is told", "[site]") {
    const ScratchFolder folder;
    CHECK(refused(folder.path("none"), at(0.5, 0.5)).find("there is no such file or folder; ") !=
          std::string::npos);
    CHECK(refused(folder.path(), at(52.9, -1.2))
              .find("no grid holds the site; its tile is N52W002.hgt") != std::string::npos);
    folder.write("N00E000.hgt", std::string(1000, '\0'));
    CHECK(refused(folder.path(), at(0.5, 0.5)) ==
          folder.path("N00E000.hgt") +
              ": a tile of 1000 bytes; accepted: 2884802 bytes (1201 by 1201 posts) or 25934402 "
              "(3601 by 3601)");
    folder.write("hills.hgt", flat());
    CHECK(refused(folder.path("hills.hgt"), at(0.5, 0.5)).find("the name \"hills\" is not that") !=
          std::string::npos);
    folder.write("hills.asc", "x");
    CHECK(refused(folder.path("hills.asc"), at(0.5, 0.5)).find("not a grid that can be read; ") !=
          std::string::npos);
}

TEST_CASE("tiles that are not there are named where they would be in sight", "[site]") {
    const ScratchFolder folder;
    folder.write("N00E000.hgt", flat());
    // Eye 1.6 m over a plain 100 m above the sea, 1 km from the tile's edge.
    const Terrain terrain = opened(folder.path("N00E000.hgt"), at(0.5, 0.991));
    const auto skyline = terrain.skyline(at(0.5, 0.991), 1.6, 100);
    REQUIRE(skyline.has_value());
    CHECK(skyline->missing == std::vector<std::string>{"N00E001"});
}

TEST_CASE("tiles join at the antimeridian", "[site]") {
    const ScratchFolder folder;
    folder.write("S17E179.hgt", tile(-17, 179, [](double, double) { return 50; }));
    folder.write("S17W180.hgt", tile(-17, -180, [](double, double longitude) {
                     return longitude > -179.9 && longitude < -179.88 ? 550 : 50;
                 }));
    const Terrain terrain = opened(folder.path(), at(-16.5, 179.99));
    CHECK(terrain.grids() == 2);
    const auto skyline = terrain.skyline(at(-16.5, 179.99), 1.6, 100);
    REQUIRE(skyline.has_value());
    const double away = geodesic_m(-16.5, 179.99, -16.5, -179.9);
    CHECK(altitude(skyline->horizon, 90) ==
          Approx(apparent_altitude(away, 51.6, 550).above_horizon.in_degrees()).margin(0.03));
    CHECK(terrain.elevation_m(-16.5, 180) == 50);
    CHECK(terrain.elevation_m(-16.5, -180) == 50);
}

TEST_CASE("tiles have the name of their south-west corner, at the poles and the date line too",
          "[site]") {
    CHECK(srtm_tile_name(52.95, -1.15) == "N52W002");
    CHECK(srtm_tile_name(-0.5, 0.5) == "S01E000");
    CHECK(srtm_tile_name(10, 180) == "N10W180");
    CHECK(srtm_tile_name(10, -180) == "N10W180");
    CHECK(srtm_tile_name(10, 179.5) == "N10E179");
    CHECK(srtm_tile_name(90, 0) == "N89E000");
    CHECK(srtm_tile_name(-90, 0) == "S90E000");
    CHECK(srtm_tile_name(0, 0) == "N00E000");
}

TEST_CASE("a site at a pole has a skyline where there are tiles", "[site]") {
    // Four tiles of ninety: the rest is told as missing, and nothing breaks.
    const ScratchFolder folder;
    for (const char* name : {"N89E000.hgt", "N89E090.hgt", "N89W180.hgt", "N89W090.hgt"})
        folder.write(name, flat());
    const Terrain terrain = opened(folder.path(), at(89.999, 0.5));
    const auto skyline = terrain.skyline(at(89.999, 0.5), 1.6, 100);
    REQUIRE(skyline.has_value());
    CHECK(skyline->missing.size() > 300);
    for (const HorizonPoint& p : skyline->horizon.points())
        CHECK(std::isfinite(p.altitude.in_radians()));
}
