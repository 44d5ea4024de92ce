// Every field wrong in kind, range, unit or spelling, and the slips of real life: each with the
// whole text that it is answered with. What the crew reads is a feature.
#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "read/location_file.hpp"

namespace {

const char* const forge = R"(format = 1

[site]
name = "Mill Bank Forge"
position = "52.9536N 1.1505W"
elevation_m = 61
time_zone = "Europe/London"
horizon = [[0, 3], [180, 2]]
air = "normal"

[room]
floor = [[0, 0], [6, 0], [6, 4], [0, 4]]
walls = ["lane", "yard", "back", "party"]
height_m = 3
floor_above_ground_m = 0.2
bearing = { wall = "lane", faces = 196, north = "true", within_deg = 3 }
reflectance = { floor = 0.2, walls = 0.5, ceiling = 0.7 }

[[window]]
name = "left light"
wall = "lane"
left_m = 0.5
width_m = 1.2
sill_m = 0.9
height_m = 1.5
reveal_m = 0.3
bars = { upright = 1, level = 2, width_m = 0.03, set_back_m = 0.1 }
glass = "single"
cover = "open"

[[window]]
name = "right light"
wall = "lane"
left_m = 2.5
width_m = 1.2
sill_m = 0.9
height_m = 1.5
reveal_m = 0.3

[[mark]]
name = "anvil"
at = [3, 2]
height_m = 1.3

[[camera]]
name = "A"
at = [5, 3]
height_m = 1.4
aims_at = "anvil"
view_deg = 38

[[object]]
name = "bench"
footprint = [[0.2, 1], [1, 1], [1, 3], [0.2, 3]]
height_m = 0.9

[[building]]
name = "barn"
footprint = [[-5, -20], [10, -20], [10, -12], [-5, -12]]
height_m = 8

[[spot]]
name = "gate"
at = [9, 2]
camera_bearing = 240
wants = "side"
)";

/// One change to the sound file, and the complaints that it brings: LINE:COLUMN: FOUND; ACCEPTED.
struct Slip {
    const char *from, *to;
    std::vector<std::string> complaints;
};

