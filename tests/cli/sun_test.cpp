#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "run_program.hpp"
#include "schema_check.hpp"

namespace {

constexpr const char* kPlace = "52.95N 1.15W";
constexpr const char* kZone = "Europe/London";

}  // namespace

// NREL/TP-560-34302 (Reda & Andreas 2004), section A.5 and table A5.1: 2003-10-17 12:30:30 at
// UTC-7, 39.742476 N 105.1786 W, 1830.14 m. Airless topocentric elevation 39.872046, azimuth
// 194.340241 degrees. Their delta T is 67 s, ours 64.2 s: 0.1 arcsec. The table gives refraction
// for 820 hPa and 11 C, so the apparent altitude is not compared. From memory.
TEST_CASE("sun gives the position of the NREL example", "[cli][published]") {
    const Outcome o = run_program({"sun", "--position", "39.742476N 105.1786W", "--zone",
                                   "America/Denver", "--elevation", "1830.14", "--date",
                                   "2003-10-17", "--time", "13:30:30", "--json"});
    REQUIRE(o.code == 0);
    CHECK(schema_faults("sun", o.out) == "");
    const auto json = nlohmann::json::parse(o.out);
    REQUIRE(json["rows"].size() == 1);
    const auto& row = json["rows"][0];
    CHECK(row["utc"] == "2003-10-17T19:30:30Z");
    CHECK(row["local"] == "2003-10-17T13:30:30-06:00");
    CHECK(row["azimuth_deg"].get<double>() == Approx(194.340241).margin(0.0005));
    CHECK(row["altitude_deg"].get<double>() == Approx(39.872046).margin(0.0005));
}

TEST_CASE("sun answers a day in steps, a time, and a range", "[cli]") {
    const auto rows_of = [](const std::vector<std::string>& arguments) {
        const Outcome o = run_program(arguments);
        REQUIRE(o.code == 0);
        REQUIRE(schema_faults("sun", o.out) == "");
        return nlohmann::json::parse(o.out);
    };
    CHECK(rows_of({"sun", "--position", kPlace, "--zone", kZone, "--date", "2026-03-10",
                   "--json"})["rows"]
              .size() == 24);
    // 29 March has 23 hours, 25 October has 25.
    const auto spring = rows_of({"sun", "--position", kPlace, "--zone", kZone, "--date",
                                 "2026-03-29", "--step", "30", "--json"});
    CHECK(spring["rows"].size() == 46);
    CHECK(spring["rows"][2]["local"] == "2026-03-29T02:00:00+01:00");
    CHECK(rows_of({"sun", "--position", kPlace, "--zone", kZone, "--date", "2026-10-25", "--step",
                   "30", "--json"})["rows"]
              .size() == 50);
    const auto range = rows_of({"sun", "--position", kPlace, "--zone", kZone, "--from",
                                "2026-03-28", "--to", "2026-03-30", "--time", "12:00", "--json"});
    REQUIRE(range["days"].size() == 3);
    CHECK_FALSE(range.contains("rows"));
    CHECK(range["days"][2]["date"] == "2026-03-30");
    CHECK(range["days"][2]["rows"][0]["utc"] == "2026-03-30T11:00:00Z");
    const auto one = rows_of({"sun", "--position", kPlace, "--zone", kZone, "--from", "2026-03-28",
                              "--to", "2026-03-28", "--time", "12:00", "--json"});
    CHECK(one["days"].size() == 1);
}

TEST_CASE("sun answers on the first and the last date served, in every zone", "[cli]") {
    for (const char* zone : {"<+14>-14", "<-12>12"})
        for (const char* date : {"1800-01-02", "2199-12-30"})
            CHECK(run_program({"sun", "--position", "0N 180E", "--zone", zone, "--date", date,
                               "--step", "1", "--json"})
                      .code == 0);
}

TEST_CASE("sun prints a table that opens with what was understood", "[cli]") {
    const Outcome o = run_program(
        {"sun", "--position", kPlace, "--zone", kZone, "--date", "2026-07-10", "--time", "15:00"});
    CHECK(o.code == 0);
    CHECK(o.err.empty());
    CHECK(o.out.starts_with("52.95N 1.15W, 52.95 NORTH 1.15 WEST\nFri 10 July 2026, UTC+01:00\n"));
    const Outcome read_back = run_program({"sun", "--position", kPlace, "--zone", kZone, "--date",
                                           "2026-07-10", "--show", "readback"});
    CHECK(read_back.out.ends_with(
        "position: 52.95 degrees NORTH, 1.15 degrees WEST\n"
        "in minutes: 52 deg 57.00 min N, 1 deg 9.00 min W; 0 m above the sea\n"
        "date: Friday 10 July 2026\n"
        "clocks: Europe/London, UTC+01:00 on this date\n"
        "horizon: level all round\n"));
    CHECK(o.out.find("\n  15:00  UTC+01:00  ") != std::string::npos);
    std::istringstream lines{o.out};
    for (std::string line; std::getline(lines, line);)
        CHECK(line.size() <= 80);
}

