// Skylines from files and surveys, trees, and what stands around a site without a room.
#include <algorithm>
#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "keyhour/site/magnetic.hpp"
#include "keyhour/site/outlook.hpp"
#include "keyhour/site/read_back.hpp"
#include "read/location_file.hpp"
#include "support/scratch_folder.hpp"

using namespace keyhour;
using namespace keyhour::read;
using keyhour::test::ScratchFolder;
using namespace date::literals;

namespace {

const std::string head =
    "format = 1\n"
    "[site]\n"
    "position = \"52.9536N 1.1505W\"\n"
    "time_zone = \"Europe/London\"\n";

site::Location sound(const std::string& text, const std::string& name = "t.toml") {
    auto read = read_location_text(text, name);
    if (!read) FAIL(read::text(read.error()));
    return *std::move(read);
}

/// "LINE:COLUMN: FOUND; ACCEPTED" of each.
std::vector<std::string> complaints(const std::string& text, const std::string& name = "t.toml") {
    const auto read = read_location_text(text, name);
    std::vector<std::string> out;
    if (read) return out;
    for (const Problem& p : read.error())
        out.push_back(std::to_string(p.line) + ":" + std::to_string(p.column) + ": " + p.message());
    return out;
}

std::vector<std::string> list(std::initializer_list<const char*> lines) {
    return {lines.begin(), lines.end()};
}

double altitude(const site::Location& place, double bearing) {
    return place.site.horizon.altitude_at({Angle::degrees(bearing)}).above_horizon.in_degrees();
}

bool tells(const site::Location& place, const std::string& line, site::LocalDate first,
           site::LocalDate last) {
    for (const std::string& told : site::read_back(place, first, last))
        if (told == line) return true;
    for (const std::string& told : site::read_back(place, first, last))
        UNSCOPED_INFO(told);
    return false;
}

std::string tree(const std::string& rest) {
    return head + "[[tree]]\nname = \"lime\"\n" + rest;
}

}  // namespace

TEST_CASE("a skyline is read from a CSV beside the location file", "[read]") {
    const ScratchFolder folder;
    folder.write("skyline.csv", "altitude_deg,bearing_deg\r\n3,10\r\n6.5,90\r\n2,200\r\n");
    const auto place = sound(head + "horizon = { file = \"skyline.csv\", north = \"true\" }\n",
                             folder.path("a.toml"));
    CHECK(place.site.horizon.points().size() == 3);
    CHECK(altitude(place, 90) == Approx(6.5));
    CHECK(tells(place,
                "horizon: 3 bearings from a file, true, highest 6.5 degrees towards east (90 true)",
                2026_y / 1 / 1, 2026_y / 1 / 1));
}

TEST_CASE("a magnetic survey is turned by the magnetic model's declination", "[read]") {
    const std::string survey =
        "horizon = { survey = [[0, 3], [90, 6], [180, 2]], north = \"magnetic\", measured = "
        "\"2026-07-02\" }\n";
    const auto place = sound(head + survey);
    // 2 July 2026: 182 of 365 days have passed.
    const auto by = site::declination(place.site.observer, 2026 + 182.0 / 365);
    REQUIRE(by.has_value());
    CHECK(place.site.horizon_source.declination.in_degrees() == Approx(by->in_degrees()));
    CHECK(altitude(place, 90 + by->in_degrees()) == Approx(6));
    CHECK(place.questions.empty());
    CHECK(place.site.horizon_source.magnetic);
    const auto undated =
        sound(head + "horizon = { survey = [[0, 3], [90, 6]], north = \"magnetic\" }\n");
    REQUIRE(undated.questions.size() == 1);
    CHECK(undated.questions[0].starts_with("horizon: on which day was the compass read?"));
    const auto unturned =
        sound(head + "horizon = { survey = [[0, 3], [90, 6]], north = \"true\" }\n");
    CHECK(altitude(unturned, 90) == Approx(6));
}

