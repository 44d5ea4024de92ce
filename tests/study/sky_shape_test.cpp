// The tabled sky against ISO 15469's formula as light::Sky has it.

#include "../../src/study/sky_shape.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

using namespace keyhour;
using namespace keyhour::study;

namespace {

constexpr double pi = std::numbers::pi;

/// The dome's relative luminance on a level plane, by steps of a degree and of two round it; the
/// sun due north.
double dome_by_steps(const SkyShape& sky, double sun_rad) {
    double sum = 0;
    const double step = pi / 180;
    for (double h = step / 2; h < pi / 2; h += step)
        for (double a = step; a < 2 * pi; a += 2 * step) {
            const double cosine =
                std::sin(h) * std::sin(sun_rad) + std::cos(h) * std::cos(sun_rad) * std::cos(a);
            sum += sky.gradation(std::sin(h)) * sky.about_sun(cosine) * std::sin(h) * std::cos(h) *
                   step * 2 * step;
        }
    return sum;
}

}  // namespace

TEST_CASE("a sky's shape is the standard's product of gradation and indicatrix", "[sky_shape]") {
    for (const int type : {1, 5, 12, 15}) {
        CAPTURE(type);
        const SkyShape sky{type};
        const light::SkyType t = light::cie_sky_type(type);
        // ISO 15469: 1 + a exp(b / sin h), 1 + c (exp(d x) - exp(d pi / 2)) + e cos^2 x.
        for (double h = 0.01; h < pi / 2; h += 0.07)
            CHECK(sky.gradation(std::sin(h)) ==
                  Approx(1 + t.a * std::exp(t.b / std::sin(h))).epsilon(1e-12));
        CHECK(sky.gradation(0) == 1);
        CHECK(sky.gradation(-0.3) == 1);
        for (double x = 0; x < pi; x += 0.013)
            CHECK(sky.about_sun(std::cos(x)) ==
                  Approx(1 + t.c * (std::exp(t.d * x) - std::exp(t.d * pi / 2)) +
                         t.e * std::cos(x) * std::cos(x))
                      .epsilon(1e-3));
        CHECK(sky.about_sun(-1) ==
              Approx(1 + t.c * (std::exp(t.d * pi) - std::exp(t.d * pi / 2)) + t.e).epsilon(1e-9));
        CHECK(sky.about_sun(1) ==
              Approx(1 + t.c * (1 - std::exp(t.d * pi / 2)) + t.e).epsilon(1e-9));
        // Rounding may bring a cosine over one.
        CHECK(sky.about_sun(1 + 1e-12) == sky.about_sun(1));
        CHECK(sky.about_sun(-1 - 1e-12) == Approx(sky.about_sun(-1)).epsilon(1e-6));
    }
}

TEST_CASE("what a dome amounts to is its sum over the directions", "[sky_shape]") {
    for (const int type : {1, 5, 12, 15}) {
        CAPTURE(type);
        const SkyShape sky{type};
        for (const double sun : {0.1, 0.5, 1.2, pi / 2})
            CHECK(sky.dome(std::sin(sun)) == Approx(dome_by_steps(sky, sun)).epsilon(0.02));
        CHECK(sky.dome(-0.2) == sky.dome(0));
        CHECK(sky.dome(1.1) == sky.dome(1));
    }
}

TEST_CASE("the table's steps lie evenly over the sine of half the angle", "[sky_shape]") {
    // At each step the formula itself, between two the straight line; 512 steps.
    const SkyShape sky{12};
    const light::SkyType t = light::cie_sky_type(12);
    const auto formula = [&](double sine) {
        const double x = 2 * std::asin(sine);
        return 1 + t.c * (std::exp(t.d * x) - std::exp(t.d * pi / 2)) +
               t.e * std::cos(x) * std::cos(x);
    };
    const auto cosine = [](double sine) { return 1 - 2 * sine * sine; };
    for (const int step : {1, 2, 17, 300, 510}) {
        const double here = step / 512.0, next = (step + 1) / 512.0;
        CHECK(sky.about_sun(cosine(here)) == Approx(formula(here)).epsilon(1e-9));
        const double between = here + 0.3 * (next - here);
        CHECK(sky.about_sun(cosine(between)) ==
              Approx(0.7 * formula(here) + 0.3 * formula(next)).epsilon(1e-9));
    }
}
