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

/// Of a lamp outside and of panes that throw the sun back; without its full stop.
inline constexpr const char* glare_caution =
    "Glare: no lamp and no pane may dazzle a road; look from the driver's place, with whoever runs "
    "it";

}  // namespace keyhour::tell
