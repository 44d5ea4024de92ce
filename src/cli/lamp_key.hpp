#pragma once
// `key --by lamp`: what was asked, and its answer.

#include <iosfwd>
#include <optional>

#include "failure.hpp"
#include "keyhour/study/sun_free.hpp"
#include "room_options.hpp"
#include "tell/detail.hpp"

namespace keyhour::cli {

struct LampKeyRequest {
    study::LampSettings settings;
    double overlap_m = 0;
    bool all = false, json = false, line = false;
    tell::Details show;
};

/// Why there can be no answer: hours that a change of clocks skips or repeats, a window that no
/// lamp could shine through.
[[nodiscard]] std::optional<Failure> no_lamp_answer(const RoomQuestion& q,
                                                    const study::LampSettings& lamp);

/// @return the exit code
int answer_by_lamp(const RoomQuestion& q, const LampKeyRequest& request, std::ostream& out);

}  // namespace keyhour::cli
