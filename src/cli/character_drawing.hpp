#pragma once
// The plan and the strip in plain characters, for a terminal and for ssh.

#include <iosfwd>
#include <string>
#include <vector>

#include "keyhour/study/day_strip.hpp"

namespace keyhour::cli {

/// What the terminal can show.
struct CharacterSet {
    bool ascii = false;
    std::size_t columns = 80;  ///< 40 to 80
};

/// ASCII where `ascii` is asked for or the environment's locale is no UTF-8; as wide as the lines
/// of `out` may be.
[[nodiscard]] CharacterSet character_set(bool ascii, std::ostream& out);

/// The room from above: walls, openings, marks (X), cameras (C), objects, and where the sun falls
/// on floor and objects, a figure for each of the hours (nine at most).
void print_plan(std::ostream& out, const study::RoomStudy& study, const std::vector<Instant>& hours,
                const CharacterSet& set);

/// A row for the sky and for each window, key and cover, against the hours.
void print_strip(std::ostream& out, const study::RoomStudy& study, const study::DayStrip& strip,
                 const CharacterSet& set);

}  // namespace keyhour::cli
