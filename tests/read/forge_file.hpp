#pragma once
// A sound location file, of which the tests change one thing or another.

#include <string>
#include <vector>

inline constexpr const char* forge = R"(format = 1

[site]
name = "Mill Bank Forge"
position = "52.9536N 1.1505W"
elevation_m = 61
time_zone = "Europe/London"
horizon = [[0, 3], [180, 2]]
air = "normal"

[room]
floor = [[0, 0], [6, 0], [6, 4], [0, 4]]
walls = ["lane", "yard", "back", "party"]
height_m = 3
floor_above_ground_m = 0.2
bearing = { wall = "lane", faces = 196, north = "true", within_deg = 3 }
reflectance = { floor = 0.2, walls = 0.5, ceiling = 0.7 }

[[window]]
name = "left light"
wall = "lane"
left_m = 0.5
width_m = 1.2
sill_m = 0.9
height_m = 1.5
reveal_m = 0.3
bars = { upright = 1, level = 2, width_m = 0.03, set_back_m = 0.1 }
glass = "single"
cover = "open"

[[window]]
name = "right light"
wall = "lane"
left_m = 2.5
width_m = 1.2
sill_m = 0.9
height_m = 1.5
reveal_m = 0.3

[[mark]]
name = "anvil"
at = [3, 2]
height_m = 1.3

[[camera]]
name = "A"
at = [5, 3]
height_m = 1.4
aims_at = "anvil"
view_deg = 38

[[object]]
name = "bench"
footprint = [[0.2, 1], [1, 1], [1, 3], [0.2, 3]]
height_m = 0.9

[[building]]
name = "barn"
footprint = [[-5, -20], [10, -20], [10, -12], [-5, -12]]
height_m = 8

[[spot]]
name = "gate"
at = [9, 2]
camera_bearing = 240
wants = "side"
)";

/// One change to the sound file, and the complaints that it brings: LINE:COLUMN: FOUND; ACCEPTED.
struct Slip {
    const char *from, *to;
    std::vector<std::string> complaints;
};
