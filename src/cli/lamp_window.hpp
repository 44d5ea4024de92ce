#pragma once
// A window that a lamp outside is to shine through: what is wrong with it.

#include <optional>

#include "failure.hpp"
#include "keyhour/study/room_study.hpp"

namespace keyhour::cli {

/// It is hung, so that no key comes through it. @param option  that named it
[[nodiscard]] std::optional<Failure> hung_key_window(const char* option, const room::Room& room,
                                                     std::size_t window);

/// No straight line leads from it to the mark.
[[nodiscard]] std::optional<Failure> no_line_to_mark(const study::RoomStudy& study,
                                                     std::size_t window, std::size_t mark);

/// No window of the room is open.
[[nodiscard]] std::optional<Failure> all_windows_hung(const room::Room& room);

}  // namespace keyhour::cli
