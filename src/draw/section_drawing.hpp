#pragma once
/// @file
/// A section through a window and a mark, square to the window's wall.

#include <optional>
#include <string>
#include <vector>

#include "drawing.hpp"
#include "keyhour/site/zone.hpp"
#include "keyhour/study/day_strip.hpp"
#include "keyhour/study/room_study.hpp"

namespace keyhour::draw {

/// A lamp on its stand, outside or in.
struct SectionStand {
    std::string name;
    room::Point2 at;  ///< plan metres
    double z_m = 0;   ///< of the lamp's middle, above the room's floor
    bool outside = true;
};

struct SectionContent {
    site::LocalDate date;
    std::size_t window = 0, mark = 0;
    std::vector<Instant> instants;  ///< whose rays are drawn; three at most
    std::vector<SectionStand> stands{};
    /// The lamp whose light through this window is the key.
    std::optional<room::Point3> key_lamp{};
};

/// Rays are drawn as they fall on the section's plane (their profile angle): head and sill are true
/// there, jambs do not show. The patch on the floor is as deep as it is in truth.
[[nodiscard]] std::string draw_section(const study::RoomStudy& study, const SectionContent& content,
                                       const DrawingFrame& frame = {});

/// Window, mark and lamp of a planned lock, in place of the sun's rays.
void show_lock(const study::PlannedLock& planned, SectionContent& content);

/// The location's own lamps that have a place.
[[nodiscard]] std::vector<SectionStand> stands_of(const site::Location& location);

}  // namespace keyhour::draw
