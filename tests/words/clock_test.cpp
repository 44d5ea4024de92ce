#include "words/clock.hpp"

#include <catch2/catch.hpp>

#include "keyhour/site/dates.hpp"

using namespace keyhour;
using namespace keyhour::words;

namespace {

const site::Zone utc = *site::Zone::named("Etc/UTC");

Instant at(const char* text) {
    return *site::read_utc(text);
}

study::Span span(const char* from, const char* to) {
    return {at(from), at(to), false, false};
}

}  // namespace

TEST_CASE("what must hold is rounded inward, trouble outward", "[words]") {
    const study::Span s = span("2026-02-17T12:58:31Z", "2026-02-17T14:19:29Z");
    CHECK(span_in_words(s, utc) == "12:59 to 14:19 (1 h 20 min)");
    CHECK(span_outward(s, utc) == "12:58 to 14:20 (1 h 22 min)");
    CHECK(span_inward(s, utc) == "12:59 to 14:19 (1 h 20 min)");
    CHECK(clock_outward(s, utc) == "12:58 to 14:20");
    CHECK(clock_inward(s, utc) == "12:59 to 14:19");
    CHECK(clock_inward(span("2026-02-17T12:58:31Z", "2026-02-17T12:59:29Z"), utc) ==
          "less than 1 min");
    CHECK(clock_length(s) == Seconds{80 * 60});
    CHECK(minute_down(at("2026-02-17T12:58:59Z"), utc) == "12:58");
    CHECK(at_least(Seconds{4559}) == "1 h 15 min");
}

TEST_CASE("an end at midnight closes its date, one after it names the next", "[words]") {
    CHECK(clock_span(at("2026-02-17T22:00Z"), at("2026-02-18T00:00Z"), utc) == "22:00 to 24:00");
    CHECK(clock_span(at("2026-02-17T22:00Z"), at("2026-02-18T07:45Z"), utc) ==
          "22:00 to 07:45 on Wed 18 February 2026");
}
