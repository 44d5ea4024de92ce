// The light sheet's calendar, spreadsheet and map, and its papers together, as the command writes
// them.

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "page.hpp"
#include "run_program.hpp"
#include "scratch_file.hpp"
#include "scratch_folder.hpp"
#include "sheet_paper.hpp"

namespace fs = std::filesystem;
using nlohmann::json;

TEST_CASE("the same input gives the same page, below 400 kB", "[cli]") {
    for (const char* name : {"tallow-lane", "flax-road", "sundet"}) {
        CAPTURE(name);
        const std::string page = paper(example(name), "page", {"--date", "2026-06-21"});
        CHECK(page.size() < 400'000);
        CHECK(page == paper(example(name), "page", {"--date", "2026-06-21"}));
    }
}

TEST_CASE("the page of a room of many panes stays below 400 kB by longer steps of its slider",
          "[cli]") {
    for (const char* room : {"hall", "many"}) {
        const std::string page =
            paper(std::string{KEYHOUR_TEST_DATA "/draw/rooms/"} + room + ".toml", "page",
                  {"--date", "2026-05-10"});
        CAPTURE(room, page.size());
        CHECK(page.size() < 400'000);
        const json data = data_of(page);
        const auto& steps = data["steps"];
        REQUIRE(steps.size() > 20);
        CHECK(count(page, "max=\"" + std::to_string(steps.size() - 1) + "\"") == 1);
        // Changes of light stand between the regular steps: some of these are whole, none is
        // longer.
        std::vector<double> minutes;
        for (std::size_t i = 1; i < steps.size(); ++i)
            minutes.push_back(
                60 * (steps[i]["hours"].get<double>() - steps[i - 1]["hours"].get<double>()));
        CHECK(std::ranges::min(minutes) > 0);
        std::ranges::sort(minutes);
        const double regular = minutes[minutes.size() * 3 / 4];
        CHECK(regular > 7);
        CHECK(std::ranges::count_if(minutes,
                                    [&](double m) { return std::abs(m - regular) < 0.02; }) > 10);
    }
}

TEST_CASE("calendar and page give the same minutes, and cloth has its event", "[cli]") {
    const std::string page = paper(example("tallow-lane"), "page");
    const std::string calendar = paper(example("tallow-lane"), "calendar");
    CHECK(holds(page, "set up by 10:37"));
    CHECK(holds(page, "08:10 to 11:07</span><span class=\"below\">set up by"));
    CHECK(holds(calendar,
                "DTSTART;TZID=Europe/London:20260214T081000\r\n"
                "DTEND;TZID=Europe/London:20260214T110700\r\n"));
    CHECK(holds(calendar, "TRIGGER;VALUE=DATE-TIME:20260214T100700Z"));
    CHECK(holds(calendar, "TRIGGER;VALUE=DATE-TIME:20260214T103700Z"));
    REQUIRE(holds(page,
                  "<span class=\"time\">1.70</span> <span class=\"time\">x 1.90 "
                  "m</span></td><td>13:21</td>"));
    CHECK(holds(calendar,
                "DTSTART;TZID=Europe/London:20260214T131600\r\n"
                "DTEND;TZID=Europe/London:20260214T132100\r\n"
                "SUMMARY:Hang press window: cloth 1.70 x 1.90 m\r\n"));
    CHECK(holds(calendar, "TRIGGER;VALUE=DATE-TIME:20260214T125100Z"));
    CHECK(count(calendar, "UID:hang-2026-02-14-") == 1);
    CHECK(holds(paper(example("tallow-lane"), "spreadsheet"),
                "2026-02-14,hang,Hang press window: cloth 1.70 x 1.90 m,,,press window,,"));
}

TEST_CASE("without a key there is nothing that rigging is counted back from", "[cli]") {
    const std::string page = paper(example("flax-road"), "page");  // 14 February: too high a sun
    CHECK(holds(page, "No clean key on this date."));
    CHECK(holds(page,
                "There is no clean key on this date to count back to. Each place outside has "
                "its own &quot;set up by&quot;."));
    CHECK_FALSE(holds(page, "rigging begins at"));
    CHECK_FALSE(holds(paper(example("flax-road"), "calendar"), "Rigging"));
    const std::string with_key = paper(example("flax-road"), "page", {"--date", "2026-06-21"});
    CHECK(holds(with_key, "ready: the best key begins"));
    CHECK(
        holds(with_key, "The key comes through bench window: leave it open. That goes before any"));
}

TEST_CASE("names from the file are escaped wherever they stand", "[cli]") {
    const ScratchFolder folder{"keyhour_hostile"};
    const fs::path file = folder.path / "hostile.toml";
    std::ofstream{file} << hostile_text();
    const std::string page = paper(file.string(), "page");
    CHECK(count(page, "<img") == 0);
    CHECK(count(page, "<script") == 2);
    CHECK(count(page, "</script>") == 2);
    CHECK(holds(page, "&lt;/script&gt;&lt;img src=x onerror=alert(1)&gt;&amp;&quot;&#39;"));
    const json data = data_of(page);
    CHECK(data["windows"][1] == "</script><img src=x onerror=alert(1)>&\"'case");
    const json map = json::parse(paper(file.string(), "map"));
    CHECK(map["features"][0]["properties"]["name"] ==
          "</script><img src=x onerror=alert(1)>&\"'Tall");
}

TEST_CASE("rigging is counted back from the key and held against the call", "[cli]") {
    const std::string rigging =
        "\n[rigging]\ncrew = 2\ncall = \"12:30\"\n[[task]]\nname = \"hang cloth\"\n"
        "minutes = { 1 = 40, 2 = 25 }\n[[task]]\nname = \"dress\"\nminutes = { 2 = 20 }\n";
    const ScratchFolder folder{"keyhour_rigging"};
    const fs::path file = folder.path / "rigging.toml";
    std::ofstream{file} << example_text("tallow-lane") + rigging;
    const std::string page = paper(file.string(), "page");
    // The key begins at 12:59:57: 45 minutes before it, rounded down.
    CHECK(holds(page, "With a crew of 2: rigging begins at 12:14."));
    CHECK(holds(page, "Call 12:30: 15 min TOO LATE."));
    CHECK(holds(page, "too few for dress"));
    const std::string calendar = paper(file.string(), "calendar");
    CHECK(holds(calendar,
                "BEGIN:VALARM\r\nACTION:DISPLAY\r\nDESCRIPTION:Begin: Rigging\\, crew of 2"));
    CHECK(holds(calendar, "TRIGGER:PT0S"));
}

TEST_CASE("over a range each date has its page, and the dates share their other papers", "[cli]") {
    const ScratchFolder folder{"keyhour_range"};
    const Outcome outcome =
        run_program({"sheet", example("tallow-lane"), "--from", "2026-02-14", "--to", "2026-02-15",
                     "--only", "page", "--only", "calendar", "--only", "spreadsheet", "--only",
                     "map", "--out", folder.path.string()});
    REQUIRE(outcome.code == 0);
    for (const char* name : {"sheet-2026-02-14.html", "sheet-2026-02-15.html", "sheet.ics",
                             "sheet.csv", "sheet.geojson"})
        CHECK(fs::exists(folder.path / name));
    CHECK(std::distance(fs::directory_iterator{folder.path}, fs::directory_iterator{}) == 5);
    const std::string csv = bytes(folder.path / "sheet.csv");
    CHECK(holds(csv, "\r\n2026-02-14,key,"));
    CHECK(holds(csv, "\r\n2026-02-15,key,"));
    CHECK(count(bytes(folder.path / "sheet.ics"), "BEGIN:VTIMEZONE") == 1);
}

TEST_CASE("a calendar as one file (-o) remembers too", "[cli]") {
    const ScratchFolder folder{"keyhour_one_calendar"};
    const fs::path location = folder.path / "a.toml", file = folder.path / "a.ics";
    const auto write = [&](const std::string& faces) {
        std::string text = example_text("tallow-lane");
        text.replace(text.find("faces = 196"), 11, "faces = " + faces);
        std::ofstream{location} << text;
        const Outcome outcome = run_program({"sheet", location.string(), "--date", "2026-02-14",
                                             "--only", "calendar", "-o", file.string()});
        CAPTURE(outcome.err);
        REQUIRE(outcome.code == 0);
        return bytes(file);
    };
    const std::string first = write("196");
    CHECK(count(first, "SEQUENCE:0\r\n") == count(first, "BEGIN:VEVENT"));
    CHECK(write("196") == first);
    CHECK(holds(write("199"), "SEQUENCE:1\r\n"));
}

TEST_CASE("a stranger's calendar is left alone", "[cli]") {
    const ScratchFolder folder{"keyhour_foreign"};
    std::ofstream{folder.path / "sheet.ics"} << "BEGIN:VCALENDAR\r\nPRODID:other\r\n";
    const Outcome outcome = run_program({"sheet", example("tallow-lane"), "--date", "2026-02-14",
                                         "--only", "calendar", "--out", folder.path.string()});
    CHECK(outcome.code == 1);
    CHECK(holds(outcome.err, "--force"));
    CHECK(holds(bytes(folder.path / "sheet.ics"), "PRODID:other"));
}

TEST_CASE("printing (--pdf) without a folder, or without the page, is wrong usage", "[cli]") {
    CHECK(run_program({"sheet", example("sundet"), "--pdf", "-o", "-"}).code == 2);
    CHECK(run_program({"sheet", example("sundet"), "--pdf", "--only", "plan", "--out", "x"}).code ==
          2);
}

TEST_CASE("printing (--pdf) says plainly that there is nothing to print with", "[cli]") {
    const ScratchFolder folder{"keyhour_no_browser"};
    const char* path = std::getenv("PATH");
    const std::string before = path ? path : "";
    ::setenv("PATH", folder.path.c_str(), 1);
    const Outcome outcome =
        run_program({"sheet", example("tallow-lane"), "--date", "2026-02-14", "--only", "page",
                     "--pdf", "--out", (folder.path / "out").string()});
    ::setenv("PATH", before.c_str(), 1);
    CHECK(outcome.code == 1);
    CHECK(holds(outcome.err, "--pdf: neither a browser (chromium) nor rsvg-convert is at hand"));
    CHECK(fs::exists(folder.path / "out" / "sheet.html"));
}
