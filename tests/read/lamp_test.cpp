// [[lamp]] in a location file, sound and not.

#include <catch2/catch.hpp>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "keyhour/study/lamp_output.hpp"
#include "read/location_file.hpp"
#include "support/scratch_folder.hpp"

using namespace keyhour;
using namespace keyhour::read;
using keyhour::test::ScratchFolder;

namespace {

/// 26 lines; the table that a test adds begins on line 27.
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
    "name = \"table\"\n"
    "footprint = [[4, 2], [5, 2], [5, 3], [4, 3]]\n"
    "height_m = 0.9\n"
    "[[building]]\n"
    "name = \"shed\"\n"
    "footprint = [[0, -9], [4, -9], [4, -6], [0, -6]]\n"
    "height_m = 4\n"
    "\n";

const std::string sheet = "sheet = { level_lx = 4000, at_m = 5, beam_deg = 30 }\n";
const std::string key = "[[lamp]]\nname = \"key\"\nplace = \"outside\"\n";

std::vector<std::string> complaints(const std::string& lamps, const std::string& name = "t.toml") {
    const auto read = read_location_text(room_text + lamps, name);
    std::vector<std::string> out;
    if (read) return out;
    for (const Problem& p : read.error())
        out.push_back(std::to_string(p.line) + ":" + std::to_string(p.column) + ": " + p.message());
    return out;
}

site::Location sound(const std::string& lamps, const std::string& name = "t.toml") {
    auto read = read_location_text(room_text + lamps, name);
    if (!read) FAIL(read::text(read.error()));
    return *std::move(read);
}

}  // namespace

TEST_CASE("a lamp by its data sheet is read with all its keys", "[read][lamp]") {
    const auto l = sound(
        key +
        "sheet = { level_lx = 4000, at_m = \"5 m\", beam_deg = 30, field_deg = 55, second = { "
        "level_lx = 1100, at_m = 10 } }\n"
        "face_diameter_m = 0.4\nkelvin = 3200\nstand_max_m = \"12 ft\"\nwatts = 1200\n"
        "battery_h = 2.5\nat = [2, -3]\nheight_m = 2.5\n"
        "diffusion = { transmittance = 0.5, diameter_m = 1.2, distance_m = 0.6 }\n");
    REQUIRE(l.lamps.size() == 1);
    const site::Lamp& lamp = l.lamps[0];
    CHECK(lamp.name == "key");
    CHECK(lamp.place == site::Lamp::Place::outside);
    const auto& data = std::get<light::DataSheet>(lamp.photometry);
    CHECK(data.reading.level_lx == 4000);
    CHECK(data.reading.distance_m == 5);
    CHECK(data.beam.in_degrees() == Approx(30));
    CHECK(data.field->in_degrees() == Approx(55));
    CHECK(data.second_reading->distance_m == 10);
    CHECK(data.face_diameter_m == 0.4);
    CHECK(lamp.kelvin == 3200);
    CHECK(*lamp.stand_max_m == Approx(12 * 0.3048));
    CHECK(*lamp.watts == 1200);
    CHECK(*lamp.battery_h == 2.5);
    CHECK(*lamp.at == room::Point2{2, -3});
    CHECK(*lamp.height_m == 2.5);
    CHECK(lamp.diffusion->transmittance == 0.5);
    CHECK(lamp.diffusion->diameter_m == 1.2);
    CHECK(lamp.diffusion->distance_m == 0.6);
}

