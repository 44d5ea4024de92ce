#pragma once
/// @file
/// How much brighter the key side is: in stops, and in words that do not deceive.

#include <cmath>
#include <string_view>

namespace keyhour::light {

/// A ratio n:1 means two things on set, and the same light is 7:1 to one and 8:1 to the other
/// (common practice, no source): print the stops, then the ratio with its convention.
enum class RatioConvention { key_to_fill, key_plus_fill_to_fill };

[[nodiscard]] constexpr std::string_view words(RatioConvention convention) noexcept {
    return convention == RatioConvention::key_to_fill ? "key to fill" : "key plus fill to fill";
}

/// Levels at one place, lx.
struct KeyAndFill {
    double key_lx = 0;   ///< of the key alone
    double fill_lx = 0;  ///< of all else, which falls on both sides; > 0

    /// The n of n:1. Infinite without fill.
    [[nodiscard]] constexpr double ratio(RatioConvention convention) const noexcept {
        return convention == RatioConvention::key_to_fill ? key_lx / fill_lx
                                                          : (key_lx + fill_lx) / fill_lx;
    }
    /// The same in stops: log2 of the ratio.
    [[nodiscard]] double stops(RatioConvention convention) const noexcept {
        return std::log2(ratio(convention));
    }
};

/// The fill that gives a key the ratio n:1, lx. Nothing can give key plus fill to fill of 1 and
/// below (n - 1 <= 0): infinite then.
[[nodiscard]] constexpr double fill_for_lx(double key_lx, double n,
                                           RatioConvention convention) noexcept {
    const double key_share = convention == RatioConvention::key_to_fill ? n : n - 1;
    return key_share > 0 ? key_lx / key_share : HUGE_VAL;
}

}  // namespace keyhour::light
