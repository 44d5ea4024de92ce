#pragma once
// `plan`: a shoot file's scenes laid over its days.

#include "command.hpp"

namespace keyhour::cli {

void offer_plan(CommandLine& line, Session& session);

}  // namespace keyhour::cli