TEST_CASE("a lamp's photometric file lies beside the location, as a skyline does", "[read][lamp]") {
    const ScratchFolder folder;
    std::ofstream{folder.path("spot.ies")} << "IESNA:LM-63-2002\nTILT=NONE\n"
                                              "1 -1 1 3 1 1 2 -0.3 -0.3 0\n1 1 240\n"
                                              "0 10 90\n0\n1000 500 0\n";
    const std::string lamp = key + "photometry = \"spot.ies\"\n";
    const auto l = sound(lamp, folder.path("t.toml"));
    const auto& measured = std::get<site::MeasuredIntensity>(l.lamps[0].photometry);
    CHECK(measured.file == "spot.ies");
    CHECK(l.lamps[0].face_diameter_m == Approx(0.3));
    CHECK(*l.lamps[0].watts == 240);
    const study::LampOutput output{l.lamps[0]};
    CHECK(output.axis_candela() == Approx(1000));
    CHECK(output.level_lx({{}, {0, 1, 0}}, {0, 10, 0}) == Approx(10));
    // What the location says goes before what the file says.
    CHECK(sound(lamp + "face_diameter_m = 0.1\n", folder.path("t.toml")).lamps[0].face_diameter_m ==
          0.1);

    // A broken file is told by its own name and line.
    std::ofstream{folder.path("spot.ies")} << "IESNA:LM-63-2002\nTILT=NONE\n1 -1 bright\n";
    const auto broken = read_location_text(room_text + lamp, folder.path("t.toml"));
    REQUIRE_FALSE(broken);
    CHECK_THAT(broken.error().front().text(),
               Catch::Matchers::StartsWith(folder.path("spot.ies") +
                                           ":3:6: \"bright\" where the candela multiplier should"));
    const auto gone =
        read_location_text(room_text + key + "photometry = \"other.ies\"\n", folder.path("t.toml"));
    REQUIRE_FALSE(gone);
    CHECK_THAT(gone.error().front().text(),
               Catch::Matchers::Contains("other.ies: the file cannot be read"));
}

TEST_CASE("a street lamp needs no more than lumens, a place and no room", "[read][lamp]") {
    const auto read = read_location_text(
        "format = 1\n[site]\nposition = \"10N 20E\"\ntime_zone = \"UTC0\"\n"
        "[[lamp]]\nname = \"street\"\nplace = \"outside\"\nlumens = 4000\nat = [3, 4]\n"
        "height_m = 5\n",
        "t.toml");
    REQUIRE(read);
    const study::LampOutput output{read->lamps[0]};
    CHECK_FALSE(output.can_be_aimed());
    CHECK(output.lumens() == Approx(4000));
}

TEST_CASE("a lamp is the same in a line of JSON", "[read][lamp]") {
    const auto read = read_location_json(
        R"({"format": 1, "site": {"position": "10N 20E", "time_zone": "UTC0"}, "lamp": [)"
        R"({"name": "key", "place": "outside", "sheet": {"level_lx": 4000, "at_m": 5, )"
        R"("beam_deg": 30}}]})",
        "line 1");
    if (!read) FAIL(read::text(read.error()));
    CHECK(std::get<light::DataSheet>(read->lamps[0].photometry).reading.level_lx == 4000);
    const auto bad = read_location_json(
        R"({"format": 1, "site": {"position": "10N 20E", "time_zone": "UTC0"}, "lamp": [)"
        R"({"name": "key", "place": "outside", "lumens": -3}]})",
        "line 1");
    REQUIRE_FALSE(bad);
    CHECK_THAT(bad.error().front().text(), Catch::Matchers::Contains("lamp[0].lumens"));
}

