#pragma once
// A logged shot's names found in its location's file: for the command that logs it as for those
// that read the log.

#include <string>

#include "failure.hpp"
#include "keyhour/ask/match.hpp"
#include "keyhour/study/logged_shot.hpp"

namespace keyhour::cli {

/// What stands before a name in a complaint: "--" for an option, "day.log:7: " for a line.
/// @return the request, but for its settings; or which name the location lacks, and what it has
[[nodiscard]] Answer<ask::MatchRequest> request_of(const study::LoggedShot& shot, Instant shot_at,
                                                   const site::Location& location,
                                                   const std::string& before);

/// Why there is no direction, in words that follow "day.log:7: ".
[[nodiscard]] std::string in_words(ask::NoMatch why);

/// Tells a changed location file from the one that a shot was logged by: 16 hexadecimal digits, of
/// the file alone and not of those that it names; empty if it can't be read.
[[nodiscard]] std::string digest_of_file(const std::string& path);

}  // namespace keyhour::cli