// clang-format off
const std::vector<Slip> slips{
    {"format = 1\n",
     "",
     {"1:1: \"format\" is missing in the file; accepted: 1"}},
    {"format = 1",
     "format = 2",
     {"1:10: format = 2 is out of range; accepted: 1"}},
    {"format = 1",
     "format = \"1\"",
     {"1:10: format = \"1\" is not a whole number; accepted: 1"}},
    {"format = 1",
     "format = 1\ncolour = \"red\"",
     {"2:1: unknown key \"colour\" in the file; accepted: \"format\", \"site\", \"room\", \"window\", \"mark\", \"camera\", \"object\", \"building\", \"tree\", \"spot\", \"lamp\", \"lock\", \"forge\", \"meter\", \"rigging\" or \"task\""}},
    {"[site]",
     "[sight]",
     {"1:1: \"site\" is missing in the file; accepted: a table [site]",
      "3:2: unknown table [sight]; accepted: \"format\", \"site\", \"room\", \"window\", \"mark\", \"camera\", \"object\", \"building\", \"tree\", \"spot\", \"lamp\", \"lock\", \"forge\", \"meter\", \"rigging\" or \"task\""}},
    {"[room]",
     "[[room]]",
     {"11:1: [[room]] stands for one of many; there is one room: write [room]"}},
    {"[[mark]]",
     "[mark]",
     {"40:1: [mark] stands for the only one; write [[mark]], with doubled brackets"}},
    {"[[spot]]",
     "[[spots]]",
     {"62:3: unknown table [[spots]]; did you mean \"spot\"?"}},
    {"format = 1",
     "format = 1\nformat = 1",
     {"2:1: \"format\" stands a second time; accepted: each key once in its table, each table once"}},
    {"name = \"Mill Bank Forge\"",
     "name = Mill Bank Forge",
     {"4:8: not TOML: could not determine value type; accepted: key = value, with text in quotes; [table] or [[table]]"}},
    {"name = \"Mill Bank Forge\"",
     "name = \"Mill Bank Forge",
     {"4:8: a quote is opened and not closed; text stands between two straight quotes: \"...\""}},
    {"name = \"Mill Bank Forge\"",
     "name = “Mill Bank Forge”",
     {"4:8: \"“\" stands outside quotes; accepted there: letters a to z, digits and signs of ASCII"}},
    {"[6, 4], [0, 4]]",
     "[6, 4], [0, 4]",
     {"12:9: \"[\" is opened and not closed; a \"]\" is missing before the next key or table"}},
    {"faces = 196",
     "faces = 196°",
     {"16:39: \"°\" stands outside quotes; accepted there: letters a to z, digits and signs of ASCII"}},
    {"elevation_m = 61",
     "elevation_m = 61 m",
     {"6:18: not TOML: expected a comment or whitespace, saw 'm'; accepted: one value; text, and a number with its unit, stand in quotes"}},
    {"elevation_m = 61",
     "elevation_m 61",
     {"6:13: not TOML: expected '=', saw '6'; accepted: key = value, with text in quotes; [table] or [[table]]"}},
    {"elevation_m = 61",
     "élévation = 61",
     {"6:1: \"é\" stands outside quotes; accepted there: letters a to z, digits and signs of ASCII"}},
    {"name = \"Mill Bank Forge\"",
     "name = \"  \"",
     {"4:8: name = \"  \" in [site] is empty; accepted: a name on one line"}},
    {"name = \"Mill Bank Forge\"",
     "name = 7",
     {"4:8: name = 7 in [site] is not text; accepted: text in quotes"}},
    {"name = \"Mill Bank Forge\"",
     "nmae = \"Mill Bank Forge\"",
     {"4:1: unknown key \"nmae\" in [site]; did you mean \"name\"?"}},
    {"position = \"52.9536N 1.1505W\"\n",
     "",
     {"3:1: \"position\" is missing in [site]; accepted: text in quotes, as in \"52.9536N 1.1505W\""}},
    {"position = \"52.9536N 1.1505W\"",
     "position = [52.9536, -1.1505]",
     {"5:12: position = [52.9536, -1.1505] in [site] is not text; accepted: text in quotes, as in \"52.9536N 1.1505W\""}},
    {"position = \"52.9536N 1.1505W\"",
     "position = \"91N 1.1505W\"",
     {"5:12: position \"91N 1.1505W\" has latitude 91, which is not in -90..90; accepted: latitude and longitude as \"52.9536N 1.1505W\" or \"52d57'13\\\"N 1d9'2\\\"W\" (no space inside an angle), UTM as \"30n 624247 5870973\", or MGRS as \"30UXD2424770973\""}},
    {"position = \"52.9536N 1.1505W\"",
     "position = \"the mill\"",
     {"5:12: position \"the mill\" cannot be read; accepted: latitude and longitude as \"52.9536N 1.1505W\" or \"52d57'13\\\"N 1d9'2\\\"W\" (no space inside an angle), UTM as \"30n 624247 5870973\", or MGRS as \"30UXD2424770973\""}},
    {"position = \"52.9536N 1.1505W\"",
     "position = \"nan nan\"",
     {"5:12: position \"nan nan\" is not a number; accepted: latitude and longitude as \"52.9536N 1.1505W\" or \"52d57'13\\\"N 1d9'2\\\"W\" (no space inside an angle), UTM as \"30n 624247 5870973\", or MGRS as \"30UXD2424770973\""}},
    {"position = \"52.9536N 1.1505W\"",
     "position = \"30U\"",
     {"5:12: position \"30U\" is an MGRS square of 10 km or more; give 1 km or finer (4 digits); accepted: latitude and longitude as \"52.9536N 1.1505W\" or \"52d57'13\\\"N 1d9'2\\\"W\" (no space inside an angle), UTM as \"30n 624247 5870973\", or MGRS as \"30UXD2424770973\""}},
    {"position = \"52.9536N 1.1505W\"",
     "position = \"1.1505S 52.9536E\"",
     {"5:12: longitude 52.95 EAST is about 3.5 h east of Greenwich; the zone is Europe/London (UTC+00:00; its table has 51 deg 30.50 min N, 0 deg 7.52 min W). Latitude and longitude swapped? That would be 52.9536 degrees NORTH, 1.1505 degrees WEST: write \"52.9536N 1.1505W\"."}},
    {"elevation_m = 61",
     "elevation_m = \"high\"",
     {"6:15: elevation_m = \"high\" in [site] is not a length: a number is missing before \"high\"; accepted: metres as a number, or text with a unit such as \"127 cm\" or \"4 ft 2 in\""}},
    {"elevation_m = 61",
     "elevation_m = inf",
     {"6:15: elevation_m = inf in [site] is not a finite number; accepted: -500 m to 9000 m"}},
    {"elevation_m = 61",
     "elevation_m = 9001",
     {"6:15: elevation_m = 9001 in [site]: is this feet? write \"9001 ft\", or \"9001 m\" if metres are meant"}},
    {"elevation_m = 61",
     "elevation = 61",
     {"6:1: unknown key \"elevation\" in [site]; did you mean \"elevation_m\"?"}},
    {"time_zone = \"Europe/London\"\n",
     "",
     {"3:1: \"time_zone\" is missing in [site]; accepted: text in quotes, as in \"Europe/London\""}},
    {"time_zone = \"Europe/London\"",
     "time_zone = \"Europe/Lundon\"",
     {"7:13: time zone \"Europe/Lundon\" is not known; did you mean \"Europe/London\"?; accepted: an IANA name such as \"Europe/London\", or a POSIX TZ string such as \"GMT0BST,M3.5.0/1,M10.5.0\""}},
    {"time_zone = \"Europe/London\"",
     "time_zone = 0",
     {"7:13: time_zone = 0 in [site] is not text; accepted: text in quotes, as in \"Europe/London\""}},
    {"time_zone = \"Europe/London\"",
     "time_zone = \"\"",
     {"7:13: time zone \"\" is empty; accepted: an IANA name such as \"Europe/London\", or a POSIX TZ string such as \"GMT0BST,M3.5.0/1,M10.5.0\""}},
    {"time_zone = \"Europe/London\"",
     "time_zone = \"CET-1CEST,M13.5.0,M10.5.0\"",
     {"7:13: time zone \"CET-1CEST,M13.5.0,M10.5.0\" is no POSIX TZ string: expected a month 1 to 12 at character 12, found \"13.5.0,M10.5\"; accepted: an IANA name such as \"Europe/London\", or a POSIX TZ string such as \"GMT0BST,M3.5.0/1,M10.5.0\""}},
    {"[180, 2]]",
     "[361, 2]]",
     {"8:21: horizon = 361 in [site] is out of range; accepted: a bearing of 0 to 360 degrees"}},
    {"[180, 2]]",
     "[180, 90]]",
     {"8:26: horizon = 90 in [site] is out of range; accepted: an altitude of 0 to 89 degrees"}},
    {"[180, 2]]",
     "[180, -1]]",
     {"8:26: horizon = -1 in [site] is out of range; accepted: an altitude of 0 to 89 degrees"}},
    {"[180, 2]]",
     "[180]]",
     {"8:20: horizon = [180] in [site] is not a pair; accepted: pairs of bearing and altitude in degrees, as in [[0, 3], [180, 2.5]]"}},
    {"[180, 2]]",
     "[360, 2]]",
     {"8:11: the horizon has two altitudes at bearing 360; each bearing stands once; 0 and 360 are the same"}},
    {"[180, 2]]",
     "[nan, 2]]",
     {"8:21: horizon = nan in [site] is not a finite number; accepted: a bearing of 0 to 360 degrees"}},
    {"horizon = [[0, 3], [180, 2]]",
     "horizon = 5",
     {"8:11: horizon = 5 in [site] is not a list of pairs; accepted: pairs of bearing and altitude in degrees, as in [[0, 3], [180, 2.5]]"}},
    {"[180, 2]]",
     "[180, \"2\"]]",
     {"8:26: horizon = \"2\" in [site] is not a number; accepted: an altitude of 0 to 89 degrees"}},
    {"air = \"normal\"",
     "air = \"foggy\"",
     {"9:7: air = \"foggy\" in [site] is not known; accepted: \"very clear\", \"normal\" or \"hazy\""}},
    {"air = \"normal\"",
     "air = \"normal\"\npressure_hpa = 1.01",
     {"10:16: pressure_hpa = 1.01 in [site] is out of range; accepted: 300 to 1100 hPa"}},
    {"air = \"normal\"",
     "air = \"normal\"\ntemperature_c = 90",
     {"10:17: temperature_c = 90 in [site] is out of range; accepted: -60 to 60 degrees C"}},
    {"floor = [[0, 0], [6, 0], [6, 4], [0, 4]]\n",
     "",
     {"11:1: \"floor\" is missing in [room]; accepted: at least three corners, as in [[0, 0], [7.2, 0], [7.2, 4.6]]"}},
    {"floor = [[0, 0], [6, 0], [6, 4], [0, 4]]",
     "floor = [[0, 0], [6, 4], [6, 0], [0, 4]]",
     {"12:9: the floor's outline crosses or touches itself; list each corner once, in order around the room"}},
    {"[0, 0], [6, 0], [6, 4], [0, 4]",
     "[0, 0], [6, 0]",
     {"12:9: floor in [room] has 2 corners; accepted: at least three corners, as in [[0, 0], [7.2, 0], [7.2, 4.6]]"}},
    {"[0, 0], [6, 0], [6, 4], [0, 4]",
     "[0, 0], [6, 0], [6, 4], [0, 4], [0, 2]",
     {"13:9: 4 wall names for 5 corners; accepted: one name for each wall; wall i runs from corner i to the next"}},
    {"[0, 0], [6, 0], [6, 4], [0, 4]",
     "[0, 0], [6, 0], [6, 4], [0]",
     {"12:34: floor = [0] in [room] is not a point; accepted: [x, y], as in [3.2, 1.8]"}},
    {"[0, 0], [6, 0], [6, 4], [0, 4]",
     "[0, 0], [6, 0], [6, 4], [0, \"four\"]",
     {"12:38: floor = \"four\" in [room] is not a length: a number is missing before \"four\"; accepted: metres as a number, or text with a unit such as \"127 cm\" or \"4 ft 2 in\""}},
    {"[0, 0], [6, 0], [6, 4], [0, 4]",
     "[0, 0], [52, 0], [52, 30], [0, 30]",
     {"12:9: the floor is 52 by 30 m: is this feet? write \"52 ft\", or \"52 m\" if metres are meant; a unit with every number"}},
    {"[0, 0], [6, 0], [6, 4], [0, 4]",
     "[0, 0], [600, 0], [600, 400], [0, 400]",
     {"12:9: the floor is 600 by 400 m: is this inches or centimetres? write \"600 in\" or \"600 cm\", or \"600 m\" if metres are meant; a unit with every number"}},
    {"[0, 0], [6, 0], [6, 4], [0, 4]",
     "[0, 0], [6, 0], [6, 4], [0, nan]",
     {"12:38: floor = nan in [room] is not a finite number; accepted: -10000 m to 10000 m"}},
    {"floor = [[0, 0], [6, 0], [6, 4], [0, 4]]",
     "floor = \"6 x 4 m\"",
     {"12:9: floor = \"6 x 4 m\" in [room] is not a list of corners; accepted: at least three corners, as in [[0, 0], [7.2, 0], [7.2, 4.6]]"}},
    {"walls = [\"lane\", \"yard\", \"back\", \"party\"]",
     "walls = [\"lane\", \"yard\", \"back\", \"lane\"]",
     {"13:34: the name \"lane\" stands twice in walls; each needs its own"}},
    {"walls = [\"lane\", \"yard\", \"back\", \"party\"]",
     "walls = [\"lane\", \"yard\", \"back\", \"\"]",
     {"13:34: walls = \"\" in [room] is empty; accepted: names in quotes, as in [\"street\", \"yard\"]"}},
    {"walls = [\"lane\", \"yard\", \"back\", \"party\"]",
     "walls = \"lane\"",
     {"13:9: walls = \"lane\" in [room] is not a list of names; accepted: names in quotes, as in [\"street\", \"yard\"]"}},
    {"height_m = 3\n",
     "height_m = 0\n",
     {"14:12: height_m = 0 in [room] is out of range; accepted: more than 0 m, up to 100 m"}},
    {"height_m = 3\n",
     "height_m = 10\n",
     {"14:12: height_m = 10 in [room]: is this feet? write \"10 ft\", or \"10 m\" if metres are meant"}},
    {"height_m = 3\n",
     "height_m = 300\n",
     {"14:12: height_m = 300 in [room]: is this inches or centimetres? write \"300 in\" or \"300 cm\", or \"300 m\" if metres are meant"}},
    {"height_m = 3\n",
     "height_m = -3\n",
     {"14:12: height_m = -3 in [room] is out of range; accepted: more than 0 m, up to 100 m"}},
    {"height_m = 3\n",
     "height_m = \"3\"\n",
     {"14:12: height_m = \"3\" in [room] is not a length: it has no unit; accepted: metres as a number, or text with a unit such as \"127 cm\" or \"4 ft 2 in\""}},
    {"floor_above_ground_m = 0.2",
     "floor_above_ground_m = \"20 stone\"",
     {"15:24: floor_above_ground_m = \"20 stone\" in [room] is not a length: \"stone\" is no unit of length; accepted: metres as a number, or text with a unit such as \"127 cm\" or \"4 ft 2 in\""}},
    {"floor_above_ground_m = 0.2",
     "floor_above_ground = 0.2",
     {"15:1: unknown key \"floor_above_ground\" in [room]; did you mean \"floor_above_ground_m\"?"}},
    {"bearing = { wall = \"lane\", faces = 196, north = \"true\", within_deg = 3 }\n",
     "",
     {"11:1: \"bearing\" is missing in [room]; accepted: bearing = { wall = \"street\", faces = 196, north = \"true\" }"}},
    {", north = \"true\"",
     "",
     {"16:11: \"north\" is missing in bearing; accepted: \"true\" or \"magnetic\""}},
    {"wall = \"lane\", faces",
     "faces",
     {"16:11: \"wall\" is missing in bearing; accepted: the name of a wall"}},
    {"faces = 196, ",
     "",
     {"16:11: \"faces\" is missing in bearing; accepted: 0 to 360 degrees"}},
    {"faces = 196",
     "faces = 361",
     {"16:36: faces = 361 in bearing is out of range; accepted: 0 to 360 degrees"}},
    {"faces = 196",
     "faces = -10",
     {"16:36: faces = -10 in bearing is out of range; accepted: 0 to 360 degrees"}},
    {"faces = 196",
     "faces = nan",
     {"16:36: faces = nan in bearing is not a finite number; accepted: 0 to 360 degrees"}},
    {"faces = 196",
     "faces = \"south\"",
     {"16:36: faces = \"south\" in bearing is not a number; accepted: 0 to 360 degrees"}},
    {"north = \"true\"",
     "north = true",
     {"16:49: north = true in bearing is not known; accepted: \"true\" or \"magnetic\""}},
    {"north = \"true\"",
     "north = \"grid\"",
     {"16:49: north = \"grid\" in bearing is not known; accepted: \"true\" or \"magnetic\""}},
    {"wall = \"lane\", faces",
     "wall = \"lame\", faces",
     {"16:20: wall = \"lame\" in bearing: there is no such wall; did you mean \"lane\"?"}},
    {"within_deg = 3",
     "within_deg = 50",
     {"16:70: within_deg = 50 in bearing is out of range; accepted: 0 to 45 degrees"}},
    {"within_deg = 3",
     "within = 3",
     {"16:57: unknown key \"within\" in bearing; did you mean \"within_deg\"?"}},
    {"north = \"true\"",
     "north = \"magnetic\", measured = \"10/02/2026\"",
     {"16:72: measured = \"10/02/2026\" in bearing: \"10/02/2026\" is two dates: 10 February and 2 October; write 2026-02-10 or 2026-10-02; accepted: a date as in \"2026-02-10\""}},
    {"north = \"true\"",
     "north = \"magnetic\", measured = 1999-05-01",
     {"16:72: the magnetic model holds from 2025 up to 2030, not for 1999.3: give the bearing from true north; write the true bearing, with north = \"true\""}},
    {"north = \"true\"",
     "north = \"magnetic\", measured = 3",
     {"16:72: measured = 3 in bearing is not a date; accepted: a date as in \"2026-02-10\""}},
    {"floor = 0.2",
     "floor = 20",
     {"17:25: floor = 20 in reflectance is out of range; accepted: 0 to 1"}},
    {"reflectance = { floor = 0.2, walls = 0.5, ceiling = 0.7 }",
     "reflectance = 0.5",
     {"17:15: reflectance = 0.5 in [room] is not a table; accepted: reflectance = { floor = 0.2, walls = 0.5, ceiling = 0.7 }"}},
    {"[[window]]\nname = \"left light\"",
     "[[window]]\nname = \"\"",
     {"20:8: name = \"\" in [[window]] is empty; accepted: a name on one line"}},
    {"[[window]]\nname = \"left light\"",
     "[[window]]",
     {"19:1: \"name\" is missing in [[window]]; accepted: text in quotes"}},
    {"[[window]]\nname = \"left light\"",
     "[[window]]\nname = \"right light\"",
     {"32:8: a second window is called \"right light\"; each needs its own name"}},
    {"wall = \"lane\"\nleft_m = 0.5",
     "wall = \"alley\"\nleft_m = 0.5",
     {"21:8: wall = \"alley\" in [[window]] \"left light\": there is no such wall; accepted: \"lane\", \"yard\", \"back\" or \"party\""}},
    {"wall = \"lane\"\nleft_m = 0.5",
     "wall = 1\nleft_m = 0.5",
     {"21:8: wall = 1 in [[window]] \"left light\" is not text; accepted: the name of a wall"}},
    {"left_m = 0.5\n",
     "",
     {"19:1: \"left_m\" is missing in [[window]] \"left light\"; accepted: metres as a number, or text with a unit such as \"127 cm\" or \"4 ft 2 in\""}},
    {"left_m = 0.5",
     "left_m = -0.5",
     {"22:10: left_m = -0.5 in [[window]] \"left light\" is out of range; accepted: 0 m to 1000 m"}},
    {"left_m = 0.5",
     "left_m = 5",
     {"22:10: window \"left light\" ends 6.2 m along wall \"lane\", which is 6 m long; accepted: left_m + width_m up to 6 m"}},
    {"left_m = 0.5",
     "left_m = 2",
     {"34:10: windows \"left light\" and \"right light\" overlap on wall \"lane\"; \"left light\" spans 2 to 3.2 m, \"right light\" spans 2.5 to 3.7 m"}},
    {"left_m = 0.5",
     "left_m = 50",
     {"22:10: left_m = 50 in [[window]] \"left light\": is this feet? write \"50 ft\", or \"50 m\" if metres are meant"}},
    {"width_m = 1.2\nsill_m = 0.9\nheight_m = 1.5\nreveal_m = 0.3\nbars",
     "width_m = 0\nsill_m = 0.9\nheight_m = 1.5\nreveal_m = 0.3\nbars",
     {"23:11: width_m = 0 in [[window]] \"left light\" is out of range; accepted: more than 0 m, up to 100 m"}},
    {"left_m = 0.5\nwidth_m = 1.2",
     "left_m = 0.5\nwidth_m = 90",
     {"23:11: width_m = 90 in [[window]] \"left light\": is this inches or centimetres? write \"90 in\" or \"90 cm\", or \"90 m\" if metres are meant"}},
    {"left_m = 0.5\nwidth_m = 1.2",
     "left_m = 0.5\nwidth_m = 48",
     {"23:11: width_m = 48 in [[window]] \"left light\": is this inches or centimetres? write \"48 in\" or \"48 cm\", or \"48 m\" if metres are meant"}},
    {"left_m = 0.5\nwidth_m = 1.2",
     "left_m = 0.5\nwidth_m = 1200",
     {"23:11: width_m = 1200 in [[window]] \"left light\": is this millimetres? write \"1200 mm\", or \"1200 m\" if metres are meant"}},
    {"left_m = 0.5\nwidth_m = 1.2",
     "left_m = 0.5\nwidth_m = \"1,2 m\"",
     {"23:11: width_m = \"1,2 m\" in [[window]] \"left light\" is not a length: decimals stand after a point, not a comma; accepted: metres as a number, or text with a unit such as \"127 cm\" or \"4 ft 2 in\""}},
    {"left_m = 0.5\nwidth_m = 1.2",
     "left_m = 0.5\nwidth_m = \"4 ft 2\"",
     {"23:11: width_m = \"4 ft 2\" in [[window]] \"left light\" is not a length: it has no unit; accepted: metres as a number, or text with a unit such as \"127 cm\" or \"4 ft 2 in\""}},
    {"left_m = 0.5\nwidth_m = 1.2",
     "left_m = 0.5\nwidth_m = \"-4 ft\"",
     {"23:11: width_m = \"-4 ft\" in [[window]] \"left light\" is out of range; accepted: more than 0 m, up to 100 m"}},
    {"left_m = 0.5\nwidth_m = 1.2",
     "left_m = 0.5\nwidth_m = true",
     {"23:11: width_m = true in [[window]] \"left light\" is not a length; accepted: metres as a number, or text with a unit such as \"127 cm\" or \"4 ft 2 in\""}},
    {"left_m = 0.5\nwidth_m = 1.2",
     "left_m = 0.5\nwidth_cm = 120",
     {"19:1: \"width_m\" is missing in [[window]] \"left light\"; accepted: metres as a number, or text with a unit such as \"127 cm\" or \"4 ft 2 in\"",
      "23:1: unknown key \"width_cm\" in [[window]] \"left light\"; did you mean \"width_m\"?"}},
    {"width_m = 1.2\nsill_m = 0.9",
     "width_m = 1.2\nsill_m = 3.0",
     {"24:10: sill_m = 3.0 in [[window]] \"left light\": is this feet? write \"3.0 ft\", or \"3.0 m\" if metres are meant"}},
    {"width_m = 1.2\nsill_m = 0.9",
     "width_m = 1.2\nsill_m = 1.6",
     {"24:10: the head of window \"left light\" is 3.1 m above the floor, in a room 3 m high; accepted: sill_m + height_m up to 3 m"}},
    {"width_m = 1.2\nsill_m = 0.9",
     "width_m = 1.2\nsil_m = 0.9",
     {"19:1: \"sill_m\" is missing in [[window]] \"left light\"; accepted: metres as a number, or text with a unit such as \"127 cm\" or \"4 ft 2 in\"",
      "24:1: unknown key \"sil_m\" in [[window]] \"left light\"; did you mean \"sill_m\"?"}},
    {"width_m = 1.2\nsill_m = 0.9",
     "width_m = 1.2\nsill_m = -inf",
     {"24:10: sill_m = -inf in [[window]] \"left light\" is not a finite number; accepted: -2 m to 100 m"}},
    {"height_m = 1.5\nreveal_m = 0.3\nbars",
     "height_m = 5\nreveal_m = 0.3\nbars",
     {"25:12: height_m = 5 in [[window]] \"left light\": is this feet? write \"5 ft\", or \"5 m\" if metres are meant"}},
    {"reveal_m = 0.3\nbars",
     "bars",
     {"19:1: \"reveal_m\" is missing in [[window]] \"left light\"; accepted: metres as a number, or text with a unit such as \"127 cm\" or \"4 ft 2 in\""}},
    {"reveal_m = 0.3\nbars",
     "reveal_m = 30\nbars",
     {"26:12: reveal_m = 30 in [[window]] \"left light\": is this inches or centimetres? write \"30 in\" or \"30 cm\", or \"30 m\" if metres are meant"}},
    {"reveal_m = 0.3\nbars",
     "reveal_m = -0.1\nbars",
     {"26:12: reveal_m = -0.1 in [[window]] \"left light\" is out of range; accepted: 0 m to 10 m"}},
    {"upright = 1",
     "upright = 40",
     {"27:8: 40 upright bars of 0.03 m leave no pane in window \"left light\", 1.2 m wide; accepted: bars that leave glass between them"}},
    {"upright = 1",
     "upright = 1.5",
     {"27:20: upright = 1.5 in bars of [[window]] \"left light\" is not a whole number; accepted: a whole number, 0 to 100"}},
    {"upright = 1",
     "upright = -1",
     {"27:20: upright = -1 in bars of [[window]] \"left light\" is out of range; accepted: a whole number, 0 to 100"}},
    {"width_m = 0.03",
     "width_m = 0.9",
     {"27:44: width_m = 0.9 in bars of [[window]] \"left light\": is this feet? write \"0.9 ft\", or \"0.9 m\" if metres are meant"}},
    {"width_m = 0.03, ",
     "",
     {"27:8: \"width_m\" is missing in bars of [[window]] \"left light\"; accepted: metres as a number, or text with a unit such as \"127 cm\" or \"4 ft 2 in\""}},
    {"set_back_m = 0.1",
     "set_back_m = 0.4",
     {"27:8: the bars of window \"left light\" are set back 0.4 m in a reveal of 0.3 m; accepted: set_back_m up to 0.3 m"}},
    {"level = 2",
     "across = 2",
     {"27:23: unknown key \"across\" in bars of [[window]] \"left light\"; accepted: \"upright\", \"level\", \"width_m\" or \"set_back_m\""}},
    {"bars = { upright = 1, level = 2, width_m = 0.03, set_back_m = 0.1 }",
     "bars = 3",
     {"27:8: bars = 3 in [[window]] \"left light\" is not a table; accepted: bars = { upright = 1, level = 2, width_m = 0.03 }"}},
    {"glass = \"single\"",
     "glass = \"triple\"",
     {"28:9: glass = \"triple\" in [[window]] \"left light\" is not known; accepted: \"none\", \"single\" or \"double\""}},
    {"cover = \"open\"",
     "cover = \"closed\"",
     {"29:9: cover = \"closed\" in [[window]] \"left light\" is not known; accepted: \"open\", \"sheer\" or \"blackout\""}},
    {"cover = \"open\"",
     "cover = true",
     {"29:9: cover = true in [[window]] \"left light\" is not known; accepted: \"open\", \"sheer\" or \"blackout\""}},
    {"at = [3, 2]",
     "at = [9, 2]",
     {"42:6: mark \"anvil\" at [9, 2] is outside the floor; the floor spans x 0 to 6 and y 0 to 4"}},
    {"at = [3, 2]\nheight_m = 1.3",
     "at = [0.5, 2]\nheight_m = 0.5",
     {"42:6: mark \"anvil\" at [0.5, 2], 0.5 m high, is inside object \"bench\"; accepted: beside it, or above its top at 0.9 m"}},
    {"at = [3, 2]",
     "at = 3",
     {"42:6: at = 3 in [[mark]] \"anvil\" is not a point; accepted: [x, y], as in [3.2, 1.8]"}},
    {"at = [3, 2]",
     "at = [3, 2, 1.3]",
     {"42:6: at = [3, 2, 1.3] in [[mark]] \"anvil\" is not a point; accepted: [x, y], as in [3.2, 1.8]"}},
    {"at = [3, 2]",
     "at = [3, inf]",
     {"42:10: at = inf in [[mark]] \"anvil\" is not a finite number; accepted: -10000 m to 10000 m"}},
    {"height_m = 1.3\n",
     "height_m = \"3.2 m\"\n",
     {"43:12: mark \"anvil\" is 3.2 m above the floor, the ceiling 3 m; accepted: below 3 m"}},
    {"height_m = 1.3\n",
     "height_m = 4\n",
     {"43:12: height_m = 4 in [[mark]] \"anvil\": is this feet? write \"4 ft\", or \"4 m\" if metres are meant"}},
    {"height_m = 1.3\n",
     "height_m = 130\n",
     {"43:12: height_m = 130 in [[mark]] \"anvil\": is this centimetres? write \"130 cm\", or \"130 m\" if metres are meant"}},
    {"height_m = 1.3\n",
     "",
     {"40:1: \"height_m\" is missing in [[mark]] \"anvil\"; accepted: metres as a number, or text with a unit such as \"127 cm\" or \"4 ft 2 in\""}},
    {"height_m = 1.3\n",
     "height_m = 1.3\nradius_m = 0\n",
     {"44:12: radius_m = 0 in [[mark]] \"anvil\" is out of range; accepted: more than 0 m, up to 5 m"}},
    {"height_m = 1.3\n",
     "height_m = 1.3\nbox_m = [0.5, 0.5]\n",
     {"44:9: box_m = [0.5, 0.5] in [[mark]] \"anvil\" is not 3 lengths; accepted: 3 lengths in brackets"}},
    {"height_m = 1.3\n",
     "height_m = 1.3\nbox_m = [0.5, 0, 0.3]\n",
     {"44:15: box_m = 0 in [[mark]] \"anvil\" is out of range; accepted: more than 0 m, up to 20 m"}},
    {"height_m = 1.3\n",
     "height_m = 1.3\nbox_m = [0.5, 0.5, 0.3]\nradius_m = 0.2\n",
     {"45:12: radius_m = 0.2 in [[mark]] \"anvil\" beside box_m; a mark is a sphere or a box: write one of the two"}},
    {"at = [5, 3]",
     "at = [5, 4.5]",
     {"47:6: camera \"A\" at [5, 4.5] is outside the floor; the floor spans x 0 to 6 and y 0 to 4"}},
    {"at = [5, 3]\nheight_m = 1.4",
     "at = [3, 2]\nheight_m = 1.3",
     {"47:6: camera \"A\" stands at the mark \"anvil\" that it aims at; accepted: a place from which it can see the mark"}},
    {"aims_at = \"anvil\"",
     "aims_at = \"anvils\"",
     {"49:11: aims_at = \"anvils\" in [[camera]] \"A\": there is no such mark; did you mean \"anvil\"?"}},
    {"aims_at = \"anvil\"\n",
     "",
     {"45:1: \"aims_at\" is missing in [[camera]] \"A\"; accepted: the name of a mark"}},
    {"view_deg = 38",
     "view_deg = 0",
     {"50:12: view_deg = 0 in [[camera]] \"A\" is out of range; accepted: 1 to 170 degrees"}},
    {"view_deg = 38",
     "view_deg = 171",
     {"50:12: view_deg = 171 in [[camera]] \"A\" is out of range; accepted: 1 to 170 degrees"}},
    {"view_deg = 38",
     "lens_mm = 35",
     {"50:1: unknown key \"lens_mm\" in [[camera]] \"A\"; accepted: \"name\", \"at\", \"height_m\", \"aims_at\", \"view_deg\", \"view_vertical_deg\" or \"within_m\""}},
    {"[1, 1], [1, 3], [0.2, 3]]",
     "[1, 3], [1, 1], [0.2, 3]]",
     {"54:13: the footprint of object \"bench\" crosses or touches itself; list each corner once, in order around it"}},
    {"[1, 1], [1, 3], [0.2, 3]]",
     "[1, 1], [1, 5], [0.2, 5]]",
     {"54:13: object \"bench\" stands partly outside the floor; the floor spans x 0 to 6 and y 0 to 4"}},
    {"height_m = 0.9\n\n[[building",
     "height_m = 3.5\n\n[[building",
     {"55:12: object \"bench\" is 3.5 m high, the room 3 m; accepted: up to 3 m"}},
    {"height_m = 0.9\n\n[[building",
     "height_m = 36\n\n[[building",
     {"55:12: height_m = 36 in [[object]] \"bench\": is this inches or centimetres? write \"36 in\" or \"36 cm\", or \"36 m\" if metres are meant"}},
    {"[-5, -20], [10, -20], [10, -12], [-5, -12]",
     "[-5, -20], [10, -20], [10, 1], [-5, 1]",
     {"59:13: building \"barn\" overlaps the room's floor; accepted: a footprint outside the room; the floor spans x 0 to 6 and y 0 to 4"}},
    {"[-5, -20], [10, -20], [10, -12], [-5, -12]",
     "[-5, -20], [10, -20]",
     {"59:13: footprint in [[building]] \"barn\" has 2 corners; accepted: at least three corners, as in [[0, 0], [7.2, 0], [7.2, 4.6]]"}},
    {"[-5, -20], [10, -20], [10, -12], [-5, -12]",
     "[-5, -20], [10, -12], [10, -20], [-5, -12]",
     {"59:13: the footprint of building \"barn\" crosses or touches itself; list each corner once, in order around it"}},
    {"[-5, -20], [10, -20], [10, -12], [-5, -12]",
     "[-5, -20], [1e300, -20], [10, -12], [-5, -12]",
     {"59:26: footprint = 1e300 in [[building]] \"barn\": is the unit metres? write \"1e300 m\" if metres are meant"}},
    {"height_m = 8",
     "height_m = 0",
     {"60:12: height_m = 0 in [[building]] \"barn\" is out of range; accepted: more than 0 m, up to 1000 m"}},
    {"at = [9, 2]\n",
     "",
     {"63:8: [[spot]] \"gate\" has neither at nor position; accepted: one of the two, at = [x, y] or position = \"...\""}},
    {"at = [9, 2]",
     "at = [9, 2]\nposition = \"52.9536N 1.1505W\"",
     {"65:12: [[spot]] \"gate\" has both at and position; accepted: one of the two, at = [x, y] or position = \"...\""}},
    {"camera_bearing = 240\n",
     "",
     {"62:1: \"camera_bearing\" is missing in [[spot]] \"gate\"; accepted: 0 to 360 degrees"}},
    {"camera_bearing = 240",
     "camera_bearing = 400",
     {"65:18: camera_bearing = 400 in [[spot]] \"gate\" is out of range; accepted: 0 to 360 degrees"}},
    {"wants = \"side\"",
     "wants = \"sid\"",
     {"66:9: wants = \"sid\" in [[spot]] \"gate\" is not known; accepted: \"front\", \"side\", \"back\" or \"any\""}},
    {"at = [5, 3]\nheight_m = 1.4",
     "at = [0.5, 2]\nheight_m = 0.5",
     {"47:6: camera \"A\" at [0.5, 2], 0.5 m high, is inside object \"bench\"; accepted: beside it, or above its top at 0.9 m"}},
    {"at = [5, 3]\nheight_m = 1.4",
     "at = [5, 3]\nheight_m = 5",
     {"48:12: height_m = 5 in [[camera]] \"A\": is this feet? write \"5 ft\", or \"5 m\" if metres are meant"}},
    {"at = [5, 3]\nheight_m = 1.4",
     "at = [5, 3]\nheight_m = \"3 m\"",
     {"48:12: camera \"A\" is 3 m above the floor, the ceiling 3 m; accepted: below 3 m"}},
    {"view_deg = 38",
     "view_vertical_deg = \"wide\"",
     {"50:21: view_vertical_deg = \"wide\" in [[camera]] \"A\" is not a number; accepted: 1 to 170 degrees"}},
    {"name = \"A\"",
     "name = 4",
     {"46:8: name = 4 in [[camera]] is not text; accepted: text in quotes"}},
    {"name = \"gate\"\n",
     "",
     {"62:1: \"name\" is missing in [[spot]]; accepted: text in quotes"}},
    {"at = [9, 2]",
     "position = \"0N 95E 3\"",
     {"64:12: position \"0N 95E 3\" cannot be read; accepted: latitude and longitude as \"52.9536N 1.1505W\" or \"52d57'13\\\"N 1d9'2\\\"W\" (no space inside an angle), UTM as \"30n 624247 5870973\", or MGRS as \"30UXD2424770973\""}},
    {"[room]\nfloor = [[0, 0], [6, 0], [6, 4], [0, 4]]\nwalls = [\"lane\", \"yard\", \"back\", \"party\"]\nheight_m = 3\nfloor_above_ground_m = 0.2\nbearing = { wall = \"lane\", faces = 196, north = \"true\", within_deg = 3 }\nreflectance = { floor = 0.2, walls = 0.5, ceiling = 0.7 }\n",
     "",
     {"12:1: [[window]] stands in no room; a table [room] is missing",
      "33:1: [[mark]] stands in no room; a table [room] is missing",
      "38:1: [[camera]] stands in no room; a table [room] is missing",
      "45:1: [[object]] stands in no room; a table [room] is missing"}},
    {"glass = \"single\"",
     "glass = \"\"\"single",
     {"28:9: a quote is opened and not closed; text stands between two straight quotes: \"...\""}},
    {"name = \"Mill Bank Forge\"",
     "name = \"Mill\\u0007Bank\"",
     {"4:8: name = \"Mill\\u0007Bank\" in [site] holds a control character; accepted: text on one line"}},
    {"name = \"Mill Bank Forge\"",
     "name = \"Mill\aBank\"",
     {"4:13: a control character stands in the text; accepted: printable text on one line"}},
    {"[[camera]]",
     "[[camera]",
     {"45:1: \"[\" is opened and not closed; a \"]\" is missing before the next key or table"}},
    {"view_deg = 38",
     "view_deg = 38\naims_at = \"anvil\"",
     {"51:1: \"aims_at\" stands a second time; accepted: each key once in its table, each table once"}},
    {"north = \"true\"",
     "north = \"magnetic\", measured = \"2026-02-30\"",
     {"16:72: measured = \"2026-02-30\" in bearing: \"2026-02-30\" does not exist: February 2026 has 28 days; accepted: a date as in \"2026-02-10\""}},
};
// clang-format on

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
    CHECK(slips.size() >= 80);
    for (const Slip& slip : slips) {
        CAPTURE(slip.from, slip.to);
        CHECK(complaints_about(changed(slip)) == slip.complaints);
    }
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
