#include "cli/clock_time.hpp"

#include <catch2/catch.hpp>

#include "keyhour/site/dates.hpp"

using namespace keyhour;
using namespace keyhour::cli;

namespace {

const site::Zone london = *site::Zone::named("Europe/London");

std::string on(const char* text, const char* date) {
    const auto typed = read_clock_time(text);
    if (!typed) return typed.error();
    const auto t = typed->on(*site::read_date(date), london);
    return t ? site::whole_minutes(*t, london) : t.error();
}

}  // namespace

TEST_CASE("a time is read as it is printed, with the offset of the clocks", "[cli][notation]") {
    for (const char* text : {"13:30", "13:30 (UTC+01:00)", "13:30 UTC+01:00", "13:30+01:00"}) {
        INFO(text);
        CHECK(on(text, "2026-07-01") == "13:30");
    }
    CHECK(on("13:30Z", "2026-02-17") == "13:30");
    CHECK(on("13:30 (UTC+01:00)", "2026-02-17") ==
          "the clocks there are UTC+00:00 then, not UTC+01:00; write the time alone");
    CHECK(on("13:30 (UTC+1)", "2026-02-17").find("has more than a time") != std::string::npos);
    CHECK(on("1:30 pm", "2026-02-17").find("12-hour clock") != std::string::npos);
}

TEST_CASE("an offset tells apart the hour that comes twice", "[cli][notation]") {
    // Clocks went back in the United Kingdom on 25 October 2026, 02:00 to 01:00.
    const auto day = *site::read_date("2026-10-25");
    const auto first = read_clock_time("01:30 UTC+01:00")->on(day, london);
    const auto second = read_clock_time("01:30 UTC+00:00")->on(day, london);
    REQUIRE(first);
    REQUIRE(second);
    CHECK((*second - *first).count() == 3600);
    CHECK_FALSE(read_clock_time("01:30")->on(day, london));
}
