#pragma once
// Light levels as people read them: no more digits than the air allows.

#include <string>
#include <vector>

#include "keyhour/study/key_light.hpp"
#include "keyhour/study/stop_wish.hpp"

namespace keyhour::cli {

/// "310 lx", "5.2 klx", "34 klx": two digits.
[[nodiscard]] std::string level_text(double lx);

/// "21 to 34 klx"; one unit for both, one number where both read the same.
[[nodiscard]] std::string level_range(double from, double to);

/// "5 2/3", "1/3", "0": the nearest third, of a number >= 0.
[[nodiscard]] std::string thirds_text(double stops);

/// "T4", "T2.8 1/3": the nearest third of a T number.
[[nodiscard]] std::string t_stop_text(double t_number);

/// The light of a hold, a paragraph a line: levels and ratio, how they move, the meter, the patch,
/// cloud and covers, haze. What is told at start and end reads "6.1 to 6.8".
[[nodiscard]] std::vector<std::string> light_lines(const study::KeyLight& light,
                                                   const study::CameraSetting& camera,
                                                   const room::Room& room);

/// "ISO 800, 25 fps, shutter 180 degrees (1/50 s); T4 needs 250 lx at the mark": what the meter is
/// asked.
[[nodiscard]] std::string camera_text(const study::CameraSetting& camera);

/// For a table's row: "T11 1/3", or the neutral density for a wanted stop, "ND 3 1/3".
[[nodiscard]] std::string meter_in_short(const study::LightDrift& drift,
                                         const study::CameraSetting& camera);

/// "beam 34 degrees off the lens, 2.4 m of it in frame, 3.1 stops over a view from its side".
[[nodiscard]] std::string haze_text(const study::BeamInHaze& beam);

}  // namespace keyhour::cli
