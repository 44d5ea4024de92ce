#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <regex>
#include <sstream>

#include "keyhour/study/plan_search.hpp"
#include "page.hpp"
#include "run_program.hpp"
#include "schema_check.hpp"
#include "scratch_file.hpp"
#include "words/display_width.hpp"

namespace {

using Catch::Contains;
using Arguments = std::vector<std::string>;

const std::string press = example("tallow-lane");

Outcome ask(const std::string& command, const std::string& file, Arguments more) {
    more.insert(more.begin(), {command, file});
    return run_program(more);
}

/// The document of a question with --if, held to its schema; each answer to the command's.
nlohmann::json variants(const std::string& command, const std::string& file, Arguments more) {
    more.emplace_back("--json");
    const Outcome o = ask(command, file, more);
    INFO(o.err);
    REQUIRE(o.code == 0);
    REQUIRE(schema_faults("what_if", o.out) == "");
    auto json = nlohmann::json::parse(o.out);
    for (const auto& variant : json["variants"])
        CHECK(schema_faults(command, variant["answer"].dump()) == "");
    return json["variants"];
}

std::size_t widest_line(const std::string& text) {
    std::istringstream lines{text};
    std::size_t out = 0;
    for (std::string line; std::getline(lines, line);)
        out = std::max(out, keyhour::words::columns(line));
    return out;
}

}  // namespace

TEST_CASE("a changed value gives the whole answer, which names the change", "[whatif]") {
    const Outcome o =
        ask("key", press, {"--date", "2026-02-17", "--if", "case window.cover=blackout"});
    CHECK(o.code == 0);
    CHECK_THAT(o.out, Contains("what if case window.cover=blackout"));
    const Outcome plain = ask("key", press, {"--date", "2026-02-17"});
    CHECK(plain.out != o.out);
    CHECK_THAT(plain.out, !Contains("what if"));
}

TEST_CASE("a changed file answers as the file with that value in it", "[whatif]") {
    const auto json = variants("key", press, {"--date", "2026-02-17", "--if", "bearing=199"});
    REQUIRE(json.size() == 2);
    CHECK(json[0]["change"].is_null());
    CHECK(json[1]["change"] == "bearing=199");
    const std::string text = changed(example_text("tallow-lane"), "faces = 196", "faces = 199");
    const ScratchFile other{"keyhour-what-if-test.toml", text};
    const Outcome o = ask("key", other.path, {"--date", "2026-02-17", "--json"});
    const auto in_file = nlohmann::json::parse(o.out);
    CHECK(json[1]["answer"]["intervals"] == in_file["intervals"]);
    CHECK(json[0]["answer"]["intervals"] != in_file["intervals"]);
}

TEST_CASE("several values stand in columns beside the file's own", "[whatif]") {
    const Outcome o = ask("key", press, {"--date", "2026-02-17", "--if", "bearing+=-3|3"});
    INFO(o.err);
    CHECK(o.code == 0);
    CHECK_THAT(o.out, Contains("as the file says") && Contains("bearing+=-3") &&
                          Contains("bearing+=3") && Contains("at any bearing"));
    CHECK(widest_line(o.out) <= 80);
    const auto json = variants("key", press, {"--date", "2026-02-17", "--if", "bearing+=-3|0|3"});
    REQUIRE(json.size() == 4);
    CHECK(json[2]["answer"]["intervals"] == json[0]["answer"]["intervals"]);
}

TEST_CASE("an option stands as a change, as a key of the file does", "[whatif]") {
    const auto json =
        variants("key", press, {"--date", "2026-02-17", "--if", "key-angle=25,70|5,85"});
    REQUIRE(json.size() == 3);
    CHECK(json[1]["answer"]["intervals"] == json[0]["answer"]["intervals"]);
    const Outcome wide =
        ask("key", press, {"--date", "2026-02-17", "--key-angle", "5,85", "--json"});
    CHECK(json[2]["answer"] == nlohmann::json::parse(wide.out));
    const Outcome one =
        ask("key", press, {"--date", "2026-02-17", "--if", "key-angle=5,85", "--key-angle=1,2"});
    CHECK(one.code == 0);
    CHECK_THAT(one.out, Contains("what if key-angle=5,85"));
}

TEST_CASE("all questions take changes", "[whatif]") {
    const std::string date = "2026-02-17";
    const auto all = [](const nlohmann::json& json) { CHECK(json.size() == 3); };
    all(variants("lock", press, {"--date", date, "--minutes", "60", "--if", "bearing+=-20|20"}));
    all(variants("lamp", press,
                 {"--date", date, "--like", "13:30", "--if", "type case.at+=0.1,0|0.2,0"}));
    all(variants("patch", press, {"--date", date, "--if", "case window.sill_m+=0.1|0.2"}));
    all(variants("exterior", press, {"--date", date, "--if", "yard door.camera_bearing+=30|60"}));
    all(variants("day", press, {"--date", date, "--if", "site.elevation_m=0|800"}));
    all(variants("check", press, {"--if", "room.height_m=2.9|3.3"}));
    const Outcome batch =
        run_program({"batch", press, "--date", date, "--json", "--if", "bearing=190"});
    CHECK(batch.code == 0);
    CHECK_THAT(batch.out, Contains("what if bearing=190"));
    const Outcome sheet = run_program(
        {"sheet", press, "--date", date, "--only", "plan", "-o", "-", "--if", "bearing=190"});
    CHECK(sheet.code == 0);
    CHECK_THAT(sheet.out, Contains("what if"));
}

