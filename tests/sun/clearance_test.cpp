// Roots and turning points of curves whose own are known in closed form, and how often the curve is
// asked.

#include "../../src/sun/clearance.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "keyhour/sun/time_scales.hpp"

using namespace keyhour;
using namespace keyhour::sun;

namespace {

constexpr Instant start = Instant::from_unix_s(1767225600);

/// middle + swing cos(2 pi (t - top) / period): in seconds after `start`.
struct Swing {
    double middle, swing, top_s, period_s = seconds_per_day;
    mutable int asked = 0;

    Clearance operator()(Instant t) const {
        ++asked;
        const double w = 2 * std::numbers::pi / period_s;
        const double x = w * ((t - start).count() - top_s);
        return {t, middle + swing * std::cos(x), -w * swing * std::sin(x)};
    }
    [[nodiscard]] Clearance at(double s) const { return (*this)(start + Seconds{s}); }
    /// From a rise to the top, and from there to the set.
    [[nodiscard]] double half_s() const {
        return std::acos(-middle / swing) / (2 * std::numbers::pi) * period_s;
    }
};

double seconds(Instant t) {
    return (t - start).count();
}

}  // namespace

TEST_CASE("an even swing of a day comes through the altitude where it is first guessed", "[sun]") {
    for (const double middle : {-0.7, -0.1, 0.0, 0.3, 0.6}) {
        for (const double top_s : {20000.0, 43200.0, 61000.0}) {
            const Swing sun{middle, 0.8, top_s};
            const double rise_s = top_s - sun.half_s(), set_s = top_s + sun.half_s();
            for (const double before_s : {100.0, 4000.0, 20000.0}) {
                const Clearance early = sun.at(rise_s - std::min(before_s, 40000 - sun.half_s()));
                const Clearance high = sun.at(top_s - 0.3 * sun.half_s());
                const Clearance late = sun.at(set_s + std::min(before_s, 40000 - sun.half_s()));
                CAPTURE(middle, top_s, before_s);
                CHECK(seconds(early.at) + first_guess_s(early, high) ==
                      Approx(rise_s).margin(1e-4));
                CHECK(seconds(high.at) + first_guess_s(high, late) == Approx(set_s).margin(1e-4));
                sun.asked = 0;
                CHECK(seconds(root(sun, early, high)) == Approx(rise_s).margin(1e-6));
                CHECK(seconds(root(sun, high, late)) == Approx(set_s).margin(1e-6));
                CHECK(sun.asked == 2);  // once each
            }
        }
    }
}

TEST_CASE("a swing of another period is met within the thousandth in a few steps", "[sun]") {
    // The guess is wrong by minutes, so Newton's steps and the bracket must do it; halving alone
    // would ask 24 times.
    for (const double period_s : {30000.0, 50000.0, 120000.0, 300000.0}) {
        for (const double middle : {-0.6, 0.0, 0.5}) {
            const Swing sun{middle, 0.8, 0.5 * period_s, period_s};
            const double rise_s = sun.top_s - sun.half_s();
            const Clearance a = sun.at(rise_s - 0.05 * period_s),
                            b = sun.at(rise_s + 0.1 * period_s);
            sun.asked = 0;
            CAPTURE(period_s, middle);
            CHECK(seconds(root(sun, a, b)) == Approx(rise_s).margin(1e-3));
            CHECK(sun.asked <= 6);
        }
    }
}

TEST_CASE("where Newton's steps leap out of the bracket, it closes in on the root all the same",
          "[sun]") {
    // An arctangent: from more than 1.39 widths off its root a step lands farther off on the other
    // side.
    const auto curve = [](Instant t) {
        const double x = (seconds(t) - 1234) / 10;
        return Clearance{t, std::atan(x), 0.1 / (1 + x * x)};
    };
    for (const double from_s : {-3000.0, -20000.0, 1100.0})
        for (const double to_s : {1300.0, 5000.0, 19000.0}) {
            CAPTURE(from_s, to_s);
            const Instant t =
                root(curve, curve(start + Seconds{from_s}), curve(start + Seconds{to_s}));
            CHECK(seconds(t) == Approx(1234).margin(1e-3));
        }
}

TEST_CASE("a bracket of a few microseconds still has its root", "[sun]") {
    const Swing sun{0.1, 0.8, 43200};
    const double rise_s = sun.top_s - sun.half_s();
    const Clearance a = sun.at(rise_s - 3e-6), b = sun.at(rise_s + 3e-6);
    const Instant t = root(sun, a, b);
    CHECK(t > a.at);
    CHECK(t <= b.at);
}

TEST_CASE("a curve may have turned where its tangents cross the altitude", "[sun]") {
    // h = low + bend (t - turn)^2 has tangents at turn - l and turn + r that meet bend l r below
    // it.
    constexpr double bend = 1e-9, turn_s = 5000;
    for (const double l : {900.0, 3000.0}) {
        for (const double r : {500.0, 3000.0, 4000.0}) {
            for (const double low : {1e-5, 1e-3, 5e-3}) {
                const auto parabola = [&](double sign, double s) {
                    const double x = s - turn_s;
                    return Clearance{start + Seconds{s}, sign * (low + bend * x * x),
                                     sign * 2 * bend * x};
                };
                const double reach = low - bend * l * r;
                for (const double sign : {1.0, -1.0}) {
                    const Clearance a = parabola(sign, turn_s - l), b = parabola(sign, turn_s + r);
                    CAPTURE(l, r, low, sign);
                    CHECK(may_have_turned(a, b, 0) == (reach < 0));
                    CHECK(may_have_turned(a, b, reach + 1e-7));
                    CHECK_FALSE(may_have_turned(a, b, reach - 1e-7));
                    // The same curve on one side of its turning point goes one way.
                    CHECK_FALSE(may_have_turned(a, parabola(sign, turn_s - 0.5 * l), 1));
                    CHECK_FALSE(may_have_turned(parabola(sign, turn_s + 0.5 * r), b, 1));
                }
            }
        }
    }
}

TEST_CASE("a top that clears the altitude for seconds is found, one that misses it given up",
          "[sun]") {
    for (const double sign : {1.0, -1.0}) {
        for (const double from_s : {30000.0, 40000.0}) {
            // Over the altitude for 20 s on either side of the top.
            const double x = 20 * 2 * std::numbers::pi / seconds_per_day;
            const Swing grazing{-sign * 0.8 * std::cos(x), sign * 0.8, 43210};
            const Clearance a = grazing.at(from_s), b = grazing.at(from_s + 18000);
            REQUIRE(may_have_turned(a, b, 0));
            grazing.asked = 0;
            const Clearance turn = turning_point(grazing, a, b);
            CHECK(grazing.asked <= 2);
            CAPTURE(sign, from_s);
            CHECK(turn.above() == (sign > 0));
            CHECK(std::fabs(seconds(turn.at) - 43210) <= 20);

            // 40 arcsec short of it: seen as soon as the tangents say so.
            const Swing short_of{-sign * 0.8002, sign * 0.8, 43210};
            const Clearance c = short_of.at(from_s), d = short_of.at(from_s + 18000);
            REQUIRE(may_have_turned(c, d, 0));
            short_of.asked = 0;
            CHECK(turning_point(short_of, c, d).above() == (sign < 0));
            CHECK(short_of.asked <= 3);
        }
    }
}
