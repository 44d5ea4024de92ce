#pragma once
// Levels are worded in words/levels.hpp, the light of a key in tell/light_lines.hpp.

#include "tell/light_lines.hpp"
#include "words/levels.hpp"

namespace keyhour::cli {

using tell::camera_text;
using tell::haze_text;
using tell::light_lines;
using tell::meter_in_short;
using words::level_range;

inline std::string level_text(double lx) {
    return words::level(lx);
}
inline std::string thirds_text(double stops) {
    return words::thirds(stops);
}
inline std::string t_stop_text(double t_number) {
    return words::t_stop(t_number);
}

}  // namespace keyhour::cli
