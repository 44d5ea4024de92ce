#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "page.hpp"
#include "run_program.hpp"
#include "schema_check.hpp"
#include "scratch_file.hpp"

namespace {

nlohmann::json patch(std::vector<std::string> arguments) {
    arguments.insert(arguments.begin(), "patch");
    arguments.push_back("--json");
    const Outcome o = run_program(arguments);
    INFO(o.err);
    REQUIRE(o.code == 0);
    REQUIRE(schema_faults("patch", o.out) == "");
    return nlohmann::json::parse(o.out);
}

using Point = std::array<double, 3>;

/// Twice the area inside a ring, with its direction: by the shoelace formula in space.
Point shoelace(const nlohmann::json& ring) {
    Point sum{0, 0, 0};
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Point a = ring[i].get<Point>(), b = ring[(i + 1) % ring.size()].get<Point>();
        sum[0] += a[1] * b[2] - a[2] * b[1];
        sum[1] += a[2] * b[0] - a[0] * b[2];
        sum[2] += a[0] * b[1] - a[1] * b[0];
    }
    return sum;
}

bool has_local_clock(const nlohmann::json& instant, const char* clock) {
    return instant["local"].get<std::string>().find(clock) != std::string::npos;
}

}  // namespace

TEST_CASE("patch fits 80 columns and keeps to the schema for every example", "[cli]") {
    for (const char* name : {"tallow-lane", "flax-road", "sundet"})
        for (const char* date : {"2026-03-29", "2026-06-21", "2026-12-21"}) {
            const Outcome o = run_program({"patch", example(name), "--date", date});
            CAPTURE(name, date, o.err);
            CHECK(o.code == 0);
            CHECK(too_long(o.out) == std::vector<std::string>{});
            patch({example(name), "--date", date});
        }
}

TEST_CASE("instants step from local midnight while the sun is up", "[cli]") {
    const auto json = patch({example("tallow-lane"), "--date", "2026-03-10", "--step", "20"});
    CHECK(json["date"] == "2026-03-10");
    CHECK(json["location"] == "Tallow Lane Press");
    const auto& instants = json["instants"];
    // Sunrise is at 06:32, sunset at 18:00, so the refracted sun is up from 06:40 to 18:00.
    REQUIRE(instants.size() >= 34);
    CHECK(instants.front()["utc"] == "2026-03-10T06:40:00.000Z");
    for (const auto& instant : instants) {
        CHECK(instant["apparent_altitude_deg"].get<double>() > 0);
        CHECK(instant["apparent_altitude_deg"].get<double>() >
              instant["altitude_deg"].get<double>());
        CHECK(std::stoi(instant["utc"].get<std::string>().substr(14, 2)) % 20 == 0);
    }
    // An hour later by the clock on the day when clocks have gone forward.
    const auto summer = patch({example("tallow-lane"), "--date", "2026-03-29", "--step", "60"});
    CHECK(summer["instants"].front()["local"] == "2026-03-29T07:00:00.000+01:00");
    CHECK(summer["instants"].front()["utc"] == "2026-03-29T06:00:00.000Z");
}

TEST_CASE("patches turn towards the light, and their rings enclose their area", "[cli]") {
    std::set<std::string> surfaces;
    for (const char* name : {"tallow-lane", "flax-road"})
        for (const auto& instant :
             member(patch({example(name), "--date", "2026-02-10"}), "instants")) {
            for (const auto& p : instant["patches"]) {
                const std::string surface = p["surface"];
                surfaces.insert(surface.substr(0, surface.find(' ')));
                CHECK(p["area_m2"].get<double>() >= 1e-4);
                CHECK(p["edge_width_m"].get<double>() > 0);
                double area = 0;
                for (const auto& ring : p["outlines"]) {
                    CHECK(ring.size() >= 3);
                    CHECK(ring.front() != ring.back());
                    const Point turn = shoelace(ring);
                    area += std::hypot(turn[0], turn[1], turn[2]) / 2;
                    if (surface == "floor") {
                        CHECK(turn[2] > 0);
                        for (const auto& point : ring)
                            CHECK(std::abs(point[2].get<double>()) < 1e-6);
                    }
                }
                CAPTURE(surface, p["outlines"].dump());
                // A ring with a hole encloses more than is lit; there is none in these rooms.
                CHECK(area == Approx(p["area_m2"].get<double>()).margin(1e-5).epsilon(1e-4));
            }
            for (const auto& mark : instant["marks"])
                for (const auto& [window, fraction] : mark["coverage"].items()) {
                    CHECK(fraction.get<double>() > 0);
                    CHECK(fraction.get<double>() <= 1);
                }
        }
    CHECK(surfaces == std::set<std::string>{"floor", "object", "wall"});
}

