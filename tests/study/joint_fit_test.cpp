#include "study/joint_fit.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace keyhour::study;

namespace {

JointElement direction(std::size_t i, double deg, Contributions contributions) {
    return {i, false, {deg}, std::move(contributions)};
}

}  // namespace

// Gauss and Markov: two directions of unequal doubt, an error that both share stays whole.
TEST_CASE("an error that all share is not averaged away", "[study]") {
    const JointFit fit = joint_fit(
        {direction(0, 100, {{"a", 1}, {"clock", 3}}), direction(1, 101, {{"b", 2}, {"clock", 3}})});
    CHECK(fit.value_deg == Approx(100 + 1.0 / 5).margin(1e-3));
    CHECK(fit.sigma_deg == Approx(std::sqrt(9 + 4.0 / 5)).epsilon(1e-3));
    CHECK(fit.chi_square == Approx(1.0 / 5).epsilon(1e-3));
    CHECK(fit.freedom == 1);
}

// Conditional mean of a normal pair: b - cov / var of the height, and what remains of the variance.
TEST_CASE("a height tells of the clock that it shares with a direction", "[study]") {
    const double rate = 4, climb = 3, own = 0.5;
    const JointElement height{0, true, {2}, {{"h", own}, {"clock", climb}}};
    const JointFit fit = joint_fit({direction(0, 359, {{"a", 1}, {"clock", rate}}), height});
    const double slope = rate * climb / (climb * climb + own * own);
    CHECK(half_turn_deg(fit.value_deg - (359 - 2 * slope)) == Approx(0).margin(1e-3));
    CHECK(fit.sigma_deg == Approx(std::sqrt(1 + rate * rate - slope * rate * climb)).epsilon(1e-3));
}

TEST_CASE("what does not fit costs its price once and is named", "[study]") {
    const JointFit fit = joint_fit(
        {direction(0, 10, {{"a", 1}}), direction(1, 11, {{"b", 1}}), direction(2, 50, {{"c", 1}})});
    CHECK(fit.value_deg == Approx(10.5).margin(1e-3));
    CHECK(fit.set_aside == std::vector<std::size_t>{2});
    CHECK(fit.cost == Approx(price_of_one + 0.5).epsilon(1e-3));
    // One direction stays, whatever the height says.
    const JointElement height{0, true, {30}, {{"h", 1}}};
    const JointFit alone = joint_fit({direction(0, 10, {{"a", 1}}), height});
    CHECK(alone.value_deg == Approx(10).margin(1e-3));
    CHECK(alone.cost == Approx(price_of_one).epsilon(1e-3));
}

TEST_CASE("of two readings the one that fits the others is taken", "[study]") {
    const JointFit fit =
        joint_fit({JointElement{0, false, {20, 200}, {{"a", 1}}}, direction(1, 199, {{"b", 1}})});
    CHECK(fit.value_deg == Approx(199.5).margin(1e-3));
    CHECK(fit.set_aside.empty());
}

// The cost by its definition, over every set that is kept: squares of what is left, and a price
// each.
TEST_CASE("of evenly spaced directions those are kept that cost least by trial of every set",
          "[study]") {
    for (const double apart : {1.0, 2.0, 2.9}) {
        std::vector<JointElement> elements;
        for (std::size_t i = 0; i < 4; ++i)
            elements.push_back(direction(i, 100 + apart * static_cast<double>(i),
                                         {{std::string(1, static_cast<char>('a' + i)), 1}}));
        double least = 1e9;
        for (unsigned kept = 1; kept < 16; ++kept) {
            double sum = 0, squares = 0, n = 0;
            for (unsigned i = 0; i < 4; ++i)
                if ((kept >> i) & 1U) sum += apart * i, squares += apart * i * apart * i, ++n;
            least = std::min(least, squares - sum * sum / n + price_of_one * (4 - n));
        }
        CAPTURE(apart);
        CHECK(joint_fit(elements).cost == Approx(least).epsilon(1e-3));
    }
}

TEST_CASE("readings that share their error are told apart by what each has of its own", "[study]") {
    // All within three deviations of each other while the clock is in them; without it the second
    // is twenty of its own off.
    const auto with_clock = [](std::size_t i, double deg) {
        return direction(i, deg, {{"clock", 3}, {"own " + std::to_string(i), 0.1}});
    };
    const JointFit fit = joint_fit({with_clock(0, 100), with_clock(1, 102), with_clock(2, 100.05)});
    CHECK(fit.set_aside == std::vector<std::size_t>{1});
    CHECK(fit.value_deg == Approx(100.025).margin(1e-3));
    CHECK(fit.cost == Approx(price_of_one + 0.05 * 0.05 / 0.02).epsilon(0.01));
}
