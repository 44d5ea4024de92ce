// The light sheet's page, calendar, spreadsheet and map, as the command writes them.

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

namespace fs = std::filesystem;
using nlohmann::json;

namespace {

std::string bytes(const fs::path& path) {
    std::ifstream in{path, std::ios::binary};
    return {std::istreambuf_iterator<char>{in}, {}};
}

std::string paper(const std::string& location, const char* kind,
                  const std::vector<std::string>& more = {"--date", "2026-02-14"}) {
    std::vector<std::string> ask{"sheet", location, "--only", kind, "-o", "-"};
    ask.insert(ask.end(), more.begin(), more.end());
    const Outcome outcome = run_program(ask);
    CAPTURE(outcome.err);
    REQUIRE(outcome.code == 0);
    return outcome.out;
}

std::size_t count(const std::string& text, const std::string& part) {
    std::size_t n = 0;
    for (std::size_t at = 0; (at = text.find(part, at)) != std::string::npos; at += part.size())
        ++n;
    return n;
}

json data_of(const std::string& page) {
    const std::string before = "<script type=\"application/json\" id=\"sheet-data\">";
    const std::size_t at = page.find(before) + before.size();
    return json::parse(page.substr(at, page.find("</script>", at) - at));
}

const std::string hostile = "</script><img src=x onerror=alert(1)>&\\\"'";

/// Every name of an example made hostile.
std::string hostile_text() {
    std::string text = example_text("tallow-lane");
    for (const char* name : {"\"Tallow Lane Press\"", "\"case window\"", "\"type case\"",
                             "\"yard door\"", "\"imposing table\""})
        for (std::size_t at = 0; (at = text.find(name, at)) != std::string::npos;)
            text.replace(at, std::string{name}.size(),
                         "\"" + hostile + std::string{name}.substr(1, 4) + "\"");
    return text;
}

}  // namespace

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

