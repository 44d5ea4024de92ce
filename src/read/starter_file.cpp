#include "starter_file.hpp"

#include <fmt/format.h>

namespace keyhour::read {

namespace {

/// A TOML basic string.
std::string quoted(const std::string& text) {
    std::string out = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') out += '\\';
        const unsigned byte = static_cast<unsigned char>(c);
        if (byte < 0x20 || byte == 0x7f) {
            out += fmt::format("\\u{:04x}", byte);
        } else {
            out += c;
        }
    }
    return out + '"';
}

constexpr const char* head =
    R"(# A location for keyhour. "keyhour check FILE" reads it back and asks about what looks wrong.
# Lengths: metres as plain numbers, or text with a unit: "4 ft 2 in", "127 cm".
# What is not measured yet may be a range, [least, most]: reveal_m = [0.2, 0.35]. within_m in a
# window or a mark says how far its taped lengths may be off; "keyhour check FILE --recce" says what
# to measure next.
# A line that starts with # is not read: take the # away to use it.
format = 1
)";

constexpr const char* site_rest =
    R"(elevation_m = 0                    # above the sea
# The skyline: bearing and altitude in degrees, straight lines between the points.
# horizon = [[0, 3], [90, 6], [180, 2], [270, 9]]
air = "normal"                     # very clear | normal | hazy
# units = "ft"                     # what you read: feet and inches; without it metres
# clock_within_s = 1               # how far the clocks that times are read from may be off
)";

constexpr const char* room = R"(
[room]
# The corners of the floor at the inner faces of the walls, in order: x to the right of the page,
# y up the page. Wall i runs from corner i to the next and has the i-th name.
floor = [[0, 0], [5, 0], [5, 4], [0, 4]]
walls = ["street", "yard", "back", "party"]
height_m = 3
floor_above_ground_m = 0
# Which way one wall faces, looking OUT, square to it. north: "true", or "magnetic" for a compass;
# then say when it was read: measured = "2026-02-10". within_deg: how far it may be wrong.
bearing = { wall = "street", faces = 180, north = "true", within_deg = 3 }
reflectance = { floor = 0.2, walls = 0.5, ceiling = 0.7 }

# Every opening, seen from inside: left is from the wall's left-hand corner to the near jamb, sill
# from the floor of the room. Width and height are of the clear opening, without its frame.
# reveal is the depth of the wall around it; if there is none, write 0.
[[window]]
name = "key window"
wall = "street"
left_m = 1.9
width_m = 1.2
sill_m = 0.9
height_m = 1.5
reveal_m = 0.3
# bars = { upright = 1, level = 2, width_m = 0.03 }   # how many stand, how many lie
glass = "single"                   # none | single | double
cover = "open"                     # open | sheer | blackout

# Where the subject is; height is of its centre above the floor. A sphere with radius_m, or a box:
# box_m = [across x, along y, tall].
[[mark]]
name = "bench"
at = [2.5, 1.6]
height_m = 1.2
radius_m = 0.15

[[camera]]
name = "A"
at = [0.9, 0.8]
height_m = 1.3
aims_at = "bench"
view_deg = 40                      # horizontal angle of view

# What stands inside and blocks light:
# [[object]]
# name = "table"
# footprint = [[3.4, 2.0], [4.6, 2.0], [4.6, 3.0], [3.4, 3.0]]
# height_m = 0.9

# What stands outside and blocks light, height above the ground:
# [[building]]
# name = "house opposite"
# footprint = [[-4, -16], [9, -16], [9, -10], [-4, -10]]
# height_m = 7
# facade = { side = 3, kind = "glass" }   # glass | white render; side 1: first to second corner

# Camera positions outside, on the plan (at) or on the map (position = "..."):
# [[spot]]
# name = "yard door"
# at = [7.0, 2.0]
# camera_bearing = 240
# wants = "side"                   # front | side | back | any
# view_deg = 40                    # of the lens, level; tilt_deg = 0, up is positive
# facade_faces = 286               # true bearing that the wall in the shot faces

# Lamps: the light by a data sheet (level on the axis at a distance; beam at half of it, field at a
# tenth), by photometry = "lamp.ies" (ANSI/IES LM-63), or by lumens (a street lamp):
# [[lamp]]
# name = "key lamp"
# place = "outside"                # outside | inside
# sheet = { level_lx = 12000, at_m = 5, beam_deg = 24, field_deg = 42 }
# face_diameter_m = 0.3
# kelvin = 5600
# diffusion = { transmittance = 0.5, diameter_m = 1.2, distance_m = 0.6 }
# stand_max_m = 3.6                # of its middle, above the ground, inside above the floor
# watts = 1200                     # battery_h = 2.5: how long it burns
# at = [2.0, -4.0]                 # where it stands, if that is settled
# height_m = 2.5

# Rigging, which the light sheet counts back from the key; minutes by the number of people:
# [rigging]
# crew = 2
# call = "07:30"
# overlap_m = 0.15                 # of cloth, on every side of its opening
# [[task]]
# name = "hang the blackout"
# minutes = { 1 = 40, 2 = 25 }
)";

}  // namespace

std::string starter_file(const Starter& starter) {
    return fmt::format("{}\n[site]\nname = {}\nposition = {}\ntime_zone = {}\n{}{}", head,
                       quoted(starter.name), quoted(starter.position), quoted(starter.time_zone),
                       site_rest, room);
}

}  // namespace keyhour::read
