// Directions and heights of corners thrown at random, their joint fit whole.

#include <catch2/catch.hpp>
#include <string>

#include "../../src/study/joint_fit.hpp"
#include "../../src/study/least_squares.hpp"
#include "recorded.hpp"
#include "support/dice.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

struct ThrownFigures {
    double clock_s, needle;
};

/// What one observation gives: a direction, and of some a height as well.
void throw_one(test::Dice& dice, std::size_t i, double truth_deg, const ThrownFigures& of_all,
               std::vector<JointElement>& out) {
    const std::string own = "own " + std::to_string(i);
    const double sigma = dice.between(0.1, 2), rate = dice.between(-3, 3);
    double off = sigma * dice.between(-1.5, 1.5) + rate * of_all.clock_s;
    if (dice.chance(0.25)) off += dice.between(-30, 30);
    JointElement direction{i, false, {truth_deg + off}, {{own, sigma}}};
    if (dice.chance(0.7)) direction.contributions["clock"] = rate;
    if (dice.chance(0.3)) direction.contributions["needle"] = of_all.needle;
    if (dice.chance(0.3)) direction.readings_deg.push_back(truth_deg + off + 180);
    if (dice.chance(0.3)) std::swap(direction.readings_deg.front(), direction.readings_deg.back());
    out.push_back(direction);
    if (!dice.chance(0.4)) return;
    const double climb = dice.between(-2, 2), own_height = dice.between(0.05, 0.5);
    double gap = own_height * dice.between(-1.5, 1.5) + climb * of_all.clock_s;
    if (dice.chance(0.3)) gap += dice.between(-4, 4);
    out.push_back({i, true, {gap}, {{own, own_height}, {"clock", climb}}});
}

}  // namespace

TEST_CASE("joint fits of directions and heights are those recorded", "[recorded][joint_fit]") {
    Record record{"joint_fit"};
    test::Dice dice{20262};
    for (std::size_t n = 1; n <= 7; ++n)
        for (int k = 0; k < 30; ++k) {
            std::vector<JointElement> elements;
            const double truth = dice.between(-20, 380);
            const ThrownFigures of_all{dice.between(-2, 2), dice.between(0.2, 2)};
            for (std::size_t i = 0; i < n; ++i)
                throw_one(dice, i, truth, of_all, elements);
            record.add(fmt::format("joint-{}-{}", n, k), joint_fit(elements));
        }
    record.check();
}

TEST_CASE("joint fits where one more degree sets another aside are those recorded",
          "[recorded][joint_fit]") {
    Record record{"joint_fit_edges"};
    const auto direction = [](std::size_t i, double deg, double own, double clock = 0) {
        JointElement e{i, false, {deg}, {{"own " + std::to_string(i), own}}};
        if (clock != 0) e.contributions["clock"] = clock;
        return e;
    };
    for (double off = 0; off < 9; off += 0.3) {
        record.add("two", joint_fit({direction(0, 359, 1), direction(1, 359 + off, 1)}));
        record.add("three",
                   joint_fit({direction(0, 0, 1), direction(1, off, 1), direction(2, 2 * off, 1)}));
        record.add("clock", joint_fit({direction(0, 90, 0.3, 2),
                                       direction(1, 90 + off, 0.3, -2),
                                       direction(2, 90, 2),
                                       {2, true, {off}, {{"clock", 1.5}}}}));
        record.add("height", joint_fit({direction(0, 90, 0.3, 2),
                                        {0, true, {-off}, {{"clock", 1}, {"h", 0.2}}},
                                        {1, true, {off}, {{"clock", 1}, {"g", 0.4}}}}));
        record.add("wrapped", joint_fit({{0, false, {200, 20, 380}, {{"a", 1}}},
                                         direction(1, 20 - off, 0.5),
                                         direction(2, 199 + off, 0.5)}));
    }
    // A clock that both share hides from either alone how far they are apart.
    for (const double off : {0.2, 0.41, 0.43, 0.45, 1.0, 5.0, 9.0}) {
        record.add("of-one-clock",
                   joint_fit({direction(0, 90, 0.1, 3), direction(1, 90 + off, 0.1, 3)}));
        record.add("three-of-it",
                   joint_fit({direction(0, 90, 0.1, 3), direction(1, 90 + off, 0.1, 3),
                              direction(2, 90 - off, 0.1, 3)}));
        record.add("height-first", joint_fit({{1, true, {off}, {{"h", 0.5}, {"clock", 1}}},
                                              direction(0, 10 * off, 0.1, 3)}));
        record.add("heights", joint_fit({direction(0, 90, 0.1, 3),
                                         {0, true, {off}, {{"h", 0.1}, {"clock", 3}}},
                                         {1, true, {off - 1}, {{"g", 0.1}, {"clock", 3}}},
                                         {2, true, {off / 2}, {{"f", 0.2}, {"clock", -3}}}}));
    }
    record.add("none-of-its-own", joint_fit({{0, false, {45}, {}}, {1, false, {45.05}, {}}}));
    record.add("one-input", joint_fit({{0, false, {45}, {{"a", 3}}},
                                       {1, false, {46}, {{"a", 3}}},
                                       {2, false, {47}, {{"a", -3}}}}));
    record.check();
}

// A A^-1 = 1, for matrices that are sums of squares and so positive definite.
TEST_CASE("a matrix times its inverse is one", "[joint_fit]") {
    test::Dice dice{20263};
    for (std::size_t n = 1; n <= 6; ++n) {
        Matrix a(n, std::vector<double>(n));
        for (int k = 0; k < 9; ++k) {
            std::vector<double> v(n);
            for (double& x : v)
                x = dice.between(-2, 2);
            for (std::size_t i = 0; i < n; ++i)
                for (std::size_t j = 0; j < n; ++j)
                    a[i][j] += v[i] * v[j] + (i == j ? 0.05 : 0);
        }
        const Matrix b = inverse(a);
        for (std::size_t i = 0; i < n; ++i)
            for (std::size_t j = 0; j < n; ++j) {
                double sum = 0;
                for (std::size_t k = 0; k < n; ++k)
                    sum += a[i][k] * b[k][j];
                CHECK(sum == Approx(i == j ? 1 : 0).margin(1e-9));
            }
    }
    CHECK(inverse({}).empty());
    // Of what two share alone: 2 * 3 + (-1) * 5.
    CHECK(shared_variance({{"a", 2}, {"b", -1}, {"c", 9}}, {{"a", 3}, {"b", 5}, {"d", 9}}) == 1);
    CHECK(shared_variance({{"a", 2}}, {{"b", 2}}) == 0);
}
