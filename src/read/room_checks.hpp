#pragma once
/// @file
/// Does what was measured fit together? Windows in their walls, marks inside the room and so on.
/// The same checks serve a location file and a room described by flags.

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "keyhour/room/room.hpp"

namespace keyhour::read {

/// The part of a room that a complaint is about, for finding it in the file.
struct RoomPart {
    enum class Kind { room, window, mark, camera, object, building } kind = Kind::room;
    std::size_t index = 0;
    const char* key = "";  ///< of the location file
};

/// What of a room has been read without fault; the rest is not judged.
struct SoundParts {
    bool floor = true, height = true;
    std::vector<bool> windows, marks, cameras, objects, buildings;
    /// Everything in `room` is sound.
    [[nodiscard]] static SoundParts all(const room::Room& room);
};

using Complain = std::function<void(const RoomPart& part, std::string found, std::string accepted)>;

void check_room(const room::Room& room, const SoundParts& sound, const Complain& complain);

/// What looks odd and can be right, as questions.
[[nodiscard]] std::vector<std::string> room_questions(const room::Room& room);

/// Is it the starter file's room, or has a window or a mark of it left as it was?
/// @param starter  as "keyhour new" writes it
[[nodiscard]] std::optional<std::string> starter_question(const room::Room& room,
                                                          const room::Room& starter);

}  // namespace keyhour::read
