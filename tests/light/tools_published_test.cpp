// Glass, exposure, inter-reflection, lamps and haze against published figures, and against an
// independent working of the same sources for this project's notes.

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <utility>

#include "keyhour/light/exposure.hpp"
#include "keyhour/light/glass.hpp"
#include "keyhour/light/haze.hpp"
#include "keyhour/light/inter_reflection.hpp"
#include "keyhour/light/lamp.hpp"

using namespace keyhour;
using namespace keyhour::light;

TEST_CASE("glass passes what the textbook's formulae give", "[light][published]") {
    // Duffie & Beckman, Solar Engineering of Thermal Processes, ch. 5, worked for the notes: 0.006.
    struct Row {
        double deg, one, two;
    };
    for (const Row& row : {Row{0, 0.900, 0.816},
                           {20, 0.900, 0.815},
                           {40, 0.890, 0.804},
                           {50, 0.871, 0.783},
                           {60, 0.823, 0.725},
                           {70, 0.706, 0.575},
                           {80, 0.441, 0.287}}) {
        INFO("incidence " << row.deg);
        CHECK(transmittance(Panes::one, Angle::degrees(row.deg)) == Approx(row.one).margin(0.0015));
        CHECK(transmittance(Panes::two, Angle::degrees(row.deg)) == Approx(row.two).margin(0.0015));
    }
    CHECK(diffuse_transmittance(Panes::one) == transmittance(Panes::one, Angle::degrees(60)));
    // Square on, Fresnel's reflection is ((n-1)/(n+1))^2 = 0.0434 a face (any textbook of optics).
    const double r = std::pow(0.526 / 2.526, 2), a = std::exp(-0.018);
    CHECK(transmittance(Panes::one, {}) ==
          Approx(a * (1 - r) * (1 - r) / (1 - r * r * a * a)).epsilon(1e-12));
}

TEST_CASE("the incident meter's equation gives the rules of thumb", "[light][published]") {
    // ISO 2720:1974 with C = 250. 100 foot-candles (1076.4 lx), ISO 100, 1/50 s: T2.8 by the old
    // rule; the notes' figure T2.93.
    CHECK(t_number(1076.4, {100, 25, 180, 250}) == Approx(2.93).margin(0.005));
    // "Sunny 16": 64 klx, ISO 100, 1/100 s (common practice, no source).
    CHECK(t_number(64000, {100, 50, 180, 250}) == Approx(16).margin(0.005));
    CHECK(level_for_lx(2.8, {800, 24, 180, 250}) == Approx(117.6).margin(0.05));
    CHECK(exposure_time_s({100, 24, 180, 250}) == Approx(1.0 / 48));
    CHECK(nd_density_stops(0.9) == Approx(2.99).margin(0.005));
    // EV 0 at ISO 100 is 2.5 lx with C = 250: the standard's definition.
    CHECK(ev_at_iso_100(2.5) == Approx(0).margin(1e-12));
    CHECK(ev_at_iso_100(64000) == Approx(2 * std::log2(16) + std::log2(100)).margin(1e-9));
}

