#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>
#include <regex>

#include "keyhour/site/dates.hpp"
#include "keyhour/sun/position.hpp"
#include "page.hpp"
#include "read/location_file.hpp"
#include "run_program.hpp"
#include "schema_check.hpp"

namespace {

nlohmann::json day(const char* position, const char* zone, const char* date) {
    const Outcome o =
        run_program({"day", "--position", position, "--zone", zone, "--date", date, "--json"});
    INFO(o.err);
    REQUIRE(o.code == 0);
    REQUIRE(schema_faults("day", o.out) == "");
    return nlohmann::json::parse(o.out);
}

std::vector<nlohmann::json> events(const nlohmann::json& day, const char* kind) {
    std::vector<nlohmann::json> found;
    for (const auto& event : day["events"])
        if (event["kind"] == kind) found.push_back(event);
    return found;
}

// Minutes between an event and a local time of the clock.
double minutes_off(const nlohmann::json& event, const char* utc) {
    const auto at = keyhour::site::read_utc(event["utc"].get<std::string>());
    return (*at - *keyhour::site::read_utc(utc)).count() / 60;
}

}  // namespace

// NREL/TP-560-34302, table A5.1, for 39.742476 N 105.1786 W on 2003-10-17 (local): sunrise
// 06:12:43, transit 11:46:04, sunset 17:20:19 at UTC-7. Its sunset of that date belongs to the UT
// day and so to the evening before: the sun sets about 1.4 minutes earlier a day. Its events are
// geocentric: parallax moves ours by under a second. From memory.
TEST_CASE("day gives rise and transit of the NREL example", "[cli][published]") {
    const auto json = day("39.742476N 105.1786W", "MST7", "2003-10-17");
    const auto rise = events(json, "rise"), transit = events(json, "transit"),
               set = events(json, "set");
    REQUIRE(rise.size() == 1);
    REQUIRE(transit.size() == 1);
    REQUIRE(set.size() == 1);
    CHECK(std::abs(minutes_off(rise[0], "2003-10-17T13:12:43Z")) < 0.05);
    CHECK(std::abs(minutes_off(transit[0], "2003-10-17T18:46:04Z")) < 0.05);
    CHECK(minutes_off(set[0], "2003-10-18T00:20:19Z") == Approx(-1.4).margin(0.15));
}

TEST_CASE("day lists every event of an ordinary date in order", "[cli]") {
    const auto json = day("52.95N 1.15W", "Europe/London", "2026-03-10");
    std::vector<std::string> kinds;
    for (const auto& event : json["events"])
        kinds.push_back(event["kind"]);
    CHECK(kinds == std::vector<std::string>{"astronomical_dawn", "nautical_dawn", "civil_dawn",
                                            "rise", "first_sun", "transit", "last_sun", "set",
                                            "civil_dusk", "nautical_dusk", "astronomical_dusk"});
    CHECK(json["state"].is_null());
    CHECK(json["absent"].empty());
    CHECK(json["date"] == "2026-03-10");
    const auto transit = events(json, "transit")[0];
    CHECK(transit["azimuth_deg"].get<double>() == Approx(180).margin(0.01));
    const double length = minutes_off(events(json, "set")[0],
                                      events(json, "rise")[0]["utc"].get<std::string>().c_str());
    CHECK(json["day_length_min"].get<double>() == Approx(length).margin(0.001));
    REQUIRE(json["late_light"]["intervals"].size() == 2);
    CHECK(json["late_light"]["intervals"][0]["evening"] == false);
    CHECK(json["late_light"]["intervals"][1]["evening"] == true);
}

TEST_CASE("polar day and polar night are states, not errors", "[cli]") {
    const auto summer = day("69.65N 18.96E", "Europe/Oslo", "2026-06-21");
    CHECK(summer["state"] == "sun_always_up");
    CHECK(events(summer, "rise").empty());
    CHECK(events(summer, "transit").size() == 1);
    CHECK(summer["day_length_min"] == 1440);
    CHECK(summer["absent"].size() == 10);
    const auto winter = day("69.65N 18.96E", "Europe/Oslo", "2026-12-21");
    CHECK(winter["state"] == "sun_always_down");
    CHECK(winter["day_length_min"] == 0);
    CHECK(events(winter, "civil_dawn").size() == 1);
    for (const char* pole : {"90N 0E", "90S 0E"})
        CHECK(day(pole, "UTC", "2026-06-21")["day_length_min"] == (pole[2] == 'N' ? 1440 : 0));
}

