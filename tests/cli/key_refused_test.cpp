// What `key` does not accept, and what it asks about.

#include <catch2/catch.hpp>

#include "asked_key.hpp"
#include "page.hpp"
#include "run_program.hpp"

using namespace asked;

namespace {

struct Refused {
    Arguments more;
    std::string message;
};
const Refused refused[] = {
    {{"--mark", "type cas"},
     "--mark \"type cas\" is not in the location; did you mean \"type "
     "case\"?\n"},
    {{"--window", "press windw"},
     "--window \"press windw\" is not in the location; did you mean \"press window\"?\n"},
    {{"--camera", "second"}, "--camera \"second\" is not in the location; accepted: A\n"},
    {{"--coverage", "0.95"}, "--coverage 0.95: accepted: 1 to 100 percent of the mark\n"},
    {{"--coverage", "101"}, "--coverage 101: accepted: 1 to 100 percent of the mark\n"},
    {{"--key-angle", "70,25"},
     "--key-angle: found \"70,25\"; accepted: LOW,HIGH degrees, 0 to 180, the lower first\n"},
    {{"--altitude", "8"},
     "--altitude: found \"8\"; accepted: LOW,HIGH degrees, 0 to 90, the lower first\n"},
    {{"--near", "-1"}, "--near -1: accepted: 0 to 100 metres\n"},
    {{"--lock", "120"}, "--lock goes with --by lamp\n"},
    {{"--hours", "08:00,20:00"}, "--hours goes with --by lamp\n"},
    {{"--by", "lamp", "--coverage", "90"}, "--coverage is about the sun: leave out --by lamp\n"},
    {{"--by", "lamp", "--near", "2"}, "--near is about the sun: leave out --by lamp\n"},
    {{"--nights"}, "--nights goes with --by lamp\n"},
    {{"--by", "lamp", "--lock", "1441"}, "--lock of 24 h 01 min: accepted: 1 minute to 24 hours\n"},
    {{"--by", "lamp", "--hours", "20:00,08:00"},
     "--hours: found \"20:00,08:00\"; the earlier time must stand first\n"},
    {{"--by", "lamp", "--hours", "8:00,20:00"},
     "--hours: \"8:00\" may be morning or afternoon; write 08:00 or 20:00\n"},
    {{"--by", "moon"}, "--by \"moon\": accepted: sun, lamp\n"},
    {{"--faces", "225"},
     "a location file has its own room: give the file, or the room by flags, not both\n"},
};

}  // namespace

TEST_CASE("key says what it does not accept", "[cli]") {
    for (const Refused& c : refused) {
        const Outcome o = key({press, "--date", "2026-03-10"}, c.more);
        CHECK(o.code == 2);
        CHECK(o.err == c.message);
        CHECK(o.out.empty());
    }
    const Outcome skipped =
        key({press, "--date", "2026-03-29", "--by", "lamp", "--hours", "01:30,12:00"});
    CHECK(skipped.code == 2);
    CHECK(skipped.err.starts_with("--hours: 2026-03-29T01:30:00 does not exist in Europe/London"));
    CHECK(key({press, "--date", "03/04/2026"}).code == 2);
}

TEST_CASE("a room by flags says all that is wrong with it, and asks about units", "[cli]") {
    Arguments room = worked_room();
    room[9] = "90 x 150";
    room[11] = "3";
    const Outcome o = key(room);
    CHECK(o.code == 2);
    CHECK(o.err ==
          "window 90: is this inches or centimetres? write \"90 in\" or \"90 cm\", or \"90 m\" if "
          "metres are meant\n"
          "window 150: is this inches or centimetres? write \"150 in\" or \"150 cm\", or \"150 m\" "
          "if metres are meant\n"
          "sill 3: is this feet? write \"3 ft\", or \"3 m\" if metres are meant\n");
    room = worked_room();
    room[7] = "yes";
    CHECK(key(room).err ==
          "--north \"yes\": accepted: true, or magnetic for a compass's bearing\n");
    room[7] = "magnetic";
    CHECK(tells(key(room).out, "window wall faces SW, 225 magnetic, "));
    room = worked_room("400");
    CHECK(key(room).err == "bearing 400 is out of range; accepted: 0 to 360 degrees\n");
}

TEST_CASE("swapped, lost-sign and degrees-minutes positions are seen or read back", "[cli]") {
    Arguments room = worked_room();
    room[1] = "0 52";  // latitude and longitude swapped
    const Outcome swapped = key(room);
    CHECK(swapped.code != 0);
    CHECK(holds(swapped.err, "swapped?"));
    room[1] = "52N 75W";  // an hour's zone away from Greenwich
    const Outcome far = key(room);
    CHECK((far.code != 0 || tells(far.out, "PLEASE CHECK: ")));
    room[1] = "51.5230N 1.5W";  // 51 degrees 52.30 minutes, typed as a decimal
    const std::string out = key(room, {"--show", "readback"}).out;
    CHECK(holds(out, "51.52 NORTH 1.50 WEST\n"));
    CHECK(holds(out, "position: 51.523 degrees NORTH, 1.5 degrees WEST\n"));
    CHECK(holds(out, "in minutes: 51 deg 31.38 min N, 1 deg 30.00 min W;"));
}
