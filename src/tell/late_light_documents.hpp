#pragma once
/// @file
/// Late light in JSON: what `day` and `exterior` have in common.

#include "document.hpp"
#include "keyhour/study/late_light.hpp"

namespace keyhour::tell {

/// `stretches`, and when the sun goes or comes.
[[nodiscard]] Json sun_in_late_light_json(const study::LateLight& light);

}  // namespace keyhour::tell
