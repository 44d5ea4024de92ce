// A lamp's light through a window and the whole chain behind it, against sources outside the
// project.

#include <catch2/catch.hpp>
#include <cmath>
#include <memory>
#include <numbers>

#include "keyhour/room/lamp_throw.hpp"
#include "keyhour/study/lamp_output.hpp"
#include "read/photometric_file.hpp"

using namespace keyhour;
using room::Point3;

namespace {

constexpr double pi = std::numbers::pi;

}  // namespace

TEST_CASE("a diffusion frame's level is the sum over its disc", "[lamp][published]") {
    // Inverse square and both cosines over every part of a Lambert disc (Lambert, Photometria,
    // 1760); the closed form on the axis is that of the IES handbook's five-times rule.
    // On the heap: GCC 12 takes the variant for unset where sanitizers are on.
    const auto lamp = std::make_unique<site::Lamp>();
    auto& sheet = lamp->photometry.emplace<light::DataSheet>();
    sheet.reading = {12000, 5};
    sheet.beam = Angle::degrees(24);
    sheet.face_diameter_m = 0.3;
    lamp->diffusion = light::Diffusion{0.5, 1.2, 0.8};
    const study::LampOutput output{*lamp};
    const double radius = 0.6, luminance = output.axis_candela() / (pi * radius * radius);
    for (const double distance : {1.0, 2.0, 6.0}) {
        double sum = 0;
        constexpr int rings = 400;
        for (int i = 0; i < rings; ++i) {
            const double r = radius * (i + 0.5) / rings;
            const double far2 = distance * distance + r * r;
            const double cosine = distance / std::sqrt(far2);
            sum += luminance * 2 * pi * r * (radius / rings) * cosine * cosine / far2;
        }
        CHECK(output.level_lx({{}, {0, 1, 0}}, {0, distance, 0}) == Approx(sum).epsilon(1e-4));
    }
    // The rule itself: at five diameters the point law reads a hundredth too much.
    const double at_five = output.level_lx({{}, {0, 1, 0}}, {0, 6, 0});
    CHECK(output.axis_candela() / 36 / at_five == Approx(1.01).epsilon(1e-4));
}

TEST_CASE("a photometric file of even intensity lights a plane by the laws of Lambert and Kepler",
          "[lamp][published]") {
    // Inverse square (Kepler, Paralipomena, 1604) and cosine (Lambert 1760): E = I cos g / r2.
    // The file is written from the description of ANSI/IES LM-63-2002.
    const auto read = read::read_photometric_text(
        "IESNA:LM-63-2002\n[TEST] even\nTILT=NONE\n1 -1 2 2 1 1 2 0 0 0\n0.5 1 0\n0 180\n0\n"
        "500 500\n",
        "even.ies");
    REQUIRE(read);
    const auto lamp = std::make_unique<site::Lamp>();
    lamp->photometry.emplace<site::MeasuredIntensity>(read->intensity);
    const study::LampOutput output{*lamp};
    CHECK(output.lumens() == Approx(4 * pi * 500).epsilon(1e-6));
    for (const Point3 at : {Point3{0, 3, 0}, Point3{2, 3, -1}, Point3{-4, 1, 2}}) {
        const double r2 = dot(at, at);
        const double cosine = at.y / std::sqrt(r2);  // on a plane square to y
        CHECK(output.level_lx({{}, {0, 1, 0}}, at, cosine) == Approx(500 * cosine / r2));
    }
}

TEST_CASE("all the light of a lamp that enters an opening is its intensity over the solid angle",
          "[lamp][published]") {
    // A rectangle seen from beside its middle, as differences of corner rectangles: solid angle
    // atan(a b / (d sqrt(a2 + b2 + d2))) of one with a corner before the eye (Van Oosterom and
    // Strackee, IEEE Trans. Biomed. Eng. 30 (1983) 125, for the triangles it is made of).
    room::Room r;
    r.floor = {{0, 0}, {8, 0}, {8, 5}, {0, 5}};
    r.walls = {"window", "right", "back", "left"};
    r.height_m = 3;
    room::Window w;
    w.left_m = 3;
    w.width_m = 2;
    w.sill_m = 0.5;
    w.height_m = 1.8;
    r.windows = {w};
    const room::Scene scene{r};
    const auto corner = [](double a, double b, double d) {
        return std::atan(a * b / (d * std::sqrt(a * a + b * b + d * d)));
    };
    for (const Point3 lamp : {Point3{4, -3, 1.4}, Point3{1, -2, 2.8}, Point3{7.5, -6, 0.2}}) {
        // Seen from inside, looking out along -y, the wall's left-hand corner is at x = 8.
        const double left = 8 - w.left_m - w.width_m, right = left + w.width_m;
        const double d = -lamp.y;
        const auto to = [&](double x, double z) { return corner(x - lamp.x, z - lamp.z, d); };
        const double expected = to(right, 2.3) - to(left, 2.3) - to(right, 0.5) + to(left, 0.5);
        double sum = 0;
        for (const room::ThrownPart& part : room::LampThrow{scene, 0, lamp}.parts(40, 40))
            sum += part.solid_angle_sr;
        CAPTURE(lamp.x, lamp.y, lamp.z);
        CHECK(sum == Approx(expected).epsilon(5e-4));
    }
}