TEST_CASE("a horizon has one source, and a survey says which north", "[read]") {
    CHECK(complaints(head + "horizon = { survey = [[0, 3]] }\n") ==
          list({"5:11: \"north\" is missing in horizon; accepted: \"true\" or \"magnetic\""}));
    CHECK(complaints(head + "horizon = { north = \"true\" }\n") ==
          list({"5:11: the horizon has no source; accepted: one of survey = [[bearing, altitude], "
                "...], file = \"skyline.csv\", terrain = \"folder\""}));
    CHECK(complaints(head + "horizon = { survey = [[0, 3]], terrain = \"x\", north = \"true\" }\n")
              .size() == 2);
    CHECK(complaints(head + "horizon = { surwey = [[0, 3]], north = \"true\" }\n").back() ==
          "5:13: unknown key \"surwey\" in horizon; did you mean \"survey\"?");
    CHECK(
        complaints(head + "horizon = { survey = [[0, 3], [360, 4]], north = \"true\" }\n") ==
        list({"5:22: the horizon has two altitudes at bearing 360; each bearing stands once; 0 and "
              "360 are the same"}));
    CHECK(complaints(head + "horizon = { survey = [[400, 3]], north = \"true\" }\n") ==
          list({"5:24: survey = 400 in horizon is out of range; accepted: a bearing of 0 to 360 "
                "degrees"}));
    CHECK(complaints(head + "horizon = { survey = [[40, 3]], north = \"magnetic\", measured = "
                            "\"2035-01-01\" }\n")
              .size() == 1);
}

TEST_CASE("a broken skyline file is told line by line", "[read]") {
    const ScratchFolder folder;
    const std::string text = head + "horizon = { file = \"s.csv\", north = \"true\" }\n";
    const auto told = [&](const std::string& csv) {
        folder.write("s.csv", csv);
        return complaints(text, folder.path("a.toml"));
    };
    CHECK(told("bearing,altitude_deg\n0,1\n") ==
          list({"1:1: unknown column \"bearing\"; did you mean \"bearing_deg\"?"}));
    CHECK(told("bearing_deg\n0\n") ==
          list({"1:1: the column \"altitude_deg\" is missing; accepted: a CSV with the columns "
                "bearing_deg and altitude_deg, a header first"}));
    CHECK(told("bearing_deg,bearing_deg\n0,1\n").size() == 1);
    CHECK(told("bearing_deg,altitude_deg\n0,1\n370,2\n90,high\n100,3,4\n120,-1\n") ==
          list({"3:1: bearing_deg 370 is out of range; accepted: 0 to 360 degrees",
                "4:4: altitude_deg \"high\" is not a number; accepted: 0 to 89 degrees",
                "5:1: 3 fields in this line; accepted: two, as in the header",
                "6:5: altitude_deg -1 is out of range; accepted: 0 to 89 degrees"}));
    CHECK(told("bearing_deg,altitude_deg\n0,1\n90,2\n80,3\n90,4\n") ==
          list({"4:1: bearing 80 comes after 90; bearings ascend, each once",
                "5:1: bearing 90 stands twice; bearings ascend, each once"}));
    CHECK(told("bearing_deg,altitude_deg\n0,1\n360,2\n") ==
          list({"3:1: bearing 360 beside bearing 0; each bearing stands once; 0 and 360 are the "
                "same"}));
    CHECK(told("bearing_deg,altitude_deg\n0,\"1\n").front().find("a quote is opened") !=
          std::string::npos);
    CHECK(told("bearing_deg,altitude_deg\n0,nan\n").size() == 1);
    CHECK(told("").front() ==
          "0:0: the file holds no skyline; accepted: a CSV with the columns bearing_deg and "
          "altitude_deg, a header first");
    CHECK(complaints(head + "horizon = { file = \"none.csv\", north = \"true\" }\n",
                     folder.path("a.toml"))
              .front()
              .starts_with("0:0: the file cannot be read: "));
    CHECK(
        complaints(head + "horizon = { file = \"..\", north = \"true\" }\n", folder.path("a.toml"))
            .front()
            .starts_with("0:0: this is a folder; "));
}

