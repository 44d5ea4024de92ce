#pragma once
/// @file
/// Several rooms on one day: which of them can be reached while each has its light, in which order.

#include <cstddef>
#include <span>
#include <vector>

#include "keyhour/site/position.hpp"
#include "keyhour/study/spans.hpp"

namespace keyhour::study {

/// A room, and when it has its light.
struct VisitRoom {
    site::Coordinates place;  ///< WGS 84, for the way to it
    std::vector<Span> holds;  ///< of one day; in any order
};

/// How the crew travels and works.
struct VisitSettings {
    double speed_kmh = 0;  ///< stated by the user, > 0
    double detour = 1.3;   ///< road over crow's flight, >= 1; common practice, no source
    Seconds setup{1800};   ///< between arriving and the first take
    Seconds work{1800};    ///< in the light, at each room
};

/// One room of the plan.
struct VisitStop {
    std::size_t room = 0;   ///< index into the rooms asked about
    std::size_t hold = 0;   ///< of the room's holds
    double distance_m = 0;  ///< from the stop before, as the crow flies; 0 at the first
    Seconds travel{0};      ///< from the stop before
    Instant arrive;         ///< at the first stop: the latest that serves
    Instant start, end;     ///< of the work
    Seconds slack{0};       ///< by which the start may slip and the rest of the day still holds
};

/// A day's order.
struct VisitPlan {
    std::vector<VisitStop> stops;       ///< in order
    std::vector<std::size_t> left_out;  ///< rooms that do not fit in, ascending
};

/// More rooms than this are no day's work; the search grows with 2^rooms.
inline constexpr std::size_t most_visit_rooms = 12;

/// The plan that reaches the most rooms; of those the one that ends first.
/// Distances are geodesics on the WGS 84 ellipsoid (GeographicLib) times the detour.
/// @pre rooms.size() <= most_visit_rooms
[[nodiscard]] VisitPlan plan_visit(std::span<const VisitRoom> rooms, const VisitSettings& settings);

}  // namespace keyhour::study
