#pragma once
/// @file
/// A lamp in sentences: for the terminal and the light sheet alike.

#include <string>
#include <vector>

#include "keyhour/site/units.hpp"
#include "keyhour/study/lamp_report.hpp"

namespace keyhour::tell {

/// "2.41 m off the wall, 0.24 m right of the window's middle": right as seen from inside. Of the
/// nearest to what was wanted "2.4 m off ...": its search is no finer.
/// @pre the answer has a place
[[nodiscard]] std::string beside_window_in_brief(const study::StandAnswer& stand,
                                                 site::Units units);

/// A length of the place told, to the same digits.
[[nodiscard]] std::string stand_length(const study::StandAnswer& stand, double metres,
                                       site::Units units);

/// "4 degrees off that direction and 5.2 m from the mark, not 9.0 m": what the nearest place
/// trades.
/// @pre the wanted place is not reachable, another is
[[nodiscard]] std::string traded(const study::StandAnswer& stand, site::Units units);

/// "with the stand 0.1 m off, any way: mark lit 98 to 100 %, 3.2 klx to 3.4 klx".
[[nodiscard]] std::string stand_doubt_words(const study::StandDoubt& doubt, site::Units units);

/// "tilt 13 down, pan 4 left": as the lamp looks.
[[nodiscard]] std::string aim_in_brief(const study::LampLight& light);

/// What stands against a place: "the stand goes to 2.4 m; head keeps its light from the mark".
[[nodiscard]] std::string against(const study::StandPlace& place, const room::Room& room,
                                  const site::Lamp& lamp, site::Units units);

/// "its patch on wall back is 2.7 times as wide as the sun's (3.5 m2, not 0.46 m2), soft edge
/// 61 cm, not 5 cm".
[[nodiscard]] std::string beside_the_sun(const study::SunDifference& difference,
                                         const room::Room& room, site::Units units);

/// Patches, from where it would be like the sun, glass, fall-off, ratio and colour.
[[nodiscard]] std::vector<std::string> lamp_light_lines(const study::LampReport& report,
                                                        const study::LampQuestion& question,
                                                        const room::Room& room,
                                                        const site::Lamp& lamp, site::Units units);

/// "fill panel for 16:1, key to fill: 1.38 m from the mark, aimed at it ...".
[[nodiscard]] std::vector<std::string> fill_lines(const study::LampReport& report,
                                                  const study::WantedFill& wanted,
                                                  const site::Lamp& lamp, const room::Room& room,
                                                  site::Units units);

}  // namespace keyhour::tell
