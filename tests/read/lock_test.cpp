// [lock] in a location file, sound and not.

#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "read/location_file.hpp"

using namespace keyhour;
using namespace keyhour::read;
using std::chrono::hours;
using std::chrono::minutes;

namespace {

/// An L: the window of the notch's wall sees nothing of the far bench. The tables end on line 38.
const std::string room_text = R"(format = 1
[site]
position = "52.9536N 1.1505W"
time_zone = "Europe/London"
[room]
floor = [[0, 0], [8, 0], [8, 3], [4, 3], [4, 7], [0, 7]]
walls = ["street", "right", "notch", "court", "back", "left"]
height_m = 3
bearing = { wall = "street", faces = 196, north = "true" }
[[window]]
name = "case window"
wall = "street"
left_m = 5
width_m = 1.4
sill_m = 0.8
height_m = 1.6
reveal_m = 0.3
[[window]]
name = "court window"
wall = "court"
left_m = 1
width_m = 1.4
sill_m = 0.8
height_m = 1.6
reveal_m = 0.3
[[mark]]
name = "bench"
at = [6.5, 1.5]
height_m = 1.2
[[mark]]
name = "stove"
at = [2, 5]
height_m = 1.2
[[camera]]
name = "A"
at = [4.5, 0.6]
height_m = 1.4
aims_at = "bench"
)";

std::string lamp(const std::string& name, const std::string& more = "place = \"outside\"\n") {
    return "[[lamp]]\nname = \"" + name + "\"\n" + more +
           "sheet = { level_lx = 4000, at_m = 5, beam_deg = 30 }\n";
}

std::vector<std::string> complaints(const std::string& tables) {
    const auto read = read_location_text(room_text + tables, "t.toml");
    std::vector<std::string> out;
    if (read) return out;
    for (const Problem& p : read.error())
        out.push_back(std::to_string(p.line) + ":" + std::to_string(p.column) + ": " + p.message());
    return out;
}

/// Of a table that has one fault.
std::string complaint(const std::string& tables) {
    const auto all = complaints(tables);
    CAPTURE(all);
    REQUIRE(all.size() == 1);
    return all.front();
}

using Catch::Matchers::Contains;

}  // namespace

TEST_CASE("the lock of a location file says window, lamp, mark, camera, length and hours",
          "[read][lock]") {
    const auto read = read_location_text(
        room_text + lamp("soft lamp") + lamp("hard lamp") +
            "[lock]\nwindow = \"case window\"\nlamp = \"hard lamp\"\nmark = \"bench\"\n"
            "camera = \"A\"\nminutes = \"2 h 30 min\"\nhours = [\"06:30\", \"24:00\"]\n",
        "t.toml");
    CAPTURE(read ? std::string{} : text(read.error()));
    REQUIRE(read);
    REQUIRE(read->lock);
    CHECK(read->lock->window == 0U);
    CHECK(read->lock->lamp == 1U);
    CHECK(read->lock->mark == 0U);
    CHECK(read->lock->camera == 0U);
    CHECK(read->lock->length == minutes{150});
    REQUIRE(read->lock->hours);
    CHECK(read->lock->hours->from == hours{6} + minutes{30});
    CHECK(read->lock->hours->to == hours{24});
}

TEST_CASE("of a lock nothing needs to be settled, and the camera's mark is the lock's",
          "[read][lock]") {
    const auto none = read_location_text(room_text, "t.toml");
    REQUIRE(none);
    CHECK_FALSE(none->lock);
    const auto some = read_location_text(room_text + "[lock]\nminutes = 45\n", "t.toml");
    REQUIRE(some);
    CHECK(some->lock->length == minutes{45});
    CHECK_FALSE(some->lock->window);
    const auto camera = read_location_text(room_text + "[lock]\ncamera = \"A\"\n", "t.toml");
    REQUIRE(camera);
    CHECK(camera->lock->mark == 0U);
}

TEST_CASE("every fault of a lock is told at once, where it stands", "[read][lock]") {
    const auto all = complaints(
        "[lock]\nwindow = \"case windw\"\nlamp = 3\nminutes = 0\nhours = [\"20:00\"]\n"
        "mark = \"bensh\"\nlength = 5\n");
    CAPTURE(all);
    REQUIRE(all.size() == 6);
    CHECK_THAT(all[0], Contains("40:10") && Contains("did you mean \"case window\"?"));
    CHECK_THAT(all[1], Contains("is not text"));
    CHECK_THAT(all[2], Contains("1 to 1440 minutes"));
    CHECK_THAT(all[3], Contains("two times, as in hours = [\"08:00\", \"20:00\"]"));
    CHECK_THAT(all[4], Contains("did you mean \"bench\"?"));
    CHECK_THAT(all[5], Contains("unknown key \"length\" in [lock]"));
}

