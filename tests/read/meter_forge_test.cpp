// [[meter]] and [[forge]] in a location file, sound and not.

#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "read/location_file.hpp"

using namespace keyhour;
using namespace keyhour::read;

namespace {

/// 28 lines; the table that a test adds begins on line 29.
const std::string room_text =
    "format = 1\n"
    "[site]\n"
    "position = \"52.9536N 1.1505W\"\n"
    "time_zone = \"Europe/London\"\n"
    "[room]\n"
    "floor = [[0, 0], [6, 0], [6, 4], [0, 4]]\n"
    "walls = [\"street\", \"right\", \"back\", \"left\"]\n"
    "height_m = 3\n"
    "bearing = { wall = \"street\", faces = 196, north = \"true\" }\n"
    "[[window]]\n"
    "name = \"window\"\n"
    "wall = \"street\"\n"
    "left_m = 1\n"
    "width_m = 1.4\n"
    "sill_m = 0.8\n"
    "height_m = 1.6\n"
    "reveal_m = 0.3\n"
    "[[object]]\n"
    "name = \"anvil block\"\n"
    "footprint = [[4, 2], [5, 2], [5, 3], [4, 3]]\n"
    "height_m = 0.9\n"
    "[[mark]]\n"
    "name = \"anvil\"\n"
    "at = [3, 2]\n"
    "height_m = 1.5\n"
    "\n"
    "\n"
    "\n";

std::vector<std::string> complaints(const std::string& more) {
    const auto read = read_location_text(room_text + more, "t.toml");
    std::vector<std::string> out;
    if (read) return out;
    for (const Problem& p : read.error())
        out.push_back(std::to_string(p.line) + ":" + std::to_string(p.column) + ": " + p.message());
    return out;
}

site::FoundLight sound(const std::string& more) {
    auto read = read_location_text(room_text + more, "t.toml");
    if (!read) FAIL(read::text(read.error()));
    return std::move(read->found);
}

std::string one(const std::string& more) {
    const auto all = complaints(more);
    INFO(more);
    for (const std::string& c : all)
        UNSCOPED_INFO(c);
    CHECK(all.size() == 1);
    return all.empty() ? "" : all.front();
}

bool has(const std::string& text, const std::string& part) {
    UNSCOPED_INFO(text);
    return text.find(part) != std::string::npos;
}

const std::string meter = "[[meter]]\nmark = \"anvil\"\ntime = 2026-02-12T11:30:00\n";
const std::string hearth =
    "[[forge]]\nname = \"hearth\"\nheight_m = 0.9\nopening_width_m = 0.5\n"
    "opening_height_m = 0.3\nat_m = 2\n";

}  // namespace

TEST_CASE("a meter reading is read at a mark, at a point and outside", "[read][meter]") {
    const auto l = sound(meter + "lux = 420\nsky = \"overcast\"\n" +
                         "[[meter]]\nat = [2, 1]\nheight_m = 1.2\ntime = \"2026-02-12T11:40\"\n"
                         "ev = 7.4\nsky = \"mean cloud\"\n"
                         "[[meter]]\nplace = \"outside\"\ntime = 2026-02-12T11:35:00\nlux = 12000\n"
                         "sky = \"clear\"\n");
    REQUIRE(l.readings.size() == 3);
    CHECK(l.readings[0].where == "anvil");
    CHECK(l.readings[0].lx == 420);
    CHECK(l.readings[0].sky == light::Cloud::overcast);
    CHECK(l.readings[0].inside_at->z == 1.5);
    CHECK(l.readings[1].lx == Approx(422.2).margin(0.05));  // ISO 2720, C = 250
    CHECK(l.readings[1].sky == light::Cloud::mean);
    CHECK(l.readings[1].inside_at->x == 2);
    CHECK_FALSE(l.readings[2].inside_at);
    CHECK(l.readings[2].sky == light::Cloud::none);
}

TEST_CASE("a meter reading that can't be is refused at its place", "[read][meter]") {
    const std::string sky = "sky = \"clear\"\n";
    CHECK(has(one(meter + sky + "lux = 0\n"), "33:7: lux = 0"));
    CHECK(has(one(meter + sky + "lux = 0\n"), "a meter that shows nothing"));
    CHECK(has(one(meter + sky), "neither lux nor ev"));
    CHECK(has(one(meter + sky + "lux = 40\nev = 4\n"), "lux and ev"));
    CHECK(has(one(meter + "lux = 40\n"), "\"sky\" is missing"));
    const std::string night = "[[meter]]\nmark = \"anvil\"\nlux = 40\n" + sky;
    CHECK(has(one(night + "time = 2026-02-12T23:30:00\n"), "degrees below the horizon"));
    CHECK(has(one(night + "time = 2026-02-12T23:30:00\n"), "33:"));
    CHECK(has(one(night + "time = 2026-03-29T01:30:00\n"), "2026-03-29"));  // skipped
    const std::string at = "[[meter]]\ntime = 2026-02-12T11:30:00\nlux = 40\n" + sky;
    CHECK(has(one(at + "at = [7, 2]\nheight_m = 1\n"), "behind a wall"));
    CHECK(has(one(at + "at = [2, 2]\nheight_m = 3.5\n"), "above the ceiling"));
    CHECK(has(one(at + "mark = \"anvl\"\n"), "anvil"));
    CHECK(has(one(at + "mark = \"anvil\"\nat = [2, 2]\n"), "says twice"));
}

TEST_CASE("a forge is read with its usual colour or its own", "[read][forge]") {
    const auto l = sound(hearth + "at = [3, 4]\ntoward = [3, 0]\nlux = 320\n");
    REQUIRE(l.forges.size() == 1);
    const site::Forge& f = l.forges.front();
    CHECK(f.kelvin == 1500);
    CHECK(f.metered_lx == 320);
    CHECK(f.facing.y == Approx(-1));
    CHECK(f.at.z == 0.9);
    const auto up =
        sound(hearth + "at = [3, 3]\ntoward = [3, 0]\ntilt_deg = 90\nev = 7\nkelvin = 1350\n");
    CHECK(up.forges.front().facing.z == Approx(1));
    CHECK(up.forges.front().metered_lx == Approx(320));
    CHECK(up.forges.front().kelvin == 1350);
}

TEST_CASE("a forge inside a wall or an object is refused", "[read][forge]") {
    CHECK(has(one(hearth + "at = [3, 4.2]\ntoward = [3, 0]\nlux = 320\n"),
              "35:6: forge \"hearth\" is inside or behind wall \"back\""));
    CHECK(has(one(hearth + "at = [3, 4]\ntoward = [3, 6]\nlux = 320\n"), "wall \"back\""));
    CHECK(has(one("[[forge]]\nname = \"hearth\"\nheight_m = 0.4\nopening_width_m = 0.5\n"
                  "opening_height_m = 0.3\nat_m = 2\nat = [4.5, 2.5]\ntoward = [3, 0]\nlux = 9\n"),
              "inside object \"anvil block\""));
    CHECK(has(one(hearth + "at = [3, 3]\ntoward = [3, 3]\nlux = 320\n"), "own place"));
    CHECK(has(one(hearth + "at = [3, 3]\ntoward = [3, 0]\n"), "neither lux nor ev"));
}
