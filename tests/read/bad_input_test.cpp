// Every field wrong in kind, range, unit or spelling, and the slips of real life: each with the
// whole text that it is answered with. What the crew reads is a feature.
#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "forge_file.hpp"
#include "read/location_file.hpp"
#include "slips_of_room.hpp"
#include "slips_of_site.hpp"
#include "slips_of_things.hpp"

namespace {

std::string changed(const Slip& slip) {
    std::string text = forge;
    const std::size_t at = text.find(slip.from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, std::string{slip.from}.size(), slip.to);
}

std::vector<std::string> complaints_about(std::string_view text) {
    std::vector<std::string> out;
    const auto read = keyhour::read::read_location_text(text, "f");
    if (read) return out;
    for (keyhour::read::Problem problem : read.error()) {
        problem.source.clear();
        out.push_back(problem.text().substr(2));
    }
    return out;
}

}  // namespace

TEST_CASE("the forge's file is sound until something is changed", "[read]") {
    CHECK(complaints_about(forge).empty());
}

TEST_CASE("each slip is answered with its place, what was found and what is accepted", "[read]") {
    std::size_t answered = 0;
    for (const auto* slips : {&slips_of_site, &slips_of_room, &slips_of_things})
        for (const Slip& slip : *slips) {
            CAPTURE(slip.from, slip.to);
            CHECK(complaints_about(changed(slip)) == slip.complaints);
            ++answered;
        }
    CHECK(answered == 171);
}

TEST_CASE("a mark in the notch of an L is told beyond which wall it lies", "[read]") {
    std::string text = forge;
    const std::vector<std::pair<std::string, std::string>> changes{
        {"floor = [[0, 0], [6, 0], [6, 4], [0, 4]]",
         "floor = [[0, 0], [6, 0], [6, 4], [4, 4], [4, 2.5], [0, 2.5]]"},
        {"\"yard\", \"back\", \"party\"", "\"yard\", \"back\", \"notch\", \"stair\", \"party\""},
        {"at = [3, 2]", "at = [3.5, 3.25]"}};
    for (const auto& [from, to] : changes)
        text.replace(text.find(from), from.size(), to);
    CHECK(complaints_about(text) ==
          std::vector<std::string>{
              "42:6: mark \"anvil\" at [3.5, 3.25] is inside the outline's box, but outside its "
              "floor: 0.50 m beyond wall \"notch\"; the floor spans x 0 to 6 and y 0 to 4",
              "54:13: object \"bench\" stands partly outside the floor; the floor spans x 0 to 6 "
              "and y 0 to 4"});
}

TEST_CASE("an abbreviation of a zone is answered for the site's place", "[read]") {
    std::string text = forge;
    const std::vector<std::pair<std::string, std::string>> changes{
        {"52.9536N 1.1505W", "37.56S 143.86E"}, {"Europe/London", "AEST"}};
    for (const auto& [from, to] : changes)
        text.replace(text.find(from), from.size(), to);
    CHECK(complaints_about(text) ==
          std::vector<std::string>{
              "7:13: time zone \"AEST\" is an abbreviation that tells no rules of summer time; for "
              "this position write \"Australia/Melbourne\", the nearest zone whose clocks say "
              "AEST"});
}

TEST_CASE("all complaints about a file come at once, by line", "[read]") {
    std::string text = forge;
    const std::vector<std::pair<std::string, std::string>> changes{
        {"elevation_m = 61", "elevation_m = 6 1"},
        {"faces = 196", "faces = 361"},
        {"sill_m = 0.9", "sill_m = 3.0"},
        {"glass = \"single\"", "glass = single"},
        {"at = [3, 2]", "at = [3, 20]"},
        {"view_deg = 38", "view_deg = 380"},
        {"wants = \"side\"", "wants = \"sideways\""}};
    for (const auto& [from, to] : changes)
        text.replace(text.find(from), from.size(), to);
    CHECK(
        complaints_about(text) ==
        std::vector<std::string>{
            "6:17: not TOML: expected a comment or whitespace, saw '1'; accepted: one value; text, "
            "and a number with its unit, stand in quotes",
            "16:36: faces = 361 in bearing is out of range; accepted: 0 to 360 degrees",
            "24:10: sill_m = 3.0 in [[window]] \"left light\": is this feet? write \"3.0 ft\", or "
            "\"3.0 m\" if metres are meant",
            "28:9: not TOML: could not determine value type; accepted: key = value, with text in "
            "quotes; [table] or [[table]]",
            "42:6: mark \"anvil\" at [3, 20] is outside the floor; the floor spans x 0 to 6 and y "
            "0 "
            "to 4",
            "50:12: view_deg = 380 in [[camera]] \"A\" is out of range; accepted: 1 to 170 degrees",
            "66:9: wants = \"sideways\" in [[spot]] \"gate\" is not known; accepted: \"front\", "
            "\"side\", \"back\" or \"any\""});
}

