#pragma once
// Offers `lamp` to the parser.

#include "command.hpp"

namespace keyhour::cli {

void offer_lamp(CommandLine& line, Session& session);

}  // namespace keyhour::cli
