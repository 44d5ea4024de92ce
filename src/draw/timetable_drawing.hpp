#pragma once
/// @file
/// A day of a shoot against the hours: a row a scene.

#include <optional>
#include <string>
#include <vector>

#include "drawing.hpp"
#include "keyhour/site/zone.hpp"
#include "keyhour/study/spans.hpp"

namespace keyhour::draw {

/// A row of the timetable, in order of time.
struct TimetableRow {
    enum class Kind { scene, move, pause } kind = Kind::scene;
    std::string name;
    Instant from;                   ///< of the set-up; of a move or a break its beginning
    Instant shoot_from, to;         ///< of a move or a break: shoot_from is from
    Seconds over_run{};             ///< for which nothing may be touched after the shooting
    std::optional<Instant> latest;  ///< of the shooting's beginning
    bool once_only = false;
};

/// Set-ups are hatched, shooting is black, what can't be repeated stands in a frame; a thin line
/// goes on to where the shooting would end if it began at its latest.
/// @pre at least one row
[[nodiscard]] std::string draw_timetable(const std::string& title,
                                         const std::vector<TimetableRow>& rows,
                                         const site::Zone& zone, const DrawingFrame& frame = {});

}  // namespace keyhour::draw