TEST_CASE("the same input gives the same page, below 400 kB", "[cli]") {
    for (const char* name : {"tallow-lane", "flax-road", "sundet"}) {
        CAPTURE(name);
        const std::string page = paper(example(name), "page", {"--date", "2026-06-21"});
        CHECK(page.size() < 400'000);
        CHECK(page == paper(example(name), "page", {"--date", "2026-06-21"}));
    }
}

TEST_CASE("the page of a room of many panes stays below 400 kB by longer steps of its slider",
          "[cli]") {
    for (const char* room : {"hall", "many"}) {
        const std::string page =
            paper(std::string{KEYHOUR_TEST_DATA "/draw/rooms/"} + room + ".toml", "page",
                  {"--date", "2026-05-10"});
        CAPTURE(room, page.size());
        CHECK(page.size() < 400'000);
        const json data = data_of(page);
        const auto& steps = data["steps"];
        REQUIRE(steps.size() > 20);
        CHECK(count(page, "max=\"" + std::to_string(steps.size() - 1) + "\"") == 1);
        // Changes of light stand between the regular steps: some of these are whole, none is
        // longer.
        std::vector<double> minutes;
        for (std::size_t i = 1; i < steps.size(); ++i)
            minutes.push_back(
                60 * (steps[i]["hours"].get<double>() - steps[i - 1]["hours"].get<double>()));
        CHECK(std::ranges::min(minutes) > 0);
        std::ranges::sort(minutes);
        const double regular = minutes[minutes.size() * 3 / 4];
        CHECK(regular > 7);
        CHECK(std::ranges::count_if(minutes,
                                    [&](double m) { return std::abs(m - regular) < 0.02; }) > 10);
    }
}

TEST_CASE("the page's figures are those of patch --json at the same minutes", "[cli]") {
    const json data = data_of(paper(example("tallow-lane"), "page"));
    const Outcome patches = run_program(
        {"patch", example("tallow-lane"), "--date", "2026-02-14", "--step", "5", "--json"});
    REQUIRE(patches.code == 0);
    const json instants = json::parse(patches.out)["instants"];
    REQUIRE(data["steps"].size() >= instants.size());
    REQUIRE(instants.size() > 100);
    // Changes of light stand between the steps of five minutes.
    const auto off_the_grid = [](const json& s) {
        const double fives = 12 * s["hours"].get<double>();
        return std::abs(fives - std::round(fives));
    };
    int compared = 0;
    for (std::size_t i = 0; i < instants.size(); ++i) {
        const json& instant = instants[i];
        const auto clock = instant["local"].get<std::string>().substr(11, 5);
        const json* at = nullptr;
        for (const json& s : data["steps"])
            if (s["clock"] == clock && (!at || off_the_grid(s) < off_the_grid(*at))) at = &s;
        // A step that lies close to a change gives way to it.
        if (!at || off_the_grid(*at) > 0.001) continue;
        ++compared;
        const json& step = *at;
        CAPTURE(instant["local"]);
        CHECK(step["clock"] == instant["local"].get<std::string>().substr(11, 5));
        CHECK(step["bearing_deg"].get<double>() ==
              Approx(instant["azimuth_deg"].get<double>()).margin(0.0006));
        CHECK(step["altitude_deg"].get<double>() ==
              Approx(instant["apparent_altitude_deg"].get<double>()).margin(0.0006));
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
        const json& mark = step["marks"][0];
        const std::string window = data["windows"][mark["window"].get<std::size_t>()];
        const json coverage = instant["marks"][0]["coverage"];
        const json light = instant["marks"][0]["light"];
        CHECK(light["key_window"] == window);
        CHECK(mark["level_lx"][1].get<double>() == Approx(light["key_lx"]["likely"].get<double>() +
                                                          light["fill_lx"]["likely"].get<double>())
                                                       .margin(0.15));
        CHECK(mark["coverage"].get<double>() ==
              Approx(coverage.value(window, 0.0)).margin(0.00006));
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

TEST_CASE("calendar and page give the same minutes, and cloth has its event", "[cli]") {
    const std::string page = paper(example("tallow-lane"), "page");
    const std::string calendar = paper(example("tallow-lane"), "calendar");
    CHECK(holds(page, "set up by 10:37"));
    CHECK(holds(page, "08:10 to 11:07</span><span class=\"below\">set up by"));
    CHECK(holds(calendar,
                "DTSTART;TZID=Europe/London:20260214T081000\r\n"
                "DTEND;TZID=Europe/London:20260214T110700\r\n"));
    CHECK(holds(calendar, "TRIGGER;VALUE=DATE-TIME:20260214T100700Z"));
    CHECK(holds(calendar, "TRIGGER;VALUE=DATE-TIME:20260214T103700Z"));
    REQUIRE(holds(page,
                  "<span class=\"time\">1.70</span> <span class=\"time\">x 1.90 "
                  "m</span></td><td>13:21</td>"));
    CHECK(holds(calendar,
                "DTSTART;TZID=Europe/London:20260214T131600\r\n"
                "DTEND;TZID=Europe/London:20260214T132100\r\n"
                "SUMMARY:Hang press window: cloth 1.70 x 1.90 m\r\n"));
    CHECK(holds(calendar, "TRIGGER;VALUE=DATE-TIME:20260214T125100Z"));
    CHECK(count(calendar, "UID:hang-2026-02-14-") == 1);
    CHECK(holds(paper(example("tallow-lane"), "spreadsheet"),
                "2026-02-14,hang,Hang press window: cloth 1.70 x 1.90 m,,,press window,,"));
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
            const auto number = [&](int i) { return (*at)[i].matched ? std::stoi((*at)[i]) : 0; };
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

TEST_CASE("without a key there is nothing that rigging is counted back from", "[cli]") {
    const std::string page = paper(example("flax-road"), "page");  // 14 February: too high a sun
    CHECK(holds(page, "No clean key on this date."));
    CHECK(holds(page,
                "There is no clean key on this date to count back to. Each place outside has "
                "its own &quot;set up by&quot;."));
    CHECK_FALSE(holds(page, "rigging begins at"));
    CHECK_FALSE(holds(paper(example("flax-road"), "calendar"), "Rigging"));
    const std::string with_key = paper(example("flax-road"), "page", {"--date", "2026-06-21"});
    CHECK(holds(with_key, "ready: the best key begins"));
    CHECK(
        holds(with_key, "The key comes through bench window: leave it open. That goes before any"));
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
        CAPTURE(metric, any ? found.prefix().str().substr(found.prefix().length() - 60) : "");
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

TEST_CASE("names from the file are escaped wherever they stand", "[cli]") {
    const ScratchFolder folder{"keyhour_hostile"};
    const fs::path file = folder.path / "hostile.toml";
    std::ofstream{file} << hostile_text();
    const std::string page = paper(file.string(), "page");
    CHECK(count(page, "<img") == 0);
    CHECK(count(page, "<script") == 2);
    CHECK(count(page, "</script>") == 2);
    CHECK(holds(page, "&lt;/script&gt;&lt;img src=x onerror=alert(1)&gt;&amp;&quot;&#39;"));
    const json data = data_of(page);
    CHECK(data["windows"][1] == "</script><img src=x onerror=alert(1)>&\"'case");
    const json map = json::parse(paper(file.string(), "map"));
    CHECK(map["features"][0]["properties"]["name"] ==
          "</script><img src=x onerror=alert(1)>&\"'Tall");
}

TEST_CASE("rigging is counted back from the key and held against the call", "[cli]") {
    const std::string rigging =
        "\n[rigging]\ncrew = 2\ncall = \"12:30\"\n[[task]]\nname = \"hang cloth\"\n"
        "minutes = { 1 = 40, 2 = 25 }\n[[task]]\nname = \"dress\"\nminutes = { 2 = 20 }\n";
    const ScratchFolder folder{"keyhour_rigging"};
    const fs::path file = folder.path / "rigging.toml";
    std::ofstream{file} << example_text("tallow-lane") + rigging;
    const std::string page = paper(file.string(), "page");
    // The key begins at 12:59:57: 45 minutes before it, rounded down.
    CHECK(holds(page, "With a crew of 2: rigging begins at 12:14."));
    CHECK(holds(page, "Call 12:30: 15 min TOO LATE."));
    CHECK(holds(page, "too few for dress"));
    const std::string calendar = paper(file.string(), "calendar");
    CHECK(holds(calendar,
                "BEGIN:VALARM\r\nACTION:DISPLAY\r\nDESCRIPTION:Begin: Rigging\\, crew of 2"));
    CHECK(holds(calendar, "TRIGGER:PT0S"));
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

TEST_CASE("over a range each date has its page, and the dates share their other papers", "[cli]") {
    const ScratchFolder folder{"keyhour_range"};
    const Outcome outcome =
        run_program({"sheet", example("tallow-lane"), "--from", "2026-02-14", "--to", "2026-02-15",
                     "--only", "page", "--only", "calendar", "--only", "spreadsheet", "--only",
                     "map", "--out", folder.path.string()});
    REQUIRE(outcome.code == 0);
    for (const char* name : {"sheet-2026-02-14.html", "sheet-2026-02-15.html", "sheet.ics",
                             "sheet.csv", "sheet.geojson"})
        CHECK(fs::exists(folder.path / name));
    CHECK(std::distance(fs::directory_iterator{folder.path}, fs::directory_iterator{}) == 5);
    const std::string csv = bytes(folder.path / "sheet.csv");
    CHECK(holds(csv, "\r\n2026-02-14,key,"));
    CHECK(holds(csv, "\r\n2026-02-15,key,"));
    CHECK(count(bytes(folder.path / "sheet.ics"), "BEGIN:VTIMEZONE") == 1);
}

TEST_CASE("a calendar as one file (-o) remembers too", "[cli]") {
    const ScratchFolder folder{"keyhour_one_calendar"};
    const fs::path location = folder.path / "a.toml", file = folder.path / "a.ics";
    const auto write = [&](const std::string& faces) {
        std::string text = example_text("tallow-lane");
        text.replace(text.find("faces = 196"), 11, "faces = " + faces);
        std::ofstream{location} << text;
        const Outcome outcome = run_program({"sheet", location.string(), "--date", "2026-02-14",
                                             "--only", "calendar", "-o", file.string()});
        CAPTURE(outcome.err);
        REQUIRE(outcome.code == 0);
        return bytes(file);
    };
    const std::string first = write("196");
    CHECK(count(first, "SEQUENCE:0\r\n") == count(first, "BEGIN:VEVENT"));
    CHECK(write("196") == first);
    CHECK(holds(write("199"), "SEQUENCE:1\r\n"));
}

TEST_CASE("a stranger's calendar is left alone", "[cli]") {
    const ScratchFolder folder{"keyhour_foreign"};
    std::ofstream{folder.path / "sheet.ics"} << "BEGIN:VCALENDAR\r\nPRODID:other\r\n";
    const Outcome outcome = run_program({"sheet", example("tallow-lane"), "--date", "2026-02-14",
                                         "--only", "calendar", "--out", folder.path.string()});
    CHECK(outcome.code == 1);
    CHECK(holds(outcome.err, "--force"));
    CHECK(holds(bytes(folder.path / "sheet.ics"), "PRODID:other"));
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

TEST_CASE("printing (--pdf) without a folder, or without the page, is wrong usage", "[cli]") {
    CHECK(run_program({"sheet", example("sundet"), "--pdf", "-o", "-"}).code == 2);
    CHECK(run_program({"sheet", example("sundet"), "--pdf", "--only", "plan", "--out", "x"}).code ==
          2);
}

TEST_CASE("printing (--pdf) says plainly that there is nothing to print with", "[cli]") {
    const ScratchFolder folder{"keyhour_no_browser"};
    const char* path = std::getenv("PATH");
    const std::string before = path ? path : "";
    ::setenv("PATH", folder.path.c_str(), 1);
    const Outcome outcome =
        run_program({"sheet", example("tallow-lane"), "--date", "2026-02-14", "--only", "page",
                     "--pdf", "--out", (folder.path / "out").string()});
    ::setenv("PATH", before.c_str(), 1);
    CHECK(outcome.code == 1);
    CHECK(holds(outcome.err, "--pdf: neither a browser (chromium) nor rsvg-convert is at hand"));
    CHECK(fs::exists(folder.path / "out" / "sheet.html"));
}