TEST_CASE("a short night in a zone ahead of the sun has its set after midnight", "[cli]") {
    // In late June at 65.2 N with clocks two hours ahead the sun sets past midnight: the set before
    // the rise on one date.
    const auto json = day("65.2N 26E", "<+04>-4", "2026-06-21");
    const auto set = events(json, "set"), rise = events(json, "rise");
    REQUIRE(rise.size() == 1);
    REQUIRE(set.size() == 1);
    CHECK(set[0]["utc"].get<std::string>() < rise[0]["utc"].get<std::string>());
    CHECK(json["day_length_min"].get<double>() > 1200);
}

TEST_CASE("two sets can fall on one local date", "[cli]") {
    // Near the end of the polar day the sun sets a quarter of an hour earlier each evening: where
    // it sets just after midnight, it sets again before the next.
    int doubled = 0, days = 0;
    const Outcome o = run_program({"day", "--position", "68.4N 17.4E", "--zone", "Europe/Oslo",
                                   "--from", "2026-06-20", "--to", "2026-08-10", "--json"});
    REQUIRE(o.code == 0);
    REQUIRE(schema_faults("day", o.out) == "");
    const auto json = nlohmann::json::parse(o.out);
    for (const auto& d : json["days"]) {
        ++days;
        if (events(d, "set").size() == 2) ++doubled;
        for (const auto& event : d["events"])
            CHECK(event["local"].get<std::string>().substr(0, 10) == d["date"]);
    }
    CHECK(days == 52);
    CHECK(doubled == 1);
    const Outcome table = run_program({"day", "--position", "68.4N 17.4E", "--zone", "Europe/Oslo",
                                       "--from", "2026-06-20", "--to", "2026-08-10"});
    CHECK(table.out.find("+") != std::string::npos);
}

TEST_CASE("a summer night without astronomical darkness says why", "[cli]") {
    const auto json = day("52.95N 1.15W", "Europe/London", "2026-06-21");
    CHECK(events(json, "astronomical_dawn").empty());
    CHECK(json["state"].is_null());
    CHECK(json["absent"] ==
          nlohmann::json::parse(R"([{"kind": "astronomical_dawn", "why": "sun_stays_above"},
                                    {"kind": "astronomical_dusk", "why": "sun_stays_above"}])"));
}

// job.md, section 4: late light from 6 degrees down to the set takes 45 minutes at 52 degrees in
// March, and 21 to 29 more to 4 degrees below: computed for that note with an independent script.
TEST_CASE("late light lasts as long as an independent computation found", "[cli]") {
    const auto json = day("52N 0E", "UTC", "2026-03-20");
    const auto& evening = json["late_light"]["intervals"][1];
    const auto at = [&](const char* key) {
        return *keyhour::site::read_utc(evening[key].get<std::string>());
    };
    const auto set = *keyhour::site::read_utc(events(json, "set")[0]["utc"].get<std::string>());
    CHECK((set - at("start_utc")).count() / 60 == Approx(45).margin(1));
    CHECK((at("end_utc") - set).count() / 60 == Approx(21).margin(1));
}

// tz database, zone Pacific/Apia: Samoa crossed the date line and left out 2011-12-30.
TEST_CASE("a date that the zone leaves out has no events", "[cli]") {
    const auto json = day("13.8S 171.8W", "Pacific/Apia", "2011-12-30");
    CHECK(json["events"].empty());
    CHECK(json["state"].is_null());
    const Outcome o = run_program(
        {"day", "--position", "13.8S 171.8W", "--zone", "Pacific/Apia", "--date", "2011-12-30"});
    CHECK(o.out.find("\nPacific/Apia leaves this date out\n") != std::string::npos);
}

