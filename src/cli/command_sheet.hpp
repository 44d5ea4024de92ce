#pragma once
// Offered apart from the other commands' list (command.hpp).

#include "command.hpp"

namespace keyhour::cli {

void offer_sheet(CommandLine& line, Session& session);

}  // namespace keyhour::cli
