#pragma once
/// @file
/// What is left of the light outside, in words and as JSON.

#include <nlohmann/json_fwd.hpp>

#include "keyhour/ask/exterior.hpp"
#include "keyhour/study/stop_wish.hpp"
#include "tell/document.hpp"
#include "tell/paragraph.hpp"

namespace keyhour::tell {

using ask::SpotCountdown;

/// "countdown to 16:17: set up by 15:47", then a row each ten minutes.
[[nodiscard]] Paragraphs countdown_rows(const SpotCountdown& spot,
                                        const study::CameraSetting& camera);

/// From a time on: the order of one crew, and what does not fit any more; nothing without one.
[[nodiscard]] Paragraphs still_fit_lines(const ask::CountdownAnswer& answer);

/// `from_utc` null: no time was asked about.
[[nodiscard]] Json countdown_json(const ask::CountdownAnswer& answer,
                                  const study::CameraSetting& camera);

}  // namespace keyhour::tell
