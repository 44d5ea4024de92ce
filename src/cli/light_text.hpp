#pragma once
// Light levels as people read them: no more digits than the air allows.

#include <string>

#include "keyhour/study/light_drift.hpp"

namespace keyhour::cli {

/// "310 lx", "5.2 klx", "34 klx": two digits.
[[nodiscard]] std::string level_text(double lx);

/// "at the mark 21 to 34 klx (air alone: 14 to 41 klx), 4800 to 5200 K; fill 310 lx: key to fill
/// 6.1 to 6.8 stops (key:fill 68 to 110:1)": at start and end.
[[nodiscard]] std::string light_text(const study::LightDrift& drift);

}  // namespace keyhour::cli
