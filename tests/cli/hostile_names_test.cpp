// Names made to steer a terminal, through every output of every command.

#include <array>
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "keyhour/study/plan_search.hpp"
#include "page.hpp"
#include "run_program.hpp"
#include "scratch_file.hpp"
#include "scratch_folder.hpp"

using namespace std::string_literals;

namespace {

const std::array<std::string, 20> hostile{
    "\x1b[31mred\x1b[0m",  // colour (ECMA-48)
    "\x1b]0;title\x07",    // the window's title, and a bell
    "\x1b[2J\x1b[H",       // an empty screen
    "nul\0byte"s,          //
    "first\nINJECTED",     //
    "first\r\nINJECTED",   //
    "tab\tstop",           //
    "\xc2\x9b"
    "31mC1",                          // CSI as one character of UTF-8
    "\x7f\x08rub out",                //
    "\xe2\x80\xaegnp.exe",            // U+202E
    "\xe2\x81\xa6isolate",            // U+2066, never closed
    "\xe2\x81\xa8open",               // U+2068, never closed
    "</script><b onclick='x'>&\"",    //
    "a,b;c:d\\e",                     //
    "=HYPERLINK(\"x\")",              //
    std::string(300, 'W'),            // very long
    "e\xcc\x81\xcc\x81\xcc\x81",      // accents on accents
    "\xf0\x9f\x8e\xa5 \xe7\xaa\x93",  // a camera, and the word for window
    "\xef\xbb\xbf"
    "bom",                                                      //
    "zero\xe2\x80\x8bwidth \xd7\x97\xd7\x9c\xd7\x95\xd7\x9f"};  // and from right to left

const std::array<std::string, 4> no_utf8{"\xed\xa0\x80 surrogate", "\xc0\xaf overlong",
                                         "\x9b"
                                         "31m C1 as a byte",
                                         "cut \xe2\x80"};

/// What a terminal would obey, told by its place; by bytes, not by the code that is tested.
std::string steering(const std::string& text) {
    const auto byte = [&](std::size_t i) -> unsigned {
        return i < text.size() ? static_cast<unsigned char>(text[i]) : 0U;
    };
    const auto told = [&](std::size_t i) {
        return "at byte " + std::to_string(i) + ": " + text.substr(i < 60 ? 0 : i - 60, 120);
    };
    for (std::size_t i = 0; i < text.size(); ++i) {
        const unsigned a = byte(i), b = byte(i + 1), c = byte(i + 2);
        const bool line_end = a == '\n' || (a == '\r' && b == '\n');
        if ((a < 0x20 && !line_end) || a == 0x7f) return told(i);
        if (a == 0xc2 && b < 0xa0) return told(i);                               // C1
        if (a == 0xe2 && b == 0x80 && c >= 0xa8 && c <= 0xae) return told(i);    // lines, overrides
        if (a == 0xe2 && b == 0x81 && (c == 0xa6 || c == 0xa7)) return told(i);  // LRI, RLI
        if (a == 0xef && b == 0xbb && c == 0xbf) return told(i);                 // BOM
        const std::size_t follow = a < 0x80 ? 0 : a < 0xc2 ? 9 : a < 0xe0 ? 1 : a < 0xf0 ? 2 : 3;
        if (follow == 9 || a > 0xf4) return told(i);
        for (std::size_t k = 1; k <= follow; ++k)
            if ((byte(i + k) & 0xc0U) != 0x80U) return told(i);
        i += follow;
    }
    for (const char* injected : {"\nINJECTED", "\n INJECTED"})
        if (const auto at = text.find(injected); at != std::string::npos) return told(at);
    return {};
}

void is_safe(const Outcome& outcome) {
    CHECK(steering(outcome.out) == "");
    CHECK(steering(outcome.err) == "");
}

/// As a TOML string has it.
std::string quoted(const std::string& name) {
    std::string out = "\"";
    for (const char c : name) {
        char escape[8];
        std::snprintf(escape, sizeof escape, "\\u%04x", static_cast<unsigned char>(c));
        if (static_cast<unsigned char>(c) < 0x20 || c == '"' || c == '\\' || c == 0x7f)
            out += escape;
        else
            out += c;
    }
    return out + '"';
}

constexpr std::array kNamed{"Tallow Lane Press",
                            "street",
                            "yard",
                            "back",
                            "party",
                            "press window",
                            "case window",
                            "yard window",
                            "type case",
                            "A",
                            "imposing table",
                            "warehouse opposite",
                            "yard door",
                            "key lamp",
                            "fill panel",
                            "yard lamp"};

/// C0 controls and DEL: a name that holds one is refused where it is read.
bool is_refused(const std::string& name) {
    return name.find_first_of("\x1b\n\r\t\x7f\0"s) != std::string::npos;
}

/// Those that may be names.
const std::vector<std::string>& carried() {
    static const std::vector<std::string> names = [] {
        std::vector<std::string> out;
        for (const std::string& name : hostile)
            if (!is_refused(name)) out.push_back(name);
        return out;
    }();
    return names;
}

/// An example whose parts are named after the list, from number `first` on, each with an ending of
/// its own.
std::string hostile_location(std::size_t first) {
    std::string text = example_text("tallow-lane");
    for (std::size_t i = 0; i < kNamed.size(); ++i) {
        const std::string plain = '"' + std::string{kNamed[i]} + '"';
        const std::string bad =
            quoted(carried()[(first + i) % carried().size()] + '~' + std::to_string(i));
        for (std::size_t at = 0; (at = text.find(plain, at)) != std::string::npos; at += bad.size())
            text.replace(at, plain.size(), bad);
    }
    return text;
}

const std::vector<std::vector<std::string>> kQuestions{
    {"check"},
    {"day", "--date", "2026-02-14"},
    {"sun", "--date", "2026-02-14", "--time", "12:00"},
    {"patch", "--date", "2026-02-14", "--time", "13:00"},
    {"key", "--date", "2026-02-14", "--no-doubt"},
    {"key", "--from", "2026-02-14", "--to", "2026-02-15", "--no-doubt", "--no-light"},
    {"key", "--date", "2026-02-14", "--by", "lamp", "--lock", "30"},
    {"lock", "--date", "2026-02-14", "--start", "12:00", "--end", "15:00"},
    {"exterior", "--date", "2026-02-14", "--no-doubt"},
    {"lamp", "--date", "2026-02-14"},
};

}  // namespace

