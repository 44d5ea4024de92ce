// keyhour batch: many places at once, in order, whatever the number of threads.

#include <fmt/format.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "json_places.hpp"
#include "page.hpp"
#include "run_program.hpp"
#include "schema_check.hpp"
#include "scratch_file.hpp"
#include "scratch_folder.hpp"
#include "tell/exterior_documents.hpp"

using namespace keyhour::cli;

namespace {

using Arguments = std::vector<std::string>;

const Arguments february{"--dates", "2026-02-17,2026-02-18"};

Outcome batch(Arguments arguments, const Arguments& more = {}, const std::string& input = {}) {
    arguments.insert(arguments.begin(), "batch");
    arguments.insert(arguments.end(), more.begin(), more.end());
    return run_program(arguments, input);
}

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in{text};
    for (std::string line; std::getline(in, line);)
        lines.push_back(line);
    return lines;
}

/// The line's intervals and days are those of key and day: held to their schemas.
std::string faults_of(const std::string& line) {
    std::string faults = schema_faults("batch", line);
    const auto document = nlohmann::json::parse(line);
    nlohmann::json wrapped{
        {"keyhour", "0.1.0"}, {"location", ""}, {"read_back", nlohmann::json::array({"-"})}};
    if (document["question"] == "key") {
        wrapped["by"] = "sun";
        wrapped["without"] = nlohmann::json::array();
        wrapped["date"] = "2026-01-01";
        wrapped["intervals"] = document["intervals"];
        if (!document["nearest"].is_null()) wrapped["intervals"].push_back(document["nearest"]);
        if (!document["nearest_miss"].is_null())
            wrapped["without"].push_back(document["nearest_miss"]);
        faults += schema_faults("key", wrapped.dump());
    } else if (document["question"] == "day") {
        for (const char* member :
             {"date", "events", "state", "absent", "day_length_min", "late_light"})
            wrapped[member] = document[member];
        faults += schema_faults("day", wrapped.dump());
    } else if (document["question"] == "exterior") {
        wrapped["settings"] = keyhour::tell::json_of(keyhour::study::SpotSettings{});
        wrapped["date"] = document["date"];
        wrapped["spots"] = nlohmann::json::array({document["spot"]});
        wrapped["spots"][0]["lamps"] = {// batch leaves the street's lamps out
                                        {"ground_lx", 0},
                                        {"sky_below_utc", nullptr},
                                        {"list", nlohmann::json::array()}};
        wrapped["thrown_back"] = nlohmann::json::array();
        faults += schema_faults("exterior", wrapped.dump());
    }
    return faults;
}

}  // namespace

TEST_CASE("batch answers the files of a folder by name, date by date", "[cli]") {
    const Outcome outcome = batch({KEYHOUR_LOCATIONS, "--json"}, february);
    CHECK(outcome.code == answered);
    CHECK(outcome.err.empty());
    const auto lines = lines_of(outcome.out);
    REQUIRE(lines.size() == 6);
    Arguments sources;
    for (const std::string& line : lines) {
        CHECK(faults_of(line).empty());
        sources.push_back(nlohmann::json::parse(line)["source"]);
    }
    CHECK(std::is_sorted(sources.begin(), sources.end()));
    CHECK(sources.front() == example("flax-road"));
    const auto press = nlohmann::json::parse(lines[4]);
    CHECK(press["date"] == "2026-02-17");
    CHECK(press["fits"] == true);
    // The same interval as key's own answer.
    const Outcome key = run_program({"key", example("tallow-lane"), "--date", "2026-02-17",
                                     "--no-light", "--no-doubt", "--json"});
    CHECK(press["intervals"][0] == nlohmann::json::parse(key.out)["intervals"][0]);
}