TEST_CASE("the room's own light has the handbooks' values", "[light][published]") {
    // Lynes 1979; Crisp & Littlefair 1984; Hopkinson et al. 1954: worked for the notes.
    const RoomReflectances room{100, 0.5, 0.3, 0.7};
    CHECK(mean_daylight_factor_percent(0.8, 4, Angle::degrees(60), room) ==
          Approx(2.56).margin(0.005));
    CHECK(reflected_component_percent(0.85, 4, {}, room) == Approx(1.03).margin(0.005));
    CHECK(reflected_component_percent(0.85, 4, Angle::degrees(80), room) ==
          Approx(100 * 0.85 * 4 * (5 * 0.3 + 5 * 0.7) / (100 * 0.5) / 100).epsilon(1e-9));
    // The notes' room: 7.2 x 4.6 x 3.1 m, a window of 1.4 x 1.6 m.
    const RoomReflectances shop{139.4, 0.476, 0.35, 0.60};
    CHECK(split_flux_lx(diffuse_transmittance(Panes::one), 1.4 * 1.6, 16500, 3240, shop) ==
          Approx(195).epsilon(0.01));
    CHECK(sphere_lx(93000, 0.2, shop) == Approx(255).epsilon(0.005));
    const double key = 51000, fill = 195 + 255;
    CHECK(stops_between(key, fill) == Approx(6.8).margin(0.05));
    // Both formulae are estimates of one room: within a factor 2.5 of each other's order.
    const double whole = mean_daylight_factor_percent(0.85, 4, Angle::degrees(80), room);
    CHECK(reflected_component_percent(0.85, 4, {}, room) < whole);
}

TEST_CASE("a disc reads short of a point as its closed form says", "[light][published]") {
    // Uniform disc of luminance L, on its axis: E = pi L R2/(r2 + R2) (any handbook of photometry);
    // summed here over rings. Five-times rule: 1 % at five diameters (IES handbook, from memory).
    CHECK(disc_factor(0.6, 3.0) == Approx(0.990).margin(0.0005));
    for (const double r : {0.3, 0.6, 1.5, 3.0}) {
        constexpr double R = 0.3, luminance = 1000;
        constexpr int rings = 4000;
        double sum = 0;
        for (int i = 0; i < rings; ++i) {
            const double rho = R * (i + 0.5) / rings, d2 = r * r + rho * rho;
            sum += luminance * 2 * std::numbers::pi * rho * (R / rings) * (r * r / d2) / d2;
        }
        const SoftFace disc{luminance * std::numbers::pi * R * R, 2 * R};
        CHECK(disc.level_lx(r) == Approx(sum).epsilon(1e-6));
    }
    CHECK(too_near(0.5, 2.4));
    CHECK(!too_near(0.5, 2.6));
}

TEST_CASE("inverse square, cosine, edge and fall-off", "[light][published]") {
    // The laws themselves; figures worked for the notes.
    CHECK(point_source_lx(100000, 5) == Approx(4000));
    CHECK(point_source_lx(100000, 5, std::cos(std::numbers::pi / 3)) == Approx(2000));
    CHECK(soft_edge_m(0.5, 6, 3) == Approx(0.25));
    CHECK(soft_edge_m(0.5, 54, 1) == Approx(0.0093).margin(0.00005));
    CHECK(stand_off_m(3, 0.10) == Approx(30));
    CHECK(patch_growth(30, 3) == Approx(1.10));
    CHECK(fall_off_stops(6, 8) == Approx(0.83).margin(0.005));
    CHECK(downlight(std::numbers::pi * 1000).level_lx(10) == Approx(10));
}

TEST_CASE("the beam in haze has the notes' ratios", "[light][published]") {
    // Henyey & Greenstein 1941, worked for the notes.
    struct Row {
        double g, to_side, to_back;
    };
    for (const Row& row :
         {Row{0.7, 12.4, 30.4}, {0.75, 14.4, 35.8}, {0.8, 16.4, 41.0}, {0.85, 18.1, 45.6}}) {
        INFO("g " << row.g);
        const auto stops = [&](double than) {
            return haze_stops(Angle::degrees(30), Angle::degrees(than), row.g);
        };
        CHECK(std::exp2(stops(90)) == Approx(row.to_side).margin(0.06));
        CHECK(std::exp2(stops(150)) == Approx(row.to_back).margin(0.06));
    }
    CHECK(visibility_m(0.01) == Approx(391).margin(0.5));
    CHECK(beam_luminance_cd_m2(20000, 0.02, 1, Angle::degrees(30)) == Approx(89).margin(0.5));
    CHECK(phase_function({}, 0) == Approx(1 / (4 * std::numbers::pi)));
}
