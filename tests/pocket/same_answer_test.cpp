// The door for a page says what the command line says, byte for byte.
#include <catch2/catch.hpp>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "cli/run_program.hpp"
#include "cli/scratch_file.hpp"
#include "pocket/answer.hpp"

namespace {

using Json = nlohmann::ordered_json;

Json reply_to(const Json& request) {
    return Json::parse(keyhour::pocket::answer(request.dump()));
}

std::string joined(const Json& lines) {
    std::string text;
    for (const auto& line : lines)
        text += line.get<std::string>() + '\n';
    return text;
}

/// A question as a command and as a request, about one file.
struct Asked {
    const char* ask;
    std::vector<std::string> command;
    Json options;
};

void check_same(const std::string& place, const Asked& asked) {
    std::vector<std::string> arguments = asked.command;
    arguments.insert(arguments.begin() + 1, place);
    const Outcome lines = run_program(arguments);
    arguments.emplace_back("--json");
    const Outcome document = run_program(arguments);
    Json request = asked.options;
    request["ask"] = asked.ask;
    request["columns"] = 80;
    request["name"] = place;
    std::ostringstream text;
    text << std::ifstream{place}.rdbuf();
    request["location"] = text.str();
    const std::string reply_text = keyhour::pocket::answer(request.dump());
    const Json reply = Json::parse(reply_text);
    INFO(place << " " << request["ask"] << "\n" << lines.err);
    CHECK(reply["ok"] == (lines.code == 0));
    if (lines.code != 0) {
        REQUIRE(reply["problems"].size() >= 1);
        for (const auto& problem : reply["problems"])
            CHECK(lines.err.find(problem["text"].get<std::string>()) != std::string::npos);
        return;
    }
    CHECK(joined(reply["lines"]) == lines.out);
    const std::string bytes = document.out.substr(0, document.out.size() - 1);
    CHECK(reply_text.find("\"document\":" + bytes + '}') != std::string::npos);
}

std::vector<Asked> questions(const std::string& date) {
    return {
        {"key", {"key", "--date", date}, {{"date", date}}},
        {"key",
         {"key", "--date", date, "--show", "levels,misses", "--near", "2"},
         {{"date", date}, {"show", {"levels", "misses"}}, {"near", 2}}},
        {"lamp key",
         {"key", "--date", date, "--by", "lamp", "--lock", "90"},
         {{"date", date}, {"lock", 90}}},
        {"lock", {"lock", "--date", date, "--minutes", "90"}, {{"date", date}, {"lock", 90}}},
        {"day", {"day", "--date", date}, {{"date", date}}},
        {"exterior", {"exterior", "--date", date}, {{"date", date}}},
        {"patch",
         {"patch", "--date", date, "--time", "13:30"},
         {{"date", date}, {"time", "13:30"}}},
        {"lamp", {"lamp", "--date", date, "--like", "13:30"}, {{"date", date}, {"like", "13:30"}}},
        {"check", {"check", "--year", "2026"}, {{"year", 2026}}},
    };
}

}  // namespace

TEST_CASE("a page is answered as the command line answers, at every example", "[pocket]") {
    std::vector<std::string> places;
    for (const auto& entry : std::filesystem::directory_iterator{KEYHOUR_LOCATIONS})
        if (entry.path().extension() == ".toml") places.push_back(entry.path().string());
    REQUIRE(places.size() >= 3);
    for (const std::string& place : places)
        for (const char* date : {"2026-02-17", "2026-06-21"})
            for (const Asked& asked : questions(date))
                check_same(place, asked);
}

TEST_CASE("a page asks about ranges, changes and what to measure next", "[pocket]") {
    const std::string place = example("tallow-lane");
    check_same(place, {"key",
                       {"key", "--from", "2026-02-01", "--to", "2026-02-20"},
                       {{"date", "2026-02-01"}, {"to", "2026-02-20"}}});
    check_same(place, {"measure next",
                       {"key", "--date", "2026-02-17", "--why-unsure"},
                       {{"date", "2026-02-17"}}});
    check_same(place, {"bearing",
                       {"bearing", "--date", "2026-02-10", "--compass",
                        "wall=street faces=193 north=magnetic measured=2026-02-10", "--shadow",
                        "from=2.2,0.3 to=2.1,1.29 at=2026-02-10T13:20"},
                       {{"date", "2026-02-10"},
                        {"observations",
                         {"compass wall=street faces=193 north=magnetic measured=2026-02-10",
                          "shadow from=2.2,0.3 to=2.1,1.29 at=2026-02-10T13:20"}}}});
    Json changed{{"ask", "key"},
                 {"location", example_text("tallow-lane")},
                 {"date", "2026-02-17"},
                 {"columns", 80},
                 {"changes", {"mark.type case.at=[3.4, 1.9]"}}};
    CHECK(
        joined(reply_to(changed)["lines"]) ==
        run_program({"key", place, "--date", "2026-02-17", "--if", "mark.type case.at=[3.4, 1.9]"})
            .out);
    changed["beside"] = true;
    CHECK(run_program({"key", place, "--date", "2026-02-17", "--if",
                       "mark.type case.at=[3.4, 1.9]|[3.2, 1.8]"})
              .out.find(reply_to(changed)["lines"].back().get<std::string>().substr(0, 12)) !=
          std::string::npos);
}

TEST_CASE("today is what the page's clock says", "[pocket]") {
    Json request{{"ask", "day"}, {"location", example_text("tallow-lane")}, {"now", 1771329600}};
    CHECK(reply_to(request)["document"]["date"] == "2026-02-17");
    request["now"] = 1771329600 + 86400;
    CHECK(reply_to(request)["document"]["date"] == "2026-02-18");
    request["now"] = "noon";
    CHECK(reply_to(request)["problems"][0]["field"] == "now");
}
