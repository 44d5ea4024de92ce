#include "figures.hpp"

#include <fmt/format.h>

#include "words/length.hpp"

namespace keyhour::draw {
namespace {

constexpr double foot_m = 0.3048;

}  // namespace

std::string figure(double metres, site::Units units) {
    return units == site::Units::feet ? words::length(metres, units)
                                      : fmt::format("{:.2f}", metres);
}

std::string size_figure(double width_m, double height_m, site::Units units) {
    return figure(width_m, units) + " x " + figure(height_m, units);
}

std::string outside_length(double metres, site::Units units, int decimals) {
    return units == site::Units::feet ? fmt::format("{:.0f} ft", metres / foot_m)
                                      : fmt::format("{:.{}f} m", metres, decimals);
}

const char* in_words(site::Units units) {
    return units == site::Units::feet ? "Feet and inches" : "Metres";
}

}  // namespace keyhour::draw