TEST_CASE("numbers carry at least five decimals", "[cli]") {
    // Were they rounded coarser, all of them would be multiples of the coarser unit.
    int fine_angles = 0, fine_metres = 0;
    const auto is_fine = [](double value) {
        const double in_coarse = value * 1e4;
        return std::abs(in_coarse - std::round(in_coarse)) > 1e-3;
    };
    for (const auto& instant :
         member(patch({example("tallow-lane"), "--date", "2026-02-10"}), "instants")) {
        if (is_fine(instant["azimuth_deg"]) && is_fine(instant["altitude_deg"]) &&
            is_fine(instant["apparent_altitude_deg"]))
            ++fine_angles;
        for (const auto& p : instant["patches"])
            if (is_fine(p["area_m2"]) && is_fine(p["outlines"][0][0][0])) ++fine_metres;
    }
    CHECK(fine_angles > 10);
    CHECK(fine_metres > 10);
}

TEST_CASE("a range of dates stands in days", "[cli]") {
    const auto json = patch(
        {example("flax-road"), "--from", "2026-06-30", "--to", "2026-07-02", "--step", "120"});
    REQUIRE(json["days"].size() == 3);
    CHECK(json["days"][0]["date"] == "2026-06-30");
    CHECK(json["days"][2]["date"] == "2026-07-02");
    CHECK(patch({example("flax-road"), "--from", "2026-06-30", "--to", "2026-06-30"})["days"]
              .size() == 1);
}

TEST_CASE("patch answers for one local time", "[cli]") {
    const auto json = patch({example("tallow-lane"), "--date", "2026-06-10", "--time", "14:30"});
    REQUIRE(json["instants"].size() == 1);
    CHECK(json["instants"][0]["utc"] == "2026-06-10T13:30:00.000Z");
    CHECK(has_local_clock(json["instants"][0], "T14:30:00.000+01:00"));
    const std::string table = run_program({"patch", example("tallow-lane"), "--date", "2026-06-10",
                                           "--time", "14:30", "--show", "corners"})
                                  .out;
    CHECK(holds(table, "\nWed 10 June 2026, UTC+01:00\n14:30: sun towards "));
    CHECK(holds(table, "floor through press window: "));
    CHECK(holds(
        run_program({"patch", example("tallow-lane"), "--date", "2026-02-10", "--time", "13:30"})
            .out,
        "\nmark type case: 100 % lit through case window; "));
    CHECK(holds(table, "\nx, y: metres of the plan; z: above the floor\n"));
}

TEST_CASE("at a time without sun patch says so and lists nothing", "[cli]") {
    const std::vector<std::string> night{
        "patch", example("tallow-lane"), "--date", "2026-03-10", "--time", "03:20"};
    CHECK(holds(run_program(night).out, "\nthe sun is not up at 03:20 (24-hour clock)\n"));
    CHECK(patch({example("tallow-lane"), "--date", "2026-03-10", "--time", "03:20"})["instants"]
              .empty());
    // Behind the warehouse or the skyline: up, but not in the room.
    CHECK(holds(
        run_program({"patch", example("tallow-lane"), "--date", "2026-12-21", "--time", "08:30"})
            .out,
        "; NO DIRECT SUN in the room\n"));
}

TEST_CASE("a sheer or a blackout lets no patch through", "[cli]") {
    for (const auto& instant :
         member(patch({example("tallow-lane"), "--date", "2026-06-21"}), "instants"))
        for (const auto& p : instant["patches"])
            CHECK(p["window"] != "yard window");
}