TEST_CASE("no name steers the terminal, in any answer of any command", "[hostile]") {
    const ScratchFolder folder{"keyhour_hostile"};
    const std::string path = (folder.path / "place.toml").string();
    for (std::size_t first = 0; first < carried().size(); first += 3) {
        std::ofstream{path} << hostile_location(first);
        for (std::vector<std::string> ask : kQuestions) {
            ask.insert(ask.begin() + 1, path);
            CAPTURE(first, ask.front());
            const Outcome text = run_program(ask);
            CAPTURE(text.err);
            CHECK((text.code == 0 || text.code == 2));
            is_safe(text);
            ask.emplace_back("--json");
            const Outcome document = run_program(ask);
            is_safe(document);
            if (document.code == 0) CHECK(nlohmann::json::accept(document.out));
        }
    }
}

TEST_CASE("no name steers the terminal by way of a light log", "[hostile][log]") {
    const ScratchFolder folder{"keyhour_hostile_log"};
    const std::string path = (folder.path / "place.toml").string();
    const std::string log = (folder.path / "day.log").string();
    for (std::size_t first = 0; first < carried().size(); first += 5) {
        std::ofstream{path} << hostile_location(first);
        CAPTURE(first);
        const std::string& name = hostile[first % hostile.size()];
        const Outcome logged =
            run_program({"log", path, "-o", log, "--date", "2026-02-14", "--at", "13:30", "--shot",
                         name, "--note", name, "--cloth", name});
        CAPTURE(logged.err);
        CHECK(logged.code == 0);
        is_safe(logged);
        for (const char* form : {"--line", "--csv", "--json", "--most=2"}) {
            const Outcome told =
                run_program({"match", log, "--from", "2026-02-14", "--to", "2026-02-16", form});
            CAPTURE(form, told.err);
            CHECK(told.code == 0);
            is_safe(told);
        }
    }
}

TEST_CASE("no name of a shoot and no change steers the terminal", "[hostile][plan]") {
    if (!keyhour::study::can_plan()) return;
    const ScratchFolder folder{"keyhour_hostile_shoot"};
    const std::string places = KEYHOUR_LOCATIONS "/bindery-and-wharf/";
    const std::string out = (folder.path / "out").string();
    for (std::size_t first = 0; first < carried().size(); first += 5) {
        std::string text = "format = 1\n[shoot]\ndays = [\"2026-03-10\"]\ncrew = 2\nname = " +
                           quoted(carried()[first]) + "\n[[place]]\nname = " +
                           quoted(carried()[(first + 1) % carried().size()]) + "\nfile = \"" +
                           places + "bindery.toml\"\n";
        for (std::size_t i = 0; i < 3; ++i)
            text += "[[scene]]\nname = " +
                    quoted(carried()[(first + 2 + i) % carried().size()] + std::to_string(i)) +
                    "\nlight = \"any\"\nminutes = 30\nplace = " +
                    quoted(carried()[(first + 1) % carried().size()]) + "\n";
        const ScratchFile shoot{"keyhour_hostile_shoot.toml", text};
        CAPTURE(first);
        for (const std::vector<std::string>& more :
             {std::vector<std::string>{}, {"--csv"}, {"--out", out, "--force"}}) {
            std::vector<std::string> ask{"plan", shoot.path};
            ask.insert(ask.end(), more.begin(), more.end());
            const Outcome told = run_program(ask);
            CAPTURE(told.err);
            CHECK(told.code == 0);
            is_safe(told);
        }
        for (const auto& written : std::filesystem::directory_iterator{out}) {
            std::ostringstream bytes;
            bytes << std::ifstream{written.path(), std::ios::binary}.rdbuf();
            CHECK(steering(bytes.str()) == "");
        }
    }
    for (const std::string& name : hostile)
        is_safe(run_program({"key", example("tallow-lane"), "--date", "2026-02-14", "--if",
                             "window." + name + ".cover=" + name}));
}

