#include "../../src/cli/interrupt.hpp"

#include <catch2/catch.hpp>
#include <csignal>

using namespace keyhour::cli;

TEST_CASE("a run notes the signal that ends it, but not one that its caller ignores", "[cli]") {
    {
        const InterruptWatch watch;
        std::raise(SIGTERM);
        CHECK(interrupted() == SIGTERM);
    }
    const auto before = std::signal(SIGHUP, SIG_IGN);  // as nohup does
    {
        const InterruptWatch watch;
        std::raise(SIGHUP);
        CHECK(interrupted() == 0);
    }
    std::signal(SIGHUP, before);
}
