#include "read/duration.hpp"

#include <catch2/catch.hpp>

#include "words/clock.hpp"

using namespace keyhour;
using keyhour::read::read_duration;

TEST_CASE("a length of time is read as people write it", "[read]") {
    const auto [text, minutes] = GENERATE(table<const char*, double>({
        {"90min", 90},
        {"90 min", 90},
        {"3h", 180},
        {"1h30", 90},
        {"1 h 30", 90},
        {"1h30min", 90},
        {"1 h 05 min", 65},
        {"1.5 h", 90},
        {"2 hours 15 minutes", 135},
        {"45m", 45},
        {"30 s", 0.5},
        {"1 min 30 s", 1.5},
        {" 20 min ", 20},
        {"0 min", 0},
    }));
    INFO(text);
    const auto read = read_duration(text);
    REQUIRE(read);
    CHECK(read->count() == Approx(60 * minutes));
}

TEST_CASE("what is no length of time is not taken for one", "[read]") {
    for (const char* text : {"", "90", "h", "1h h", "1h 2h", "30 min 1 h", "1h75", "-3h", "3 km",
                             "3 hm", "1:30", "1h30x", "nan h", "1 day"}) {
        INFO(text);
        CHECK_FALSE(read_duration(text));
    }
}

TEST_CASE("a length of time goes back in as it came out", "[read]") {
    for (int minutes = 0; minutes <= 1440; minutes += 7) {
        const Seconds length{60.0 * minutes};
        INFO(words::in_minutes(length));
        const auto read = read_duration(words::in_minutes(length));
        REQUIRE(read);
        CHECK(read->count() == length.count());
    }
}
