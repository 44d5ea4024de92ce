#include "read/changes.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "keyhour/site/location.hpp"
#include "read/location_file.hpp"
#include "read/read_recce.hpp"

namespace {

using namespace keyhour;
using Catch::Contains;

constexpr const char* file_text = R"(format = 1
[site]
name = "Net loft"
position = "52.9536N 1.1505W"
time_zone = "Europe/London"
[room]
floor = [[0, 0], [6, 0], [6, 4], [0, 4]]
walls = ["quay", "east", "back", "west"]
height_m = 3
bearing = { wall = "quay", faces = 358, north = "true" }
[[window]]
name = "north"
wall = "quay"
left_m = 1
width_m = "4 ft"
sill_m = 0.9
height_m = 1.5
reveal_m = 0.3
[[window]]
name = "No. 2"
wall = "back"
left_m = 1
width_m = 1
sill_m = 0.9
height_m = 1.5
reveal_m = 0.3
[[mark]]
name = "bench"
at = [2, 1.5]
height_m = 1.2
[[camera]]
name = "north"
at = [4, 3]
height_m = 1.4
aims_at = "bench"
)";

read::Read<site::Location> read_with(const std::vector<std::string>& typed) {
    read::Changes changes;
    for (const std::string& text : typed)
        changes.push_back({text});
    return read::read_location_text(file_text, "loft.toml", changes);
}

site::Location changed(const std::string& typed) {
    const auto read = read_with({typed});
    INFO(typed);
    if (!read) INFO(read::text(read.error()));
    REQUIRE(read);
    return *read;
}

std::string refused(const std::vector<std::string>& typed) {
    const auto read = read_with(typed);
    REQUIRE_FALSE(read);
    return read::text(read.error());
}

/// What the file itself is told with the same slip in it.
std::string refused_in_file(const std::string& from, const std::string& to) {
    std::string text{file_text};
    text.replace(text.find(from), from.size(), to);
    const auto read = read::read_location_text(text, "loft.toml");
    REQUIRE_FALSE(read);
    return read.error().front().message();
}

}  // namespace

TEST_CASE("a change goes by the file's own names", "[changes]") {
    CHECK(changed("window.north.cover=blackout").room->windows[0].cover == room::Cover::blackout);
    CHECK(changed("window.No. 2.cover=sheer").room->windows[1].cover == room::Cover::sheer);
    CHECK(changed("window.\"No. 2\".cover=sheer").room->windows[1].cover == room::Cover::sheer);
    CHECK(changed("No. 2.cover=sheer").room->windows[1].cover == room::Cover::sheer);
    const room::Mark mark = changed("bench.at=2.5, 1").room->marks[0];
    CHECK(mark.at.x == Approx(2.5));
    CHECK(mark.at.y == Approx(1));
    CHECK(changed("site.elevation_m=300").site.observer.elevation_m == Approx(300));
    CHECK(changed("window.No. 2.width_m=4 ft 2 in").room->windows[1].width_m ==
          Approx(50 * 0.0254));
    CHECK(changed("lock.minutes=90").lock->length == std::chrono::minutes{90});
}

TEST_CASE("a difference is added to what the file says, and a bearing goes round", "[changes]") {
    // 358 and 3 degrees more are 1 degree: the plan turns by exactly that.
    const double as_filed =
        room::plan_bearing(*changed("site.name=x").room).from_north.in_degrees();
    const double turned = room::plan_bearing(*changed("bearing+=3").room).from_north.in_degrees();
    CHECK(std::remainder(turned - as_filed - 3, 360) == Approx(0).margin(1e-9));
    const double back = room::plan_bearing(*changed("bearing-=3").room).from_north.in_degrees();
    CHECK(std::remainder(back - as_filed + 3, 360) == Approx(0).margin(1e-9));
    CHECK(changed("window.north.width_m+=0.1").room->windows[0].width_m ==
          Approx(4 * 0.3048 + 0.1));
    CHECK(changed("bench.at+=0.5,-0.5").room->marks[0].at.y == Approx(1));
}

