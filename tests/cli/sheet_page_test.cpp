// The light sheet's page, as the command writes it.

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>

#include "page.hpp"
#include "run_program.hpp"
#include "scratch_file.hpp"
#include "scratch_folder.hpp"
#include "sheet_paper.hpp"

namespace fs = std::filesystem;
using nlohmann::json;

TEST_CASE("the page opens with its mark and a policy that names its own style and script",
          "[cli]") {
    const std::string page = paper(example("tallow-lane"), "page");
    CHECK(page.starts_with("<!DOCTYPE html>\n<!-- keyhour light sheet -->\n"));
    CHECK(holds(page,
                "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
                "script-src 'sha256-"));
    CHECK_FALSE(holds(page, "unsafe-inline"));
    CHECK_FALSE(holds(page, "http://www.w3.org/1999"));
    // No reference to anything outside: only names of namespaces begin so.
    CHECK(count(page, "http") ==
          count(page, "http://www.w3.org/2000/svg") + count(page, "http-equiv"));
    CHECK(count(page, "src=") == 0);
    CHECK(count(page, "href=") == count(page, "href=\"#"));  // only to its own parts
    CHECK(count(page, " style=") == 0);                      // the policy would stop it
}

namespace {

/// Changes of light stand between the steps of five minutes.
double off_the_grid(const json& step) {
    const double fives = 12 * step["hours"].get<double>();
    return std::abs(fives - std::round(fives));
}

/// The step of that minute; null where one that lies close to a change gave way to it.
const json* step_at(const json& data, const std::string& clock) {
    const json* at = nullptr;
    for (const json& s : data["steps"])
        if (s["clock"] == clock && (!at || off_the_grid(s) < off_the_grid(*at))) at = &s;
    return at && off_the_grid(*at) <= 0.001 ? at : nullptr;
}

void check_patches(const json& data, const json& step, const json& instant) {
    REQUIRE(step["patches"].size() == instant["patches"].size());
    for (std::size_t p = 0; p < step["patches"].size(); ++p) {
        const json &shown = step["patches"][p], &wanted = instant["patches"][p];
        CHECK(data["windows"][shown["window"].get<std::size_t>()] == wanted["window"]);
        CHECK(data["surfaces"][shown["surface"].get<std::size_t>()] == wanted["surface"]);
        CHECK(shown["area_m2"].get<double>() ==
              Approx(wanted["area_m2"].get<double>()).margin(0.00006));
        REQUIRE(shown["edge_within_m"].is_null() == wanted["edge_band_m"].is_null());
        if (!wanted["edge_band_m"].is_null())
            CHECK(shown["edge_within_m"].get<double>() ==
                  Approx(wanted["edge_band_m"].get<double>()).margin(0.0006));
    }
}

void check_mark(const json& data, const json& step, const json& instant) {
    const json& mark = step["marks"][0];
    const std::string window = data["windows"][mark["window"].get<std::size_t>()];
    const json coverage = instant["marks"][0]["coverage"];
    const json light = instant["marks"][0]["light"];
    CHECK(light["key_window"] == window);
    CHECK(mark["level_lx"][1].get<double>() ==
          Approx(light["key_lx"]["likely"].get<double>() + light["fill_lx"]["likely"].get<double>())
              .margin(0.15));
    CHECK(mark["coverage"].get<double>() == Approx(coverage.value(window, 0.0)).margin(0.00006));
}

}  // namespace

TEST_CASE("the page's figures are those of patch --json at the same minutes", "[cli]") {
    const json data = data_of(paper(example("tallow-lane"), "page"));
    const Outcome patches = run_program(
        {"patch", example("tallow-lane"), "--date", "2026-02-14", "--step", "5", "--json"});
    REQUIRE(patches.code == 0);
    const json instants = json::parse(patches.out)["instants"];
    REQUIRE(data["steps"].size() >= instants.size());
    REQUIRE(instants.size() > 100);
    int compared = 0;
    for (const json& instant : instants) {
        CAPTURE(instant["local"]);
        const json* step = step_at(data, instant["local"].get<std::string>().substr(11, 5));
        if (step == nullptr) continue;
        ++compared;
        CHECK((*step)["bearing_deg"].get<double>() ==
              Approx(instant["azimuth_deg"].get<double>()).margin(0.0006));
        CHECK((*step)["altitude_deg"].get<double>() ==
              Approx(instant["apparent_altitude_deg"].get<double>()).margin(0.0006));
        check_patches(data, *step, instant);
        check_mark(data, *step, instant);
    }
    CHECK(compared > 100);
}

