#pragma once
// What check says about one sound location: a table for people, a document for programs.

#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

#include "keyhour/ask/recce.hpp"
#include "keyhour/site/location.hpp"
#include "keyhour/site/recce.hpp"
#include "keyhour/study/window_hours.hpp"
#include "tell/detail.hpp"

namespace keyhour::cli {

struct CheckReport {
    site::Location location;                // with the questions that the year's sun raised
    date::year year{};                      // of the sun-hours
    std::vector<study::WindowHours> sun;    // one a window; empty without a room
    std::optional<ask::RecceAnswer> recce;  // if asked for
};

/// Counts the year's sun through each window, and asks about windows that get none.
[[nodiscard]] CheckReport check_report(site::Location location, date::year year);

/// In words: what must be settled first, then what the file describes.
void print(const CheckReport& report, const site::Recce& recce, tell::Details show,
           std::ostream& out);
void print_json(const CheckReport& report, std::ostream& out);

}  // namespace keyhour::cli
