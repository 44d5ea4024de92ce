#pragma once
/// @file
/// The JSON of keyhour bearing.

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "document.hpp"
#include "keyhour/study/bearing.hpp"
#include "keyhour/study/next_observation.hpp"

namespace keyhour::tell {

/// All of one answer but the frame of the document.
struct BearingReport {
    study::BearingQuestion question;
    study::BearingAnswer answer;
    std::vector<study::NextObservation> next;
    std::string line;         ///< to paste into the location file; empty while undecided
    bool is_written = false;  ///< into the file
    /// What the clock was said to be, seconds fast; the times of the question are put right by it.
    std::optional<double> clock_fast_s;
    std::vector<std::string> observations_in_words;  ///< one each
};

[[nodiscard]] Json json_of(const BearingReport& report, const site::Location& location);

/// "none", "clock", "heights", "clock or heights", "bearing or left", "more than one".
[[nodiscard]] const char* culprit_in_words(study::Culprit culprit) noexcept;

/// "graze begins", "graze ends", "jamb shadow", "plumb line".
[[nodiscard]] const char* next_in_words(study::NextObservation::Kind kind) noexcept;

}  // namespace keyhour::tell