TEST_CASE("the page says what holds in 9 of 10 cases, in the words of key and exterior", "[cli]") {
    const std::string page = paper(example("tallow-lane"), "page");
    const std::string key =
        flat(run_program({"key", example("tallow-lane"), "--date", "2026-02-14", "--show", "doubt"})
                 .out);
    CHECK(holds(page,
                "; with every doubt 1 h 13 min or more in 9 of 10 cases, lit 13:11 to 14:06 in "
                "as many."));
    CHECK(holds(page,
                "with every doubt: 1 h 13 min or more in 9 of 10 cases, 1 h 20 min in half of "
                "them; starts 12:46 to 13:13, ends 14:07 to 14:33"));
    CHECK(
        holds(key,
              "with every doubt: 1 h 13 min or more in 9 of 10 cases, 1 h 20 min in half of them; "
              "lit 13:11 to 14:06 in 9 of 10 cases"));
    CHECK(holds(key, "starts 12:46 to 13:13 (27 min), ends 14:07 to 14:33 (26 min)"));
    const std::string exterior =
        run_program({"exterior", example("tallow-lane"), "--date", "2026-02-14"}).out;
    CHECK(holds(page, "begins 07:57 to 08:11, ends 10:52 to 11:18"));
    CHECK(holds(exterior, "begins 07:57 to 08:11"));
}

TEST_CASE("page and terminal name the same side of the light, that of the plan's vectors",
          "[cli]") {
    // Tallow Lane, camera A at (0.7, 0.6), mark at (2.3, 1.8). At 14:00, within the key, the sun's
    // azimuth is 206.5; the wall along y = 0 faces 196: the plan's +y lies towards 16.
    const json key =
        json::parse(run_program({"key", example("tallow-lane"), "--date", "2026-02-14", "--json"})
                        .out)["intervals"][0];
    const double from_y = (206.5 - 16) * std::acos(-1.0) / 180;
    const double sun_x = std::sin(from_y), sun_y = std::cos(from_y);
    const double camera_x = 0.7 - 2.3, camera_y = 0.6 - 1.8;
    const double dot = camera_x * sun_x + camera_y * sun_y;
    const double cross = camera_x * sun_y - camera_y * sun_x;
    CHECK(std::atan2(std::abs(cross), dot) * 180 / std::acos(-1.0) == Approx(42.6).margin(0.2));
    // Who looks from the mark to the camera has on the right what is clockwise of it.
    const std::string side = cross < 0 ? "right" : "left";
    CHECK(key["light_from"] == side);
    const std::string page = paper(example("tallow-lane"), "page");
    CHECK(holds(page, "; key angle 58 to 38 to camera A, light from the subject&#39;s " + side));
    CHECK(holds(run_program({"key", example("tallow-lane"), "--date", "2026-02-14"}).out,
                "key angle 58 to 38, light from the subject's " + side));
}

TEST_CASE("the page says which window the key comes through and what it needs covered", "[cli]") {
    const std::string file = KEYHOUR_TEST_DATA "/draw/rooms/four-windows.toml";
    int for_another = 0;
    for (const char* date : {"2026-01-23", "2026-01-24", "2026-01-30"}) {
        CAPTURE(date);
        const std::string page = paper(file, "page", {"--date", date});
        const json keys =
            json::parse(run_program({"key", file, "--date", date, "--json"}).out)["intervals"];
        const json& best = keys[0];
        const std::string window = best["window"];
        CHECK(holds(page, "key comes through " + window + ": leave it open."));
        std::set<std::string> needed;
        for (const json& cover : best["to_cover"])
            needed.insert(cover["window"].get<std::string>());
        const std::string before = "For the key itself must be covered: ";
        const std::size_t at = page.find(before);
        CHECK((at != std::string::npos) == !needed.empty());
        CHECK(holds(page, "For the key itself nothing must be covered: ") == needed.empty());
        const std::string told = needed.empty() ? "" : page.substr(at, page.find("</p>", at) - at);
        for (const std::string& name : needed)
            CHECK(holds(told, name));
        const bool covered_for_another = std::ranges::any_of(keys, [&](const json& key) {
            return std::ranges::any_of(key["to_cover"],
                                       [&](const json& c) { return c["window"] == window; });
        });
        CHECK(holds(page, "for another key: not while the best one holds") == covered_for_another);
        if (covered_for_another) ++for_another;
    }
    CHECK(for_another > 0);
}

