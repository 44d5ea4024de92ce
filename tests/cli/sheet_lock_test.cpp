// The light sheet of a day keyed by a lamp: the lock as `lock` tells it, on page, drawings,
// calendar and spreadsheet alike.

#include <fmt/format.h>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <regex>
#include <string>
#include <vector>

#include "page.hpp"
#include "run_program.hpp"
#include "scratch_file.hpp"

namespace {

using Words = std::vector<std::string>;

const char* const rigged_lock =
    "\n[lock]\nwindow = \"press window\"\nlamp = \"key lamp\"\nminutes = 120\n"
    "hours = [\"13:00\", \"19:00\"]\n"
    "\n[rigging]\ncrew = 2\noverlap_m = 0.2\n\n[[task]]\nname = \"lamp and stand\"\n"
    "minutes = { 1 = 45, 2 = 30 }\n";

Outcome sheet(const std::string& location, const char* date, const Words& more) {
    Words ask{"sheet", location, "--date", date, "-o", "-"};
    ask.insert(ask.end(), more.begin(), more.end());
    return run_program(ask);
}

std::string paper(const std::string& location, const char* date, const char* kind,
                  const Words& more = {}) {
    Words all{"--only", kind};
    all.insert(all.end(), more.begin(), more.end());
    const Outcome outcome = sheet(location, date, all);
    CAPTURE(outcome.err);
    REQUIRE(outcome.code == 0);
    return outcome.out;
}

std::string answer_of(const std::string& page) {
    std::smatch found;
    REQUIRE(std::regex_search(page, found, std::regex{"id=\"answer\">([^<]*)</p>"}));
    std::string answer = found[1];
    const std::size_t list = page.find("<ul class=\"answer-parts\">");
    if (list == std::string::npos) return answer;
    const std::string parts = page.substr(list, page.find("</ul>", list) - list);
    const std::regex part{"<li>([^<]*)</li>"};
    for (std::sregex_iterator at{parts.begin(), parts.end(), part}, end; at != end; ++at)
        answer += ' ' + (*at)[1].str();
    return answer;
}

/// "17:20" of "2026-03-10T17:20:00.000+00:00", where that is the nearest minute.
std::string clock(const nlohmann::json& local) {
    return local.get<std::string>().substr(11, 5);
}

nlohmann::json lock_of(const std::string& location, const char* date) {
    const Outcome outcome =
        run_program({"lock", location, "--date", date, "--minutes", "120", "--hours", "13:00,19:00",
                     "--key-window", "press window", "--json"});
    CAPTURE(outcome.err);
    REQUIRE(outcome.code == 0);
    return nlohmann::json::parse(outcome.out);
}

}  // namespace

TEST_CASE("a sheet of a planned lock opens with it, and every paper has its minutes",
          "[cli][sheet][lock]") {
    const ScratchFile press{"keyhour_sheet_lock.toml", example_text("tallow-lane") + rigged_lock};
    const char* const date = "2026-03-10";
    const auto lock = lock_of(press.path, date);
    const std::string from = clock(lock["lock"]["start_local"]),
                      to = clock(lock["lock"]["end_local"]);
    const std::string page = paper(press.path, date, "page");
    const std::string answer = answer_of(page);
    CHECK(holds(answer, "Lamp key: type case by key lamp through press window. Lock " + from +
                            " to " + to + " (2 h 00 min)"));
    CHECK(holds(answer, "Key lamp "));
    CHECK(holds(answer, " at the mark."));
    CHECK(holds(answer, "Fill panel for 4:1"));
    for (const auto& cover : lock["covers"])
        CHECK(holds(answer, cover["window"].get<std::string>() + ", cloth "));
    CHECK(holds(page, "ready: the lock begins"));
    // Half an hour before the lock.
    const int minutes = std::stoi(from.substr(0, 2)) * 60 + std::stoi(from.substr(3)) - 30;
    const std::string begin = fmt::format("{:02}:{:02}", minutes / 60, minutes % 60);
    CHECK(holds(page, "With a crew of 2: rigging begins at " + begin));

    std::string day = date;
    std::erase(day, '-');
    std::string compact = from;
    std::erase(compact, ':');
    const std::string calendar = paper(press.path, date, "calendar");
    CHECK(holds(calendar, "SUMMARY:Lock: type case by key lamp through press window"));
    CHECK(holds(calendar, ":" + day + "T" + compact + "00"));
    const std::string rows = paper(press.path, date, "spreadsheet");
    CHECK(holds(rows, std::string{date} +
                          ",lock,Lock: type case by key lamp through press "
                          "window,type case,A,press window,," +
                          date + "T" + from + ":00"));

    const std::string plan = paper(press.path, date, "plan");
    CHECK(holds(plan, "key lamp"));
    CHECK(holds(plan, "past the jambs"));
    const std::string strip = paper(press.path, date, "strip");
    CHECK(holds(strip, "LOCK type case"));
    CHECK(holds(strip, from + " to " + to));
    const std::string section =
        paper(press.path, date, "section", {"--window", "press window", "--mark", "type case"});
    CHECK(holds(section, "past head and sill"));
    CHECK(holds(section, "The lamp stands "));
    for (const char* width : {"92", "180"})
        for (const char* kind : {"plan", "strip"})
            CHECK_FALSE(paper(press.path, date, kind, {"--width", width}).empty());
}

TEST_CASE("a day with a sun key and a lamp key says which is which", "[cli][sheet][lock]") {
    const char* const date = "2026-02-17";
    const Words flags{"--start", "14:30", "--end", "17:30", "--key-window", "press window"};
    const std::string answer = answer_of(paper(example("tallow-lane"), date, "page", flags));
    CHECK(
        holds(answer, "Lamp key: type case by key lamp through press window. Lock 14:30 to 17:30"));
    CHECK(holds(answer, " Sun key at type case through case window, 12:59 to 14:18"));
    const std::string strip = paper(example("tallow-lane"), date, "strip", flags);
    CHECK(holds(strip, "LOCK type case"));
    CHECK(holds(strip, "SUN KEY type case"));
    const std::string rows = paper(example("tallow-lane"), date, "spreadsheet", flags);
    CHECK(holds(rows, ",lock,Lock: "));
    CHECK(holds(rows, ",key,Sun key: "));
    // Without a lock nothing is keyed by a lamp.
    CHECK_FALSE(holds(answer_of(paper(example("tallow-lane"), date, "page")), "Lamp key"));
    CHECK(holds(paper(example("tallow-lane"), date, "spreadsheet"), ",key,Key: "));
}

TEST_CASE("a lock that a sheet can't have is refused", "[cli][sheet][lock]") {
    const std::string press = example("tallow-lane");
    for (const Words& wrong : {Words{"--lock", "2000"},
                               {"--lock", "800"},
                               {"--start", "10:00"},
                               {"--end", "10:00"},
                               {"--start", "12:00", "--end", "10:00"},
                               {"--lock", "60", "--start", "10:00", "--end", "11:00"},
                               {"--lock", "60", "--key-window", "yard window"},
                               {"--lock", "60", "--key-window", "none"},
                               {"--lock", "60", "--key-lamp", "fill panel"},
                               {"--lock", "60", "--key-lamp", "yard lamp"}}) {
        Words all{"--only", "page"};
        all.insert(all.end(), wrong.begin(), wrong.end());
        const Outcome outcome = sheet(press, "2026-03-10", all);
        CAPTURE(wrong, outcome.err);
        CHECK(outcome.code == keyhour::cli::wrong_usage);
        CHECK(outcome.out.empty());
    }
}