TEST_CASE("names stay as they are in JSON, and go as they are asked for", "[hostile]") {
    const ScratchFile place{"keyhour_hostile_json.toml", hostile_location(0)};
    const std::string window = carried()[5] + "~5", site = carried()[0] + "~0";
    const Outcome document = run_program(
        {"key", place.path, "--date", "2026-02-14", "--no-doubt", "--window", window, "--json"});
    REQUIRE(document.code == 0);
    CHECK(nlohmann::json::parse(document.out)["location"] == site);
    CHECK(run_program({"key", place.path, "--date", "2026-02-14", "--no-doubt", "--window", window})
              .code == 0);
    const Outcome none =
        run_program({"key", place.path, "--date", "2026-02-14", "--window", "\x1b[1mnone"});
    CHECK(none.code == 2);
    is_safe(none);
    CHECK(none.err.find("--window \"\\u001b[1mnone\" is not in the location") != std::string::npos);
}

TEST_CASE("no name steers the terminal in a batch, whatever its form", "[hostile]") {
    const ScratchFolder folder{"keyhour_hostile_batch"};
    for (std::size_t first = 0; first < carried().size(); first += 3)
        std::ofstream{folder.path / ("\x1b[7m" + std::to_string(first) + ".toml")}
            << hostile_location(first);
    for (const std::vector<std::string>& form :
         std::vector<std::vector<std::string>>{{"key"},
                                               {"key", "--csv"},
                                               {"key", "--json"},
                                               {"key", "--compare"},
                                               {"key", "--visit"},
                                               {"exterior"},
                                               {"exterior", "--csv"},
                                               {"day"},
                                               {"day", "--csv"}}) {
        std::vector<std::string> ask{"batch",  folder.path.string(), "--ask", form.front(),
                                     "--date", "2026-02-14"};
        ask.insert(ask.end(), form.begin() + 1, form.end());
        const Outcome outcome = run_program(ask);
        CAPTURE(form, outcome.err);
        CHECK(outcome.code != 1);
        is_safe(outcome);
    }
}

TEST_CASE("no name steers the terminal or a reader of the sheet's papers", "[hostile]") {
    const ScratchFolder folder{"keyhour_hostile_sheet"};
    const std::string path = (folder.path / "place.toml").string();
    for (std::size_t first = 0; first < carried().size(); first += 6) {
        std::ofstream{path} << hostile_location(first);
        for (const char* kind : {"page", "plan", "calendar", "spreadsheet", "map"}) {
            const Outcome paper =
                run_program({"sheet", path, "--date", "2026-02-14", "--only", kind, "-o", "-"});
            CAPTURE(first, kind, paper.err);
            CHECK(paper.code == 0);
            is_safe(paper);
        }
    }
}

namespace {

/// A building whose height is that text.
nlohmann::json house_of_height(const std::string& height) {
    return {
        {"type", "FeatureCollection"},
        {"features",
         {{{"type", "Feature"},
           {"properties", {{"height", height}}},
           {"geometry",
            {{"type", "Polygon"},
             {"coordinates", {{{-1.0, 52.0}, {-1.001, 52.0}, {-1.0, 52.001}, {-1.0, 52.0}}}}}}}}}};
}

}  // namespace