TEST_CASE("each cloth says what it is for, as lock has it", "[cli]") {
    const std::string page = paper(example("flax-road"), "page", {"--date", "2026-06-21"});
    const json key =
        json::parse(run_program({"key", example("flax-road"), "--date", "2026-06-21", "--json"})
                        .out)["intervals"][0];
    CHECK(key["window"] == "bench window");
    const json lock = json::parse(
        run_program({"lock", example("flax-road"), "--date", "2026-06-21", "--start", "10:57",
                     "--end", "12:51", "--key-window", "bench window", "--json"})
            .out);
    std::set<std::string> in_frame;
    for (const json& leak : lock["leaks"])
        if (leak["in_frame"].get<bool>()) in_frame.insert(leak["window"].get<std::string>());
    CHECK(in_frame.contains("lane window"));
    CHECK_FALSE(in_frame.contains("court window"));
    CHECK(holds(page, "lane window<span class=\"below\">sun in frame of camera A, B</span>"));
    CHECK(holds(page, "block window<span class=\"below\">sun on block; in frame of camera A, B<"));
    CHECK(holds(page,
                "court window<span class=\"below\">sun in the room, in no camera&#39;s frame<"));
    CHECK_FALSE(holds(page, "needs nothing covered"));
}

TEST_CASE("a cover's length is that of its printed minutes", "[cli]") {
    int rows = 0;
    for (const char* date : {"2026-06-21", "2026-06-10", "2026-05-20", "2026-07-02"}) {
        const std::string page = paper(example("flax-road"), "page", {"--date", date});
        const std::regex row{
            "(\\d\\d):(\\d\\d) to (\\d\\d):(\\d\\d)</span>(?:</td><td>|<span class=\"below\">)"
            "(?:(\\d+) h )?(\\d+) min<"};
        for (std::sregex_iterator at{page.begin(), page.end(), row}, end; at != end; ++at) {
            const auto number = [&](std::size_t i) {
                return (*at)[i].matched ? std::stoi((*at)[i]) : 0;
            };
            CAPTURE(date, at->str());
            CHECK(60 * number(5) + number(6) ==
                  60 * (number(3) - number(1)) + number(4) - number(2));
            ++rows;
        }
    }
    CHECK(rows >= 4);
}

TEST_CASE("what the page understood is told in the units of its crew", "[cli]") {
    const auto understood = [](const std::string& page) {
        const std::size_t at = page.find("<h2 id=\"understood\"");
        REQUIRE(at != std::string::npos);
        return page.substr(at, page.find("</section>", at) - at);
    };
    const std::string asked = example("tallow-lane");
    CHECK(holds(understood(paper(asked, "page")), "61 m above the sea"));
    const std::string feet =
        understood(paper(asked, "page", {"--date", "2026-02-14", "--units", "ft"}));
    CHECK(holds(feet, "200 ft above the sea"));
    CHECK_FALSE(holds(feet, "61 m"));
}

TEST_CASE("the cautions for covers and smoke alarms stand wherever they may be needed", "[cli]") {
    const std::string sun =
        "Never look at the sun, least of all through a lens or sight: "
        "use shadows.";
    // No key, no cloth, but a task that hangs some.
    const std::string page = paper(example("flax-road"), "page");
    CHECK(holds(page, sun));
    CHECK(holds(page, "Covers: ladders by people fit for it"));
    CHECK(holds(page, "Haze: agree the smoke alarms with whoever runs the building"));
    const ScratchFolder folder{"keyhour_bare"};
    const fs::path file = folder.path / "bare.toml";
    std::ofstream{file} << "format = 1\n[site]\nposition = \"52N 1E\"\n"
                           "time_zone = \"Europe/London\"\n";
    const std::string bare = paper(file.string(), "page");
    CHECK(holds(bare, sun));
    CHECK_FALSE(holds(bare, "Covers: ladders"));
    CHECK_FALSE(holds(bare, "smoke alarms"));
    for (const char* command : {"key", "exterior"}) {
        std::string told =
            run_program({command, example("tallow-lane"), "--date", "2026-02-14"}).out;
        std::ranges::replace(told, '\n', ' ');
        CAPTURE(command);
        CHECK(holds(told, sun));
    }
}

