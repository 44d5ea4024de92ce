#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>
#include <regex>

#include "asked_key.hpp"
#include "keyhour/site/dates.hpp"
#include "page.hpp"
#include "run_program.hpp"
#include "schema_check.hpp"
#include "scratch_file.hpp"

using namespace asked;

namespace {

double minutes_between(const nlohmann::json& from, const nlohmann::json& to) {
    return (*keyhour::site::read_utc(to.get<std::string>()) -
            *keyhour::site::read_utc(from.get<std::string>()))
               .count() /
           60;
}

/// Half of the sphere lit is its centre lit: nearly.
const Arguments as_a_point{"--coverage", "50", "--altitude", "0,90"};

/// By lamp first what does not stand in frame, at the usual key angle, to the minute; then longest
/// at any bearing, longest, nearest that angle, earliest.
void check_best_first(const nlohmann::json& intervals) {
    for (std::size_t i = 1; i < intervals.size(); ++i) {
        const auto rank = [](const nlohmann::json& k) {
            const bool by_lamp = k.contains("window_in_frame");
            const double angle = by_lamp && k["key_angle_deg"].is_number()
                                     ? std::abs(k["key_angle_deg"].get<double>())
                                     : 45;
            const double off = std::max({0.0, 25 - angle, angle - 70});
            const auto length = [&](const char* name) {
                const double min = k[name];
                return by_lamp ? std::floor(min) : min;
            };
            return std::tuple{by_lamp && k["window_in_frame"] == true,
                              off > 0,
                              -length("sure_min"),
                              -length("hold_min"),
                              off,
                              k["possible"][0].get<std::string>()};
        };
        CHECK(rank(intervals[i - 1]) <= rank(intervals[i]));
    }
}

}  // namespace

TEST_CASE("key fits 80 columns and keeps to the schema for every example", "[cli]") {
    const Arguments questions[] = {
        {"--date", "2026-02-10"},
        {"--date", "2026-06-21"},
        {"--from", "2026-03-26", "--to", "2026-04-02"},
        {"--date", "2026-06-21", "--by", "lamp"},
        {"--date", "2026-12-21", "--by", "lamp", "--nights", "--all"},
        {"--from", "2026-10-24", "--to", "2026-10-26", "--by", "lamp", "--hours", "08:00,20:00"}};
    for (const char* name : {"tallow-lane", "flax-road", "sundet"})
        for (const Arguments& question : questions) {
            const Outcome o = key({example(name)}, question);
            CAPTURE(name, question, o.err);
            CHECK(o.code == 0);
            CHECK(too_long(o.out) == Arguments{});
            const auto json = key_json({example(name)}, question);
            if (json.contains("days"))
                for (const auto& day : json["days"])
                    check_best_first(day["intervals"]);
            else
                check_best_first(json["intervals"]);
        }
}

// Worked out for this project's brief by a script of its own, checked against PyEphem 4.1.4; whole
// minutes. Half of a sphere's silhouette stands for its centre, hence the margin of two minutes.
TEST_CASE("the worked room by flags holds 39 minutes", "[cli]") {
    const auto hold = [](const Arguments& room) {
        double sum = 0;
        for (const auto& k : member(key_json(room, as_a_point), "intervals"))
            sum += k["hold_min"].get<double>();
        return sum;
    };
    const auto json = key_json(worked_room(), as_a_point);
    REQUIRE(json["intervals"].size() == 1);
    const auto& k = json["intervals"][0];
    CHECK(minutes_between("2026-03-10T15:03:00Z", k["start_utc"]) == Approx(0).margin(1));
    CHECK(minutes_between("2026-03-10T15:42:00Z", k["end_utc"]) == Approx(0).margin(1));
    CHECK(k["begins_by"] == "head");
    CHECK(k["ends_by"] == "right jamb");
    CHECK(k["camera"].is_null());
    CHECK(json["location"] == "52N 0E");
    CHECK(hold(worked_room("222")) == Approx(24).margin(2));
    CHECK(hold(worked_room("228")) == Approx(52).margin(2));
    CHECK(hold(worked_room("225", "2026-03-10", "0")) == Approx(68).margin(2));
    CHECK(hold(worked_room("225", "2026-02-01")) == Approx(112).margin(2));
    CHECK(hold(worked_room("225", "2026-03-24")) == 0);
}