TEST_CASE("a local time that is skipped or repeated is refused with both readings", "[cli]") {
    const Outcome skipped =
        run_program({"patch", example("tallow-lane"), "--date", "2026-03-29", "--time", "01:30"});
    CHECK(skipped.code == 2);
    CHECK(skipped.out.empty());
    CHECK(skipped.err.starts_with("--time: 2026-03-29T01:30:00 does not exist in Europe/London"));
    CHECK(holds(skipped.err, "2026-03-29T02:30:00+01:00"));
    CHECK(holds(skipped.err, "2026-03-29T00:30:00+00:00"));
    const Outcome repeated =
        run_program({"patch", example("tallow-lane"), "--date", "2026-10-25", "--time", "01:30"});
    CHECK(repeated.code == 2);
    CHECK(holds(repeated.err, "happens twice"));
    // In a range nothing is written before.
    const Outcome range = run_program({"patch", example("tallow-lane"), "--from", "2026-03-28",
                                       "--to", "2026-03-30", "--time", "01:30", "--json"});
    CHECK(range.code == 2);
    CHECK(range.out.empty());
}

TEST_CASE("patch says what it does not accept", "[cli]") {
    const std::string press = example("tallow-lane");
    struct Case {
        std::vector<std::string> arguments;
        int code;
        std::string message;
    };
    const Case cases[] = {
        {{press, "--time", "3:20"},
         2,
         "--time: \"3:20\" may be morning or afternoon; write 03:20 or 15:20\n"},
        {{press, "--time", "10:00", "--step", "10"}, 2, "--time and --step: give one of them\n"},
        {{press, "--step", "1441"}, 2, "--step: accepted: 1 to 1440 minutes\n"},
        {{press, "--step", "-5"}, 2, "--step: accepted: 1 to 1440 minutes\n"},
        {{press, "--faces", "225"},
         2,
         "a location file has its own room: give the file, or the room by flags, not both\n"},
        {{},
         2,
         "no location: give a location file, or a room by flags: --position --zone --faces --north "
         "--opening --sill --reveal --room --mark-distance\n"},
        {{"--position", "52N 0E", "--faces", "225"},
         2,
         "a room by flags also needs --zone --north --opening --sill --reveal --room "
         "--mark-distance\n"},
    };
    for (Case c : cases) {
        c.arguments.insert(c.arguments.begin(), "patch");
        c.arguments.insert(c.arguments.end(), {"--date", "2026-03-10"});
        const Outcome o = run_program(c.arguments);
        CHECK(o.code == c.code);
        CHECK(o.err == c.message);
        CHECK(o.out.empty());
    }
}

TEST_CASE("a question about a room needs a room with what it asks about", "[cli]") {
    const std::string text = example_text("tallow-lane");
    const ScratchFile bare{"keyhour-no-room.toml",
                           "format = 1\n[site]\nposition = \"10N 20E\"\ntime_zone = \"UTC0\"\n"};
    std::string windowless = without_tables(without_tables(text, "window"), "camera");
    const ScratchFile no_window{"keyhour-no-window.toml", windowless};
    const ScratchFile no_mark{"keyhour-no-mark.toml",
                              without_tables(without_tables(text, "mark"), "camera")};
    const std::vector<std::string> commands[] = {
        {"patch"}, {"key"}, {"key", "--by", "lamp"}, {"lock", "--minutes", "60"}};
    for (std::vector<std::string> command : commands) {
        const auto ask = [&](const std::string& path) {
            auto arguments = command;
            arguments.insert(arguments.end(), {path, "--date", "2026-03-10"});
            return run_program(arguments);
        };
        CHECK(ask(bare.path).code == 1);
        CHECK(ask(bare.path).err == bare.path + ": has no [room]; this question needs one\n");
        CHECK(ask(no_window.path).code == 1);
        CHECK(ask(no_window.path).err ==
              no_window.path + ": the room has no [[window]]; this question needs one\n");
        const Outcome markless = ask(no_mark.path);
        CHECK(markless.code == (command[0] == "key" ? 1 : 0));
        if (command[0] == "key")
            CHECK(markless.err ==
                  no_mark.path + ": the room has no [[mark]]; this question needs one\n");
    }
}
