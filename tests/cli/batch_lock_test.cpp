// keyhour batch --ask lock: the same spans, locks and covers as key --by lamp and lock tell, over
// many places.

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "json_places.hpp"
#include "page.hpp"
#include "run_program.hpp"
#include "schema_check.hpp"
#include "scratch_file.hpp"

using namespace keyhour::cli;

namespace {

using Arguments = std::vector<std::string>;

const Arguments three_hours{"--ask", "lock", "--minutes", "180", "--hours", "08:00,20:00"};

Outcome batch(Arguments arguments, const Arguments& more = {}, const std::string& input = {}) {
    arguments.insert(arguments.begin(), "batch");
    arguments.insert(arguments.end(), more.begin(), more.end());
    return run_program(arguments, input);
}

std::vector<nlohmann::json> lines_of(const Outcome& outcome) {
    std::vector<nlohmann::json> lines;
    std::istringstream in{outcome.out};
    for (std::string line; std::getline(in, line);) {
        CHECK(schema_faults("batch", line).empty());
        lines.push_back(nlohmann::json::parse(line));
    }
    return lines;
}

nlohmann::json answer(const Arguments& arguments) {
    const Outcome outcome = run_program(arguments);
    CAPTURE(outcome.err);
    REQUIRE(outcome.code == answered);
    return nlohmann::json::parse(outcome.out);
}

/// Of a record of CSV: commas between quotes divide nothing.
std::ptrdiff_t columns_of(const std::string& record) {
    bool quoted = false;
    return 1 + std::count_if(record.begin(), record.end(), [&](char c) {
               if (c == '"') quoted = !quoted;
               return c == ',' && !quoted;
           });
}

/// Its first possible instant; null without a leak.
nlohmann::json first_leak(const nlohmann::json& leaks) {
    nlohmann::json first;
    for (const auto& leak : leaks)
        if (first.is_null() || leak["possible"][0] < first) first = leak["possible"][0];
    return first;
}

}  // namespace

TEST_CASE("batch asks the same lock as lock and the same spans as key by lamp", "[cli][lock]") {
    const struct {
        std::string place, date;
    } asked[] = {{example("tallow-lane"), "2026-03-10"},
                 {example("tallow-lane"), "2026-06-21"},
                 {example("flax-road"), "2026-02-17"},
                 {example("sundet"), "2026-04-01"}};
    for (const auto& [place, date] : asked) {
        CAPTURE(place, date);
        const auto lines = lines_of(batch({place, "--date", date, "--json", "--all"}, three_hours));
        REQUIRE(lines.size() == 1);
        const auto& line = lines.front();
        const std::string window = line["window"];
        const auto lock = answer({"lock", place, "--date", date, "--minutes", "180", "--hours",
                                  "08:00,20:00", "--key-window", window, "--json"});
        CHECK(line["lock"] == lock["lock"]);
        CHECK(line["leaks"] == lock["leaks"].size());
        REQUIRE(line["covers"].size() == lock["covers"].size());
        double cloth_m2 = 0;
        for (std::size_t i = 0; i < lock["covers"].size(); ++i) {
            const auto& cover = lock["covers"][i];
            CHECK(line["covers"][i]["window"] == cover["window"]);
            CHECK(line["covers"][i]["needed_by_utc"] == cover["needed_by_at_any_bearing_utc"]);
            cloth_m2 +=
                cover["cloth_width_m"].get<double>() * cover["cloth_height_m"].get<double>();
        }
        CHECK(line["cloth_area_m2"].get<double>() == Approx(cloth_m2).margin(1e-4));
        CHECK(line["first_leak_utc"] == first_leak(lock["leaks"]));
        Arguments key{"key",      place,    "--date", date,         "--by",
                      "lamp",     "--lock", "180",    "--hours",    "08:00,20:00",
                      "--window", window,   "--mark", line["mark"], "--json"};
        if (!line["camera"].is_null()) key.insert(key.end(), {"--camera", line["camera"]});
        auto intervals = member(answer(key), "intervals");
        for (auto& interval : intervals) {
            interval.erase("begins_by");
            interval.erase("ends_by");
            interval.erase("covers");
            interval.erase("lock");
        }
        CHECK(line["spans"] == intervals);
        CHECK(line["fits"] == !line["spans"].empty());
    }
}

