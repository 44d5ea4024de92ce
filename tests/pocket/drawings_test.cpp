// The drawings of a page, and the numbers by which a finger is laid on them.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "cli/run_program.hpp"
#include "cli/scratch_file.hpp"
#include "pocket/answer.hpp"

namespace {

using Json = nlohmann::ordered_json;

Json drawn(const Json& more) {
    Json request{
        {"ask", "draw"}, {"location", example_text("tallow-lane")}, {"date", "2026-02-17"}};
    request.update(more);
    const Json reply = Json::parse(keyhour::pocket::answer(request.dump()));
    INFO(reply.dump());
    REQUIRE(reply["ok"] == true);
    return reply;
}

}  // namespace

TEST_CASE("plan and strip come with scale and origin, and fill what they stand in", "[pocket]") {
    const Json reply = drawn({{"time", "14:30"}});
    const std::string plan = reply["drawings"]["plan"];
    CHECK(plan.starts_with("<svg"));
    CHECK(plan.find("id=\"plan-now\"") != std::string::npos);
    const Json& frame = reply["document"]["plan"];
    CHECK(frame["width_mm"] == 92);
    CHECK(frame["mm_per_m"].get<double>() > 2);
    CHECK(frame["hours_utc"] == Json{"2026-02-17T14:30:00Z"});
    const Json& strip = reply["document"]["strip"];
    CHECK(strip["mm_per_h"].get<double>() > 1);
    CHECK(reply["drawings"]["strip"].get<std::string>().starts_with("<svg"));
}

TEST_CASE("a mark that moves takes its place on the plan with it", "[pocket]") {
    const Json before = drawn({{"only", "plan"}});
    const Json after = drawn({{"only", "plan"}, {"changes", {"mark.type case.at=[3.6, 1.8]"}}});
    CHECK(before["document"]["plan"]["mm_per_m"] == after["document"]["plan"]["mm_per_m"]);
    CHECK(before["drawings"]["plan"] != after["drawings"]["plan"]);
    CHECK_FALSE(after["drawings"].contains("strip"));
}

TEST_CASE("the sheet's papers are those that the command writes", "[pocket]") {
    const Json request{
        {"ask", "sheet"}, {"location", example_text("tallow-lane")}, {"date", "2026-02-17"}};
    const Json reply = Json::parse(keyhour::pocket::answer(request.dump()));
    const Outcome sheet = run_program(
        {"sheet", example("tallow-lane"), "--date", "2026-02-17", "--only", "page", "-o", "-"});
    REQUIRE(sheet.code == 0);
    CHECK(reply["files"]["sheet.html"] == sheet.out);
}