TEST_CASE("one date opens with the key in whole minutes, its band and what to do", "[cli]") {
    const std::string page = key({press, "--date", "2026-02-10", "--no-doubt"}).out;
    for (const char* line :
         {"Tallow Lane Press, 52.95 NORTH 1.15 WEST\nTue 10 February 2026, UTC+00:00\n",
          "\nclean key 13:02 to 14:22 (1 h 20 min): case window on type case, camera A\n",
          "\nat any bearing 13:14 to 14:09 (55 min), at some 12:50 to 14:35\n",
          "\nbegins by building warehouse opposite, ends by right jamb; nothing to cover\n",
          ", light from the subject's left; ",
          "\nnone: yard window, press window (--show misses)\n",
          "\nbearing: street wall faces SSW, 196 true, give or take 3\n",
          "Never look at the sun, least of all through a lens or sight: use shadows"}) {
        CAPTURE(line, page);
        CHECK(holds(page, line));
    }
    for (const char* detail : {"position:", "would hold", "its cover", "mired", "in haze"})
        CHECK_FALSE(holds(page, detail));
}

TEST_CASE("key tells its details by name", "[cli][show]") {
    const auto shown = [](const char* what) {
        return flat(key({press, "--date", "2026-02-10"}, {"--show", what}).out);
    };
    const struct {
        const char* name;
        std::vector<const char*> facts;
    } details[] = {
        {"readback",
         {"position: 52.9536 degrees NORTH, 1.1505 degrees WEST", "date: Tuesday 10 February 2026",
          "clocks: Europe/London, UTC+00:00 on this date",
          "street wall faces south-south-west (196 true, give or take 3): looking out you look "
          "SSW",
          "party wall faces west-north-west (286 true)"}},
        {"doubt",
         {"the mark's centre alone would hold 1 h 34 min: the whole mark does not",
          "with every doubt: ", " in half of them; lit ", "cases: the room with every figure"}},
        {"misses",
         {"none: yard window on type case, camera A: its cover is a sheer",
          "none: press window on type case, camera A at ",
          "on the mark, but key angle too wide, towards back light"}},
        {"levels",
         {"degrees high; patch on wall back moves ", " (air alone: ", "mired warmer", "meter: EV ",
          "stops over an unlit wall", "with a sheer in the window", "good to a factor 2"}},
        {"haze", {"in haze, camera A: beam ", "agree the smoke alarms"}},
    };
    const std::string brief = flat(key({press, "--date", "2026-02-10"}).out), all = shown("all");
    for (const auto& detail : details) {
        const std::string page = shown(detail.name);
        for (const char* fact : detail.facts) {
            CAPTURE(detail.name, fact, page);
            CHECK(holds(page, fact));
            CHECK(holds(all, fact));
            CHECK_FALSE(holds(brief, fact));
        }
    }
    CHECK(too_long(key({press, "--date", "2026-02-10"}, {"--show", "all"}).out) == Arguments{});
    const Outcome wrong = key({press, "--date", "2026-02-10"}, {"--show", "levels,dout"});
    CHECK(wrong.code == 2);
    CHECK(wrong.err ==
          "--show \"dout\": did you mean \"doubt\"? accepted: levels, doubt, haze, misses, "
          "readback, all\n");
    CHECK(key({press, "--date", "2026-02-10"}, {"--show", "hours"}).code == 2);
}

TEST_CASE("one camera asked for is the only one told of in haze", "[cli][show]") {
    const ScratchFile two{"keyhour-key-two-cameras.toml",
                          example_text("tallow-lane") +
                              "[[camera]]\nname = \"B\"\nat = [4, 1]\nheight_m = 1.5\n"
                              "aims_at = \"type case\"\n"};
    const Arguments asked{two.path, "--date", "2026-02-10", "--camera", "A"};
    const std::string page = key(asked, {"--show", "haze"}).out;
    CHECK(holds(page, "in haze, camera A: "));
    CHECK_FALSE(holds(page, "camera B"));
    const auto json = key_json(asked);
    for (const auto& k : json["intervals"]) {
        REQUIRE(k["haze"].size() == 1);
        CHECK(k["haze"][0]["camera"] == "A");
    }
    CHECK(holds(key({two.path, "--date", "2026-02-10"}, {"--show", "haze"}).out,
                "in haze, camera B: "));
}

