#pragma once
/// @file
/// Forges beside the key, in words and as JSON.

#include <string>
#include <vector>

#include "document.hpp"
#include "keyhour/room/room.hpp"
#include "keyhour/study/forge_light.hpp"

namespace keyhour::tell {

/// "forge hearth: 40 lx at the mark, 1500 K, 10 1/3 stops under the key"; one that is brighter IS
/// KEY. @param key_from_lx,key_to_lx  of the key beside it, at start and end
[[nodiscard]] std::string forge_text(const study::ForgeLight& forge, const room::Room& room,
                                     double key_from_lx, double key_to_lx);

/// "; forge hearth IS KEY", of each that outshines the key; else nothing.
[[nodiscard]] std::string forge_is_key(const std::vector<study::ForgeLight>& forges, double key_lx);

[[nodiscard]] Json json_of(const std::vector<study::ForgeLight>& forges, const room::Room& room,
                           double key_from_lx, double key_to_lx);

}  // namespace keyhour::tell
