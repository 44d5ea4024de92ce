#pragma once
// What a command's file needs: it offers itself to the parser, and says its answer's exit code.

#include <CLI/CLI.hpp>
#include <iosfwd>

namespace keyhour::cli {

/// The streams of a run, and the exit code of the command that ran.
struct Session {
    std::istream& in;
    std::ostream& out;
    std::ostream& err;
    int exit_code = 0;
};

void offer_sun(CLI::App& app, Session& session);
void offer_day(CLI::App& app, Session& session);
void offer_patch(CLI::App& app, Session& session);
void offer_key(CLI::App& app, Session& session);
void offer_lock(CLI::App& app, Session& session);
void offer_exterior(CLI::App& app, Session& session);
void offer_batch(CLI::App& app, Session& session);
void offer_bearing(CLI::App& app, Session& session);
void offer_check(CLI::App& app, Session& session);
void offer_new(CLI::App& app, Session& session);

}  // namespace keyhour::cli