TEST_CASE("the location's name says what was changed", "[changes]") {
    CHECK(changed("No. 2.reveal_m=0.1").site.name == "Net loft, what if No. 2.reveal_m=0.1");
    CHECK(read_with({"window.north.sill_m=1", "bearing+=2"})->site.name ==
          "Net loft, what if window.north.sill_m=1, bearing+=2");
}

TEST_CASE("a slip gets the message that the file would give, named by the change", "[changes]") {
    const std::string in_file = refused_in_file("sill_m = 0.9", "sill_m = \"low\"");
    CHECK(refused({"window.north.sill_m=low"}) ==
          "--if window.north.sill_m=low: " + in_file + "\n");
    CHECK(refused({"window.north.cover=blackot"}) ==
          "--if window.north.cover=blackot: " +
              refused_in_file("reveal_m = 0.3", "reveal_m = 0.3\ncover = \"blackot\"") + "\n");
    CHECK(refused({"window.north.sil_m=1"}) ==
          "--if window.north.sil_m=1: unknown key \"sil_m\" in [[window]] \"north\"; did you mean "
          "\"sill_m\"?\n");
    CHECK(refused({"bearing=400"}) ==
          "--if bearing=400: " + refused_in_file("faces = 358", "faces = 400") + "\n");
}

TEST_CASE("a change that leads nowhere is refused with what is there", "[changes]") {
    CHECK(refused({"window.nroth.cover=open"}) ==
          "--if window.nroth.cover=open: there is no window \"nroth\"; did you mean \"north\"?\n");
    CHECK_THAT(refused({"widnow.north.cover=open"}), Contains("did you mean \"window\"?"));
    CHECK_THAT(refused({"north.cover=open"}),
               Contains("names more than one thing; accepted: \"window.north.cover\" or "
                        "\"camera.north.cover\"") ||
                   Contains("accepted: \"camera.north.cover\" or \"window.north.cover\""));
    CHECK_THAT(refused({"window.north"}), Contains("it says no value; accepted: NAME.KEY=VALUE"));
    CHECK_THAT(refused({"window.cover=open"}), Contains("there is no window \"cover\""));
    CHECK_THAT(refused({"window=open"}), Contains("[[window]] stands for many"));
    CHECK_THAT(refused({"site.name.more=1"}), Contains("\"name\" holds a value"));
    CHECK_THAT(refused({"site.name+=1"}), Contains("1 can't be added to \"Net loft\""));
    CHECK_THAT(refused({"site.elevation_m+=1"}), Contains("no \"site.elevation_m\" to add to"));
    CHECK_THAT(refused({"bearing=-3"}), Contains("turned by so much: bearing+=-3"));
    CHECK_THAT(refused({"bearing=+3"}), Contains("turned by so much: bearing+=3"));
    CHECK_THAT(refused({"bearing+=-3/0/+3"}),
               Contains("; several values side by side: \"bearing+=-3|0|+3\"\n"));
    CHECK_THAT(refused({"bearing=1,2,3"}), Contains("\"bearing=1|2|3\""));
    CHECK_THAT(refused({"window.north.sill_m=1x"}), !Contains("side by side"));
    // A letter that toml++ took to be impossible there: clang's sanitizer stopped (found by
    // libFuzzer).
    CHECK_THAT(refused({"site.elevation_m=9e\u0497"}), Contains("is not a length"));
    CHECK_THAT(refused({"site.name=a\x1b[2J"}), Contains("it holds a control character"));
    CHECK_THAT(refused({"site.name=\xff"}), Contains("it is not UTF-8"));
}

TEST_CASE("where a change spoils another line of the file, both are told", "[changes]") {
    // Beyond its wall: the place named is the window's own line.
    const std::string told = refused({"window.north.left_m=5.5"});
    CHECK_THAT(told, Contains("window.north.left_m=5.5"));
}

TEST_CASE("units and the bearing's date change for what reads them apart", "[changes]") {
    CHECK(read::read_recce_text(file_text, {{"site.units=ft"}}).units == site::Units::feet);
    CHECK(read::read_recce_text(file_text, {}).units == site::Units::metres);
}
