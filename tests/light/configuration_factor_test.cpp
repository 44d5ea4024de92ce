#include "keyhour/light/configuration_factor.hpp"

#include <array>
#include <catch2/catch.hpp>

using namespace keyhour::light;

TEST_CASE("a rectangle's factor is that of its outline", "[light]") {
    for (const RectangleAhead& r :
         {RectangleAhead{-0.7, 0.7, -0.8, 0.8, 2}, {0.4, 1.9, 0.1, 1.2, 0.6}, {-2, -1, 0, 3, 1}}) {
        const std::array<Ray, 4> corners{{{r.left_m, r.distance_m, r.low_m},
                                          {r.right_m, r.distance_m, r.low_m},
                                          {r.right_m, r.distance_m, r.high_m},
                                          {r.left_m, r.distance_m, r.high_m}}};
        CHECK(parallel_factor(r) == Approx(polygon_factor(corners, {0, 1, 0})).epsilon(1e-9));
        if (r.low_m >= 0)
            CHECK(perpendicular_factor(r) ==
                  Approx(polygon_factor(corners, {0, 0, 1})).epsilon(1e-9));
    }
}

TEST_CASE("parts of an opening add up, and all that lies ahead is 1", "[light]") {
    const RectangleAhead whole{-1, 2, -0.5, 1.5, 1.3};
    const double parts = parallel_factor({-1, 0.3, -0.5, 1.5, 1.3}) +
                         parallel_factor({0.3, 2, -0.5, 0.9, 1.3}) +
                         parallel_factor({0.3, 2, 0.9, 1.5, 1.3});
    CHECK(parallel_factor(whole) == Approx(parts).epsilon(1e-12));
    CHECK(parallel_factor({-1e7, 1e7, -1e7, 1e7, 1}) == Approx(1).epsilon(1e-6));
    // A floor sees at most half of what is up there through an endless wall.
    CHECK(perpendicular_factor({-1e7, 1e7, 0, 1e7, 1}) == Approx(0.5).epsilon(1e-6));
    CHECK(perpendicular_factor({-1, 1, -2, -1, 1}) == 0);
    CHECK(perpendicular_factor({-1, 1, -2, 1, 1}) == perpendicular_factor({-1, 1, 0, 1, 1}));
}

TEST_CASE("a corner that stands twice adds no light", "[light]") {
    const std::array<Ray, 4> once{{{-1, 2, 0}, {1, 2, 0}, {1, 2, 1.5}, {-1, 2, 1.5}}};
    const std::array<Ray, 5> twice{{once[0], once[1], once[1], once[2], once[3]}};
    CHECK(polygon_factor(twice, {0, 1, 0}) == polygon_factor(once, {0, 1, 0}));
}
