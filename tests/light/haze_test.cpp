#include "keyhour/light/haze.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

using namespace keyhour;
using namespace keyhour::light;

TEST_CASE("what haze scatters adds up to all of it", "[light]") {
    for (const double g : {-0.3, 0.0, 0.5, 0.7, 0.85, 0.95}) {
        constexpr int n = 20000;
        constexpr double width = std::numbers::pi / n;
        double sum = 0, mean_cosine = 0;
        for (int i = 0; i < n; ++i) {
            const Angle angle = Angle::radians((i + 0.5) * width);
            const double share =
                2 * std::numbers::pi * sin(angle) * width * phase_function(angle, g);
            sum += share;
            mean_cosine += share * cos(angle);
        }
        CHECK(sum == Approx(1).epsilon(1e-5));
        CHECK(mean_cosine == Approx(g).margin(1e-5));
    }
}

TEST_CASE("a beam shows best toward the lens", "[light]") {
    double before = 1e9;
    for (double deg = 0; deg <= 180; deg += 5) {
        const double now = phase_function(Angle::degrees(deg));
        CHECK(now < before);
        before = now;
    }
    CHECK(scattering_angle(Angle::degrees(150)).in_degrees() == Approx(30));
    CHECK(haze_stops(Angle::degrees(30), Angle::degrees(90)) ==
          -haze_stops(Angle::degrees(90), Angle::degrees(30)));
}

TEST_CASE("a beam's luminance is the scattered share of its light a steradian", "[light]") {
    // Scattered alike to all sides: E x albedo x (share a metre) x path / 4 pi.
    CHECK(beam_luminance_cd_m2(20000, 0.02, 2.5, Angle::degrees(70), 0, 0.9) ==
          Approx(20000 * 0.9 * 0.02 * 2.5 / (4 * std::numbers::pi)));
}
