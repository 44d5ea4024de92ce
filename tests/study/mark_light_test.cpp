#include "keyhour/study/mark_light.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "flax_road.hpp"
#include "keyhour/light/configuration_factor.hpp"
#include "keyhour/light/glass.hpp"
#include "keyhour/light/inter_reflection.hpp"
#include "keyhour/light/overcast.hpp"
#include "keyhour/study/light_drift.hpp"
#include "workshop.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using room::Point2;
using room::Point3;

constexpr double pi = std::numbers::pi;

TEST_CASE("a sunlit workshop has the levels of a calculation by hand", "[study][light]") {
    // By hand with Bird & Riordan's clear sky at 20 degrees, Fresnel's single pane, CIE type 12,
    // split flux (Hopkinson, Longmore & Petherbridge 1954) and the integrating sphere: key
    // 51 000 lx, 195 lx given back of sky and ground, 255 lx of 93 000 lm of sun on the floor,
    // together 6.8 stops under the key; the window's own sky light 2.8 klx. The hand took one
    // transmittance for all of the sky, a mean reflectance by eye, and let all sun meet the floor.
    const Lit lit{Workshop{}.location()};
    const MarkLight m = lit.light.at(1, 0, sun_at(20, 30));
    const Entering& in = m.entering[0];
    CHECK(m.windows[0].coverage == Approx(1));
    CHECK_THAT(m.windows[0].direct_lx, WithinRel(51000, 0.01));
    CHECK_THAT(in.sun_lm, WithinRel(93000, 0.01));
    CHECK_THAT(in.sky_lm, WithinRel(0.823 * 2.24 * 16500, 0.08));  // bright sky comes in steeper
    CHECK_THAT(in.ground_lm, WithinRel(0.823 * 2.24 * 3240, 0.05));
    const WindowLight before_window = lit.at(sun_at(20, 30)).windows[0];
    CHECK_THAT(before_window.sky_lx + before_window.ground_lx, WithinRel(2800, 0.15));

    // The upper part of the beam meets the lighter back wall.
    CHECK(in.landing > 0.2);
    CHECK(in.landing < 0.3);
    const double swallow_m2 = 139.4 * (1 - 0.476);
    CHECK_THAT(m.fill_lx.likely - in.sun_lm * in.landing / swallow_m2, WithinRel(195, 0.1));
    CHECK_THAT(m.fill_lx.likely - in.sun_lm * (in.landing - 0.2) / swallow_m2,
               WithinRel(450, 0.05));
    REQUIRE(m.key_to_fill_stops);
    CHECK_THAT(m.key_to_fill_stops->likely, WithinAbs(6.8, 0.4));
    CHECK_THAT(std::log2(m.likely().ratio(light::RatioConvention::key_to_fill)),
               WithinAbs(m.key_to_fill_stops->likely, 1e-12));
}

TEST_CASE("a bare opening takes in what a wall gets from sky and ground", "[study][light]") {
    // Ratios of vertical to horizontal illuminance under CIE sky type 12 (ISO 15469:2004), sun
    // 0, 45 and 90 degrees off the wall's normal: summed on a fine grid by a program apart from
    // this one.
    struct Row {
        double altitude_deg, ratio[3];
    };
    const Lit lit{Workshop{.glass = room::Glass::none}.location()};
    for (const Row& row : {Row{10, {1.541, 1.233, 0.655}}, Row{20, {1.414, 1.133, 0.605}},
                           Row{30, {1.235, 1.000, 0.559}}, Row{45, {0.967, 0.807, 0.505}},
                           Row{60, {0.742, 0.649, 0.469}}})
        for (int i = 0; i < 3; ++i) {
            const SunNow sun = sun_at(row.altitude_deg, 45 * i);
            const light::SkyLevels l = light::clear_sky(sun.state, light::normal_air);
            const Entering in = lit.at(sun).entering[0];
            INFO("sun " << row.altitude_deg << " high, " << 45 * i << " aside");
            CHECK_THAT(in.sky_lm / 2.24 / l.diffuse_horizontal_lx, WithinRel(row.ratio[i], 0.015));
            // A wall sees half a turn of ground: 0.5 x 0.2 of the level there.
            CHECK_THAT(in.ground_lm / 2.24 / l.global_horizontal_lx, WithinRel(0.1, 0.01));
        }
}

/// Of the workshop's window, from a point straight before its middle and a plane parallel to it:
/// the closed form of the heat transfer handbooks (light/configuration_factor.hpp, whose tests hold
/// it to published values).
double window_factor(double away_m) {
    return light::parallel_factor({-0.7, 0.7, -0.8, 0.8, away_m});
}

