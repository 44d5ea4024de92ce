#pragma once
/// @file
/// What is left of the light outside, in words and as JSON.

#include <nlohmann/json_fwd.hpp>

#include "keyhour/study/countdown.hpp"
#include "keyhour/study/stop_wish.hpp"
#include "tell/document.hpp"
#include "tell/paragraph.hpp"

namespace keyhour::tell {

/// One place outside as its countdown tells it.
struct SpotCountdown {
    const study::SpotLight& light;
    study::ShotWish wish;
    std::optional<study::LastStart> last;
    std::vector<study::CountdownStep> steps;  ///< to the end of that light
};

/// "countdown to 16:17: set up by 15:47", then a row each ten minutes.
[[nodiscard]] Paragraphs countdown_rows(const SpotCountdown& spot,
                                        const study::CameraSetting& camera);

/// From a time on: the order of one crew, and what does not fit any more.
[[nodiscard]] Paragraphs still_fit_lines(std::span<const SpotCountdown> spots, Instant from,
                                         std::span<const study::TimedShot> order);

/// `from_utc` null: no time was asked about.
[[nodiscard]] Json countdown_json(std::span<const SpotCountdown> spots,
                                  const std::optional<Instant>& from,
                                  std::span<const study::TimedShot> order,
                                  const study::CameraSetting& camera);

}  // namespace keyhour::tell