TEST_CASE("key as a message is one line of at most 140 characters a key", "[cli][show]") {
    const auto lines = [](const Arguments& more) {
        const Outcome o = key({press}, more);
        REQUIRE(o.code == 0);
        std::istringstream text{o.out};
        Arguments found;
        for (std::string line; std::getline(text, line);) {
            CHECK(line.size() <= 140);
            found.push_back(line);
        }
        return found;
    };
    CHECK(lines({"--date", "2026-02-10", "--line"}) ==
          Arguments{
              "key 13:02 to 14:22 Tallow Lane Press, Tue 10 February 2026 UTC+00:00, any bearing "
              "13:14 to 14:09: case window on type case (A)"});
    CHECK(lines({"--from", "2026-02-10", "--to", "2026-02-14", "--line"}).size() == 5);
    const auto none = lines({"--date", "2026-06-21", "--line"});
    REQUIRE(none.size() == 1);
    CHECK(none[0].starts_with("no clean key Tallow Lane Press, Sun 21 June 2026 UTC+01:00"));
    CHECK_FALSE(lines({"--date", "2026-03-10", "--by", "lamp", "--line"}).empty());
    CHECK(key({press, "--date", "2026-02-10", "--line", "--json"}).code == 2);
}

TEST_CASE("what is wrong or has changed since the recce stands at the very top", "[cli][show]") {
    const auto first = [](const Arguments& words) {
        const std::string out = flat(key(words).out);
        return out.substr(0, out.find("NORTH"));
    };
    CHECK(first({press, "--date", "2026-02-10"}) == "Tallow Lane Press, 52.95 ");
    // British clocks go forward on 29 March 2026 (Summer Time Order 2002).
    CHECK(first({press, "--date", "2026-03-30"})
              .starts_with("CLOCKS CHANGED SINCE AN EARLIER RECCE: forward 1 hour on "
                           "Sunday 29 March 2026 (UTC+00:00 to UTC+01:00); what was seen before "
                           "comes as much later by the clock"));
    CHECK(first({press, "--date", "2026-03-29"}).starts_with("CLOCKS CHANGE ON THIS DATE"));
    const auto measured = [](const char* day) {
        return changed(example_text("tallow-lane"), "within_deg = 3",
                       "within_deg = 3, measured = \"" + std::string{day} + '"');
    };
    const ScratchFile before{"keyhour-key-before.toml", measured("2026-01-10")};
    CHECK(
        first({before.path, "--date", "2026-06-10"}).starts_with("CLOCKS CHANGED SINCE THE RECCE"));
    const ScratchFile after{"keyhour-key-after.toml", measured("2026-03-29")};
    CHECK(first({after.path, "--date", "2026-03-30"}).starts_with("Tallow Lane Press"));
    // A bearing read with the back to the window: no sun enters a deep small opening to the north.
    Arguments north = worked_room("0", "2026-03-10", "1");
    north[9] = "0.6 x 0.6 m";
    CHECK(first(north).starts_with("DOES THE BEARING LOOK IN INSTEAD OF OUT?"));
    // Nobody measured how far the bearing may be off, and no part of the key is sure.
    Arguments compass = worked_room();
    compass[7] = "magnetic";
    CHECK(first(compass).starts_with("BEARING NOT MEASURED: the usual give or take 5 is taken"));
}

TEST_CASE("hold and sure part are the lengths of the spans given", "[cli]") {
    for (const auto& k :
         member(key_json({hatters, "--date", "2026-06-10"}, {"--near", "3"}), "intervals")) {
        if (k["start_utc"].is_null()) continue;
        CHECK(k["hold_min"].get<double>() ==
              Approx(minutes_between(k["start_utc"], k["end_utc"])).margin(1e-4));
        REQUIRE_FALSE(k["sure"].is_null());
        CHECK(k["sure_min"].get<double>() ==
              Approx(minutes_between(k["sure"][0], k["sure"][1])).margin(1e-4));
        CHECK(minutes_between(k["possible"][0], k["start_utc"]) >= 0);
        CHECK(minutes_between(k["start_utc"], k["sure"][0]) >= 0);
        CHECK(minutes_between(k["sure"][1], k["end_utc"]) >= 0);
        CHECK(minutes_between(k["end_utc"], k["possible"][1]) >= 0);
        CHECK(k["start_local"].get<std::string>().ends_with("+12:00"));
    }
}

