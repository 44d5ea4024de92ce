#pragma once
// `log`: one line a shot, added to a light log. `match`: when a logged shot's light comes again.

#include "command.hpp"

namespace keyhour::cli {

void offer_log(CommandLine& line, Session& session);
void offer_match(CommandLine& line, Session& session);

}  // namespace keyhour::cli
