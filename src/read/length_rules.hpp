#pragma once
/// @file
/// What each length of a room may be, and from where on a plain number looks like another unit.

#include <string>

namespace keyhour::read {

/// A plain number above `asks_above_m` is asked about; a text with a unit is taken at its word.
struct LengthRule {
    double least_m = 0, most_m = 10'000;
    bool above_least = false;  ///< must be larger than least_m
    double asks_above_m = 10'000;
};

// Above these a plain number looks like feet, inches or centimetres (common practice, no source).
inline constexpr LengthRule sill_rule{-2, 100, false, 2};
inline constexpr LengthRule opening_rule{0, 100, true, 4};
inline constexpr LengthRule left_rule{0, 1000, false, 40};
inline constexpr LengthRule reveal_rule{0, 10, false, 1.5};
inline constexpr LengthRule room_height_rule{0, 100, true, 8};
inline constexpr LengthRule ground_rule{-100, 1000, false, 100};
inline constexpr LengthRule bar_rule{0, 2, true, 0.4};
inline constexpr LengthRule set_back_rule{0, 10, false, 1.5};
inline constexpr LengthRule mark_height_rule{0, 100, false, 2.5};
inline constexpr LengthRule radius_rule{0, 5, true, 1};
inline constexpr LengthRule box_rule{0, 20, true, 3};
inline constexpr LengthRule camera_height_rule{0, 100, false, 4};
inline constexpr LengthRule object_height_rule{0, 100, true, 6};
inline constexpr LengthRule building_height_rule{0, 1000, true, 200};
inline constexpr LengthRule within_rule{0, 5, false, 1};  // half the range of a taped length
inline constexpr LengthRule place_within_rule{0, 100, false, 10};  // of what stands outside
inline constexpr double largest_room_m = 40;

/// "accepted: more than 0 m, up to 100 m"
[[nodiscard]] std::string range_of(const LengthRule& rule);

}  // namespace keyhour::read
