#pragma once
/// @file
/// Late light in words, as terminal, light sheet, calendar and spreadsheet tell it alike.

#include <string>

#include "keyhour/site/zone.hpp"
#include "keyhour/study/spot_light.hpp"

namespace keyhour::tell {

/// Of the sun in it and of the sky after it, with its level as it is then left alone and how fast
/// it falls at first and at last: "sun to 16:41 (skyline), then sky alone 1.9 klx, -0.9 to -1.9
/// stops in 10 min"; "sun gone 16:17 (own walls outside), sky 4.5 klx, ...".
[[nodiscard]] std::string sun_in_late_light(const study::LateLight& light, const site::Zone& zone);

/// "late light 16:24 to 17:36, sun to 16:41".
[[nodiscard]] std::string late_light_in_short(const study::LateLight& light,
                                              const site::Zone& zone);

/// "set up by 17:06, slack 1 h 02 min"; "too short for a shot of 10 min".
[[nodiscard]] std::string set_up_words(const study::SafeStart& start, Seconds shot,
                                       const site::Zone& zone);

/// Of an evening: by when to set up for what the shot wants of it; "no side light in it" where its
/// sun comes from elsewhere; empty where there is nothing to say.
[[nodiscard]] std::string late_start_words(const study::SpotDay& day, site::Side wants,
                                           Seconds shot, const site::Zone& zone);

/// "direct light", "side light".
[[nodiscard]] std::string wanted_words(site::Side side);

}  // namespace keyhour::tell
