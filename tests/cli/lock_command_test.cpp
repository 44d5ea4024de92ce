#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>

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
    const std::string page =
        flat(lock({hatters, "--date", "2026-06-10", "--start", "10:00", "--end", "15:00"}).out);
    for (const char* line :
         {"lock 10:00 to 15:00, 5 h 00 min: cover 4 windows, 13 m2 of cloth, before it begins",
          ": sun all through the lock; REACHES curling bench, in frame of B",
          "block window, cloth 1.70 x 1.90 m, by 10:00",
          "by 11:58 to be safe, 12:14 at the stated bearing: sun ",
          "cloth: the clear opening and 0.15 m on every side",
          "local codes and licensed practice decide."}) {
        CAPTURE(line, page);
        CHECK(holds(page, line));
    }
}

TEST_CASE("lock tells edges, possible times and surfaces on request", "[cli][show]") {
    const Arguments morning{press, "--date", "2026-02-17", "--start", "10:00", "--end", "13:00"};
    const std::string brief = flat(lock(morning).out);
    const std::string full = flat(lock(morning, {"--show", "all"}).out);
    for (const char* fact :
         {"10:00 to 10:17 (17 min), begins by the lock's start, ends by building warehouse "
          "opposite; possible 10:00 to 10:29 (29 min); lands on floor, wall party, object "
          "imposing table",
          "12:42 to 13:00 (18 min), begins by left jamb, ends by the lock's end; possible 12:31 to "
          "13:00 (29 min); lands on floor, wall back",
          "position: 52.9536 degrees NORTH, 1.1505 degrees WEST",
          "back wall faces north-north-east (16 true)"}) {
        CAPTURE(fact, full);
        CHECK(holds(full, fact));
        CHECK_FALSE(holds(brief, fact));
    }
    for (const char* fact :
         {"Tallow Lane Press, 52.95 NORTH 1.15 WEST Tue 17 February 2026, UTC+00:00",
          "press window, cloth 1.70 x 1.90 m, by 10:00: sun 10:00 to 10:17; REACHES type case",
          "case window, cloth 1.70 x 1.90 m, by 10:00 to be safe, 12:42 at the stated bearing: sun "
          "possible 10:00 to 10:03, 12:42 to 13:00; REACHES type case",
          "yard window, a sheer: sun on it 10:00 to 11:49 changes the level; black it out if that "
          "shows",
          "to be safe: at any bearing, as street wall faces SSW, 196 true, give or take 3"}) {
        CAPTURE(fact, brief);
        CHECK(holds(brief, fact));
    }
    CHECK(holds(flat(lock(morning, {"--units", "ft"}).out),
                "press window, cloth 5 ft 7 in x 6 ft 3 in, by 10:00"));
    CHECK(lock(morning, {"--show", "haze"}).code == 2);
}

TEST_CASE("lock as a message is one line of at most 140 characters a lock", "[cli][show]") {
    const Outcome one =
        lock({press, "--date", "2026-02-17", "--start", "10:00", "--end", "13:00", "--line"});
    CHECK(one.out ==
          "lock 10:00 to 13:00 Tallow Lane Press, Tue 17 February 2026 UTC+00:00: cover press "
          "window by 10:00, case window by 10:00\n");
    const Outcome many = lock({hatters, "--from", "2026-06-10", "--to", "2026-06-12", "--start",
                               "10:00", "--end", "15:00", "--line"});
    std::istringstream text{many.out};
    int lines = 0;
    for (std::string line; std::getline(text, line); ++lines)
        CHECK(line.size() <= 140);
    CHECK(lines == 3);
    CHECK(holds(many.out, "cover "));
    CHECK(lock({press, "--date", "2026-02-17", "--minutes", "60", "--line", "--json"}).code == 2);
}

TEST_CASE("a lock without length is refused, and a key window has no cover", "[cli]") {
    const Outcome same =
        lock({hatters, "--date", "2026-06-10", "--start", "13:00", "--end", "13:00"});
    CHECK(same.code == 2);
    CHECK(holds(same.err, "name the same time"));
    const auto json = lock_json({hatters, "--date", "2026-06-10", "--start", "10:00", "--end",
                                 "15:00", "--key-window", "bench window"});
    CHECK(json["key_window"] == "bench window");
    REQUIRE(json["covers"].size() == 3);
    CHECK(json["leaks"].size() == 4);
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
    CHECK(tells(o.out, "yard window, a sheer: sun on it "));
    const auto leaks = member(
        lock_json({press, "--date", "2026-06-21", "--start", "05:00", "--end", "21:00"}), "leaks");
    CHECK(leaks.size() >= 2);
    for (const auto& leak : leaks)
        CHECK(leak["window"] != "yard window");
}

TEST_CASE("a lock without a start is laid where the least needs covering", "[cli]") {
    const auto json = lock_json({press, "--date", "2026-03-10", "--minutes", "120"});
    CHECK(json["covers"].empty());
    CHECK(json["lock"]["start_local"].get<std::string>().substr(11, 5) >= "17:00");
    CHECK(json["lock"]["end_local"].get<std::string>().substr(11, 5) <= "20:00");
    CHECK(tells(lock({press, "--date", "2026-03-10", "--minutes", "120"}).out,
                "(the best place: least to cover,"));
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
    CHECK(tells(
        lock({press, "--date", "2026-03-28", "--start", "22:00", "--end", "06:00"}).out,
        "lock 22:00 to 06:00 on Sun 29 March 2026 (UTC+00:00, then UTC+01:00), 7 h 00 min: "));
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
         "180 alone for the best place in the day; or minutes under [lock] in the file\n"},
        {{"--start", "10:00"}, "--start needs --end or --minutes\n"},
        {{"--end", "10:00"}, "--end needs --start\n"},
        {{"--start", "10:00", "--end", "11:00", "--minutes", "60"},
         "--end and --minutes: give one of them\n"},
        {{"--start", "10:00", "--end", "11:00", "--hours", "08:00,20:00"},
         "--start and --hours: give one of them\n"},
        {{"--start", "3:20", "--minutes", "60"},
         "--start: \"3:20\" may be morning or afternoon; write 03:20 or 15:20\n"},
        {{"--minutes", "1441"}, "--minutes: accepted: 1 minute to 24 hours\n"},
        {{"--minutes", "-60"}, "--minutes: accepted: 1 minute to 24 hours\n"},
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
