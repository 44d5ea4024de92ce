#pragma once
// What `check --recce` says: what to measure next, and the form in which to note it.

#include <iosfwd>
#include <string>
#include <vector>

#include "date_options.hpp"
#include "failure.hpp"
#include "keyhour/study/key_doubt.hpp"
#include "shown_names.hpp"
#include "tell/document.hpp"

namespace keyhour::cli {

/// One line of the recce sheet.
struct SheetLine {
    std::string table;  // of the file: [[window]] "press window"
    std::string line;   // to fill in: reveal_m = ____
    std::string how;    // it is measured
};

struct RecceStep {
    study::InputEffect effect;
    SheetLine note;
    bool is_range = false;  // a range stands in the file: it was not measured yet
};

struct RecceReport {
    room::Room room;
    site::LocalDate first, last;
    std::size_t intervals = 0;
    Seconds hold{0}, hold_90{0};     // on average over them
    int rooms_with_key = 0;          // where the stated room has none: of those within its doubts
    std::vector<RecceStep> steps;    // most useful first
    std::vector<SheetLine> missing;  // what the file says nothing of
};

/// @param location  as read from the file at `path`
/// @param dates     none given: all of `year`
[[nodiscard]] Answer<RecceReport> recce_report(const site::Location& location,
                                               const std::string& path, const DateOptions& dates,
                                               date::year year, Names names);

void print(const RecceReport& report, std::ostream& out);
[[nodiscard]] tell::Json json_of(const RecceReport& report);

}  // namespace keyhour::cli