TEST_CASE("a tree is outlined, or has a place and a crown", "[read]") {
    const auto outlined = sound(
        tree("footprint = [[0, 0], [4, 0], [4, 4]]\nheight_m = 12\nleaf = [\"05\", \"10\"]\n"));
    REQUIRE(outlined.trees.size() == 1);
    CHECK(outlined.trees[0].opacity == site::usual_opacity);
    CHECK(outlined.trees[0].bare_opacity == site::usual_bare_opacity);
    CHECK(outlined.trees[0].first_leaf == date::May);
    CHECK(outlined.trees[0].last_leaf == date::October);
    const auto round =
        sound(tree("at = [10, -3]\ncrown_m = 8\nheight_m = 12\nopacity = 0.6\nopacity_bare = 0.2\n"
                   "leaf = [\"October\", \"april\"]\n"));
    CHECK(room::contains(round.trees[0].footprint, {13.9, -3}));
    CHECK_FALSE(room::contains(round.trees[0].footprint, {14.2, -3}));
    CHECK(round.trees[0].last_leaf == date::April);
    CHECK(tells(outlined,
                "tree lime (leaf May to October): in leaf, counts as closed (a judgement, not a "
                "measurement)",
                2026_y / 7 / 1, 2026_y / 7 / 1));
    CHECK(tells(outlined,
                "tree lime (leaf May to October): bare, direct sun passes, weakened by 30 % (a "
                "judgement, not a measurement)",
                2026_y / 2 / 1, 2026_y / 2 / 1));
    CHECK(tells(outlined,
                "tree lime (leaf May to October): bare, direct sun passes, weakened by 30 %; from "
                "2026-05-01: in leaf, counts as closed (a judgement, not a measurement)",
                2026_y / 4 / 1, 2026_y / 6 / 1));
    CHECK(tells(outlined, "plan: from the site's position, x to the east, y to true north",
                2026_y / 2 / 1, 2026_y / 2 / 1));
}

TEST_CASE("what is wrong with a tree is told", "[read]") {
    const char* const months =
        "accepted: the first and the last month in leaf, as in [\"05\", \"10\"] or [\"May\", "
        "\"October\"]; [\"01\", \"12\"] for an evergreen";
    CHECK(complaints(tree("at = [0, 0]\nheight_m = 12\nleaf = [\"05\", \"10\"]\n")).size() == 1);
    CHECK(complaints(tree("at = [0, 0]\ncrown_m = 5\nheight_m = 12\n"))
              .front()
              .starts_with("5:1: \"leaf\" is missing in [[tree]] \"lime\"; "));
    CHECK(complaints(tree("at = [0, 0]\ncrown_m = 5\nheight_m = 12\nleaf = [\"05\", \"13\"]\n")) ==
          std::vector{"10:8: leaf = [\"05\", \"13\"] in [[tree]] \"lime\" is not two months; " +
                      std::string{months}});
    CHECK(
        complaints(tree("at = [0, 0]\ncrown_m = 5\nfootprint = [[0, 0], [4, 0], [4, 4]]\nheight_m "
                        "= 12\nleaf = [\"05\", \"10\"]\n"))
            .front() ==
        "7:6: [[tree]] \"lime\" has both footprint and at or crown_m; accepted: footprint = [[x, "
        "y], ...], or at = [x, y] and crown_m, the crown's width");
    CHECK(complaints(tree("height_m = 12\nleaf = [\"05\", \"10\"]\n")).size() == 1);
    CHECK(complaints(tree("at = [0, 0]\ncrown_m = 5\nheight_m = 12\nleaf = [\"05\", \"10\"]\n"
                          "opacity = 1.2\n"))
              .front() ==
          "11:11: opacity = 1.2 in [[tree]] \"lime\" is out of range; accepted: 0 to 1");
    CHECK(
        complaints(tree("at = [0, 0]\ncrown_m = 5\nheight_m = 12\nleaf = [\"05\", \"10\"]\n"
                        "opacity = 0.5\nopacity_bare = 0.6\n"))
            .front() ==
        "12:16: opacity_bare = 0.6 in [[tree]] \"lime\", in leaf 0.5; accepted: a bare tree keeps "
        "back no more than one in leaf");
    CHECK(complaints(tree("at = [0, 0]\ncrown_m = 5\nheight_m = 80\nleaf = [\"05\", \"10\"]\n"))
              .size() == 1);  // feet?
    CHECK(complaints(tree("footprint = [[0, 0], [4, 4], [4, 0], [0, 4]]\nheight_m = 8\nleaf = "
                          "[\"05\", \"10\"]\n")) ==
          list({"7:13: the footprint of tree \"lime\" crosses or touches itself; list each corner "
                "once, in order around it"}));
    CHECK(complaints(tree("at = [0, 0]\ncrown = 5\nheight_m = 8\nleaf = [\"05\", \"10\"]\n"))
              .back() ==
          "8:1: unknown key \"crown\" in [[tree]] \"lime\"; did you mean \"crown_m\"?");
}

