#pragma once
/// @file
/// The room as a lighting plan on paper.

#include <string>
#include <vector>

#include "drawing.hpp"
#include "keyhour/study/day_strip.hpp"

namespace keyhour::draw {

/// What a plan shows beside what the location file names.
struct PlanContent {
    site::LocalDate date;
    std::vector<Instant> hours;            ///< whose patches are drawn; at most 6
    std::vector<study::CoverNeed> covers;  ///< to be hung
    /// A lamp outside that is the key: where it stands, and its light through the window.
    const study::PlannedLock* planned = nullptr;
};

struct PlanDrawing {
    std::string svg;
    /// For what a page lays over it.
    PlanScale scale;
    double width_mm = 0, height_mm = 0;  ///< of the view box
    /// What the numbers in rings mean, from 1. A drawing in a page leaves them to the page, where
    /// they are text that runs on; any other says them in its foot.
    std::vector<std::string> numbered;
};

/// The most patches that hatches can tell apart.
inline constexpr std::size_t most_plan_hours = 6;

/// What hangs on a date: for the planned lock, else for the sun's keys.
[[nodiscard]] std::vector<study::CoverNeed> covers_on_plan(const study::DayStrip& strip);

/// The location with the planned lock's lamp at its place; as it is without one.
[[nodiscard]] site::Location with_key_lamp(const site::Location& location,
                                           const study::DayStrip& strip);

/// The plan: walls and openings, bars, objects, marks, cameras with their fields, lamps with stand
/// and beam, buildings and trees, norths, a scale, and the patches of chosen hours. An empty group
/// "PREFIX-now", above the patches and below the labels, is for what a page draws itself.
/// @param location  as study::RoomStudy has it: in season, trees among the buildings
/// @param room      null where the location has no room: then buildings and spots
[[nodiscard]] PlanDrawing draw_plan(const site::Location& location, const study::RoomStudy* room,
                                    const PlanContent& content, const DrawingFrame& frame = {});

}  // namespace keyhour::draw
