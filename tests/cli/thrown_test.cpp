#include "cli/thrown.hpp"

#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <catch2/catch.hpp>
#include <new>
#include <stdexcept>
#include <string>

using namespace keyhour::cli;

namespace {

struct Ended {
    int code = -1;
    std::string said;
};

/// Of a process in which nobody catches what the work throws.
template <class Work>
Ended uncaught(Work work) {
    std::array<int, 2> ends{};
    REQUIRE(::pipe(ends.data()) == 0);
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        ::dup2(ends[1], STDERR_FILENO);
        say_what_ends_it();
        [&]() noexcept { work(); }();
        ::_exit(0);
    }
    ::close(ends[1]);
    Ended ended;
    char letter = 0;
    while (::read(ends[0], &letter, 1) == 1)
        ended.said += letter;
    ::close(ends[0]);
    int status = 0;
    REQUIRE(::waitpid(child, &status, 0) == child);
    if (WIFEXITED(status)) ended.code = WEXITSTATUS(status);
    return ended;
}

}  // namespace

TEST_CASE("what is thrown is told, and the lack of memory apart", "[cli][thrown]") {
    CHECK(thrown_by([] {}) == nullptr);
    const auto fault = thrown_by([] { throw std::logic_error{"a list of no windows"}; });
    REQUIRE(fault);
    CHECK_FALSE(is_out_of_memory(fault));
    CHECK(fault_words(fault) == "an error inside the program: a list of no windows");
    const auto memory = thrown_by([] { throw std::bad_array_new_length{}; });
    REQUIRE(memory);
    CHECK(is_out_of_memory(memory));
    CHECK(fault_words(memory) == "not enough memory for this question");
    CHECK(fault_words(thrown_by([] { throw 7; })) == "an error inside the program");
}

TEST_CASE("what nobody catches is said, and ends the program with a code of its own",
          "[cli][thrown]") {
    const Ended fault = uncaught([] { throw std::logic_error{"a list of no windows"}; });
    CHECK(fault.code == 1);
    CHECK(fault.said == "keyhour: an error inside the program: a list of no windows\n");
    const Ended memory = uncaught([] { throw std::bad_alloc{}; });
    CHECK(memory.code == 1);
    CHECK(memory.said == "keyhour: not enough memory for this question\n");
    CHECK(uncaught([] {}).code == 0);
}
