#pragma once
// What people read of doubt: how sure a hold is, and what to measure better.

#include <iosfwd>
#include <string>
#include <vector>

#include "keyhour/study/key_doubt.hpp"

namespace keyhour::cli {

/// "38 min or more in 9 of 10 cases, 52 min in half of them; starts 11:02 to 11:15, ends ..."
[[nodiscard]] std::string hold_doubt_text(const study::HoldDoubt& doubt, const site::Zone& zone);

/// How the inputs may be off, and how that was judged; under an answer that tells it.
void print_doubt_meaning(std::ostream& out);

/// The ranking, most useful first.
void print_why(const std::vector<study::InputEffect>& effects, const room::Room& room,
               std::ostream& out);

/// What to do about one input, as a subject: "taping the reveal of press window".
[[nodiscard]] std::string remedy(const study::InputEffect& effect, const room::Room& room);

}  // namespace keyhour::cli
