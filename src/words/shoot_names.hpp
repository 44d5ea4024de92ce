#pragma once
/// @file
/// The light that a scene wants, as the shoot file, JSON and people say it.

#include "keyhour/study/shoot.hpp"
#include "words/names.hpp"

namespace keyhour::words {

inline constexpr std::array light_wanted_names{"sun key", "lamp key", "late light", "front",
                                               "side",    "back",     "direct",     "daylight",
                                               "dusk",    "night",    "any"};

[[nodiscard]] constexpr const char* name(study::LightWanted light) {
    return light_wanted_names[static_cast<std::size_t>(light)];
}
static_assert(name(study::LightWanted::any) == light_wanted_names.back());

}  // namespace keyhour::words
