#include "keyhour/light/inter_reflection.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>

using namespace keyhour;
using namespace keyhour::light;

TEST_CASE("a closed cube of one reflectance settles where the sphere says", "[light]") {
    // Light handed on bounce by bounce among six equal faces, each of which sees the other five by
    // known configuration factors (opposite 0.1998, side 0.2000: Hamilton & Morgan 1952, from
    // memory). One face is lit; the mean over all must be the integrating sphere's.
    constexpr double rho = 0.6, side = 3, area = side * side;
    constexpr double opposite = 0.199825, beside = (1 - opposite) / 4;
    std::array<double, 6> sent{
        area * 1000 * rho, 0, 0, 0, 0, 0};  // lm, faces 0/1, 2/3, 4/5 opposite
    double received = 0;
    for (int bounce = 0; bounce < 200; ++bounce) {
        std::array<double, 6> next{};
        for (std::size_t i = 0; i < 6; ++i)
            for (std::size_t j = 0; j < 6; ++j) {
                if (i == j) continue;
                const double flux = sent[i] * ((i ^ 1U) == j ? opposite : beside);
                received += flux;
                next[j] += rho * flux;
            }
        sent = next;
    }
    const RoomReflectances cube{6 * area, rho, rho, rho};
    CHECK(sphere_lx(area * 1000, rho, cube) == Approx(received / (6 * area)).epsilon(1e-9));
}

TEST_CASE("a room never gives back more than comes in", "[light]") {
    for (double mean = 0; mean <= 1.2; mean += 0.05)
        for (double rho = 0; rho <= 1; rho += 0.1) {
            const RoomReflectances room{80, mean, mean, mean};
            const double level = sphere_lx(5000, rho, room);
            CHECK(std::isfinite(level));
            const double absorbed = level * 80 * (1 - std::min(mean, highest_mean_reflectance));
            CHECK(absorbed == Approx(5000 * rho).margin(1e-9));
        }
    // All of the light through a window of 2 m2 at most.
    const RoomReflectances room{140, 0.5, 0.3, 0.6};
    CHECK(split_flux_lx(1, 2, 10000, 3000, room) * 140 * (1 - 0.5) <= 2 * 13000);
    CHECK(split_flux_lx(0, 2, 10000, 3000, room) == 0);
    // No surface gives back more than all.
    CHECK(sphere_lx(100, 1.7, room) == sphere_lx(100, 1, room));
    CHECK(sphere_lx(100, -0.2, room) == 0);
}

TEST_CASE("buildings opposite take of the reflected light by the handbooks' table", "[light]") {
    // Hopkinson's C, 39 to 5 in steps of ten degrees, from memory; straight between.
    const RoomReflectances room{100, 0.5, 0.2, 0.6};
    const auto coefficient = [&](double deg) {
        // R = T A (C lower + 5 upper) / (area (1 - mean)), solved for C.
        const double R = reflected_component_percent(1, 1, Angle::degrees(deg), room);
        return (R * 100 * 0.5 - 5 * 0.6) / 0.2;
    };
    constexpr double C[]{39, 35, 31, 25, 20, 14, 10, 7, 5};
    for (int i = 0; i < 9; ++i)
        CHECK(coefficient(10 * i) == Approx(C[i]));
    for (int i = 0; i < 8; ++i)
        CHECK(coefficient(10 * i + 3) == Approx(0.7 * C[i] + 0.3 * C[i + 1]));
    CHECK(coefficient(90) == Approx(5));
    CHECK(coefficient(-10) == Approx(39));
}

TEST_CASE("the mean reflectance weighs by area", "[light]") {
    const std::array<ReflectingArea, 3> surfaces{{{33, 0.2}, {73, 0.5}, {33, 0.7}}};
    CHECK(mean_reflectance(surfaces) == Approx((33 * 0.2 + 73 * 0.5 + 33 * 0.7) / 139));
    CHECK(mean_reflectance({}) == 0);
}