TEST_CASE("what is wrong with a file is told without obeying it", "[hostile]") {
    const ScratchFolder folder{"keyhour_hostile_files"};
    const auto told = [&](const std::string& name, const std::string& text) {
        const std::string path = (folder.path / name).string();
        std::ofstream{path} << text;
        const Outcome outcome = run_program({"check", path});
        CAPTURE(name);
        CHECK(outcome.code == 1);
        is_safe(outcome);
        return outcome.err;
    };
    const std::string good = example_text("tallow-lane");
    for (const std::string& bad : hostile) {
        told("key.toml", changed(good, "air =", quoted(bad) + " = 1\nair ="));
        told("table.toml", good + "\n[" + quoted(bad) + "]\nx = 1\n");
        if (is_refused(bad)) {
            told("name.toml", changed(good, "name = \"press window\"", "name = " + quoted(bad)));
            told("walls.toml", changed(good, "\"party\"", quoted(bad)));
        }
        told("wall.toml", changed(good, "wall = \"yard\"", "wall = " + quoted(bad)));
        told("zone.toml", changed(good, "\"Europe/London\"", quoted(bad)));
        told("place.toml", changed(good, "\"52.9536N 1.1505W\"", quoted(bad)));
        told("length.toml", changed(good, "\"3 ft 4 in\"", quoted(bad)));
        std::ofstream{folder.path / "skyline.csv"} << "bearing_deg," << bad << "\n10," << bad
                                                   << "\n";
        told("skyline.toml",
             "format = 1\n[site]\nposition = \"52N 1W\"\ntime_zone = \"UTC\"\n"
             "horizon = { file = \"skyline.csv\" }\n");
        std::ofstream{folder.path / "houses.geojson"} << house_of_height(bad);
        const std::string houses =
            "format = 1\n[site]\nposition = \"52N 1W\"\ntime_zone = \"UTC\"\n"
            "buildings = \"houses.geojson\"\n";
        std::ofstream{folder.path / "houses.toml"} << houses;
        is_safe(run_program({"check", (folder.path / "houses.toml").string()}));
        const nlohmann::json line{{"format", 1}, {bad, bad}, {"site", {{"name", bad}}}};
        is_safe(run_program({"batch", "-", "--date", "2026-02-14"}, line.dump() + "\n"));
    }
    for (const std::string& bad : no_utf8)
        told("bytes.toml", changed(good, "\"party\"", '"' + bad + '"'));
    const std::string err = told("esc\x1b[31m.toml", "format = 1\n\"\x1b\" = 2\n");
    CHECK(err.find("esc\\u001b[31m.toml") != std::string::npos);
}

TEST_CASE("an observation's words steer no terminal", "[hostile]") {
    for (std::size_t i = 0; i < hostile.size(); ++i) {
        const ScratchFile seen{"keyhour_hostile_seen.toml",
                               "format = 1\n[[observation]]\nname = " + quoted(hostile[i]) +
                                   "\nkind = \"other wall\"\nwall = \"street\"\nother = " +
                                   quoted(hostile[(i + 7) % hostile.size()]) +
                                   "\nfaces = 106\nnorth = \"true\"\nwithin_deg = 2\n"
                                   "turn_deg = 90\nturn = \"clockwise\"\nturn_within_deg = 1\n"};
        const std::vector<std::string> ask{
            "bearing", example("tallow-lane"), "--observations", seen.path, "--date", "2026-02-14"};
        const Outcome outcome = run_program(ask);
        CAPTURE(i, outcome.err);
        CHECK(outcome.code ==
              (is_refused(hostile[i]) || is_refused(hostile[(i + 7) % hostile.size()]) ? 1 : 0));
        is_safe(outcome);
    }
}

TEST_CASE("rows that are parted or named otherwise are told what is expected", "[hostile]") {
    const Outcome parted = run_program(
        {"sun", "--rows", "-"}, "utc;latitude_deg;longitude_deg\n2026-03-10T12:00:00Z;52,9;-1,1\n");
    CHECK(parted.code == 1);
    CHECK(parted.err.find("found fields parted by semicolons; accepted: "
                          "utc,latitude_deg,longitude_deg, parted by commas, with decimals after a "
                          "point") != std::string::npos);
    const Outcome named =
        run_program({"sun", "--rows", "-"}, "time,lat,lon\n2026-03-10T12:00:00Z,52.9,-1.1\n");
    CHECK(named.code == 1);
    CHECK(named.err.find("rename \"time\" to \"utc\", \"lat\" to \"latitude_deg\", \"lon\" to "
                         "\"longitude_deg\"; times in UTC, ending in Z") != std::string::npos);
    const ScratchFile comma{"keyhour_decimal_comma.toml",
                            changed(example_text("tallow-lane"), "left_m = 1.1", "left_m = 1,1")};
    const Outcome decimal = run_program({"check", comma.path});
    CHECK(decimal.code == 1);
    CHECK(decimal.err.find(": a comma in the number 1,1; decimals stand after a point: 1.1") !=
          std::string::npos);
    const Outcome flag = run_program(
        {"bearing", example("tallow-lane"), "--compass", "wall=\"streat\" faces=196 north=true"});
    CHECK(flag.code == 2);
    CHECK(flag.err.starts_with("--compass: wall = \"streat\""));
}