TEST_CASE("a complaint shows the line with a caret below the place", "[read]") {
    std::string text = forge;
    const std::string from = "sill_m = 0.9";
    text.replace(text.find(from), from.size(), "  sil_m = 0.9");
    const auto read = keyhour::read::read_location_text(text, "forge.toml");
    REQUIRE_FALSE(read.has_value());
    CHECK(keyhour::read::text(read.error()) ==
          "forge.toml:19:1: \"sill_m\" is missing in [[window]] \"left light\"; accepted: metres "
          "as a "
          "number, or text with a unit such as \"127 cm\" or \"4 ft 2 in\"\n"
          "  [[window]]\n"
          "  ^\n"
          "forge.toml:24:3: unknown key \"sil_m\" in [[window]] \"left light\"; did you mean "
          "\"sill_m\"?\n"
          "  sil_m = 0.9\n"
          "  ^\n");
}

TEST_CASE("columns count characters, and long lines are shown around the place", "[read]") {
    CHECK(complaints_about("format = 1\n[site]\nposition = \"52.9N 1.1W\"\n"
                           "time_zone = \"Europe/London\"\nname = \"F\u00f6hr\"; air = 3\n")
              .front()
              .starts_with("5:14: not TOML"));
    const std::string long_line = "name = \"" + std::string(4000, 'x') + "\" y";
    const auto read = keyhour::read::read_location_text(long_line, "f");
    REQUIRE_FALSE(read.has_value());
    CHECK(read.error().front().column == 4011);
    CHECK(read.error().front().text().size() < 500);
}

TEST_CASE("a file that is no location is refused in one sentence", "[read]") {
    using keyhour::read::read_location;
    const auto whole = [](const auto& read) {
        return read ? std::string{"read"} : keyhour::read::text(read.error());
    };
    CHECK(whole(read_location(KEYHOUR_LOCATIONS)) == KEYHOUR_LOCATIONS
          ": this is a folder; accepted: a location file, as written by \"keyhour new\"\n");
    CHECK(whole(read_location("nowhere.toml")) ==
          "nowhere.toml: the file cannot be read: No such file or directory; accepted: a location "
          "file, as written by \"keyhour new\"\n");
    CHECK(whole(read_location("")) ==
          ": the file cannot be read: No such file or directory; accepted: a location file, as "
          "written by \"keyhour new\"\n");
    CHECK(whole(read_location("/dev/null")) ==
          "/dev/null: the file is empty; \"keyhour new\" writes one to start from\n");
    CHECK(whole(read_location("/dev/zero")) ==
          "/dev/zero: the file is too large; a location file holds up to 4 MiB\n");
    CHECK(complaints_about(std::string(keyhour::read::largest_location_bytes + 1, '#')) ==
          std::vector<std::string>{" the file is too large; a location file holds up to 4 MiB"});
    CHECK(complaints_about(" \n\t\r\n") ==
          std::vector<std::string>{" the file is empty; \"keyhour new\" writes one to start from"});
    CHECK(complaints_about("# nothing but a comment\n").size() == 2);
}

TEST_CASE("bytes that are not UTF-8 are named with their place", "[read]") {
    const std::string accepted = " is not UTF-8; accepted: a text file saved as UTF-8";
    const auto one = [&](const char* place_and_byte) {
        return std::vector<std::string>{place_and_byte + accepted};
    };
    CHECK(complaints_about("format = 1\n[site]\nname = \"F\xf6hr\"\n") == one("3:10: byte 0xf6"));
    CHECK(complaints_about("# \u00e9\u00e9 \xc0\xaf") == one("1:6: byte 0xc0"));  // overlong
    CHECK(complaints_about("# \xed\xa0\x80") == one("1:3: byte 0xed"));           // surrogate
    CHECK(complaints_about("# \xf4\x90\x80\x80") == one("1:3: byte 0xf4"));       // > U+10FFFF
    CHECK(complaints_about("# cut \xe2\x82") == one("1:7: byte 0xe2"));           // cut short
    CHECK(complaints_about(std::string{"\xff\xfe"
                                       "f\0o\0",
                                       6}) == one("1:1: byte 0xff"));  // UTF-16
}

TEST_CASE("what once stopped or aborted the TOML parser is a complaint", "[read]") {
    CHECK_FALSE(complaints_about("[{").empty());
    CHECK_FALSE(complaints_about(std::string{"format\0 = 1", 11}).empty());
    CHECK_FALSE(complaints_about("a = " + std::string(100'000, '[')).empty());
    CHECK_FALSE(
        complaints_about("a = " + std::string(1'000, '[') + std::string(1'000, ']')).empty());
    std::string many;
    for (int i = 0; i < 1000; ++i)
        many += "k = = 1\n";
    CHECK(complaints_about(many).size() < 30);
}