TEST_CASE("every form of batch says the same and keeps to its form", "[cli]") {
    const Outcome table = batch({KEYHOUR_LOCATIONS}, february);
    CHECK(too_long(table.out).empty());
    CHECK(holds(table.out, "12:59-14:18   79   56  Tallow Lane Press: case window"));
    const Outcome csv = batch({KEYHOUR_LOCATIONS, "--csv"}, february);
    CHECK(holds(csv.out, "2026-02-17T12:58:"));
    CHECK(holds(csv.out, "\r\n"));
    const std::size_t columns = static_cast<std::size_t>(std::count(
        csv.out.begin(), csv.out.begin() + static_cast<std::ptrdiff_t>(csv.out.find('\r')), ','));
    CHECK(columns == 33);
    const Outcome bare = batch({KEYHOUR_LOCATIONS, "--csv", "--no-header"}, february);
    CHECK(csv.out.substr(csv.out.find('\n') + 1) == bare.out);
    const Outcome day = batch({KEYHOUR_LOCATIONS, "--ask", "day", "--json"}, february);
    for (const std::string& line : lines_of(day.out))
        CHECK(faults_of(line).empty());
    CHECK(too_long(batch({KEYHOUR_LOCATIONS, "--ask", "day"}, february).out).empty());
    CHECK(holds(batch({KEYHOUR_LOCATIONS, "--ask", "day", "--csv"}, february).out,
                "Tallow Lane Press,"));
}

TEST_CASE("lines come out in the order of the input, whatever the number of threads", "[cli]") {
    const std::string input = many_json_places(60);
    const Arguments asked{"-", "--json", "--threads", "1"};
    const Outcome one = batch(asked, february, input);
    CHECK(one.code == answered);
    const auto lines = lines_of(one.out);
    REQUIRE(lines.size() == 120);
    for (std::size_t i = 0; i < lines.size(); ++i)
        CHECK(nlohmann::json::parse(lines[i])["location"] == "Room " + std::to_string(i / 2));
    for (const char* threads : {"2", "7"})
        CHECK(batch({"-", "--json", "--threads", threads}, february, input).out == one.out);
}

TEST_CASE("a refused place is reported in its turn and the rest are answered", "[cli]") {
    std::string input = many_json_places(2);
    input += "{\"format\": 1}\n\n" + json_place("Last", 200);
    const Outcome outcome = batch({"-", "--json", "--date", "2026-02-17"}, {}, input);
    CHECK(outcome.code == partly_failed);
    CHECK(lines_of(outcome.out).size() == 3);
    CHECK(outcome.err ==
          "line 3 of standard input: \"site\" is missing in the line; accepted: a table [site]\n"
          "keyhour batch: 3 of 4 inputs answered, 1 refused\n");
    const Outcome file = batch({example("none"), example("tallow-lane"), "--date", "2026-02-17"});
    CHECK(file.code == partly_failed);
    CHECK(holds(file.err, "none.toml: the file cannot be read"));
    CHECK(holds(file.out, "Tallow Lane Press"));
}

TEST_CASE("criteria leave places out, or say by how much they miss", "[cli]") {
    const Arguments asked{KEYHOUR_LOCATIONS, "--date", "2026-02-17", "--min-hold", "90"};
    CHECK(holds(batch(asked, {"--csv"}).out, ",no,\"hold 81 min, 90 wanted\",type case,A,"));
    CHECK(holds(batch(asked).out, "NO: hold 81"));
    const Outcome only = batch(asked, {"--only-fitting", "--json"});
    CHECK(only.code == answered);
    CHECK(only.out.empty());
    const Outcome hours =
        batch({KEYHOUR_LOCATIONS, "--date", "2026-02-17", "--latest-end", "13:30", "--json"});
    CHECK(holds(hours.out, "\"end_local\":\"2026-02-17T13:30:00.000+00:00\""));
    CHECK(holds(hours.out, "\"ends_by\":null"));
    for (const std::string& line : lines_of(hours.out))
        CHECK(faults_of(line).empty());
}

