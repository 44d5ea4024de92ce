#pragma once
/// @file
/// Choices by the words that the location file, JSON and people use: one table each, in the order
/// of the enumeration.

#include <array>
#include <string>
#include <vector>

#include "keyhour/room/room.hpp"
#include "keyhour/site/location.hpp"

namespace keyhour::words {

inline constexpr std::array cover_names{"open", "sheer", "blackout"};
inline constexpr std::array glass_names{"none", "single", "double"};
inline constexpr std::array side_names{"front", "side", "back", "any"};
inline constexpr std::array lamp_place_names{"outside", "inside"};
inline constexpr std::array facade_names{"glass", "white"};
inline constexpr std::array air_names{"very clear", "normal", "hazy"};

[[nodiscard]] constexpr const char* name(room::Cover c) {
    return cover_names[static_cast<std::size_t>(c)];
}
[[nodiscard]] constexpr const char* name(room::Glass g) {
    return glass_names[static_cast<std::size_t>(g)];
}
[[nodiscard]] constexpr const char* name(site::Side s) {
    return side_names[static_cast<std::size_t>(s)];
}
[[nodiscard]] constexpr const char* name(site::Lamp::Place p) {
    return lamp_place_names[static_cast<std::size_t>(p)];
}
[[nodiscard]] constexpr const char* name(room::Facade::Kind k) {
    return facade_names[static_cast<std::size_t>(k)];
}
static_assert(name(room::Cover::blackout) == cover_names.back() &&
              name(room::Glass::double_pane) == glass_names.back() &&
              name(site::Side::any) == side_names.back() &&
              name(site::Lamp::Place::inside) == lamp_place_names.back() &&
              name(room::Facade::Kind::white) == facade_names.back());

/// "glass", "white render": as people read it.
[[nodiscard]] constexpr const char* in_words(room::Facade::Kind k) {
    return k == room::Facade::Kind::glass ? "glass" : "white render";
}

/// For a reader that accepts these.
template <std::size_t n>
[[nodiscard]] std::vector<std::string> list(const std::array<const char*, n>& names) {
    return {names.begin(), names.end()};
}

}  // namespace keyhour::words