TEST_CASE("a time that the date lacks is bad data, and spoils only its date of a range", "[cli]") {
    const Outcome one = run_program({"sun", "--position", kPlace, "--zone", kZone, "--date",
                                     "2026-03-29", "--time", "01:30", "--json"});
    CHECK(one.code == 1);
    CHECK(one.out.empty());
    CHECK(one.err.starts_with("--time: 2026-03-29T01:30:00 does not exist in Europe/London"));
    const Outcome range =
        run_program({"sun", "--position", kPlace, "--zone", kZone, "--from", "2026-03-28", "--to",
                     "2026-03-30", "--time", "01:30", "--json"});
    CHECK(range.code == 3);
    CHECK(schema_faults("sun", range.out) == "");
    CHECK(nlohmann::json::parse(range.out)["days"].size() == 2);
    CHECK(range.err.starts_with("--time: 2026-03-29T01:30:00 does not exist"));
}

TEST_CASE("rows are answered in order, with their own columns kept", "[cli]") {
    const Outcome o =
        run_program({"sun", "--rows", "-"},
                    "name,utc,latitude_deg,longitude_deg,elevation_m\r\n"
                    "\"a, \"\"b\"\"\",2003-10-17T19:30:30Z,39.742476,-105.1786,1830.14\r\n");
    CHECK(o.code == 0);
    CHECK(o.err.empty());
    std::istringstream lines{o.out};
    std::string header, row;
    std::getline(lines, header);
    std::getline(lines, row);
    CHECK(header ==
          "name,utc,latitude_deg,longitude_deg,elevation_m,azimuth_deg,altitude_deg,"
          "apparent_altitude_deg,declination_deg,right_ascension_deg,distance_au\r");
    CHECK(row.starts_with(
        "\"a, \"\"b\"\"\",2003-10-17T19:30:30Z,39.742476,-105.1786,1830.14,194.34"));
    CHECK(row.back() == '\r');
}

TEST_CASE("bad rows are told with line and column, and the rest answered", "[cli]") {
    const Outcome o = run_program({"sun", "--rows", "-"},
                                  "utc,latitude_deg,longitude_deg\n"
                                  "2026-03-10T15:00:00Z,52.95,-1.15\n"
                                  "2026-03-10T15:00:00Z,91,-1.15\n"
                                  "03/04/2026 15:00,52.95,-1.15\n"
                                  "2026-03-10T15:00:00Z,52.95\n"
                                  "2026-03-10T15:00:00Z,52.95,west\n"
                                  "2026-03-10T15:00:00Z,\"52.95\"x,0\n"
                                  "2026-03-10T15:00:00Z,nan,0\n"
                                  "9999-03-10T15:00:00Z,0,0\n"
                                  "2026-03-10T16:00:00Z,+52.95, -1.15\n");
    CHECK(o.code == 3);
    CHECK(o.err ==
          "standard input:3: row 2, column latitude_deg: found \"91\"; accepted: -90 to 90\n"
          "standard input:4: row 3, column utc: found \"03/04/2026\" is two dates: 3 April and 4 "
          "March; write 2026-04-03 or 2026-03-04; accepted: such as 2026-03-10T15:03:12Z\n"
          "standard input:5: row 4: found 2 fields; accepted: 3, as in the header\n"
          "standard input:6: row 5, column longitude_deg: found \"west\"; accepted: -180 to 180\n"
          "standard input:7: row 6: found something stands after a closing quote; accepted: quotes "
          "by RFC 4180\n"
          "standard input:8: row 7, column latitude_deg: found \"nan\"; accepted: -90 to 90\n"
          "standard input:9: row 8, column utc: found \"9999-03-10\": the year 9999 is not served; "
          "accepted: 1800-01-02 to 2199-12-30; accepted: such as 2026-03-10T15:03:12Z\n"
          "7 of 9 rows could not be answered\n");
    CHECK(std::count(o.out.begin(), o.out.end(), '\n') == 3);
}

TEST_CASE("rows without a usable header are bad data", "[cli]") {
    const auto refused = [](const std::string& input) {
        const Outcome o = run_program({"sun", "--rows", "-"}, input);
        CHECK(o.code == 1);
        CHECK(o.out.empty());
        return o.err;
    };
    CHECK(refused("") ==
          "standard input:1: found nothing; accepted: a header with "
          "utc,latitude_deg,longitude_deg\n");
    CHECK(refused("utc,latitude,longitude_deg\n") ==
          "standard input:1: found no column \"latitude_deg\" (is \"latitude\" meant?); accepted: "
          "utc,latitude_deg,longitude_deg: rename \"latitude\" to \"latitude_deg\"; times in UTC, "
          "ending in Z\n");
    CHECK(refused("utc,latitude_deg,longitude_deg,azimuth_deg\n") ==
          "standard input:1: found a column \"azimuth_deg\"; accepted: a name that the answer does "
          "not use\n");
    CHECK(run_program({"sun", "--rows", "no-such.csv"}).code == 1);
    CHECK(run_program({"sun", "--rows", KEYHOUR_TEST_DATA}).code == 1);  // a folder
    CHECK(run_program({"sun", "--rows", "-"}, "utc,latitude_deg,longitude_deg\nx,0,0\n").code == 1);
}