TEST_CASE("buildings and spots stand on a plan without a room", "[read]") {
    const auto place = sound(head +
                             "[[building]]\nname = \"barn\"\nfootprint = [[-5, 20], [5, 20], [5, "
                             "30], [-5, 30]]\nheight_m = 11.6\n"
                             "[[spot]]\nname = \"gate\"\nat = [0, 0]\ncamera_bearing = 0\n"
                             "[[spot]]\nname = \"hoist\"\nat = [0, 0]\ncamera_bearing = 0\neye_m = "
                             "\"12 ft\"\n");
    REQUIRE(place.buildings_without_room.size() == 1);
    CHECK_FALSE(place.room.has_value());
    const site::Outlook gate{place, place.spots[0], 2026_y / 1 / 1};
    const auto top = gate.top_at({});
    CHECK(gate.words(top) == "building barn");
    CHECK(top.altitude.above_horizon.in_degrees() == Approx(26.565051));  // atan(10 / 20)
    CHECK(place.spots[1].eye_m == Approx(3.6576));
    CHECK(
        complaints(head + "[[spot]]\nname = \"gate\"\nat = [0, 0]\ncamera_bearing = 0\neye_m = "
                          "0\n") ==
        list({"9:9: eye_m = 0 in [[spot]] \"gate\" is out of range; accepted: more than 0 m, up to "
              "500 m"}));
    CHECK(complaints(head + "[[building]]\nname = \"barn\"\nfootprint = [[0, 0], [4, 4], [4, 0], "
                            "[0, 4]]\nheight_m = 8\n") ==
          list({"7:13: the footprint of building \"barn\" crosses or touches itself; list each "
                "corner once, in order around it"}));
}

namespace {

/// A plain of 200 m with a wall of 900 m along 1.3 W, in one tile of three arcseconds.
std::string plain_with_wall() {
    std::string tile;
    for (int row = 0; row < 1201; ++row)
        for (int column = 0; column < 1201; ++column) {
            const int metres = column == 840 ? 900 : 200;
            tile += static_cast<char>(metres >> 8);
            tile += static_cast<char>(metres & 0xff);
        }
    return tile;
}

}  // namespace

TEST_CASE("a skyline is read from terrain, for the site and for each spot", "[read]") {
    const ScratchFolder folder;
    folder.write("N52W002.hgt", plain_with_wall());
    const std::string text =
        "format = 1\n[site]\nposition = \"52.5N 1.5W\"\n"
        "time_zone = \"Europe/London\"\n";
    const std::string spot =
        "[[spot]]\nname = \"gate\"\nposition = \"52.5N 1.4W\"\n"
        "camera_bearing = 90\n";
    const std::string terrain = "horizon = { terrain = \"N52W002.hgt\" }\n";
    const auto place = sound(text + terrain + spot, folder.path("a.toml"));
    // 700 m over the eye at 13.58 and 6.79 km: 2.9 and 5.8 degrees.
    CHECK(altitude(place, 90) == Approx(2.87).margin(0.05));
    REQUIRE(place.spots[0].horizon.has_value());
    CHECK(place.spots[0].horizon->altitude_at({Angle::degrees(90)}).above_horizon.in_degrees() ==
          Approx(5.82).margin(0.05));
    const site::Outlook gate{place, place.spots[0], 2026_y / 1 / 1};
    CHECK(gate.words(gate.top_at({Angle::degrees(90)})) == "ridge");
    CHECK(place.site.observer.elevation_m == Approx(200));
    const auto asks_for_tiles = [](const std::string& question) {
        return question.starts_with("terrain: in sight but not in the folder: N51W002, N51W003");
    };
    REQUIRE(place.questions.size() == 1);
    CHECK(asks_for_tiles(place.questions[0]));
    const auto odd = sound(text + "elevation_m = 20\n" + terrain, folder.path("a.toml"));
    REQUIRE(odd.questions.size() == 2);
    CHECK(std::ranges::any_of(odd.questions, asks_for_tiles));
    CHECK(std::ranges::any_of(odd.questions, [](const std::string& question) {
        return question.starts_with("elevation_m = 20, but the terrain lies at 200 m there");
    }));
    CHECK(odd.site.observer.elevation_m == 20);
    CHECK(complaints(text + "horizon = { terrain = \"none\" }\n", folder.path("a.toml")) ==
          std::vector{"5:23: " + folder.path("none") +
                      ": there is no such file or folder; accepted: a folder of .hgt tiles, or one "
                      "file"});
    CHECK(complaints(text + terrain +
                         "[[spot]]\nname = \"far\"\nposition = \"54.5N 1.4W\"\n"
                         "camera_bearing = 90\n",
                     folder.path("a.toml"))
              .front()
              .starts_with("5:23: spot \"far\": no elevation at 54.5 degrees NORTH"));
    CHECK(complaints(text + "horizon = { beyond_m = 50 }\n").size() == 2);
}