TEST_CASE("key tells level, ratio and colour at the mark, unless they are to be left out",
          "[cli]") {
    const Arguments press{KEYHOUR_LOCATIONS "/tallow-lane.toml", "--date", "2026-02-17"};
    const auto k = key_json(press)["intervals"][0];
    for (const char* name : {"level_lx", "fill_lx", "key_to_fill_stops"})
        for (const char* end : {"at_start", "at_end"}) {
            INFO(name << ' ' << end);
            CHECK(k[name]["low"].get<double>() <= k[name][end].get<double>());
            CHECK(k[name]["high"].get<double>() >= k[name][end].get<double>());
        }
    // A sun of 20 to 25 degrees through one pane: tens of klx, and warmer than white.
    CHECK(k["level_lx"]["at_start"].get<double>() > 20000);
    CHECK(k["level_lx"]["at_start"].get<double>() < 70000);
    CHECK(k["key_kelvin"]["at_start"].get<double>() > 4000);
    CHECK(k["key_kelvin"]["at_start"].get<double>() < 5600);
    CHECK(std::log2(k["level_lx"]["at_end"].get<double>() / k["fill_lx"]["at_end"].get<double>()) ==
          Approx(k["key_to_fill_stops"]["at_end"].get<double>()).margin(0.02));

    const auto dark = key_json(press, {"--no-light"})["intervals"][0];
    CHECK_FALSE(dark.contains("level_lx"));
    CHECK(dark["hold_min"] == k["hold_min"]);
    CHECK(tells(key(press).out, "klx at the mark, key:fill about "));
    CHECK(key(press, {"--no-light"}).out.find("at the mark") == std::string::npos);
    CHECK(key(press, {"--by", "lamp", "--no-light"}).code == 2);
}

TEST_CASE("a range lists each date, and its table the best first with the offset", "[cli]") {
    const Arguments range{press, "--from", "2026-10-24", "--to", "2026-10-26"};
    const auto json = key_json(range);
    REQUIRE(json["days"].size() == 3);
    for (const auto& day : json["days"])
        for (const auto& k : day["intervals"])
            CHECK(k["start_local"].get<std::string>().starts_with(day["date"].get<std::string>()));
    CHECK(json["days"][0]["intervals"][0]["start_local"].get<std::string>().ends_with("+01:00"));
    CHECK(json["days"][2]["intervals"][0]["start_local"].get<std::string>().ends_with("+00:00"));
    const std::string table = key(range).out;
    CHECK(holds(table, "\nclean key, case window on type case, camera A\n"));
    CHECK(holds(table, "\nSa 2026-10-24 +01:00 13:29-14:48 "));
    CHECK(holds(table, "\nSu 2026-10-25 +00:00 12:29-13:49 "));
    CHECK(holds(table, "clocks go back 1 hour on Sunday 25 October 2026"));
}

// A length is the difference of the ends that are printed, and what is sure is rounded inward.
TEST_CASE("a row promises the minutes that the page of its date promises", "[cli]") {
    const Arguments range{press, "--from", "2026-10-24", "--to", "2026-10-31"};
    const std::string table = key(range, {"--all"}).out;
    int rows = 0;
    const auto json = key_json(range);
    for (const auto& day : json["days"])
        for (const auto& k : day["intervals"]) {
            const auto minute = [&](std::size_t end) {
                return keyhour::site::read_utc(k["sure"][end].get<std::string>())->unix_s() / 60;
            };
            const double sure = std::floor(minute(1)) - std::ceil(minute(0));
            const std::string date = day["date"];
            const std::regex row{date + R"( [+]\d\d:\d\d [-\d:]+ +\d+ +(\d+) )"};
            std::smatch told;
            CAPTURE(table, date);
            REQUIRE(std::regex_search(table, told, row));
            CHECK(std::stoi(told[1]) == sure);
            ++rows;
        }
    CHECK(rows == 8);
}

TEST_CASE("a long range shows its best rows unless all are asked for", "[cli]") {
    const Arguments range{press, "--from", "2026-11-01", "--to", "2026-12-31"};
    CHECK(holds(key(range).out, "and 41 more, no better (--all shows them)"));
    const std::string all = key(range, {"--all"}).out;
    CHECK_FALSE(holds(all, " more, no better"));
    CHECK(std::count(all.begin(), all.end(), '\n') > 61);
}

