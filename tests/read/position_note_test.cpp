#include "read/position_note.hpp"

#include <catch2/catch.hpp>

#include "read/location_file.hpp"

using namespace keyhour;

namespace {

std::string asked(const std::string& lines) {
    return read::position_note_question("[site]\n" + lines + "\n").value_or("");
}

}  // namespace

TEST_CASE("minutes typed behind the point are noticed by the note beside them", "[read]") {
    const std::string position = "position = \"42.18S 147.33E\"";
    CHECK(asked(position + "   # 42 deg 18 min S by the map") ==
          "position: 42.18 is decimal degrees, which is 42 deg 10.8 min, but the note beside it "
          "says 42 deg 18 min. Which is right? 42 deg 18 min is 42.3000.");
    for (const char* note :
         {"# 42°18'", "# 42d18m", "# about 147 degrees 33 minutes", "# 42 Deg 18 Min"})
        CHECK(asked(position + note) != "");
    CHECK(asked("# 42 deg 18 min\n" + position) != "");
    CHECK(asked(position + "\n  # 42 deg 18 min") != "");
    // A note that says the same, another place's, another key's, and none.
    CHECK(asked("position = \"42.30S 147.33E\"  # 42 deg 18 min, 147 deg 20 min") == "");
    CHECK(asked(position + "  # 41 deg 18 min") == "");
    CHECK(asked(position + "\nname = \"x\"  # 42 deg 18 min") == "");
    CHECK(asked("position = \"42.95S 147.33E\"  # 42 deg 18 min to the gate") == "");
    CHECK(asked(position) == "");
    CHECK(asked("position = \"42d18'S 147d33'E\"  # 42 deg 18 min") == "");
}

TEST_CASE("a location with such a note is read, and asked about", "[read]") {
    const auto location = read::read_location_text(
        "format = 1\n[site]\nposition = \"42.18S 147.33E\"  # 42 deg 18 min S\n"
        "time_zone = \"<+10>-10\"\n",
        "yard.toml");
    if (!location) FAIL(read::text(location.error()));
    REQUIRE(location->questions.size() == 1);
    CHECK(location->questions[0].find("the note beside it says 42 deg 18 min") !=
          std::string::npos);
}
