#pragma once
// Locations as lines of JSON.

#include <nlohmann/json.hpp>
#include <string>

inline std::string json_place(const std::string& name, double faces) {
    const nlohmann::json place{
        {"format", 1},
        {"site",
         {{"name", name}, {"position", "52.9536N 1.1505W"}, {"time_zone", "Europe/London"}}},
        {"room",
         {{"floor", {{0, 0}, {7.2, 0}, {7.2, 4.6}, {0, 4.6}}},
          {"walls", {"street", "yard", "back", "party"}},
          {"height_m", 3.1},
          {"bearing", {{"wall", "street"}, {"faces", faces}, {"north", "true"}}}}},
        {"window",
         {{{"name", "press window"},
           {"wall", "street"},
           {"left_m", 1.1},
           {"width_m", 1.4},
           {"sill_m", 0.85},
           {"height_m", 1.6},
           {"reveal_m", 0.28}}}},
        {"mark", {{{"name", "type case"}, {"at", {3.2, 1.8}}, {"height_m", 1.25}}}}};
    return place.dump() + '\n';
}

/// "Room 0", "Room 1", ... of walls that face 150 to 239 degrees.
inline std::string many_json_places(int n) {
    std::string text;
    for (int i = 0; i < n; ++i)
        text += json_place("Room " + std::to_string(i), 150 + i % 90);
    return text;
}
