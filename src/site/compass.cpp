#include "keyhour/site/compass.hpp"

#include <array>
#include <cmath>
#include <cstddef>

namespace keyhour::site {
namespace {

struct Point {
    const char* words;
    const char* letters;
};
constexpr std::array<Point, 16> kPoints{{
    {"north", "N"},
    {"north-north-east", "NNE"},
    {"north-east", "NE"},
    {"east-north-east", "ENE"},
    {"east", "E"},
    {"east-south-east", "ESE"},
    {"south-east", "SE"},
    {"south-south-east", "SSE"},
    {"south", "S"},
    {"south-south-west", "SSW"},
    {"south-west", "SW"},
    {"west-south-west", "WSW"},
    {"west", "W"},
    {"west-north-west", "WNW"},
    {"north-west", "NW"},
    {"north-north-west", "NNW"},
}};

const Point& nearest_point(Azimuth bearing) noexcept {
    const double turns = wrapped_turn(bearing.from_north).in_degrees() / 22.5;
    return kPoints[static_cast<std::size_t>(std::lround(turns)) % kPoints.size()];
}

}  // namespace

const char* compass_words(Azimuth bearing) noexcept {
    return nearest_point(bearing).words;
}

const char* compass_letters(Azimuth bearing) noexcept {
    return nearest_point(bearing).letters;
}

}  // namespace keyhour::site
