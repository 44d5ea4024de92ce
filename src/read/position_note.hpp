#pragma once
/// @file
/// Degrees and minutes typed as decimal degrees, noticed by a note beside them.

#include <optional>
#include <string>
#include <string_view>

namespace keyhour::read {

/// A position of `42.18S` is 42 deg 10.8 min. Where a comment on its line, or on one beside it,
/// says "42 deg 18 min" (or 42°18', 42d18m), somebody wrote minutes behind the point.
/// @param text  of a location file
/// @return the question to the crew
[[nodiscard]] std::optional<std::string> position_note_question(std::string_view text);

}  // namespace keyhour::read