TEST_CASE("an unglazed opening to a uniform outside gives the closed configuration factor",
          "[study][light]") {
    const Lit lit{Workshop{.glass = room::Glass::none}.location()};
    for (const double away : {0.8, 1.5, 2.5, 4.0}) {
        double factor = 0;
        for (const room::ViewPart& v : lit.study.scene().view_out(
                 0, {3.6, away, 1.55}, [](Point2) { return 0.0; }, 10, 10))
            factor += v.solid_angle_sr * v.incidence_cosine * (v.sky + v.ground) / pi;
        CHECK_THAT(factor, WithinRel(window_factor(away), 0.01));
    }
}

TEST_CASE("under cloud the room is as bright as the average daylight factor has it",
          "[study][light]") {
    // Lynes 1979, Crisp & Littlefair 1984: T W theta / (A (1 - R^2)) percent, the mean over all
    // surfaces but the window; theta 90 degrees. An order of magnitude: within a factor 1.5.
    const Lit lit{Workshop{}.location()};
    const SunNow sun = sun_at(30, 0);
    const MarkLight m = lit.light.overcast(0, 0, sun);
    const light::RoomReflectances room{139.4, 0.47, 0.35, 0.6};
    const double expected = light::mean_daylight_factor_percent(
        light::diffuse_transmittance(light::Panes::one), 2.24, Angle::degrees(90), room);
    const double outdoors = light::overcast_horizontal_lx(sun.state.true_altitude);
    const double mean = m.entering[0].total_lm() / room.area_m2 + m.fill_lx.likely;
    CHECK(100 * mean / outdoors > expected / 1.5);
    CHECK(100 * mean / outdoors < expected * 1.5);
    CHECK(m.windows[0].direct_lx == 0);
    CHECK(m.key_lx.low == Approx(m.key_lx.likely / 2));
    CHECK(m.key_lx.high == Approx(m.key_lx.likely * 2));
}

TEST_CASE("the room's surfaces get no more than comes in through the window", "[study][light]") {
    for (const double reveal_m : {0.0, 0.3}) {
        const Lit lit{Workshop{.reveal_m = reveal_m}.location()};
        const room::Room& r = lit.study.room();
        const SunNow sun = sun_at(35, 50);
        const Entering in = lit.at(sun).entering[0];
        constexpr int n = 8;
        double received = 0;
        const auto add_plane = [&](Point3 corner, Point3 a, Point3 b, Point3 facing) {
            const double area = std::sqrt(dot(a, a) * dot(b, b));
            for (int i = 0; i < n; ++i)
                for (int k = 0; k < n; ++k)
                    received += area / (n * n) *
                                lit.light.view_lx(0, corner + (i + 0.5) / n * a + (k + 0.5) / n * b,
                                                  facing, sun);
        };
        const double X = 7.2, Y = 4.6, Z = r.height_m;
        add_plane({0, 0, 0}, {X, 0, 0}, {0, Y, 0}, {0, 0, 1});
        add_plane({0, 0, Z}, {X, 0, 0}, {0, Y, 0}, {0, 0, -1});
        add_plane({0, Y, 0}, {X, 0, 0}, {0, 0, Z}, {0, -1, 0});
        add_plane({0, 0, 0}, {0, Y, 0}, {0, 0, Z}, {1, 0, 0});
        add_plane({X, 0, 0}, {0, Y, 0}, {0, 0, Z}, {-1, 0, 0});
        // Two ways of adding up the same light: within the coarseness of both grids.
        CHECK(received < 1.05 * (in.sky_lm + in.ground_lm));
        CHECK(received > 0.90 * (in.sky_lm + in.ground_lm));
    }
}

TEST_CASE("what the surfaces swallow of the light given back is no more than came in",
          "[study][light]") {
    const Lit lit{Workshop{}.location()};
    for (const double h : {5.0, 20.0, 50.0}) {
        const MarkLight m = lit.at(sun_at(h, 20));
        const double swallowed = m.fill_lx.likely * 139.4 * (1 - 0.476);
        CHECK(swallowed <= m.entering[0].total_lm());
        CHECK(m.entering[0].sun_lm <=
              1.4 * 1.6 * 133600);  // the sun above the air, square to the window
    }
}

