#pragma once
/// @file
/// The cautions that stand on paper and on the terminal alike.

namespace keyhour::tell {

/// A whole sentence.
inline constexpr const char* sun_caution =
    "Never look at the sun, least of all through a lens or sight: use shadows.";

/// Of lamps outside a window.
inline constexpr const char* lamp_outside_caution =
    "Stands outside: ballast, ties, wind and rain minded, no road dazzled; mains behind a "
    "residual-current device; hot lamps off cloth; local codes and licensed practice decide.";

/// Of cloth that is hung.
inline constexpr const char* cloth_caution =
    "Keep exits free, ladders with a second person, cloth off hot lamps; local codes and licensed "
    "practice decide.";

/// Without its full stop.
inline constexpr const char* haze_caution =
    "Haze: agree the smoke alarms with whoever runs the building, ask people first, ventilate";

/// Of a lamp outside and of panes that throw the sun back; without its full stop.
inline constexpr const char* glare_caution =
    "Glare: no lamp and no pane may dazzle a road; look from the driver's place, with whoever runs "
    "it";

}  // namespace keyhour::tell