TEST_CASE("first and last sun stand on the site's own horizon", "[cli]") {
    const std::string path = std::string{KEYHOUR_LOCATIONS} + "/tallow-lane.toml";
    const auto location = keyhour::read::read_location(path);
    REQUIRE(location);
    const auto& site = location->site;
    REQUIRE_FALSE(site.horizon.is_level());
    const Outcome o = run_program({"day", path, "--date", "2026-03-10", "--json"});
    REQUIRE(o.code == 0);
    REQUIRE(schema_faults("day", o.out) == "");
    const auto json = nlohmann::json::parse(o.out);
    for (const char* kind : {"first_sun", "last_sun"}) {
        const auto event = events(json, kind).at(0);
        const auto at = *keyhour::site::read_utc(event["utc"].get<std::string>());
        const auto sun = keyhour::sun::Place{site.observer, site.weather}.position(
            keyhour::sun::geocentric_sun(at));
        CHECK(sun.apparent_altitude.above_horizon.in_degrees() ==
              Approx(site.horizon.altitude_at(sun.azimuth).above_horizon.in_degrees())
                  .margin(1e-4));  // 0.02 s of the sun's climb
    }
    CHECK(events(json, "first_sun")[0]["utc"] > events(json, "rise")[0]["utc"]);
    CHECK(events(json, "last_sun")[0]["utc"] < events(json, "set")[0]["utc"]);
}

TEST_CASE("day opens with what has changed, place and date", "[cli]") {
    const Outcome o = run_program(
        {"day", "--position", "52.95N 1.15W", "--zone", "Europe/London", "--date", "2026-03-29"});
    CHECK(o.code == 0);
    CHECK(o.out.starts_with("CLOCKS CHANGE ON THIS DATE: clocks go forward 1 hour on Sunday"));
    CHECK(o.out.find("\nrise 06:") != std::string::npos);
    const Outcome range =
        run_program({"day", "--position", "52.95N 1.15W", "--zone", "Europe/London", "--from",
                     "2026-03-28", "--to", "2026-03-30"});
    CHECK(range.code == 0);
    CHECK(range.out.find("\nSu 2026-03-29  +01:00 ") != std::string::npos);
    for (const Outcome* outcome : {&o, &range}) {
        std::istringstream lines{outcome->out};
        for (std::string line; std::getline(lines, line);) {
            INFO(line);
            CHECK(line.size() <= 80);
        }
    }
}

TEST_CASE("late light is printed within itself, and as long as its printed minutes", "[cli]") {
    int rows = 0;
    for (const char* date : {"2026-02-14", "2026-03-10", "2026-06-21", "2026-09-30"}) {
        const auto json = day("52.9536N 1.1505W", "Europe/London", date);
        const Outcome o = run_program(
            {"day", "--position", "52.9536N 1.1505W", "--zone", "Europe/London", "--date", date});
        const std::string page = flat(o.out);
        const std::regex row{
            "(?:morning|evening) (\\d\\d):(\\d\\d) to (\\d\\d):(\\d\\d) .(\\d+) h (\\d+) min"};
        std::size_t i = 0;
        for (std::sregex_iterator at{page.begin(), page.end(), row}, end; at != end; ++at, ++i) {
            const auto number = [&](int part) { return std::stoi((*at)[part]); };
            const int from = 60 * number(1) + number(2), to = 60 * number(3) + number(4);
            CAPTURE(date, at->str());
            CHECK(60 * number(5) + number(6) == to - from);
            const auto since_midnight = [&](const char* end_of) {
                const std::string local = json["late_light"]["intervals"][i][end_of];
                return 60 * std::stod(local.substr(11, 2)) + std::stod(local.substr(14, 2)) +
                       std::stod(local.substr(17, 2)) / 60;
            };
            CHECK(from >= since_midnight("start_local") - 1e-9);
            CHECK(to <= since_midnight("end_local") + 1.0 / 60);
            ++rows;
        }
    }
    CHECK(rows == 8);
}
