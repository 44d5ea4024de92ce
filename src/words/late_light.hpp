#pragma once
/// @file
/// The sun in late light, in a word or two.

#include <string>
#include <vector>

#include "keyhour/site/zone.hpp"
#include "keyhour/study/late_light.hpp"

namespace keyhour::words {

/// Its stretches with the sun, ascending.
[[nodiscard]] std::vector<study::Span> spans_in_sun(const study::LateLight& light);

/// "sun to 16:41", "sky alone"; of the morning "sun from 08:05".
[[nodiscard]] std::string sun_in_short(const study::LateLight& light, const site::Zone& zone);

}  // namespace keyhour::words