TEST_CASE("a lamp's place is told from its window, and the plan's axes are explained", "[cli]") {
    const std::string page = paper(example("tallow-lane"), "page");
    std::string lamp = run_program({"lamp", example("tallow-lane"), "--date", "2026-02-14",
                                    "--like", "13:40", "--window", "case window"})
                           .out;
    for (std::size_t at = 0; (at = lamp.find("\n", at)) != std::string::npos;)
        lamp.replace(at, lamp.find_first_not_of(" \n", at) - at, " ");
    // The key's middle is some seconds off 13:40: the same but for a centimetre or two.
    const auto metres = [](const std::string& text, const std::string& before,
                           const std::string& side) {
        const std::size_t at = text.find(before);
        REQUIRE(at != std::string::npos);
        CHECK(text.substr(at + before.size(), 40).find(side) != std::string::npos);
        return std::stod(text.substr(at + before.size()));
    };
    CHECK(metres(page, " m off the wall, ", " m right of") ==
          Approx(metres(lamp, " m off the wall, ", " m right of")).margin(0.05));
    CHECK(holds(page, "x runs to the right of the plan, y up it"));
    CHECK(holds(page, "where the street wall begins, lies at x 0.00 y 0.00."));
    CHECK(holds(page, "; towards 21 NNE true, tilt "));
    CHECK(
        holds(page, "<th scope=\"col\">Sun bearing, true</th><th scope=\"col\">Sun altitude</th>"));
}

TEST_CASE("every hour of sun is printed", "[cli]") {
    const std::string page = paper(example("tallow-lane"), "page");
    const std::string hours = page.substr(page.find("<h2 id=\"hours\">"));
    for (int hour = 8; hour <= 17; ++hour) {
        const std::string clock = (hour < 10 ? "0" : "") + std::to_string(hour) + ":00";
        CAPTURE(clock);
        CHECK(holds(hours, "<tr><th scope=\"row\">" + clock));
    }
    CHECK_FALSE(holds(page, "left out"));
}

TEST_CASE("a crew that tapes in feet finds no metre on its sheet", "[cli]") {
    const std::vector<std::string> feet{"--date", "2026-02-14", "--units", "ft"};
    std::string page = paper(example("tallow-lane"), "page", feet);
    CHECK(data_of(page)["feet"] == true);
    page = page.substr(0, page.find("<script type="));
    page = page.substr(page.find("<main>"));
    // What was understood is told as it was read.
    page.erase(page.find("<h2 id=\"understood\">"));
    for (const char* metric : {"[0-9] m2?\\b", "[Mm]etre", "[0-9] cm"}) {
        std::smatch found;
        const bool any = std::regex_search(page, found, std::regex{metric});
        CAPTURE(metric, any ? found.prefix().str().substr(found.prefix().str().size() - 60) : "");
        CHECK_FALSE(any);
    }
    // The press window's 1.40 by 1.60 m, rounded up, and 0.15 m more on every side: 66.93, 74.8 in.
    CHECK(holds(page, "<span class=\"time\">5 ft 7 in</span> <span class=\"time\">x 6 ft 3 in"));
    CHECK(holds(paper(example("tallow-lane"), "calendar", feet), "cloth 5 ft 7 in x 6 ft 3 in"));
    CHECK(holds(paper(example("tallow-lane"), "calendar"), "cloth 1.70 x 1.90 m"));
    const std::string map = paper(example("tallow-lane"), "map", feet);
    CHECK(std::regex_search(
        map, std::regex{"nothing between [0-9 /a-z]+ in and [0-9]+ ft [0-9 /]+in high"}));
    const Outcome yards = run_program(
        {"sheet", example("tallow-lane"), "--only", "plan", "-o", "-", "--units", "yards"});
    CHECK(yards.code == 2);
    CHECK(holds(yards.err, "accepted: ft, for feet and inches"));
}

