#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "keyhour/site/dates.hpp"
#include "page.hpp"
#include "run_program.hpp"
#include "schema_check.hpp"
#include "scratch_file.hpp"

namespace {

using Arguments = std::vector<std::string>;

const std::string press = example("tallow-lane"), hatters = example("flax-road");

Outcome lock(Arguments arguments, const Arguments& more = {}) {
    arguments.insert(arguments.begin(), "lock");
    arguments.insert(arguments.end(), more.begin(), more.end());
    return run_program(arguments);
}

nlohmann::json lock_json(const Arguments& arguments, Arguments more = {}) {
    more.emplace_back("--json");
    const Outcome o = lock(arguments, more);
    INFO(o.err);
    REQUIRE(o.code == 0);
    REQUIRE(schema_faults("lock", o.out) == "");
    return nlohmann::json::parse(o.out);
}

}  // namespace

TEST_CASE("lock fits 80 columns and keeps to the schema for every example", "[cli]") {
    const Arguments questions[] = {
        {"--date", "2026-06-10", "--start", "10:00", "--end", "15:00"},
        {"--date", "2026-12-21", "--minutes", "120"},
        {"--from", "2026-03-28", "--to", "2026-03-30", "--start", "20:00", "--minutes", "600"}};
    for (const char* name : {"tallow-lane", "flax-road", "sundet"})
        for (const Arguments& question : questions) {
            const Outcome o = lock({example(name)}, question);
            CAPTURE(name, question, o.err);
            CHECK(o.code == 0);
            CHECK(too_long(o.out) == Arguments{});
            lock_json({example(name)}, question);
        }
}

TEST_CASE("every leak of a lock has its cover, with size and time", "[cli]") {
    const auto json =
        lock_json({hatters, "--date", "2026-06-10", "--start", "10:00", "--end", "15:00"});
    CHECK(json["lock"]["start_local"] == "2026-06-10T10:00:00.000+12:00");
    CHECK(json["lock"]["end_utc"] == "2026-06-10T03:00:00.000Z");
    REQUIRE(json["leaks"].size() == 4);
    REQUIRE(json["covers"].size() == 4);
    double area = 0;
    std::string last;
    for (const auto& cover : json["covers"]) {
        area += cover["width_m"].get<double>() * cover["height_m"].get<double>();
        const std::string by = cover["needed_by_at_any_bearing_utc"];
        CHECK(by >= last);
        CHECK(by <= cover["needed_by_utc"].get<std::string>());
        last = by;
    }
    CHECK(json["cover_area_m2"].get<double>() == Approx(area).margin(1e-6));
    for (const auto& leak : json["leaks"]) {
        CHECK(leak["reaches_mark"] == !leak["marks"].empty());
        CHECK(leak["in_frame"] == !leak["cameras"].empty());
        CHECK_FALSE(leak["surfaces"].empty());
        if (leak["window"] == "bench window") {
            CHECK(leak["marks"] == nlohmann::json{"curling bench"});
            CHECK(leak["begins_by"].is_null());
        }
        if (leak["window"] == "lane window") CHECK(leak["begins_by"] == "right jamb");
    }
    const std::string table =
        lock({hatters, "--date", "2026-06-10", "--start", "10:00", "--end", "15:00"}).out;
    for (const char* line :
         {"\nlock 10:00 to 15:00 (UTC+12:00), 5 h 00 min\nleaks\n",
          "  bench window: all through the lock\n", "      REACHES THE MARK curling bench\n",
          "      in the frames of cameras A, B\n",
          "\ncovers, 9.00 m2 of clear opening, to hang before the lock begins\n",
          "  block window: 1.40 x 1.60 m; sun first comes at 10:00\n",
          "11:58 to be safe, 12:14 at the\n"}) {
        CAPTURE(line, table);
        CHECK(holds(table, line));
    }
}

TEST_CASE("a lock without length is refused, and a key window has no cover", "[cli]") {
    const Outcome same =
        lock({hatters, "--date", "2026-06-10", "--start", "13:00", "--end", "13:00"});
    CHECK(same.code == 2);
    CHECK(holds(same.err, "name the same time"));
    const auto json = lock_json({hatters, "--date", "2026-06-10", "--start", "10:00", "--end",
                                 "15:00", "--key-window", "bench window"});
    CHECK(json["key_window"] == "bench window");
    for (const auto& cover : json["covers"])
        CHECK(cover["window"] != "bench window");
    CHECK(holds(lock({hatters, "--date", "2026-06-10", "--start", "10:00", "--end", "15:00",
                      "--key-window", "bench windo"})
                    .err,
                "did you mean \"bench window\"?"));
    const auto sheer =
        lock_json({press, "--date", "2026-02-17", "--start", "10:00", "--end", "13:00"});
    REQUIRE(sheer["lit_sheers"].size() == 1);
    CHECK(sheer["lit_sheers"][0]["window"] == "yard window");
}

