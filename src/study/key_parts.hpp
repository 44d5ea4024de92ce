#pragma once
/// @file
/// What finding a clean key, describing it and telling why there is none share.

#include <optional>
#include <string>

#include "keyhour/study/clean_key.hpp"

namespace keyhour::study {

inline bool is_wanted(const std::optional<std::string>& only, const std::string& name) {
    return !only || *only == name;
}

/// Calls each(mark, camera, window) for all that the settings ask for.
template <class Each>
void for_each_wanted(const RoomStudy& study, const KeySettings& settings, const Each& each) {
    const room::Room& room = study.room();
    for (std::size_t mark = 0; mark < room.marks.size(); ++mark) {
        if (!is_wanted(settings.mark, room.marks[mark].name)) continue;
        for (const auto camera : study.cameras_of(mark)) {
            if (settings.camera && !(camera && room.cameras[*camera].name == *settings.camera))
                continue;
            for (std::size_t window = 0; window < room.windows.size(); ++window)
                if (is_wanted(settings.window, room.windows[window].name))
                    each(mark, camera, window);
        }
    }
}

/// At the stated bearing, degrees.
[[nodiscard]] double unsigned_key_angle(const RoomStudy& study, std::size_t camera,
                                        const Moment& m);

/// The run around an instant in which the mark's centre alone has a clean key; nothing if it has
/// none then.
[[nodiscard]] std::optional<Span> centre_run(const RoomStudy& study, const KeySettings& settings,
                                             std::size_t mark, std::optional<std::size_t> camera,
                                             std::size_t window, Instant at);

/// Does the key hold for the settings' shortest at one of the bearings, within the run?
/// @pre the bearing is in doubt
[[nodiscard]] bool holds_at_some_bearing(const RoomStudy& study, const KeySettings& settings,
                                         const KeyInterval& who, const Span& run);

/// The longest part of any of the spans (ascending) within one; nothing if there is none.
[[nodiscard]] std::optional<Span> longest_within(const std::vector<Span>& spans,
                                                 const Span& within);

}  // namespace keyhour::study
