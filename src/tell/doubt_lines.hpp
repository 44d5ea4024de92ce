#pragma once
/// @file
/// Doubt in sentences: how sure a hold is, and what to measure better.

#include <string>
#include <vector>

#include "keyhour/site/units.hpp"
#include "keyhour/study/key_doubt.hpp"
#include "tell/paragraph.hpp"

namespace keyhour::tell {

/// What the cases are.
inline constexpr const char* doubt_meaning =
    "cases: the room with every figure moved within its doubt; check lists the doubts, and "
    "--why-unsure ranks what to measure better.";

/// "38 min or more in 9 of 10 cases, 52 min in half of them; starts 11:02 to 11:15, ends ..."
[[nodiscard]] std::string hold_doubt_text(const study::HoldDoubt& doubt, const site::Zone& zone);

/// "1 h 15 min or more in 9 of 10 cases, lit 13:14 to 14:03 in as many"
[[nodiscard]] std::string cases_words(const study::HoldDoubt& doubt, const site::Zone& zone);

/// "lit 13:14 to 14:03 in 9 of 10 cases"; where no minute is lit in so many, how long it holds.
[[nodiscard]] std::string lit_words(const study::HoldDoubt& doubt, const site::Zone& zone);

/// The ranking, most useful first.
[[nodiscard]] Paragraphs why_lines(const std::vector<study::InputEffect>& effects,
                                   const room::Room& room, site::Units units);

/// What to do about one input, as a subject: "taping the reveal of press window".
[[nodiscard]] std::string remedy(const study::InputEffect& effect, const room::Room& room);

}  // namespace keyhour::tell
