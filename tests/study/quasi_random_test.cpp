#include "keyhour/study/quasi_random.hpp"

#include <boost/random/sobol.hpp>
#include <catch2/catch.hpp>
#include <cmath>
#include <set>

using namespace keyhour::study;

TEST_CASE("Sobol's points are those of Boost.Random, which tabulates Joe and Kuo's numbers",
          "[study][published]") {
    // boost/random/sobol.hpp leaves out the origin and goes on in the same order.
    boost::random::sobol engine{sobol_dimensions};
    for (std::uint32_t i = 1; i < 5000; ++i)
        for (const double x : sobol(i)) {
            const auto theirs = engine();
            REQUIRE(x == Approx(static_cast<double>(theirs) /
                                (static_cast<double>(boost::random::sobol::max()) + 1))
                             .margin(1e-9));
        }
}

TEST_CASE("Sobol's first point is the origin, the second the middle", "[study]") {
    // To the last digit: the first direction of every dimension is a half.
    CubePoint middle;
    middle.fill(0.5);
    CHECK(sobol(0) == CubePoint{});
    CHECK(sobol(1) == middle);
}

TEST_CASE("the first 64 scrambled points hold one in every 64th of each coordinate", "[study]") {
    for (const std::uint64_t seed : {1U, 2U, 77U}) {
        const ScrambledSobol point{seed};
        for (std::size_t d = 0; d < sobol_dimensions; ++d) {
            std::set<int> bins;
            for (std::uint32_t i = 0; i < 64; ++i) {
                REQUIRE(point(i)[d] >= 0);
                REQUIRE(point(i)[d] < 1);
                bins.insert(static_cast<int>(64 * point(i)[d]));
            }
            CHECK(bins.size() == 64);
        }
    }
}

TEST_CASE("scrambled coordinates are hardly correlated", "[study]") {
    double sum = 0;
    int pairs = 0;
    for (const std::uint64_t seed : {1U, 2U, 3U, 4U, 5U, 6U})
        for (std::size_t a = 0; a < sobol_dimensions; ++a)
            for (std::size_t b = 0; b < a; ++b) {
                const ScrambledSobol point{seed};
                double product = 0;  // of 64 points that lie 1/12 square about the middle
                for (std::uint32_t i = 0; i < 64; ++i)
                    product += (point(i)[a] - 0.5) * (point(i)[b] - 0.5) / 64;
                sum += 144 * product * product;
                ++pairs;
            }
    CHECK(std::sqrt(sum / pairs) < 0.08);  // independent points: 0.125
}

TEST_CASE("a seed gives the same points again, another seed others", "[study]") {
    CHECK(ScrambledSobol{5}(9) == ScrambledSobol{5}(9));
    CHECK(ScrambledSobol{5}(9) != ScrambledSobol{6}(9));
}