TEST_CASE("a sheer takes the beam and spreads it, a blackout ends all", "[study][light]") {
    const auto with = [](room::Cover cover) {
        return Lit{Workshop{.cover = cover}.location()}.light.at(1, 0, sun_at(20, 30));
    };
    const MarkLight open = with(room::Cover::open), sheer = with(room::Cover::sheer);
    const MarkLight black = with(room::Cover::blackout);
    CHECK(sheer.windows[0].direct_lx == 0);
    CHECK(sheer.windows[0].coverage == 0);
    CHECK(sheer.windows[0].cloth_lx > 0);
    CHECK(sheer.key_lx.likely < open.key_lx.likely);
    CHECK(sheer.entering[0].total_lm() < open.entering[0].total_lm());
    REQUIRE(sheer.key_to_fill_stops);
    CHECK(sheer.key_to_fill_stops->likely < open.key_to_fill_stops->likely);
    CHECK(black.key_lx.high == 0);
    CHECK(black.fill_lx.high == 0);
    CHECK_FALSE(black.key_to_fill_stops);
    CHECK_FALSE(black.key_kelvin);
}

TEST_CASE("a lit sheer is a Lambert source of the opening's size", "[study][light]") {
    // E = M F, M the exitance: the closed configuration factor again.
    const MarkLight m = Lit{Workshop{.cover = room::Cover::sheer}.location()}.at(sun_at(25, 20));
    const double exitance = m.entering[0].cloth_lm / (1.4 * 1.6);
    CHECK_THAT(m.windows[0].cloth_lx, WithinRel(exitance * window_factor(2.5), 0.01));
}

TEST_CASE("what stands outside lowers the sky's part", "[study][light]") {
    room::Building opposite;
    opposite.footprint = {{-40, -14}, {40, -14}, {40, -6}, {-40, -6}};
    opposite.height_m = 6;
    const SunNow sun = sun_at(60, 0);
    const MarkLight open = Lit{Workshop{}.location()}.at(sun);
    const MarkLight built = Lit{Workshop{.buildings = {opposite}}.location()}.at(sun);
    const MarkLight hills = Lit{Workshop{.horizon = {{Angle::degrees(90), Angle::degrees(15)},
                                                     {Angle::degrees(270), Angle::degrees(15)}}}
                                    .location()}
                                .at(sun);
    for (const MarkLight& m : {built, hills}) {
        CHECK(m.windows[0].sky_lx < 0.8 * open.windows[0].sky_lx);
        CHECK(m.entering[0].sky_lm < open.entering[0].sky_lm);
        CHECK(m.key_lx.likely < open.key_lx.likely);
    }
    CHECK(built.fill_lx.likely < open.fill_lx.likely);
}

TEST_CASE("a wall that fills the view gives back a fifth of half the sky", "[study][light]") {
    room::Building opposite;
    opposite.footprint = {{-400, -14}, {400, -14}, {400, -6}, {-400, -6}};
    opposite.height_m = 2000;
    const SunNow sun = sun_at(60, 0);
    const double sky_lx = light::overcast_horizontal_lx(sun.state.true_altitude);
    const Lit open{Workshop{.glass = room::Glass::none}.location()};
    const Lit built{Workshop{.glass = room::Glass::none, .buildings = {opposite}}.location()};
    const MarkLight with = built.light.overcast(0, 0, sun);
    const MarkLight without = open.light.overcast(0, 0, sun);
    // At a height h above the ground the wall's foot, d away, stands at an angle whose sine is
    // h / sqrt(h^2 + d^2) below the level: (1 + sine) / 2 of what the opening sees is wall, where
    // half of it was ground, sine / 2 of which the wall hides (configuration factors of strips).
    CHECK(with.entering[0].sky_lm < 0.01 * without.entering[0].sky_lm);
    const double low = 0.75, high = 0.75 + 1.6, away = 6;
    const double mean_sine = (std::hypot(high, away) - std::hypot(low, away)) / (high - low);
    const double wall = 0.2 * 0.5 * (1 + mean_sine) / 2, hidden = 0.2 * mean_sine / 2;
    CHECK_THAT((with.entering[0].ground_lm - without.entering[0].ground_lm) / 2.24 / sky_lx,
               WithinRel(wall - hidden, 0.01));
    // The mark sees some ground before the wall, which gives back twice as much, and no sky.
    CHECK(with.windows[0].sky_lx < 0.01 * without.windows[0].sky_lx);
    const double factor = window_factor(2.5);
    CHECK(with.windows[0].ground_lx > 0.2 * 0.5 * factor * sky_lx);
    CHECK(with.windows[0].ground_lx < 0.2 * factor * sky_lx);
}