TEST_CASE("a place without a key names the near miss that key names", "[cli]") {
    const struct {
        const char *place, *date;
        Arguments settings;
    } asked[] = {{"tallow-lane", "2026-06-21", {}},
                 {"tallow-lane", "2026-02-17", {"--key-angle", "25,28"}},
                 {"flax-road", "2026-02-17", {}},
                 {"sundet", "2026-02-18", {"--altitude", "30,55"}}};
    for (const auto& [place, date, settings] : asked) {
        CAPTURE(place, date);
        const Arguments on{example(place), "--date", date};
        Arguments key{"key"};
        key.insert(key.end(), on.begin(), on.end());
        key.insert(key.end(), settings.begin(), settings.end());
        const std::string page = flat(run_program(key).out);
        key.insert(key.end(), {"--json", "--no-light"});
        const auto without = member(nlohmann::json::parse(run_program(key).out), "without");
        Arguments more = settings;
        more.push_back("--json");
        const Outcome json = batch(on, more);
        CHECK(faults_of(json.out).empty());
        const auto miss = member(nlohmann::json::parse(json.out), "nearest_miss");
        CHECK(std::find(without.begin(), without.end(), miss) != without.end());
        // Word for word, down to the figures.
        const std::size_t begin = page.find(": ", page.find(" nearest: ") + 10) + 2;
        std::string words = page.substr(begin, page.find(" to change: ") - begin);
        words = words.substr(0, words.find("; the mark's centre alone"));
        CHECK(holds(words, miss["reason"].get<std::string>()));
        CHECK(tells(batch(on, settings).out, "; NO: no clean key; nearest: " + words + ' '));
        more.back() = "--csv";
        const std::string csv = batch(on, more).out;
        CHECK(holds(csv, ",\"" + words + "\","));
    }
}

TEST_CASE("the near miss of a range is that of its best date", "[cli]") {
    const Arguments june{example("tallow-lane"), "--from", "2026-06-01", "--to", "2026-06-10"};
    const auto range = member(nlohmann::json::parse(batch(june, {"--per", "range", "--json"}).out),
                              "nearest_miss");
    const auto lacks = [](const nlohmann::json& miss) {
        double sum = 0;
        for (const auto& s : miss["shortfalls"])
            sum += std::abs(s["is"].get<double>() - s["wanted"].get<double>()) *
                   (s["setting"] == "coverage" ? 100 : 1);
        return sum;
    };
    double least = 1e9;
    for (const std::string& line : lines_of(batch(june, {"--json"}).out))
        least = std::min(least, lacks(member(nlohmann::json::parse(line), "nearest_miss")));
    CHECK(lacks(range) == Approx(least).margin(1e-3));
}

TEST_CASE("the best of a range and the best of all places are found", "[cli]") {
    const Arguments march{"--from", "2026-02-10", "--to", "2026-03-05"};
    const Outcome range = batch({example("tallow-lane"), "--per", "range", "--json"}, march);
    REQUIRE(lines_of(range.out).size() == 1);
    CHECK(faults_of(range.out).empty());
    CHECK(member(nlohmann::json::parse(range.out), "to") == "2026-03-05");
    const Outcome best = batch({KEYHOUR_LOCATIONS, "--best", "3", "--json"}, march);
    const auto lines = lines_of(best.out);
    REQUIRE(lines.size() == 3);
    double sure = 1e9;
    for (std::size_t i = 0; i < 3; ++i) {
        CHECK(faults_of(lines[i]).empty());
        const auto line = nlohmann::json::parse(lines[i]);
        CHECK(line["rank"] == i + 1);
        CHECK(line["intervals"][0]["sure_min"] <= sure);
        sure = line["intervals"][0]["sure_min"];
    }
    CHECK(nlohmann::json::parse(lines[0])["intervals"][0] ==
          nlohmann::json::parse(range.out)["intervals"][0]);
    const Outcome csv = batch({KEYHOUR_LOCATIONS, "--best", "3", "--csv"}, march);
    CHECK(holds(csv.out, ",rank\r\n"));
    CHECK(holds(csv.out, ",3\r\n"));
    CHECK(holds(batch({KEYHOUR_LOCATIONS, "--best", "3", "--min-hold", "600"}, march).out,
                "none fits"));
}

