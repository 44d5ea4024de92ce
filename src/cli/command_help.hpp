#pragma once
// The manual: topics, and each command's options.

#include "command.hpp"

namespace keyhour::cli {

/// Offered last: it tells of the commands that `line` has.
void offer_help(CommandLine& line, Session& session);

}  // namespace keyhour::cli
