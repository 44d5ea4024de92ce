// `key --by lamp`: spans free of sun, the lock in them, and what is refused.

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "asked_key.hpp"
#include "page.hpp"
#include "run_program.hpp"
#include "scratch_file.hpp"

using namespace asked;

TEST_CASE("by lamp, key lists the spans free of sun in the hours asked for", "[cli]") {
    const Arguments range{press,  "--from", "2026-03-27", "--to",     "2026-03-31", "--by",
                          "lamp", "--lock", "20",         "--window", "case window"};
    const auto json = key_json(range, {"--hours", "08:00,18:30"});
    CHECK(json["by"] == "lamp");
    CHECK(json["lock_min"] == 20);
    REQUIRE(json["days"].size() == 5);
    for (const auto& day : json["days"]) {
        REQUIRE_FALSE(day["intervals"].empty());
        for (const auto& k : day["intervals"]) {
            const std::string from = k["start_local"], to = k["end_local"];
            CHECK(from.substr(0, 10) == day["date"].get<std::string>());
            CHECK(from.substr(11, 5) >= "08:00");
            CHECK(to.substr(11, 5) <= "18:30");
            CHECK(k["hold_min"].get<double>() >= 20);
        }
    }
    // At any hour a night's span runs into the next date, over the change of clocks.
    const std::string table =
        key({press, "--date", "2026-03-28", "--by", "lamp", "--nights", "--all"}).out;
    CHECK(tells(table, "17:34 to 09:29 on Sun 29 March 2026 (UTC+00:00, then UTC+01:00)"));
    CHECK(holds(table, "not by: yard window (sheer)"));
    CHECK(tells(key({press, "--date", "2026-03-10", "--by", "lamp", "--lock", "180"}).out,
                "NO SUCH SPAN on this date; the longest is 2 h 47 min, 17:13 to 20:00"));
}

TEST_CASE("by lamp, the best window is told first with its lock, and one in frame never is",
          "[cli]") {
    const std::string page = key({hatters, "--date", "2026-03-10", "--by", "lamp"}).out;
    CHECK(tells(page, "lamp outside a window, lock of 2 h 00 min between 08:00 and 20:00"));
    CHECK(tells(page,
                "1. block window on block, camera A: lock 18:00 to 20:00; no sun through it 17:17 "
                "to 20:00, 2 h 43 min"));
    CHECK(tells(page, "cover for it 4.3 m2 of cloth: court window 2.10 x 2.05 m by 18:00"));
    CHECK(tells(page, "not by: court window (IN FRAME)"));
    CHECK(std::ranges::count(page, '\n') <= 16);
    const auto json = key_json({hatters, "--date", "2026-03-10"}, {"--by", "lamp"});
    bool framed = false;
    for (const auto& k : json["intervals"]) {
        framed = framed || k["window_in_frame"] == true;
        CHECK((k["window_in_frame"] == true) == framed);
    }
    CHECK(framed);
    // The lock and its covers are those that `lock` gives.
    const auto& best = json["intervals"][0];
    const Outcome lock = run_program({"lock", hatters, "--date", "2026-03-10", "--minutes", "120",
                                      "--key-window", "block window", "--json"});
    const auto alone = nlohmann::json::parse(lock.out);
    CHECK(best["lock"]["start_utc"] == alone["lock"]["start_utc"]);
    REQUIRE(best["lock"]["covers"].size() == alone["covers"].size());
    CHECK(best["lock"]["covers"][0]["window"] == alone["covers"][0]["window"]);
    CHECK(best["lock"]["covers"][0]["cloth_width_m"] == alone["covers"][0]["cloth_width_m"]);
}

TEST_CASE("what the file plans under [lock] is taken by key, lock and lamp alike", "[cli]") {
    const ScratchFile planned{
        "keyhour-planned-lock.toml",
        example_text("flax-road") +
            "\n[[lamp]]\nname = \"key lamp\"\nplace = \"outside\"\n"
            "sheet = { level_lx = 12000, at_m = 5, beam_deg = 24 }\nstand_max_m = 3.6\n"
            "[lock]\nwindow = \"bench window\"\nmark = \"curling bench\"\nminutes = 90\n"
            "hours = [\"15:00\", \"21:00\"]\n"};
    const auto json = key_json({planned.path, "--date", "2026-03-10"}, {"--by", "lamp"});
    CHECK(json["lock_min"] == 90);
    REQUIRE(json["intervals"].size() == 1);
    const auto& told = json["intervals"][0];
    CHECK(told["window"] == "bench window");
    CHECK(told["mark"] == "curling bench");
    CHECK(told["end_local"].get<std::string>().substr(11, 5) == "21:00");
    const auto lock = nlohmann::json::parse(
        run_program({"lock", planned.path, "--date", "2026-03-10", "--json"}).out);
    CHECK(lock["key_window"] == "bench window");
    CHECK(lock["lock"]["start_utc"] == told["lock"]["start_utc"]);
    CHECK(lock["lock"]["end_utc"] == told["lock"]["end_utc"]);
    const auto lamp = nlohmann::json::parse(
        run_program({"lamp", planned.path, "--date", "2026-03-10", "--json"}).out);
    CHECK(lamp["window"] == "bench window");
    CHECK(lamp["mark"] == "curling bench");
    CHECK(lamp["asked"]["through_window_middle"] == true);
    // Options go before the file.
    const auto other = key_json({planned.path, "--date", "2026-03-10"},
                                {"--by", "lamp", "--window", "lane window", "--lock", "60"});
    CHECK(other["intervals"][0]["window"] == "lane window");
    CHECK(other["lock_min"] == 60);
}

TEST_CASE("a window that no lamp can shine through is refused, and so is a lock over its hours",
          "[cli]") {
    const auto refused = [](const Arguments& words, int code, const std::string& message) {
        const Outcome o = run_program(words);
        CAPTURE(o.err, o.out);
        CHECK(o.code == code);
        CHECK(holds(o.err, message));
        CHECK(o.out.empty());
    };
    refused({"key", hatters, "--date", "2026-03-10", "--by", "lamp", "--window", "court window",
             "--mark", "block"},
            2, "no straight line leads from window \"court window\" to mark \"block\"");
    refused({"key", press, "--date", "2026-03-10", "--by", "lamp", "--window", "yard window"}, 2,
            "has cover = \"sheer\" in the file: no key comes through it");
    refused(
        {"lock", press, "--date", "2026-03-10", "--minutes", "60", "--key-window", "yard window"},
        2, "has cover = \"sheer\" in the file: no key comes through it");
    refused({"key", press, "--date", "2026-03-10", "--by", "lamp", "--lock", "800"}, 2,
            "a lock of 800 minutes is longer than the hours, 720 minutes");
    refused({"key", press, "--date", "2026-03-10", "--by", "lamp", "--nights", "--hours",
             "08:00,20:00"},
            2, "--nights asks for every hour: leave out --hours");
}

TEST_CASE("by lamp, a whole date without sun is an answer", "[cli]") {
    Arguments north = worked_room("0", "2026-12-21");
    const auto json = key_json(north, {"--by", "lamp", "--nights"});
    REQUIRE(json["intervals"].size() == 1);
    CHECK(json["intervals"][0]["whole_day"] == true);
    CHECK(json["intervals"][0]["hold_min"] == 1440);
    CHECK(tells(key(north, {"--by", "lamp"}).out, "no sun through it on the whole date"));
    const auto hours = key_json(north, {"--by", "lamp", "--hours", "08:00,18:00"});
    CHECK(hours["intervals"][0]["whole_day"] == true);
    CHECK(hours["intervals"][0]["hold_min"] == 600);
}