TEST_CASE("twelve rooms and five dates are one grid within 80 columns", "[cli]") {
    const std::string input = many_json_places(12);
    const Arguments asked{"-", "--compare", "--dates",
                          "2026-02-17,2026-03-10,2026-04-01,2026-09-20,2026-12-01"};
    const Outcome grid = batch(asked, {}, input);
    CHECK(grid.code == answered);
    CHECK(too_long(grid.out).empty());
    for (int i = 0; i < 12; ++i)
        CHECK(holds(grid.out, "\nRoom " + std::to_string(i) + " "));
    CHECK(holds(grid.out, "Tue 17 Feb Tue 10 Mar Wed 1 Apr  Sun 20 Sep Tue 1 Dec"));
    CHECK(holds(grid.out, "longest at any bearing: Room "));
    const Outcome json = batch(asked, {"--json"}, input);
    CHECK(schema_faults("batch", json.out).empty());
    CHECK(holds(batch(asked, {"--csv"}, input).out, "2026-12-01 sure_min\r\n"));
    // More dates fold into a second grid; more rooms are no grid.
    const Outcome folded =
        batch({"-", "--compare", "--from", "2026-02-17", "--to", "2026-02-24"}, {}, input);
    CHECK(too_long(folded.out).empty());
    CHECK(holds(folded.out, "Sun 22 Feb Mon 23 Feb Tue 24 Feb"));
    const Outcome crowd =
        batch({"-", "--compare", "--date", "2026-02-17"}, {}, many_json_places(41));
    CHECK(crowd.code == wrong_usage);
    CHECK(holds(crowd.err, "--compare shows up to 40 rooms"));
}

TEST_CASE("a comparison over a change of the clocks tells each date's offset", "[cli]") {
    // Summer time in New Zealand (tz database): to 5 April 2026, from 27 September.
    const Outcome run =
        batch({example("flax-road"), "--compare", "--dates", "2026-02-17,2026-06-21,2026-12-21"});
    CHECK(run.code == answered);
    CHECK(holds(run.out, "clocks: UTC             +13:00     +12:00     +13:00\n"));
    const Outcome one = batch({example("flax-road"), "--compare", "--date", "2026-06-21"});
    CHECK(holds(one.out, "  UTC+12:00"));
    CHECK(!holds(one.out, "clocks:"));
}

TEST_CASE("rooms of one day are planned with the way between them", "[cli]") {
    const std::string input = many_json_places(1) + json_place("South", 240);
    const Arguments asked{"-",           "--date", "2026-02-17", "--visit",
                          "--speed-kmh", "30",     "--min-hold", "10"};
    const Outcome table = batch(asked, {}, input);
    CHECK(table.code == answered);
    CHECK(too_long(table.out).empty());
    CHECK(holds(table.out, "Tuesday 17 February 2026: "));
    CHECK(holds(table.out, "times 1.3 at 30 km/h"));
    CHECK(schema_faults("batch", batch(asked, {"--json"}, input).out).empty());
    CHECK(holds(batch(asked, {"--csv"}, input).out, "date,stop,location"));
    CHECK(batch({"-", "--date", "2026-02-17", "--visit"}, {}, input).code == wrong_usage);
}

TEST_CASE("a table of what fits says where nothing does", "[cli]") {
    const Arguments asked{example("tallow-lane"), "--date", "2026-02-17", "--only-fitting"};
    const std::string none = batch(asked, {"--min-hold", "600"}).out;
    CHECK(none.ends_with("\nnone fits\n"));
    CHECK(batch(asked, {"--min-hold", "30"}).out.find("none fits") == std::string::npos);
    CHECK(batch(asked, {"--min-hold", "600", "--csv"}).out.find("none fits") == std::string::npos);
    CHECK(batch(asked, {"--min-hold", "600", "--json"}).out.empty());
}