TEST_CASE("a lock longer than its hours, or than the usual ones, is refused", "[read][lock]") {
    CHECK_THAT(complaint("[lock]\nminutes = 181\nhours = [\"09:00\", \"12:00\"]\n"),
               Contains("40:1") && Contains("181 minutes is longer than the working hours, 180"));
    CHECK(complaints("[lock]\nminutes = 180\nhours = [\"09:00\", \"12:00\"]\n").empty());
    CHECK_THAT(complaint("[lock]\nminutes = 721\n"), Contains("the usual working hours, 720"));
    CHECK_THAT(complaint("[lock]\nminutes = \"25 h\"\n"), Contains("1 to 1440 minutes"));
    CHECK_THAT(complaint("[lock]\nhours = [\"20:00\", \"08:00\"]\n"),
               Contains("the earlier time must stand first"));
}

TEST_CASE("a lock's window must be open and lead straight to the mark", "[read][lock]") {
    CHECK_THAT(complaint("[lock]\nwindow = \"court window\"\n"),
               Contains("no straight line leads from window \"court window\" to mark \"bench\"") &&
                   Contains("accepted: \"case window\""));
    CHECK(complaints("[lock]\nwindow = \"court window\"\nmark = \"stove\"\n").empty());
    std::string hung = room_text;
    hung.replace(hung.find("[[window]]\nname = \"court"), 0, "cover = \"sheer\"\n");
    const auto read = read_location_text(hung + "[lock]\nwindow = \"case window\"\n", "t.toml");
    REQUIRE_FALSE(read);
    CHECK_THAT(text(read.error()),
               Contains("has cover = \"sheer\", and the key's light must come through it"));
    hung.replace(hung.find("[[mark]]"), 0, "cover = \"blackout\"\n");
    const auto all = read_location_text(hung + "[lock]\nminutes = 60\n", "t.toml");
    REQUIRE_FALSE(all);
    CHECK_THAT(text(all.error()), Contains("every window of the room is hung with cloth"));
}

TEST_CASE("a lock's lamp stands outside, can be aimed and is one", "[read][lock]") {
    const std::string inside = "place = \"inside\"\n";
    CHECK_THAT(complaint(lamp("fill", inside) + "[lock]\nlamp = \"fill\"\n"),
               Contains("lamp \"fill\" has place = \"inside\"") && Contains("a lamp outside"));
    CHECK_THAT(complaint("[[lamp]]\nname = \"yard\"\nplace = \"outside\"\nlumens = 4000\n"
                         "[lock]\nlamp = \"yard\"\n"),
               Contains("hung to shine down"));
    const std::string two = lamp("soft") + lamp("hard");
    CHECK_THAT(complaint(two + "[lock]\nwindow = \"case window\"\n"),
               Contains("does not say which lamp is the key: soft, hard stand outside"));
    CHECK_THAT(complaint(two + "[lock]\nlamp = [\"soft\", \"hard\"]\n"), Contains("is not text"));
    CHECK(complaints(two + "[lock]\nlamp = \"hard\"\n").empty());
    CHECK(complaints(lamp("soft") + lamp("fill", inside) + "[lock]\nminutes = 60\n").empty());
}

TEST_CASE("a second lamp before the window of the lock's key is asked about", "[read][lock]") {
    const std::string outside = "place = \"outside\"\nheight_m = 2\n";
    const auto asked = [&](const std::string& at, const std::string& lock) {
        const auto read = read_location_text(
            room_text + lamp("key") + lamp("rim", outside + "at = " + at + '\n') + lock, "t.toml");
        REQUIRE(read);
        std::string all;
        for (const std::string& question : read->questions)
            all += question + '\n';
        return all;
    };
    // The bench, the window's middle at (2.3, 0) and the place lie in one line.
    const std::string lock = "[lock]\nlamp = \"key\"\nwindow = \"case window\"\n";
    CHECK_THAT(asked("[-6.1, -3.0]", lock),
               Contains("lamp \"rim\" has its place before window \"case window\" too") &&
                   Contains("key \"key\" shines through") && Contains("off during the lock?"));
    CHECK_THAT(asked("[6.5, -3.0]", lock), !Contains("rim"));  // before the wall beside it
    CHECK_THAT(asked("[-6.1, -3.0]", "[lock]\nlamp = \"rim\"\nwindow = \"case window\"\n"),
               !Contains("two keys"));
    CHECK_THAT(asked("[-6.1, -3.0]", "[lock]\nlamp = \"key\"\n"), !Contains("two keys"));
}

TEST_CASE("a lock's camera aims at its mark, and there is a room", "[read][lock]") {
    CHECK_THAT(complaint("[lock]\nmark = \"stove\"\ncamera = \"A\"\n"),
               Contains("camera \"A\" aims at \"bench\", not at \"stove\""));
    const auto read = read_location_text(
        "format = 1\n[site]\nposition = \"52N 1W\"\ntime_zone = \"UTC0\"\n[lock]\nminutes = 60\n",
        "t.toml");
    REQUIRE_FALSE(read);
    CHECK_THAT(text(read.error()), Contains("[lock] without a room"));
}
