#include "keyhour/light/candela_grid.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

using namespace keyhour;
using namespace keyhour::light;

namespace {

/// Its numbers, kept; a luminaire of 1 degree steps from a formula.
struct Luminaire {
    std::vector<double> vertical, horizontal, candela;

    Luminaire(double last_vertical, double last_horizontal, auto intensity) {
        for (double v = 0; v <= last_vertical; v += 1)
            vertical.push_back(v);
        for (double h = 0; h <= last_horizontal; h += 15)
            horizontal.push_back(h);
        for (const double h : horizontal)
            for (const double v : vertical)
                candela.push_back(
                    intensity(v * std::numbers::pi / 180, h * std::numbers::pi / 180));
    }
    [[nodiscard]] CandelaGrid::Data data(double multiplier = 1) const {
        return {vertical, horizontal, candela, multiplier};
    }
};

double cd(const CandelaGrid& grid, double v, double h) {
    return grid.candela(Angle::degrees(v), Angle::degrees(h));
}

GridFault fault(std::vector<double> v, std::vector<double> h, std::vector<double> c,
                double multiplier = 1) {
    return CandelaGrid::fault_of({v, h, c, multiplier});
}

}  // namespace

TEST_CASE("a grid gives its own numbers back and straight lines between", "[light]") {
    const std::vector<double> v{0, 30, 90}, h{0, 90, 180, 360},
        c{100, 80, 0, 100, 60, 10, 100, 40, 20, 100, 80, 0};
    const CandelaGrid grid{{v, h, c, 2}};
    REQUIRE(CandelaGrid::fault_of({v, h, c, 2}) == GridFault::none);
    for (std::size_t i = 0; i < h.size(); ++i)
        for (std::size_t j = 0; j < v.size(); ++j)
            CHECK(cd(grid, v[j], h[i]) == Approx(2 * c[i * 3 + j]).margin(1e-9));
    CHECK(cd(grid, 15, 0) == Approx(2 * 90));
    CHECK(cd(grid, 30, 45) == Approx(2 * 70));
    CHECK(cd(grid, 60, 45) == Approx(2 * 37.5));
    CHECK(cd(grid, 30, 270) == Approx(2 * 60));
    CHECK(cd(grid, 30, -90) == Approx(2 * 60));
    CHECK(cd(grid, 30, 405) == Approx(2 * 70));
    CHECK(cd(grid, 91, 0) == 0);
    CHECK(cd(grid, -1, 0) == 0);
    CHECK(grid.peak_candela() == 200);
}

TEST_CASE("a grid of a quarter or a half is folded over the whole", "[light]") {
    const auto ripple = [](double v, double h) {
        return 100 * std::cos(v) * (2 + std::cos(2 * h));
    };
    const Luminaire quarter{90, 90, ripple}, half{90, 180, ripple}, whole{90, 360, ripple};
    const CandelaGrid q{quarter.data()}, a{half.data()}, w{whole.data()};
    for (double h = -400; h <= 400; h += 7)
        for (double v = 0; v <= 90; v += 13) {
            INFO("vertical " << v << ", horizontal " << h);
            CHECK(cd(q, v, h) == Approx(cd(w, v, h)).margin(1e-6));
            CHECK(cd(a, v, h) == Approx(cd(w, v, h)).margin(1e-6));
        }
    const Luminaire round{90, 0, [](double v, double) { return 50 * std::cos(v); }};
    const CandelaGrid r{round.data()};
    CHECK(cd(r, 40, 0) == cd(r, 40, 222));
    CHECK(q.lumens() == Approx(w.lumens()).epsilon(1e-9));
    CHECK(a.lumens() == Approx(w.lumens()).epsilon(1e-9));
}

