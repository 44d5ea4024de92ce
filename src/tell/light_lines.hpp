#pragma once
/// @file
/// The light of a clean key in sentences. What is told at start and end reads "63 to 55 klx".

#include <string>
#include <vector>

#include "keyhour/site/units.hpp"
#include "keyhour/study/key_light.hpp"
#include "keyhour/study/stop_wish.hpp"

namespace keyhour::tell {

/// "63 to 55 klx at the mark, key:fill about 77:1": clear sky; the ratio in the middle.
[[nodiscard]] std::string level_in_brief(const study::LightDrift& drift);

/// A paragraph a line: levels and ratio, how they move, the meter, the patch, cloud and covers.
[[nodiscard]] std::vector<std::string> light_lines(const study::KeyLight& light,
                                                   const study::CameraSetting& camera,
                                                   const room::Room& room);

/// "meter: EV 14.6 at ISO 100, T11 1/3; T4 with ND 6 (density 1.8), in hazier air ND 5".
[[nodiscard]] std::string meter_line(const study::LightDrift& drift,
                                     const study::CameraSetting& camera);

/// Of each camera how the beam shows in haze.
[[nodiscard]] std::vector<std::string> haze_lines(const study::KeyLight& light,
                                                  const room::Room& room,
                                                  site::Units units = site::Units::metres);

/// "ISO 800, 25 fps, shutter 180 degrees (1/50 s); T4 needs 250 lx at the mark": what the meter is
/// asked.
[[nodiscard]] std::string camera_text(const study::CameraSetting& camera);

/// For a table's row: "T11 1/3", or the neutral density for a wanted stop, "ND 3 1/3".
[[nodiscard]] std::string meter_in_short(const study::LightDrift& drift,
                                         const study::CameraSetting& camera);

/// "beam 34 degrees off the lens, 2.4 m of it in frame, 3.1 stops over a view from its side".
[[nodiscard]] std::string haze_text(const study::BeamInHaze& beam,
                                    site::Units units = site::Units::metres);

}  // namespace keyhour::tell
