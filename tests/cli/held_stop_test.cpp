#include "cli/held_stop.hpp"

#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <csignal>

using keyhour::cli::HeldStop;

namespace {

/// How a child ends that is told twice to stop: its exit code, or 128 + the signal.
int end_of(HeldStop::Then then, int times) {
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        std::signal(SIGTERM, SIG_DFL);
        {
            const HeldStop stop{then};
            for (int i = 0; i < times; ++i)
                std::raise(SIGTERM);
        }
        ::_exit(7);
    }
    int status = 0;
    ::waitpid(child, &status, 0);
    return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

}  // namespace

TEST_CASE("a run notes the signal that ends it, but not one that its caller ignores", "[cli]") {
    {
        const HeldStop stop{HeldStop::Then::tell};
        CHECK_FALSE(HeldStop::is_asked());
        std::raise(SIGTERM);
        CHECK(HeldStop::asked_by() == SIGTERM);
    }
    const auto before = std::signal(SIGHUP, SIG_IGN);  // as nohup does
    {
        const HeldStop stop{HeldStop::Then::tell};
        std::raise(SIGHUP);
        CHECK(HeldStop::asked_by() == 0);
    }
    std::signal(SIGHUP, before);
}

TEST_CASE("a held signal is obeyed at the end, or told, and a second one ends a run that tells",
          "[cli]") {
    CHECK(end_of(HeldStop::Then::obey, 1) == 128 + SIGTERM);
    CHECK(end_of(HeldStop::Then::obey, 3) == 128 + SIGTERM);
    CHECK(end_of(HeldStop::Then::obey, 0) == 7);
    CHECK(end_of(HeldStop::Then::tell, 1) == 7);
    CHECK(end_of(HeldStop::Then::tell, 2) == 128 + SIGTERM);
}