TEST_CASE("the light of a grid adds up to the closed forms", "[light]") {
    // Lambert's cosine: pi I0; alike to all sides: 4 pi I0 (any textbook of photometry).
    const Luminaire cosine{90, 0, [](double v, double) { return 100 * std::cos(v); }};
    CHECK(CandelaGrid{cosine.data(3)}.lumens() == Approx(300 * std::numbers::pi).epsilon(1e-3));
    const Luminaire ball{180, 0, [](double, double) { return 10.0; }};
    CHECK(CandelaGrid{ball.data()}.lumens() == Approx(40 * std::numbers::pi).epsilon(1e-6));
}

TEST_CASE("a grid that cannot be is refused, and says why", "[light]") {
    const double nan = std::nan("");
    CHECK(fault({0, 90}, {0}, {1, 2}) == GridFault::none);
    CHECK(fault({90, 180}, {0}, {1, 2}) == GridFault::none);
    CHECK(fault({0}, {0}, {1}) == GridFault::too_few_vertical);
    CHECK(fault({}, {}, {}) == GridFault::too_few_vertical);
    CHECK(fault({0, 90}, {}, {}) == GridFault::no_horizontal);
    CHECK(fault({0, 90}, {0, 90}, {1, 2, 3}) == GridFault::wrong_count);
    CHECK(fault({0, 90}, {0}, {1, 2, 3, 4}) == GridFault::wrong_count);
    CHECK(fault({0, 50, 40, 90}, {0}, {1, 2, 3, 4}) == GridFault::vertical_not_ascending);
    CHECK(fault({0, nan, 90}, {0}, {1, 2, 3}) == GridFault::vertical_not_ascending);
    CHECK(fault({0, 90}, {0, 0}, {1, 2, 3, 4}) == GridFault::horizontal_not_ascending);
    CHECK(fault({0, 80}, {0}, {1, 2}) == GridFault::vertical_range);
    CHECK(fault({0, 90}, {0, 270}, {1, 2, 3, 4}) == GridFault::horizontal_range);
    CHECK(fault({0, 90}, {90}, {1, 2}) == GridFault::horizontal_range);
    CHECK(fault({0, 90}, {0}, {1, -2}) == GridFault::bad_candela);
    CHECK(fault({0, 90}, {0}, {1, nan}) == GridFault::bad_candela);
    CHECK(fault({0, 90}, {0}, {1, 2}, 0) == GridFault::bad_multiplier);
}

TEST_CASE("a grid of a half tells front from back", "[light]") {
    const auto forward = [](double v, double h) { return 100 * std::cos(v) * (2 + std::cos(h)); };
    const Luminaire half{90, 180, forward}, whole{90, 360, forward};
    const CandelaGrid a{half.data()}, w{whole.data()};
    for (double h = -400; h <= 400; h += 11)
        CHECK(cd(a, 40, h) == Approx(cd(w, 40, h)).margin(1e-6));
    CHECK(cd(a, 40, 180) == Approx(cd(a, 40, 0) / 3));
    CHECK(a.lumens() == Approx(200 * std::numbers::pi).epsilon(1e-3));
}

TEST_CASE("the light of a coarse grid is that of the straight lines between", "[light]") {
    // I = theta from 0 to pi: 2 pi times the integral of theta sin theta, which is 2 pi squared.
    const std::vector<double> v{0, 180}, wide{0, 60, 180}, h{0, 90}, one{0};
    constexpr double pi = std::numbers::pi;
    const std::vector<double> two{0, pi}, three{0, pi / 3, pi}, twice{0, pi, 0, pi};
    CHECK(CandelaGrid{{v, one, two, 1}}.lumens() == Approx(2 * pi * pi).epsilon(1e-4));
    CHECK(CandelaGrid{{wide, one, three, 1}}.lumens() == Approx(2 * pi * pi).epsilon(1e-4));
    CHECK(CandelaGrid{{v, h, twice, 1}}.lumens() == Approx(2 * pi * pi).epsilon(1e-4));
    CHECK(fault({30, 90}, {0}, {1, 2}) == GridFault::vertical_range);
    CHECK(fault({0, 90, 180}, {0}, {1, 2}) == GridFault::wrong_count);
    CHECK(fault({0, 90}, {0}, {1, 0}) == GridFault::none);
}
