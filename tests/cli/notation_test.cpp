// What the answers print goes back in: lengths, minutes, ratios and shutter times with their units.

#include <catch2/catch.hpp>

#include "run_program.hpp"

namespace {

const std::string place = std::string{KEYHOUR_LOCATIONS} + "/tallow-lane.toml";

std::string answer(const std::vector<std::string>& arguments) {
    const Outcome o = run_program(arguments);
    INFO(o.err);
    CHECK(o.code == keyhour::cli::answered);
    return o.out;
}

std::string refusal(const std::vector<std::string>& arguments) {
    const Outcome o = run_program(arguments);
    CHECK(o.code == keyhour::cli::wrong_usage);
    CHECK(o.out.empty());
    return o.err.substr(0, o.err.find('\n'));
}

using Arguments = std::vector<std::string>;

Arguments with(Arguments before, const Arguments& more) {
    before.insert(before.end(), more.begin(), more.end());
    return before;
}

}  // namespace

namespace {

const Arguments key{"key", place, "--date", "2026-02-17", "--json", "--no-doubt"};
const Arguments by_lamp{"key", place, "--date", "2026-02-17", "--json", "--by", "lamp"};
const Arguments lamp{"lamp", place, "--date", "2026-02-17", "--like", "13:30", "--json"};

/// Two ways to type one thing.
struct Same {
    Arguments question, plain, printed;
};

const Same typed_alike[] = {
    {key, {"--near", "2.17"}, {"--near", "2.17 m"}},
    {key, {"--near", "1.5"}, {"--near", "150cm"}},
    {key, {"--near", "1.27"}, {"--near", "4 ft 2 in"}},
    {key, {"--coverage", "90"}, {"--coverage", "90 %"}},
    {key, {"--key-angle", "30,60"}, {"--key-angle", "30 to 60 degrees"}},
    {by_lamp, {"--lock", "180"}, {"--lock", "3h"}},
    {by_lamp, {"--lock", "81"}, {"--lock", "1 h 21 min"}},
    {by_lamp, {"--lock", "90"}, {"--lock", "1h30"}},
    {by_lamp, {"--hours", "08:00,18:00"}, {"--hours", "08:00 to 18:00"}},
    {key, {"--shutter", "172.8"}, {"--shutter", "172.8 degrees"}},
    {key, {"--fps", "24", "--shutter", "172.8"}, {"--fps", "24", "--shutter", "1/50"}},
    {key, {"--shutter", "180"}, {"--shutter", "1/50 s"}},
    {lamp, {"--ratio", "4"}, {"--ratio", "4:1"}},
    {lamp, {"--ratio", "4", "--hold", "120"}, {"--ratio", "4", "--hold", "2 h"}},
    {key, {"--key-angle", "38,58"}, {"--key-angle", "58 to 38"}},
    {key, {"--iso", "800"}, {"--iso", "ISO 800"}},
    {key, {"--stop", "T4", "--tolerance", "0.5"}, {"--stop", "T 4", "--tolerance", "1/2 stop"}},
    {{"key", place, "--json", "--no-doubt"},
     {"--date", "2026-02-17"},
     {"--date", "Tue 17 February 2026"}},
    {{"lock", place, "--json"},
     {"--date", "2026-06-17", "--start", "10:00", "--end", "13:00"},
     {"--date", "17 June 2026", "--start", "10:00 UTC+01:00", "--end", "13:00 (UTC+01:00)"}},
    {{"lock", place, "--date", "2026-02-17", "--minutes", "60", "--json"},
     {"--hours", "09:00,12:00"},
     {"--hours", "09:00-12:00"}},
    {by_lamp, {"--hours", "08:00,18:00"}, {"--hours", "08:00 to 18:00 (10 h 00 min)"}},
    {{"patch", place, "--date", "2026-10-25", "--json", "--no-light", "--no-doubt"},
     {"--time", "01:30 UTC+01:00"},
     {"--time", "01:30+01:00"}},
    {{"exterior", place, "--date", "2026-02-17", "--json", "--no-doubt"},
     {"--time", "10:00", "--late-light", "-4,6"},
     {"--time", "10:00 (UTC+00:00)", "--late-light", "6 to -4 degrees"}},
    {{"sun", place, "--date", "2026-02-17", "--json"},
     {"--time", "10:00"},
     {"--time", "10:00 UTC+00:00"}},
    {lamp,
     {"--ratio", "4", "--convention", "key-plus-fill"},
     {"--ratio", "4:1", "--convention", "key plus fill:fill"}},
    {lamp, {"--distance", "6"}, {"--distance", "600 cm"}},
    {{"patch", place, "--date", "2026-02-17", "--json", "--no-light", "--no-doubt"},
     {"--step", "60"},
     {"--step", "1 h"}},
    {{"patch", place, "--date", "2026-02-17", "--json"},
     {"--time", "13:30"},
     {"--time", "13:30 (UTC+00:00)"}},
    {{"lamp", place, "--date", "2026-02-17", "--json"},
     {"--like", "13:30"},
     {"--like", "13:30 UTC+00:00"}},
    {{"batch", place, "--date", "2026-02-17", "--json"},
     {"--min-level-lx", "20000"},
     {"--min-level-lx", "20 klx"}},
};

}  // namespace