TEST_CASE("dates come as one, a range, a list, a file, and by weekday", "[cli]") {
    const auto dates_of = [](const Arguments& dates) {
        Arguments found;
        for (const std::string& line :
             lines_of(batch({example("tallow-lane"), "--ask", "day", "--json"}, dates).out))
            found.push_back(nlohmann::json::parse(line)["date"]);
        return found;
    };
    CHECK(dates_of({"--dates", "Tue 10 March 2026,12 March 2026"}) ==
          dates_of({"--dates", "2026-03-10,2026-03-12"}));
    CHECK(dates_of({"--dates", "2026-03-12, 2026-03-10,2026-03-12"}) ==
          Arguments{"2026-03-10", "2026-03-12"});
    CHECK(dates_of({"--from", "2026-03-09", "--to", "2026-03-22", "--weekdays", "Tue,friday"}) ==
          Arguments{"2026-03-10", "2026-03-13", "2026-03-17", "2026-03-20"});
    const ScratchFile file{"keyhour_dates.txt", "# recce\n2026-03-10\n2026-03-11 # call 8:00\n"};
    CHECK(dates_of({"--dates", file.path}) == Arguments{"2026-03-10", "2026-03-11"});
    const auto refused = [](const Arguments& dates) {
        const Outcome outcome = batch({example("tallow-lane")}, dates);
        CHECK(outcome.code == wrong_usage);
        return outcome.err;
    };
    CHECK(holds(refused({}), "which dates?"));
    CHECK(holds(refused({"--dates", "2026-02-30"}), "--dates: "));
    CHECK(holds(refused({"--dates", "nowhere.txt"}), "is no file to read"));
    CHECK(holds(refused({"--date", "2026-03-10", "--dates", "2026-03-11"}), "not both"));
    CHECK(holds(refused({"--date", "2026-03-10", "--weekdays", "mon"}), "none of the dates"));
    CHECK(holds(refused({"--date", "2026-03-10", "--weekdays", "moon"}), "no day of the week"));
    CHECK(holds(refused({"--date", "1800-01-02"}), "dates served"));
}

TEST_CASE("options that contradict each other are wrong usage", "[cli]") {
    const auto refused = [](const Arguments& more) {
        const Outcome outcome = batch({example("tallow-lane"), "--date", "2026-03-10"}, more);
        CHECK(outcome.code == wrong_usage);
        CHECK(outcome.out.empty());
        return outcome.err;
    };
    CHECK(holds(refused({"--ask", "weather"}), "accepted: key, exterior, day"));
    CHECK(holds(refused({"--per", "year"}), "accepted: date, range"));
    CHECK(
        holds(refused({"--ask", "day", "--min-hold", "5"}), "--min-hold needs a light that holds"));
    CHECK(holds(refused({"--resume"}), "--resume needs --out"));
    CHECK(holds(refused({"--csv", "--json"}), "give one"));
    CHECK(holds(refused({"--best", "0"}), "accepted: 1 to 10000"));
    CHECK(holds(refused({"--best", "3", "--compare"}), "give one"));
    CHECK(holds(refused({"--speed-kmh", "3"}), "goes with --visit"));
    CHECK(holds(refused({"--min-hold", "0"}), "accepted: 1 to 1440 minutes"));
    CHECK(holds(refused({"--earliest-start", "15:00", "--latest-end", "14:00"}), "is not before"));
    CHECK(holds(refused({"--latest-end", "25:00"}), "--latest-end: "));
    CHECK(holds(refused({"--late-light", "-4,6"}), "goes with --ask day or"));
    CHECK(holds(refused({"--threads", "1000"}), "accepted: 1 to 256"));
    CHECK(batch({"--date", "2026-03-10"}).code == wrong_usage);
}