TEST_CASE("a table of locks tells lock, leaks, cloth and lamp, within 80 columns", "[cli][lock]") {
    const Arguments asked{KEYHOUR_LOCATIONS, "--dates", "2026-03-10,2026-06-21"};
    const Outcome table = batch(asked, three_hours);
    CHECK(table.code == answered);
    CHECK(too_long(table.out).empty());
    CHECK(tells(table.out, "Tallow Lane Press: "));
    CHECK(tells(table.out, "; lock "));
    CHECK(tells(table.out, " m2 of cloth; key lamp "));
    const Outcome csv =
        batch(asked, three_hours).code == answered
            ? batch({KEYHOUR_LOCATIONS, "--csv", "--dates", "2026-03-10"}, three_hours)
            : Outcome{};
    std::istringstream records{csv.out};
    std::string head, record;
    std::getline(records, head);
    while (std::getline(records, record))
        CHECK(columns_of(record) == columns_of(head));
    // One who works by night, where no sun shines, needs no cloth.
    const auto night =
        lines_of(batch({example("tallow-lane"), "--date", "2026-12-10", "--json"},
                       {"--ask", "lock", "--minutes", "120", "--hours", "17:00,23:00"}));
    REQUIRE(night.size() == 1);
    CHECK(night[0]["spans"][0]["hold_min"] == 360);
    CHECK(night[0]["leaks"] == 0);
    CHECK(night[0]["cloth_area_m2"] == 0);
    CHECK(night[0]["lamp"]["name"] == "key lamp");
}

TEST_CASE("locks are ranked, compared and chosen from a range", "[cli][lock]") {
    const Arguments dates{"--dates", "2026-03-10,2026-06-21"};
    const std::string input = many_json_places(3);
    Arguments asked = three_hours;
    asked.insert(asked.end(), dates.begin(), dates.end());
    const auto best = lines_of(batch({"-", "--best", "2", "--json"}, asked, input));
    REQUIRE(best.size() == 2);
    const auto sure = [](const nlohmann::json& line) {
        return line["spans"][0]["sure_min"].get<double>();
    };
    CHECK(sure(best[0]) >= sure(best[1]));
    for (const auto& line : lines_of(batch({"-", "--json"}, asked, input)))
        if (line["fits"] == true) CHECK(sure(best[0]) >= sure(line));
    const auto range = lines_of(batch({"-", "--per", "range", "--json"}, asked, input));
    REQUIRE(range.size() == 3);
    CHECK(range[0]["to"] == "2026-06-21");
    const Outcome grid = batch({"-", "--compare"}, asked, input);
    CHECK(grid.code == answered);
    CHECK(holds(grid.out, "longest span without sun"));
    CHECK(schema_faults("batch", batch({"-", "--compare", "--json"}, asked, input).out).empty());
}

TEST_CASE("a place that can't have the lock is told and the others are answered", "[cli][lock]") {
    std::string sheer = json_place("Sheer", 200);
    auto hung = nlohmann::json::parse(sheer);
    hung["window"][0]["cover"] = "sheer";
    auto other = nlohmann::json::parse(json_place("Other", 200));
    other["window"][0]["name"] = "yard window";
    const std::string input = json_place("Sound", 200) + hung.dump() + '\n' + other.dump() + '\n';
    const Arguments asked{"-", "--json", "--date", "2026-03-10", "--key-window", "press window"};
    const Outcome outcome = batch(asked, three_hours, input);
    CHECK(outcome.code == partly_failed);
    CHECK(lines_of(outcome).size() == 1);
    CHECK(outcome.err ==
          "line 2 of standard input: key window \"press window\" has cover = \"sheer\", and the "
          "key's light must come through it\n"
          "line 3 of standard input: --key-window \"press window\" is not in the location; "
          "accepted: yard window\n"
          "keyhour batch: 1 of 3 inputs answered, 2 refused\n");
    // Longer than the hours that one of the files has.
    auto night = nlohmann::json::parse(json_place("Night", 200));
    night["lock"] = {{"hours", {"20:00", "22:00"}}};
    const Outcome hours =
        batch({"-", "--json", "--date", "2026-03-10", "--ask", "lock", "--minutes", "180"}, {},
              json_place("Sound", 200) + night.dump() + '\n');
    CHECK(hours.code == partly_failed);
    CHECK(holds(hours.err,
                "line 2 of standard input: a lock of 3 h 00 min is longer than its "
                "working hours, 2 h 00 min\n"));
    CHECK(lines_of(hours).size() == 1);
    // Of the flags themselves.
    for (const Arguments& wrong : {Arguments{"--minutes", "180", "--hours", "10:00,12:00"},
                                   {"--minutes", "1500"},
                                   {"--min-hold", "30"},
                                   {"--visit"},
                                   {"--hours", "12:00,10:00"}}) {
        Arguments all{example("tallow-lane"), "--date", "2026-03-10", "--ask", "lock"};
        all.insert(all.end(), wrong.begin(), wrong.end());
        CHECK(batch(all).code == wrong_usage);
    }
    CHECK(batch({example("tallow-lane"), "--date", "2026-03-10", "--minutes", "90"}).code ==
          wrong_usage);
}
