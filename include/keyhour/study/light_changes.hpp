#pragma once
/// @file
/// When the light in a room changes: sun coming in and leaving, keys, patches on the floor.

#include <optional>
#include <vector>

#include "keyhour/study/day_strip.hpp"

namespace keyhour::study {

struct LightChange {
    enum class Kind {
        sun_in,         ///< direct sun begins to come in through the window
        key_begins,     ///< the mark stands clean in it
        floor_reached,  ///< the window's patch comes onto the floor
        floor_left,     ///< it is on walls and objects alone
        key_ends,
        sun_out
    };
    Instant at;
    Kind kind = Kind::sun_in;
    std::size_t window = 0;
    std::optional<std::size_t> mark{};  ///< of a key
    bool is_first_or_last = false;      ///< of the room's sun on the date
};

/// The changes of a date at the stated bearing, ascending in time, of windows that let sun in. A
/// patch that reaches the floor within a minute of the sun's coming in is not told, nor one that
/// leaves it so with the sun. To a second; a patch that touches the floor for less than five
/// minutes may be passed over.
/// @param strip  of the date, with this room
[[nodiscard]] std::vector<LightChange> light_changes(const RoomStudy& study, const DayStrip& strip);

}  // namespace keyhour::study
