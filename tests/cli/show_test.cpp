// --show: the details that a command tells on request.

#include <catch2/catch.hpp>

#include "cli/show_option.hpp"
#include "run_program.hpp"
#include "tell/detail.hpp"

using namespace keyhour;
using tell::Detail;

TEST_CASE("a set of details holds what was put into it", "[cli][show]") {
    constexpr tell::Details some{Detail::levels, Detail::hours};
    static_assert(some.has(Detail::levels) && some.has(Detail::hours));
    static_assert(!some.has(Detail::doubt) && !some.none() && tell::Details{}.none());
}

TEST_CASE("a command names the details that it has", "[cli][show]") {
    const cli::ShowOption option{{Detail::doubt, Detail::levels, Detail::readback}};
    CHECK(option.words() == "levels, doubt, readback, all");
    const auto none = option.read();
    REQUIRE(none);
    CHECK(none->none());
}
