#pragma once
/// @file
/// What was understood, in words that a tired person can check; told on request, and by JSON.

#include <cstddef>
#include <string>
#include <vector>

#include "keyhour/site/location.hpp"
#include "keyhour/site/units.hpp"

namespace keyhour::site {

/// "street wall faces south-south-west (196 true): looking out you look SSW".
[[nodiscard]] std::string wall_in_words(const room::Room& room, std::size_t wall);

/// "tree plane (leaf May to October): bare, counts as ... (a judgement, not a measurement)", with
/// the dates on which that changes.
[[nodiscard]] std::string tree_in_words(const Tree& tree, LocalDate first, LocalDate last);

/// In which words.
struct ReadBackWords {
    bool is_today = false;        ///< no date was asked for: today there
    Units units = Units::metres;  ///< of lengths; JSON stays metric
    const char* date_is = "";     ///< what the date is for, behind it: ", for what to do next"
};

/// The site, the dates with weekday and month by name, the clocks with every change near the
/// dates, and the questions of the location.
/// @param first, last  local dates, inclusive
[[nodiscard]] std::vector<std::string> site_read_back(const Location& location, LocalDate first,
                                                      LocalDate last, ReadBackWords words = {});

/// The same, followed by the room's walls, if there is a room.
[[nodiscard]] std::vector<std::string> read_back(const Location& location, LocalDate first,
                                                 LocalDate last, ReadBackWords words = {});

}  // namespace keyhour::site
