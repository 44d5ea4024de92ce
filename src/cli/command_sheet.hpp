#pragma once
// Offered apart from the other commands' list (command.hpp).

#include "command.hpp"

namespace keyhour::cli {

void offer_sheet(CLI::App& app, Session& session);

}  // namespace keyhour::cli
