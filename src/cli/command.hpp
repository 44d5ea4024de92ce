#pragma once
// What a command's file needs: it offers itself to the parser, and says its answer's exit code.

#include <iosfwd>

#include "options.hpp"

namespace keyhour::cli {

/// The streams of a run, and the exit code of the command that ran.
struct Session {
    std::istream& in;
    std::ostream& out;
    std::ostream& err;
    int exit_code = 0;
};

void offer_sun(CommandLine& line, Session& session);
void offer_day(CommandLine& line, Session& session);
void offer_patch(CommandLine& line, Session& session);
void offer_key(CommandLine& line, Session& session);
void offer_lock(CommandLine& line, Session& session);
void offer_exterior(CommandLine& line, Session& session);
void offer_batch(CommandLine& line, Session& session);
void offer_bearing(CommandLine& line, Session& session);
void offer_check(CommandLine& line, Session& session);
void offer_pocket(CommandLine& line, Session& session);
void offer_new(CommandLine& line, Session& session);

}  // namespace keyhour::cli