TEST_CASE("a number may be typed as it is printed, with its unit", "[cli][notation]") {
    for (const Same& same : typed_alike) {
        INFO(same.printed.back());
        CHECK(answer(with(same.question, same.plain)) == answer(with(same.question, same.printed)));
    }
    // And the number counts: another one gives another answer.
    CHECK(answer(with(by_lamp, {"--lock", "3h"})) != answer(with(by_lamp, {"--lock", "2h"})));
    CHECK(answer(with(key, {"--shutter", "1/50"})) != answer(with(key, {"--shutter", "1/100"})));
}

TEST_CASE("an offset that the clocks do not have is refused, in every time", "[cli][notation]") {
    const std::string said =
        "the clocks there are UTC+00:00 then, not UTC+01:00; write the time alone";
    CHECK(refusal({"lock", place, "--date", "2026-02-17", "--start", "10:00 UTC+01:00", "--end",
                   "13:00"}) == "--start: " + said);
    CHECK(refusal({"exterior", place, "--date", "2026-02-17", "--time", "10:00 UTC+01:00"}) ==
          "--time: " + said);
}

TEST_CASE("a span whose length is another's is refused", "[cli][notation]") {
    CHECK(refusal({"key", place, "--date", "2026-02-17", "--by", "lamp", "--hours",
                   "08:00 to 18:00 (3 h 00 min)"}) ==
          "--hours: found \"08:00 to 18:00 (3 h 00 min)\": that is 600 minutes");
}

TEST_CASE("a unit of another kind is refused", "[cli][notation]") {
    CHECK(refusal({"key", place, "--near", "2 min"}) ==
          "keyhour key: --near: \"2 min\" is not a number; accepted: a number, in metres");
    CHECK(refusal({"key", place, "--by", "lamp", "--lock", "3 m2"}) ==
          "keyhour key: --lock: \"3 m2\" is not a number; accepted: a number, in minutes");
    CHECK(refusal({"lamp", place, "--like", "13:30", "--ratio", "4:2"}) ==
          "keyhour lamp: --ratio: \"4:2\" is not a number; accepted: a number");
}

TEST_CASE("a shutter time longer than a frame is refused with the frame", "[cli][notation]") {
    CHECK(refusal({"key", place, "--date", "2026-02-17", "--fps", "25", "--shutter", "1/20"}) ==
          "--shutter 1/20: longer than a frame at 25 a second; accepted: 1/25 or shorter");
}

TEST_CASE("a name with a blank that lost its quotes is given back in them", "[cli][notation]") {
    const std::string said = "; a name with a blank stands in quotes: --mark \"type case\"";
    CHECK(refusal({"key", place, "--mark", "type", "case"}) ==
          "keyhour key: nothing expected after the location: \"case\"" + said);
    CHECK(refusal({"key", "tallow", "lane.toml"}) ==
          "keyhour key: nothing expected after the location: \"lane.toml\"; a name with a blank "
          "stands in quotes: \"tallow lane.toml\"");
    CHECK(refusal({"key", "--mark", "type", "case", place}) ==
          "keyhour key: nothing expected after the location: \"" + place + "\"" + said);
}
