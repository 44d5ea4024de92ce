#pragma once
/// @file
/// The shoot file: TOML beside the location files that its places name.

#include "keyhour/study/shoot.hpp"
#include "location_file.hpp"

namespace keyhour::read {

inline constexpr std::size_t most_scenes = 60, most_days = 14, most_places = 20;

/// Reads and checks a shoot file and the location file of every place, seen from its folder.
/// @param changes  asked about without an edit: of the shoot file, and those that begin with a
///                 place's name (or "place.NAME") and are none of its own keys, of its location
/// @return the shoot, or every problem: its own, ascending by line, then those of its locations
[[nodiscard]] Read<study::Shoot> read_shoot(const std::string& path, const Changes& changes = {});

/// The same for a text in memory. @param name  how problems call it; its folder is where paths
/// start
[[nodiscard]] Read<study::Shoot> read_shoot_text(std::string_view text, const std::string& name,
                                                 const Changes& changes = {});

}  // namespace keyhour::read