TEST_CASE("what looks wrong in a place stands beside its answer as a question", "[cli]") {
    const ScratchFile far{"keyhour_far.toml", changed(example_text("tallow-lane"), "Europe/London",
                                                      "Pacific/Auckland")};
    const Outcome outcome = batch({far.path, "--date", "2026-02-17", "--json"});
    CHECK(outcome.code == answered);
    CHECK(faults_of(outcome.out).empty());
    CHECK(holds(outcome.out, "Is the zone right?"));
    CHECK(holds(batch({far.path, "--date", "2026-02-17", "--csv"}).out, "Is the zone right?"));
}

TEST_CASE("spots are asked about like rooms, each a line a date", "[cli]") {
    const Arguments asked{KEYHOUR_LOCATIONS, "--ask", "exterior"};
    const Outcome json = batch(asked, {"--date", "2026-06-10", "--json"});
    CHECK(json.code == answered);
    double longest = -1;
    for (const std::string& line : lines_of(json.out)) {
        CHECK(faults_of(line).empty());
        const auto document = nlohmann::json::parse(line);
        // The same as exterior's own answer.
        const Outcome own = run_program({"exterior", document["source"], "--from", "2026-06-10",
                                         "--to", "2026-06-10", "--json"});
        const auto own_document = nlohmann::json::parse(own.out);
        // A track over other dates moves a boundary by some milliseconds.
        const auto same = [&](const nlohmann::json& spot) {
            const auto& ours = document["spot"];
            return spot["spot"] == ours["spot"] && spot["direct"].size() == ours["direct"].size() &&
                   spot["wanted"].size() == ours["wanted"].size() &&
                   (ours["wanted"].empty() ||
                    std::abs(spot["wanted"][0]["min"].get<double>() -
                             ours["wanted"][0]["min"].get<double>()) < 0.01);
        };
        const auto& spots = own_document["days"][0]["spots"];
        CHECK(std::any_of(spots.begin(), spots.end(), same));
        CHECK(document["fits"] == !document["spot"]["wanted"].empty());
        for (const auto& light : document["spot"]["wanted"])
            longest = std::max(longest, light["min"].get<double>());
    }
    REQUIRE(longest > 0);
    const Outcome best = batch(asked, {"--date", "2026-06-10", "--json", "--best", "1"});
    const auto first = nlohmann::json::parse(best.out);
    CHECK(std::any_of(first["spot"]["wanted"].begin(), first["spot"]["wanted"].end(),
                      [&](const auto& light) { return light["min"] == longest; }));
    CHECK(too_long(batch(asked, february).out).empty());
    const std::string csv = batch(asked, {"--date", "2026-06-10", "--csv"}).out;
    const auto rows = lines_of(csv);
    CHECK(rows.size() == lines_of(json.out).size() + 1);
    CHECK(batch(asked, {"--date", "2026-06-10", "--min-hold", "1440", "--only-fitting"})
              .out.find("2026-06-10") == std::string::npos);
    CHECK(batch({example("tallow-lane"), "--ask", "exterior", "--date", "2026-06-10", "--compare"})
              .code == wrong_usage);
}

TEST_CASE("names that a spreadsheet would run are defused", "[cli]") {
    const Outcome outcome = batch({"-", "--csv", "--no-header", "--date", "2026-02-17"}, {},
                                  json_place("=HYPERLINK(\"x\",\"y\")", 200));
    CHECK(outcome.out.starts_with("\"'=HYPERLINK(\"\"x\"\",\"\"y\"\")\",standard input,"));
}

