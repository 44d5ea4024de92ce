#include "read/bearing_line.hpp"

#include <catch2/catch.hpp>

#include "read/location_file.hpp"

using namespace keyhour;

namespace {

const read::BearingValue value{"street", 197.4, 0.9};

/// A sound location with a bearing as given, and a line end.
std::string place(const std::string& bearing, const std::string& end = "\n",
                  const std::string& after = "") {
    std::string text =
        "# kept\nformat = 1\n[site]   # kept too\nname = \"P\u00fctz\"\nposition = \"52.95N "
        "1.15W\"\n"
        "time_zone = \"Europe/London\"\n[room]\n\tfloor = [\n  [0, 0], [7.2, 0], # corner\n"
        "  [7.2, 4.6], [0, 4.6],\n]\nwalls = [\"street\", \"yard\", \"back\", \"party\"]\n"
        "height_m = 3.1\n" +
        bearing + "\n" + after;
    std::string out;
    for (const char c : text)
        out += c == '\n' ? end : std::string{c};
    return out;
}

std::string changed(const std::string& text) {
    const auto out = read::with_bearing(text, "p.toml", value);
    if (!out) FAIL(out.error());
    return *out;
}

}  // namespace

TEST_CASE("a bearing is changed where it stands, and nothing else", "[read]") {
    struct Case {
        const char *before, *after;
    };
    const Case cases[] = {
        {R"(bearing = { wall = "street", faces = 196, north = "true", within_deg = 3 } # by eye)",
         R"(bearing = { wall = "street", faces = 197.4, north = "true", within_deg = 0.9 } # by eye)"},
        {R"(bearing={wall="back",faces=1.6e1,north="true"}#x)",
         R"(bearing={wall="street",faces=197.4,north="true", within_deg = 0.9}#x)"},
        {"\tbearing\t=\t{ north = 'magnetic',\tmeasured = \"2026-02-10\", wall = 'street', faces = "
         "199 }\t# \u00fc",
         "\tbearing\t=\t{ north = \"true\", wall = \"street\", faces = 197.4, within_deg = 0.9 "
         "}\t# \u00fc"},
        {R"(bearing = { measured = 2026-02-10, north = "magnetic", wall = "street", faces = 199 })",
         R"(bearing = { north = "true", wall = "street", faces = 197.4, within_deg = 0.9 })"},
        {R"(bearing = { north = "magnetic", wall = "street", faces = 199, measured = "2026-02-10" })",
         R"(bearing = { north = "true", wall = "street", faces = 197.4, within_deg = 0.9 })"},
        {"# above\nbearing.wall = \"street\"\n  bearing.faces = 196  # measured\nbearing.north = "
         "\"true\"",
         "# above\nbearing.wall = \"street\"\n  bearing.faces = 197.4  # measured\n  "
         "bearing.within_deg = 0.9\nbearing.north = \"true\""},
        {"[room.bearing] # of the wall\nfaces = 196 # s\n\n# between\nwall = \"street\"\nnorth = "
         "\"true\"\nwithin_deg = 3.0 # wide",
         "[room.bearing] # of the wall\nfaces = 197.4 # s\n\n# between\nwall = \"street\"\nnorth = "
         "\"true\"\nwithin_deg = 0.9 # wide"}};
    for (const Case& c : cases)
        for (const char* end : {"\n", "\r\n"}) {
            CAPTURE(c.before, end);
            CHECK(changed(place(c.before, end)) == place(c.after, end));
            CHECK(changed("\xef\xbb\xbf" + place(c.before, end)) ==
                  "\xef\xbb\xbf" + place(c.after, end));
        }
}

TEST_CASE("a bearing on the last line, without a line end, is changed too", "[read]") {
    std::string before = place("[room.bearing]\nwall = \"street\"\nnorth = \"true\"\nfaces = 196");
    before.pop_back();
    std::string after = place(
        "[room.bearing]\nwall = \"street\"\nnorth = \"true\"\nfaces = 197.4\nwithin_deg = 0.9");
    after.pop_back();
    CHECK(changed(before) == after);
}

TEST_CASE("every example's bearing can be changed and changed back", "[read]") {
    for (const char* name : {"tallow-lane", "flax-road", "sundet"}) {
        const auto text = read::location_text(KEYHOUR_LOCATIONS "/" + std::string{name} + ".toml");
        REQUIRE(text);
        const auto location = read::read_location_text(*text, name);
        REQUIRE(location);
        const read::BearingValue there{location->room->walls[location->room->bearing.wall], 12.5,
                                       1.5};
        const auto once = read::with_bearing(*text, name, there);
        REQUIRE(once);
        const auto read = read::read_location_text(*once, name);
        REQUIRE(read);
        CHECK(read->room->bearing.faces.in_degrees() == Approx(12.5));
        // One line differs.
        std::istringstream a{*text}, b{*once};
        int different = 0;
        for (std::string x, y; std::getline(a, x) && std::getline(b, y);)
            if (x != y) ++different;
        CHECK(different == 1);
    }
}

TEST_CASE("the line to paste can be read, and rounds the doubt upward", "[read]") {
    CHECK(read::bearing_line(value) ==
          R"(bearing = { wall = "street", faces = 197.4, north = "true", within_deg = 0.9 })");
    const auto r = read::rounded({"a \"b\"", 359.97, 0.4301});
    CHECK(r.faces_deg == 0);
    CHECK(r.within_deg == Approx(0.5));
    CHECK(read::rounded({"w", 12.34, 0}).within_deg == Approx(0.1));
    CHECK(read::rounded({"w", 12.34, 80}).within_deg == Approx(45));
    CHECK(read::bearing_line(r) ==
          R"(bearing = { wall = "a \"b\"", faces = 0, north = "true", within_deg = 0.5 })");
}

TEST_CASE("a bearing that can't be changed safely leaves the text alone", "[read]") {
    const auto none = read::with_bearing("format = 1\n", "p.toml", value);
    REQUIRE_FALSE(none);
    CHECK(none.error() ==
          "p.toml: not changed: it has no bearing in [room]; paste the line by hand");
    const std::string sound =
        place(R"(bearing = { wall = "street", faces = 196, north = "true" })");
    CHECK_FALSE(read::with_bearing(sound, "p.toml", {"no such wall", 12, 1}));
    CHECK_FALSE(read::with_bearing("[[[", "p.toml", value));
}