TEST_CASE("bars and a reveal take light away", "[study][light]") {
    const SunNow sun = sun_at(25, 20);
    const MarkLight plain = Lit{Workshop{}.location()}.at(sun);
    const MarkLight barred = Lit{Workshop{.bars = {2, 2, 0.05, 0}}.location()}.at(sun);
    const MarkLight deep = Lit{Workshop{.reveal_m = 0.4}.location()}.at(sun);
    // Two bars of 5 cm each way leave (1.3 x 1.5) / (1.4 x 1.6) of the opening.
    CHECK_THAT(
        barred.windows[0].sky_lx + barred.windows[0].ground_lx,
        WithinRel((plain.windows[0].sky_lx + plain.windows[0].ground_lx) * 1.3 * 1.5 / (1.4 * 1.6),
                  0.03));
    CHECK_THAT(barred.entering[0].sky_lm,
               WithinRel(plain.entering[0].sky_lm * 1.3 * 1.5 / (1.4 * 1.6), 1e-6));
    CHECK(deep.windows[0].sky_lx < plain.windows[0].sky_lx);
    CHECK(deep.entering[0].sky_lm < plain.entering[0].sky_lm);
}

TEST_CASE("low sun is told as a range over the air, and grows warmer", "[study][light]") {
    const Lit lit{Workshop{}.location()};
    const MarkLight high = lit.at(sun_at(40, 0)), low = lit.at(sun_at(8, 0));
    CHECK(high.key_lx.low < high.key_lx.likely);
    CHECK(high.key_lx.likely < high.key_lx.high);
    CHECK(low.key_lx.high / low.key_lx.low > 2 * high.key_lx.high / high.key_lx.low);
    REQUIRE(low.key_kelvin);
    REQUIRE(high.key_kelvin);
    CHECK(*low.key_kelvin < *high.key_kelvin - 1000);
    // The sky adds blue: sun and sky together are cooler than the beam.
    const light::SkyLevels l = light::clear_sky(sun_at(40, 0).state, light::normal_air);
    CHECK(*high.key_kelvin > *l.direct_kelvin);
    CHECK(*high.fill_kelvin > *l.direct_kelvin);
    CHECK(*high.fill_kelvin < *l.sky_kelvin);
}

TEST_CASE("the light goes down smoothly with the sun", "[study][light]") {
    const Lit lit{Workshop{}.location()};
    double before = lit.at(sun_at(10, 0)).key_lx.likely;
    for (double h = 9.5; h > -18; h -= 0.5) {
        const double now = lit.at(sun_at(h, 0)).key_lx.likely;
        INFO("altitude " << h);
        CHECK(now < before);
        CHECK(now > before / 4);
        before = now;
    }
    CHECK_FALSE(lit.at(sun_at(-3, 0)).key_kelvin);
}

TEST_CASE("a year's key at the hat works has a light for its start and end", "[study][light]") {
    const OnDates hat_works{flax_road(), site::LocalDate{date::year{2026} / 3 / 10},
                            site::LocalDate{date::year{2026} / 3 / 10}};
    const RoomLight light{hat_works.study};
    const Instant noon = hat_works.start_of(hat_works.first) + Seconds{13 * 3600};
    const LightDrift d = drift(light, hat_works.study.path(), 0, 0, noon, noon + Seconds{3600});
    CHECK(d.at_start.windows.size() == 4);
    CHECK(d.air_alone().low <= d.at_end.key_lx.likely);
    CHECK(d.air_alone().high >= d.at_start.key_lx.likely);
    CHECK_THAT(d.key_stops(),
               WithinAbs(std::log2(d.at_end.key_lx.likely / d.at_start.key_lx.likely), 1e-12));
    CHECK(d.ratio_stops());
    CHECK(d.key_mired());
}

}  // namespace

TEST_CASE("a skyline on one side takes the sky of the marks that look there, and of no other",
          "[light]") {
    // The window faces south; a mark in the west of the room looks out to the south-east.
    Workshop open, hills;
    for (int bearing = 0; bearing < 360; bearing += 5) {
        const bool is_east = bearing >= 60 && bearing <= 175;
        hills.horizon.push_back({Angle::degrees(bearing), Angle::degrees(is_east ? 60 : 0)});
    }
    const auto sky = [](const Workshop& workshop, double x) {
        site::Location l = workshop.location();
        l.room->marks[0].at = {x, 1.2};
        const Lit lit{l};
        return lit.light.at(0, 0, sun_at(40, 0)).windows[0].sky_lx;
    };
    // 2.4 m to either side of the window's middle, x = 3.6.
    REQUIRE(sky(open, 1.2) > 0);
    CHECK(sky(open, 1.2) == Approx(sky(open, 6.0)).epsilon(0.01));  // the sun stands square on
    CHECK(sky(hills, 1.2) < 0.4 * sky(open, 1.2));
    CHECK(sky(hills, 6.0) > 0.95 * sky(open, 6.0));
}