namespace {

// Each replaces a part of one sound file's text.
const std::vector<std::pair<std::string, std::string>> breaks{
    {"format = 1", "format = 2"},
    {"format = 1", ""},
    {"[site]", "[sight]"},
    {"[site]", "[[site]]"},
    {"[site]", "[site"},
    {"name = \"Tallow Lane Press\"", "name = Tallow"},
    {"name = \"Tallow Lane Press\"", "name = \"\""},
    {"name = \"Tallow Lane Press\"", "nme = \"x\""},
    {"52.9536N 1.1505W", "152.9N 1.1W"},
    {"52.9536N 1.1505W", "nowhere"},
    {"52.9536N 1.1505W", "52.9536N"},
    {"Europe/London", "Europe/Lundon"},
    {"Europe/London", ""},
    {"elevation_m = 61", "elevation_m = \"high\""},
    {"elevation_m = 61", "elevation_m = 61000"},
    {"walls = [", "walls = [\"extra\", "},
    {"height_m = 3.1", "height_m = 31"},
    {"height_m = 3.1", "height_m = -1"},
    {"height_m = 3.1", "height_m = nan"},
    {"faces = 196", "faces = 400"},
    {"faces = 196", "face = 196"},
    {"north = \"true\"", "north = \"grid\""},
    {"north = \"true\", ", ""},
    {"wall = \"street\", faces", "wall = \"road\", faces"},
    {"reveal_m", "revel_m"},
    {"sill_m = ", "sill_m = 9"},
    {"width_m = 1.4", "width_m = 140"},
    {"width_m = 1.4", "width_m = 0"},
    {"left_m = 1.1", "left_m = 6.9"},
    {"left_m = 1.1", "left_m = \"1 furlong\""},
    {"[[window]]", "[[windows]]"},
    {"[[window]]", "[window]"},
    {"[[mark]]", "[[mark]]\nname = \"again\""},
    {"aims_at = \"type case\"", "aims_at = \"nobody\""},
    {"view_deg = 38", "view_deg = 380"},
    {"at = [2.3, 1.8]", "at = [33.2, 1.8]"},
    {"at = [2.3, 1.8]", "at = [3.2]"},
};

}  // namespace

TEST_CASE("the thousand places of a folder, 37 of them broken in 37 ways", "[cli]") {
    REQUIRE(breaks.size() == 37);
    const ScratchFolder folder{"keyhour_thousand"};
    const std::string sound = example_text("tallow-lane");
    for (int i = 0; i < 1000; ++i) {
        std::string text = sound;
        if (i % 27 == 0 && i / 27 < 37) {
            const auto& [from, to] = breaks[static_cast<std::size_t>(i / 27)];
            text = changed(text, from, to);
        }
        std::ofstream{folder.path / fmt::format("p{:04}.toml", i)} << text;
    }
    std::ofstream{folder.path / "notes.txt"} << "no location";
    const Outcome outcome =
        batch({folder.path.string(), "--ask", "day", "--date", "2026-03-10", "--json"});
    CHECK(outcome.code == partly_failed);
    CHECK(lines_of(outcome.out).size() == 963);
    CHECK(holds(outcome.err, "keyhour batch: 963 of 1000 inputs answered, 37 refused\n"));
    int told = 0;
    for (int i = 0; i < 37; ++i) {
        told += holds(outcome.err, fmt::format("p{:04}.toml:", i * 27));
    }
    CHECK(told == 37);
}

TEST_CASE("an empty folder and an unreadable one are told", "[cli]") {
    const ScratchFolder folder{"keyhour_empty"};
    const Outcome outcome = batch({folder.path.string(), "--date", "2026-03-10"});
    CHECK(outcome.code == partly_failed);
    CHECK(holds(outcome.err, "holds no location file"));
    std::filesystem::create_directories(folder.path / "inner");
    std::ofstream{folder.path / "inner" / "a.toml"} << example_text("tallow-lane");
    CHECK(batch({folder.path.string(), "--date", "2026-03-10"}).code == partly_failed);
    CHECK(batch({folder.path.string(), "--recursive", "--date", "2026-03-10"}).code == answered);
    CHECK(batch({"-", "--date", "2026-03-10", "--json"}, {}, "\n").out.empty());
}