TEST_CASE("a covered window is said to count as covered", "[cli]") {
    const Outcome o = lock({press, "--date", "2026-06-21", "--start", "05:00", "--end", "09:00"});
    CHECK(holds(o.out, "\ntaken as covered: yard window (sheer)\n"));
    for (const auto& leak :
         member(lock_json({press, "--date", "2026-06-21", "--start", "05:00", "--end", "21:00"}),
                "leaks"))
        CHECK(leak["window"] != "yard window");
}

TEST_CASE("a lock without a start is laid where the least needs covering", "[cli]") {
    const auto json = lock_json({press, "--date", "2026-03-10", "--minutes", "120"});
    CHECK(json["covers"].empty());
    CHECK(json["lock"]["start_local"].get<std::string>().substr(11, 5) >= "17:00");
    CHECK(json["lock"]["end_local"].get<std::string>().substr(11, 5) <= "20:00");
    CHECK(holds(lock({press, "--date", "2026-03-10", "--minutes", "120"}).out, ": least to cover"));
    const Arguments noon{press, "--date",  "2026-03-10", "--minutes",
                         "120", "--hours", "11:00,14:00"};
    CHECK_FALSE(lock_json(noon)["covers"].empty());
    const Arguments tight{press, "--date",  "2026-03-10", "--minutes",
                          "240", "--hours", "11:00,14:00"};
    CHECK(lock_json(tight)["lock"].is_null());
    CHECK(holds(lock(tight).out, "the lock of 4 h 00 min is longer than the hours 11:00 to 14:00"));
}

TEST_CASE("a lock may run past midnight and over a change of clocks", "[cli]") {
    const auto json =
        lock_json({press, "--date", "2026-03-28", "--start", "22:00", "--end", "06:00"});
    CHECK(json["lock"]["start_utc"] == "2026-03-28T22:00:00.000Z");
    CHECK(json["lock"]["end_local"] == "2026-03-29T06:00:00.000+01:00");
    CHECK(json["lock"]["end_utc"] == "2026-03-29T05:00:00.000Z");
    CHECK(holds(
        lock({press, "--date", "2026-03-28", "--start", "22:00", "--end", "06:00"}).out,
        "lock 22:00 to 06:00 on Sun 29 March 2026 (UTC+00:00, then UTC+01:00), 7 h 00 min\n"));
}

TEST_CASE("a lock at a skipped or repeated local time is refused before anything", "[cli]") {
    const Arguments range{"--from", "2026-03-28", "--to", "2026-03-30", "--minutes", "60"};
    const Outcome skipped = lock({press, "--start", "01:30"}, range);
    CHECK(skipped.code == 2);
    CHECK(skipped.out.empty());
    CHECK(skipped.err.starts_with("--start: 2026-03-29T01:30:00 does not exist in Europe/London"));
    const Outcome repeated =
        lock({press, "--start", "01:30", "--end", "03:00", "--date", "2026-10-25", "--json"});
    CHECK(repeated.code == 2);
    CHECK(repeated.out.empty());
    CHECK(holds(repeated.err, "happens twice"));
    const Outcome end = lock({press, "--start", "22:00", "--end", "01:30", "--date", "2026-03-28"});
    CHECK(end.code == 2);
    CHECK(end.err.starts_with("--end: 2026-03-29T01:30:00"));
}

TEST_CASE("lock says what it does not accept", "[cli]") {
    struct Case {
        Arguments more;
        std::string message;
    };
    const Case cases[] = {
        {{},
         "no lock: give --start 10:00 --end 13:00, or --start 10:00 --minutes 180, or --minutes "
         "180 alone for the best place in the day\n"},
        {{"--start", "10:00"}, "--start needs --end or --minutes\n"},
        {{"--end", "10:00"}, "--end needs --start\n"},
        {{"--start", "10:00", "--end", "11:00", "--minutes", "60"},
         "--end and --minutes: give one of them\n"},
        {{"--start", "10:00", "--end", "11:00", "--hours", "08:00,20:00"},
         "--start and --hours: give one of them\n"},
        {{"--start", "3:20", "--minutes", "60"},
         "--start: \"3:20\" may be morning or afternoon; write 03:20 or 15:20\n"},
        {{"--minutes", "1441"}, "--minutes: accepted: 1 to 1440\n"},
        {{"--minutes", "-60"}, "--minutes: accepted: 1 to 1440\n"},
        {{"--minutes", "60", "--hours", "08:00"},
         "--hours: found \"08:00\"; accepted: two times, such as 08:00,20:00\n"},
    };
    for (const Case& c : cases) {
        const Outcome o = lock({press, "--date", "2026-03-10"}, c.more);
        CHECK(o.code == 2);
        CHECK(o.err == c.message);
        CHECK(o.out.empty());
    }
    CHECK(holds(lock({press, "--date", "2026-03-10", "--minutes", "often"}).err, "--minutes"));
    CHECK(lock({press, "--date", "2026-03-10", "--minutes", "often"}).code == 2);
}
