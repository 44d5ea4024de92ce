#pragma once
/// @file
/// The cautions that stand on paper and on the terminal alike.

namespace keyhour::tell {

/// A whole sentence.
inline constexpr const char* sun_caution =
    "Never look at the sun, least of all through a finder, lens or sight: use shadows only.";

/// Without its full stop.
inline constexpr const char* haze_caution =
    "Haze: agree the smoke alarms with whoever runs the building, ask people first, ventilate";

}  // namespace keyhour::tell