TEST_CASE("a date without a key says why and names the nearest miss", "[cli]") {
    const std::string table = key({press, "--date", "2026-06-21"}).out;
    CHECK(holds(table, "\nNO CLEAN KEY on this date\nnearest: "));
    CHECK(tells(table, "sun too far to the right of the window"));
    CHECK(tells(table, "to change: the mark to the left (looking at the window)"));
    for (const auto& miss : member(key_json({press, "--date", "2026-06-21"}), "without"))
        CHECK_FALSE(miss["reason"].get<std::string>().empty());
    // A wall that looks north has no sun in winter: asked whether it was read facing in.
    CHECK(tells(key(worked_room("0")).out, "bearing read looking out?"));
    // The lens looks against the light or along it.
    CHECK(tells(key(worked_room(), {"--camera-at", "1 x 0.5", "--altitude", "0,90"}).out,
                "key angle too narrow"));
    // In the polar night.
    Arguments polar = worked_room("180", "2026-12-21");
    polar[1] = "78N 15E";
    polar[3] = "Europe/Oslo";
    CHECK(holds(key(polar).out, "the sun stays below the horizon"));
}

TEST_CASE("names choose marks, cameras and windows", "[cli]") {
    for (const auto& miss :
         member(key_json({hatters, "--date", "2026-06-10"}, {"--mark", "block"}), "without"))
        CHECK(miss["mark"] == "block");
    const auto bench = key_json({hatters, "--date", "2026-06-10"}, {"--window", "bench window"});
    for (const auto& k : bench["intervals"])
        CHECK(k["window"] == "bench window");
    REQUIRE_FALSE(bench["intervals"].empty());
    const auto camera = key_json({hatters, "--date", "2026-06-10"}, {"--camera", "B"});
    REQUIRE_FALSE(camera["intervals"].empty());
    for (const auto& k : camera["intervals"])
        CHECK(k["camera"] == "B");
}

TEST_CASE("settings widen and narrow what is clean", "[cli]") {
    const auto hold = [](const Arguments& more) {
        double longest = 0;
        for (const auto& k : member(key_json({hatters, "--date", "2026-06-10", "--mark",
                                              "curling bench", "--window", "bench window"},
                                             more),
                                    "intervals"))
            longest = std::max(longest, k["hold_min"].get<double>());
        return longest;
    };
    const double usual = hold({});
    CHECK(usual > 60);
    CHECK(hold({"--key-angle", "25,80"}) > usual + 1);
    CHECK(hold({"--key-angle", "25,60"}) < usual - 10);
    CHECK(hold({"--coverage", "100"}) < usual);
    CHECK(hold({"--altitude", "20,55"}) < usual - 10);
    CHECK(hold({"--near", "4", "--as-is"}) < usual);
}

TEST_CASE("key over a range lets a tree open and close with its leaves", "[cli]") {
    // A lime before the street windows of the press.
    const ScratchFile file{"keyhour-key-lime.toml",
                           example_text("tallow-lane") +
                               "\n[[tree]]\nname = \"lime\"\nat = [3.5, -9]\ncrown_m = 12\n"
                               "height_m = 30\nleaf = [\"03\", \"10\"]\n"};
    const auto intervals = [](const std::string& path, const char* from, const char* to) {
        const Outcome o =
            run_program({"key", path, "--from", from, "--to", to, "--no-light", "--json"});
        REQUIRE(o.code == 0);
        CHECK(schema_faults("key", o.out) == "");
        std::vector<std::string> out;
        const auto document = nlohmann::json::parse(o.out);
        for (const auto& day : document["days"])
            for (const auto& i : day["intervals"])
                out.push_back(i.dump());
        return out;
    };
    const std::string press = example("tallow-lane");
    // Bare in February: as without the tree. In leaf in March: otherwise.
    CHECK(intervals(file.path, "2026-02-20", "2026-02-28") ==
          intervals(press, "2026-02-20", "2026-02-28"));
    const auto both = intervals(file.path, "2026-02-20", "2026-03-08");
    auto apart = intervals(file.path, "2026-02-20", "2026-02-28");
    for (const auto& i : intervals(file.path, "2026-03-01", "2026-03-08"))
        apart.push_back(i);
    CHECK(both.size() >= 9);
    CHECK(both == apart);
    CHECK(both != intervals(press, "2026-02-20", "2026-03-08"));
    const Outcome day =
        run_program({"key", file.path, "--date", "2026-03-05", "--no-light", "--show", "readback"});
    CHECK(tells(day.out, "tree lime (leaf March to October): in leaf, counts as closed"));
}