TEST_CASE("columns tell minutes, lengths and slack as the answers themselves do", "[whatif]") {
    const Arguments date{"--date", "2026-02-17"};
    const auto told_by = [&](const char* command, const char* pattern) {
        const std::string page = flat(ask(command, press, date).out);
        std::smatch found;
        REQUIRE(std::regex_search(page, found, std::regex{pattern}));
        return std::vector<std::string>(found.begin() + 1, found.end());
    };
    const auto columns = [&](const char* command, const char* change) {
        Arguments arguments = date;
        arguments.insert(arguments.end(), {"--if", change});
        return ask(command, press, arguments).out;
    };
    const std::string key = columns("key", "bearing+=0|9");
    for (const std::string& fact : told_by(
             "key", "clean key (\\S+ to \\S+) \\((.*?)\\).*?any bearing \\S+ to \\S+ \\((.*?)\\)"))
        CHECK_THAT(key, Contains(fact));
    const std::string day = columns("day", "site.elevation_m=61|800");
    for (const std::string& fact : told_by("day", "rise (\\S+), set (\\S+): the day has (.*? min)"))
        CHECK_THAT(day, Contains(fact));
    const std::string outside = columns("exterior", "yard door.camera_bearing+=0|90");
    for (const std::string& fact : told_by("exterior", "set up by (\\S+), slack (.*? min)"))
        CHECK_THAT(outside, Contains(fact));
}

TEST_CASE("columns of every question keep within the line", "[whatif]") {
    const Arguments date{"--date", "2026-02-17"};
    const std::vector<std::pair<std::string, Arguments>> asked{
        {"key", {"--if", "bearing+=-3|0|3|6|9"}},
        {"lock", {"--minutes", "60", "--if", "bearing+=-3|0|3"}},
        {"patch", {"--time", "13:30", "--if", "case window.sill_m+=0.1|0.2"}},
        {"exterior", {"--if", "yard door.camera_bearing+=30|60"}},
        {"day", {"--if", "site.elevation_m=0|800"}}};
    for (const auto& [command, more] : asked) {
        Arguments arguments = date;
        arguments.insert(arguments.end(), more.begin(), more.end());
        const Outcome o = ask(command, press, arguments);
        INFO(command << o.err);
        CHECK(o.code == 0);
        CHECK(widest_line(o.out) <= 80);
        CHECK(o.out.find("none none") == std::string::npos);
    }
}

TEST_CASE("a slip in one of several values is the file's own message", "[whatif]") {
    const Outcome o =
        ask("key", press, {"--date", "2026-02-17", "--if", "case window.cover=open|blackot"});
    CHECK(o.code == 1);
    CHECK(o.out.empty());
    CHECK_THAT(o.err, Contains("--if case window.cover=blackot: cover = \"blackot\"") &&
                          Contains("\"blackout\""));
}

TEST_CASE("what --if can't mean is wrong usage", "[whatif]") {
    const auto refused = [](const Arguments& arguments) {
        const Outcome o = run_program(arguments);
        INFO(o.out);
        CHECK(o.code == 2);
        return o.err;
    };
    CHECK_THAT(refused({"key", press, "--if", "bearing=1|2|3|4|5|6|7|8|9|10|11|12|13"}),
               Contains("more than 12 answers"));
    CHECK_THAT(refused({"key", press, "--if", "bearing=1||2"}), Contains("is empty"));
    CHECK_THAT(refused({"key", press, "--if", "key-angle"}), Contains("it says no value"));
    CHECK_THAT(refused({"batch", press, "--if", "bearing=1|2"}), Contains("takes one value"));
    CHECK_THAT(refused({"day", "--position", "52N 1W", "--zone", "Europe/London", "--if",
                        "site.elevation_m=3"}),
               Contains("changes a location file"));
}

TEST_CASE("plan compares a shoot's dates in columns and as CSV", "[whatif][plan]") {
    if (!keyhour::study::can_plan()) return;
    const std::string shoot = example("bindery-and-wharf/shoot");
    const std::string days = "shoot.days+=7";
    const Outcome o = ask("plan", shoot, {"--if", days, "--csv"});
    INFO(o.err);
    CHECK(o.code == 0);
    CHECK_THAT(o.out, Catch::StartsWith("fact,as the file says,shoot.days+=7\r\nfits,yes,"));
    CHECK_THAT(o.out, Contains("\"least slack, once only\"") && Contains("\r\ncloths,") &&
                          Contains("\r\nmoves,"));
    const Outcome slip = ask("plan", shoot, {"--if", "bindery.yard window.cover=opn"});
    CHECK(slip.code == 1);
    CHECK_THAT(slip.err, Contains("--if bindery.yard window.cover=opn: cover = \"opn\""));
}