TEST_CASE("the page places each lamp that can stand in for the sun, and says what a stop lacks",
          "[cli]") {
    const std::string page =
        paper(example("tallow-lane"), "page", {"--date", "2026-02-14", "--stop", "T4"});
    CHECK(count(page, "as the sun at 13:40 through case window: stand at x ") == 1);  // key lamp
    CHECK(holds(page, "stops from the stop wanted"));
    const Outcome lamp = run_program({"lamp", example("tallow-lane"), "--date", "2026-02-14",
                                      "--like", "13:40", "--window", "case window", "--json"});
    CAPTURE(lamp.err);
    REQUIRE(lamp.code == 0);
    // The key's middle is some seconds off 13:40: a place good to a few centimetres.
    const std::string before = "as the sun at 13:40 through case window: stand at x ";
    const double x = std::stod(page.substr(page.find(before) + before.size()));
    CHECK(x == Approx(json::parse(lamp.out)["wanted"]["at"][0].get<double>()).margin(0.05));
}

TEST_CASE("a site without a room has a page of its spots", "[cli]") {
    const ScratchFolder folder{"keyhour_roomless"};
    const fs::path file = folder.path / "quay.toml";
    std::ofstream{file} << "format = 1\n[site]\nname = \"Quay\"\nposition = \"52N 1E\"\n"
                           "time_zone = \"Europe/London\"\n[[spot]]\nname = \"steps\"\n"
                           "at = [0, 0]\ncamera_bearing = 90\nwants = \"side\"\n";
    const std::string page = paper(file.string(), "page");
    CHECK(holds(page, "Light for steps, "));
    CHECK(holds(page, "Places outside"));
    CHECK_FALSE(holds(page, "sheet-data\">"));
    const std::string map = paper(file.string(), "map");
    CHECK(holds(map, "\"spot\""));
    CHECK(holds(map, "\"steps\""));
    CHECK_FALSE(holds(map, "LineString"));  // no ray to the sun
}

TEST_CASE("the page says what a room lacks", "[cli]") {
    const ScratchFolder folder{"keyhour_lacking"};
    const fs::path file = folder.path / "room.toml";
    const std::string site =
        "format = 1\n[site]\nposition = \"69.6N 18.9E\"\ntime_zone = "
        "\"Europe/Oslo\"\n";
    const std::string room =
        "[room]\nfloor = [[0, 0], [6, 0], [6, 4], [0, 4]]\nwalls = [\"a\", "
        "\"b\", \"c\", \"d\"]\nheight_m = 3\nbearing = { wall = \"a\", faces "
        "= 180, north = \"true\" }\n";
    const std::string window =
        "[[window]]\nname = \"w\"\nwall = \"a\"\nleft_m = 2\nwidth_m = "
        "2\nsill_m = 1\nheight_m = 1.5\nreveal_m = 0\n";
    const std::string mark = "[[mark]]\nname = \"m\"\nat = [3, 2]\nheight_m = 1.2\n";
    const auto page_of = [&](const std::string& text, const char* date) {
        std::ofstream{file} << text;
        return paper(file.string(), "page", {"--date", date});
    };
    CHECK(holds(page_of(site, "2026-03-10"), "The file has no room and no place outside: the day"));
    CHECK(holds(page_of(site + room, "2026-03-10"), "The room has no window: the day"));
    const std::string without_mark = page_of(site + room + window, "2026-03-10");
    CHECK(holds(without_mark, "The room has no mark: no key to look for."));
    CHECK(holds(without_mark, "id=\"now-sun\""));
    CHECK_FALSE(holds(without_mark, "id=\"now-level\""));
    CHECK_FALSE(holds(without_mark, "id=\"now-iso\""));
    const std::string polar_night = page_of(site + room + window + mark, "2026-12-21");
    CHECK(holds(polar_night, "No clean key: the sun stays below the horizon on this date."));
    CHECK(holds(polar_night, "the sun stays below the horizon, civil dawn"));
    CHECK(holds(page_of(site, "2026-06-21"), "the sun does not set"));
}