namespace {

struct Wrong {
    std::string lamps, says;
};
const std::vector<Wrong> wrong_lamps{
    {"[[lamp]]\nplace = \"outside\"\n" + sheet, "27:1: \"name\" is missing in [[lamp]]"},
    {"[[lamp]]\nname = \"key\"\n" + sheet, "27:1: \"place\" is missing in [[lamp]] \"key\""},
    {"[[lamp]]\nname = \"key\"\nplace = \"above\"\n" + sheet, "29:9: place = \"above\""},
    {key,
     "28:8: [[lamp]] \"key\" does not say what light it gives; accepted: one of "
     "photometry"},
    {key + sheet + "lumens = 100\n",
     "28:8: [[lamp]] \"key\" says more than once what light it gives"},
    {key + sheet + key + sheet, "32:8: a second lamp is called \"key\"; each needs its own"},
    {key + sheet + "lux = 4\n", "31:1: unknown key \"lux\" in [[lamp]] \"key\""},
    {key + sheet + "kelvins = 4\n",
     "31:1: unknown key \"kelvins\" in [[lamp]] \"key\"; did you mean \"kelvin\"?"},
    {key + sheet + "kelvin = 50\n", "31:10: kelvin = 50 in [[lamp]] \"key\""},
    {key + "sheet = { level_lx = 4000, at_m = -5, beam_deg = 30 }\n",
     "30:35: at_m = -5 in sheet of [[lamp]] \"key\""},
    {key + "sheet = { level_lx = 0, at_m = 5, beam_deg = 30 }\n", "30:22: level_lx = 0"},
    {key + "sheet = { level_lx = 4000, at_m = 5, beam_deg = 230 }\n", "30:49: beam_deg = 230"},
    {key + "sheet = { level_lx = 4000, at_m = 5, beam_deg = 30, field_deg = 20 }\n",
     "30:65: field_deg = 20 in sheet of [[lamp]] \"key\": the field is not wider than the "
     "beam"},
    {key + "sheet = { level_lx = 4000, at_m = 5, beam_deg = 30, second = { level_lx = 5000, "
           "at_m = 10 } }\n",
     "30:62: second = "},
    {key + "sheet = { level_lx = 4000, at_m = 5, beam_deg = 30, second = { level_lx = 5000, "
           "at_m = 5 } }\n",
     "30:62: second = "},
    {key + "sheet = { level_lx = 4000, at_m = 5 }\n",
     "30:9: \"beam_deg\" is missing in sheet of [[lamp]] \"key\""},
    {key + "sheet = 4000\n", "30:9: "},
    {key + "lumens = \"many\"\n", "30:10: lumens = \"many\""},
    {key + "lumens = nan\n", "30:10: lumens = nan"},
    {key + "lumens = -4\n", "30:10: lumens = -4"},
    {key + sheet + "face_diameter_m = -0.2\n", "31:19: face_diameter_m = -0.2"},
    {key + sheet + "diffusion = { transmittance = 1.4, diameter_m = 1, distance_m = 1 }\n",
     "31:31: transmittance = 1.4 in diffusion of [[lamp]] \"key\""},
    {key + sheet + "diffusion = { transmittance = 0.4, diameter_m = 1, distance_m = -1 }\n",
     "31:65: distance_m = -1 in diffusion of [[lamp]] \"key\""},
    {key + "lumens = 4000\ndiffusion = { transmittance = 0.4, diameter_m = 1, distance_m = 1 "
           "}\n",
     "31:13: diffusion before a lamp of which only the lumens are known"},
    {key + sheet + "at = [2, -3]\n",
     "31:6: [[lamp]] \"key\" has at without height_m; accepted: both"},
    {key + sheet + "height_m = 2\n", "31:12: [[lamp]] \"key\" has height_m without at"},
    {key + sheet + "at = [2, -3]\nheight_m = 4\nstand_max_m = 3\n",
     "32:12: lamp \"key\" is 4 m high on a stand of 3 m"},
    {key + sheet + "at = [2, 3]\nheight_m = 2\n", "31:6: lamp \"key\" is in the room"},
    {key + sheet + "at = [2, -0.2]\nheight_m = 2\n",
     "31:6: lamp \"key\" is inside the wall \"street\""},
    {key + sheet + "at = [2, -7]\nheight_m = 2\n", "31:6: lamp \"key\" is inside building shed"},
    {"[[lamp]]\nname = \"fill\"\nplace = \"inside\"\n" + sheet + "at = [2, -3]\nheight_m = 2\n",
     "31:6: lamp \"fill\" is outside the floor; accepted: a place in the room, or place = "
     "\"outside\""},
    {"[[lamp]]\nname = \"fill\"\nplace = \"inside\"\n" + sheet + "at = [2, 3]\nheight_m = 3.5\n",
     "32:12: lamp \"fill\" is 3.5 m above the floor, in a room 3 m high"},
    {"[[lamp]]\nname = \"fill\"\nplace = \"inside\"\n" + sheet +
         "at = [4.5, 2.5]\nheight_m = 0.5\n",
     "31:6: lamp \"fill\" is inside object \"table\""},
};

}  // namespace

TEST_CASE("wrong lamps say where, what was found and what is accepted", "[read][lamp]") {
    for (const Wrong& wrong : wrong_lamps) {
        const auto found = complaints(wrong.lamps);
        CAPTURE(wrong.lamps, found);
        REQUIRE(found.size() >= 1);
        CHECK_THAT(found.front(), Catch::Matchers::StartsWith(wrong.says));
    }
    CHECK(complaints(key + sheet + "at = [2, -7]\nheight_m = 6\n").empty());  // on the shed's roof
    const auto no_room = read_location_text(
        "format = 1\n[site]\nposition = \"10N 20E\"\ntime_zone = \"UTC0\"\n[[lamp]]\nname = "
        "\"fill\"\nplace = \"inside\"\nlumens = 4\n",
        "t.toml");
    REQUIRE_FALSE(no_room);
    CHECK_THAT(no_room.error().front().message(),
               Catch::Matchers::StartsWith("lamp \"fill\" is inside, but there is no room"));
}
