// Zones where there are no zone files: a table made of another machine's.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "cli/scratch_file.hpp"
#include "keyhour/site/zone.hpp"
#include "pocket/answer.hpp"
#include "site/zone_table.hpp"
#include "tell/zone_table_document.hpp"

namespace {

using namespace keyhour;
using Json = nlohmann::ordered_json;

/// The machine's zones again, whatever a test did.
struct MachineAgain {
    ~MachineAgain() { static_cast<void>(site::use_zone_table({})); }
};

Json reply_to(const Json& request) {
    return Json::parse(pocket::answer(request.dump()));
}

}  // namespace

TEST_CASE("a table of the machine's zones tells every clock as the machine does", "[pocket]") {
    const MachineAgain again;
    const std::vector<std::string> names = site::system_zones().names();
    std::vector<site::Zone> zones;
    for (const std::string& name : names)
        zones.push_back(*site::Zone::named(name));
    const auto rows = tell::zone_table_in(tell::json_of(site::zone_table_of(site::system_zones())));
    REQUIRE(rows);
    REQUIRE_FALSE(site::use_zone_table(*rows));
    std::size_t known = 0;
    constexpr double first_s = 1577836800, week_s = 7 * 86400.0;  // 2020-01-01
    for (std::size_t i = 0; i < names.size(); ++i) {
        const auto zone = site::Zone::named(names[i]);
        if (!zone) continue;
        ++known;
        INFO(names[i]);
        std::size_t other = 0;
        for (double t = first_s; t < first_s + 930 * week_s; t += week_s / 2) {
            const auto a = zones[i].at(Instant::from_unix_s(t)),
                       b = zone->at(Instant::from_unix_s(t));
            other += a.utc_offset != b.utc_offset || a.abbreviation != b.abbreviation;
        }
        CHECK(other == 0);
    }
    CHECK(known + 5 > names.size());
}

TEST_CASE("a zone of the table is understood, and another is told with the nearest", "[pocket]") {
    const MachineAgain again;
    const Json table{{"Europe/London", "GMT0BST,M3.5.0/1,M10.5.0"},
                     {"Asia/Kathmandu", "<+0545>-5:45"}};
    CHECK(reply_to({{"ask", "zones"}, {"table", table}})["zones"] == 2);
    Json request{{"ask", "key"}, {"location", example_text("tallow-lane")}, {"date", "2026-02-17"}};
    CHECK(reply_to(request)["ok"] == true);
    request["location"] = changed(example_text("tallow-lane"), "Europe/London", "Europe/Londn");
    const Json refused = reply_to(request);
    CHECK(refused["ok"] == false);
    CHECK(refused["problems"][0]["field"] == "site.time_zone");
    CHECK(refused["problems"][0]["text"].get<std::string>().find(
              "did you mean \"Europe/London\"?") != std::string::npos);
    CHECK(reply_to({{"ask", "about"}})["zones"].size() == 2);
}

TEST_CASE("a table with a fault is refused whole", "[pocket]") {
    const MachineAgain again;
    const std::size_t before = reply_to({{"ask", "about"}})["zones"].size();
    for (const Json& table :
         {Json{{"A/B", "nonsense"}}, Json{{"A/B", 3}}, Json::array(),
          Json{{"A/B", {{"rule", "UTC0"}, {"changes", {{1, 2}}}}}},
          Json{{"A/B",
                {{"rule", "UTC0"}, {"changes", {{9, 0, false, "A"}, {1, 0, false, "B"}}}}}}}) {
        INFO(table.dump());
        CHECK(reply_to({{"ask", "zones"}, {"table", table}})["ok"] == false);
        CHECK(reply_to({{"ask", "about"}})["zones"].size() == before);
    }
}
