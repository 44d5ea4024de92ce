// A light log in the field: added to by one or many, read by who wants the light again.

#include <catch2/catch.hpp>
#include <fstream>
#include <memory>
#include <nlohmann/json.hpp>
#include <sstream>

#include "child.hpp"
#include "examples.hpp"
#include "run_program.hpp"
#include "schema_check.hpp"
#include "scratch_file.hpp"
#include "scratch_folder.hpp"

namespace {

using Catch::Contains;
using Words = std::vector<std::string>;

const std::string press = example("tallow-lane");
const std::string example_log = KEYHOUR_LOCATIONS "/tallow-lane-shoot/light.log";

struct Log {
    ScratchFolder folder{"keyhour_log"};
    std::string path = (folder.path / "day.log").string();

    [[nodiscard]] Outcome add(Words more, const std::string& location = press) const {
        Words words{"log", location, "-o", path};
        words.insert(words.end(), more.begin(), more.end());
        return run_program(words);
    }
    [[nodiscard]] Outcome match(Words more) const {
        Words words{"match", path, "--from", "2026-02-16", "--to", "2026-02-25"};
        words.insert(words.end(), more.begin(), more.end());
        return run_program(words);
    }
    [[nodiscard]] std::string text() const { return examples::contents(path); }
    void write(const std::string& text) const { std::ofstream{path} << text; }
};

const Words hands{"--date", "2026-02-17", "--at", "13:44", "--shot", "hands"};

Words with(Words words, const Words& more) {
    words.insert(words.end(), more.begin(), more.end());
    return words;
}

nlohmann::json document(const Outcome& o) {
    INFO(o.err);
    REQUIRE(o.code == 0);
    REQUIRE(schema_faults("match", o.out) == "");
    return nlohmann::json::parse(o.out);
}

}  // namespace

TEST_CASE("log writes what the studies know beside what was metered", "[log]") {
    const Log log;
    const Outcome o = log.add(with(hands, {"--ev", "14.1", "--stop", "T5.6", "--cloth",
                                           "yard window", "--note", "two\nlines \"and\" a \\"}));
    INFO(o.err);
    REQUIRE(o.code == 0);
    CHECK_THAT(o.out, Contains("day.log, line 2: hands, Tue 17 February 2026"));
    const std::string text = log.text();
    CHECK(examples::lines_of(text).size() == 2);
    for (const char* part :
         {"at = 2026-02-17T13:44:00+00:00", "mark = \"type case\"", "camera = \"A\"",
          "key = \"sun\"", "window = \"case window\"", "azimuth_deg = 202.7", "altitude_deg = 22.",
          "computed_lx = ", "ev = 14.1", "stop = 5.6", "cloth = [\"yard window\"]", "file = \""})
        CHECK_THAT(text, Contains(part));
    CHECK(log.match({"--shot", "hands"}).code == 0);
}

TEST_CASE("match finds the shot's minute again and says what differs", "[log]") {
    const Log log;
    REQUIRE(log.add(hands).code == 0);
    const auto json = document(log.match({"--json"}));
    CHECK(json["shot"]["name"] == "hands");
    CHECK(json["notes"].empty());
    REQUIRE(json["dates"].size() == 10);
    const auto& same = json["dates"][1];
    CHECK(same["date"] == "2026-02-17");
    CHECK(same["nearest"]["off_deg"] < 0.02);
    CHECK(same["nearest"]["level_stops"] == Approx(0).margin(0.01));
    CHECK(same["spans"][0]["start_utc"] < same["nearest"]["at_utc"]);
    CHECK(json["dates"][0]["spans"].size() == 1);
    CHECK(json["dates"][9]["spans"].empty());
    CHECK(json["by_lamp"]["lamp"] == "key lamp");
    const Outcome page = log.match({});
    CHECK_THAT(page.out, Contains("best 13:44: 0.0 deg, 0 cm"));
    CHECK_THAT(page.out, Contains("no match on"));
    CHECK(examples::lines_of(page.out).size() <= 18);
    const Outcome feet = log.match({"--units", "ft", "--show", "levels"});
    CHECK_THAT(feet.out, Contains(" in,"));
    CHECK_THAT(feet.out, Contains("key angle"));
    const Outcome lines = log.match({"--line"});
    for (const std::string& line : examples::lines_of(lines.out))
        CHECK(line.size() <= 140);
    const Outcome csv = log.match({"--csv"});
    CHECK(std::count(csv.out.begin(), csv.out.end(), '\n') == 11);
    CHECK_THAT(csv.out, Contains("hands,2026-02-17,yes,2026-02-17T13:3"));
}

TEST_CASE("match says the hour of the clocks of its date, and what changed", "[log]") {
    const Log log;
    REQUIRE(log.add(hands).code == 0);
    const Outcome o =
        run_program({"match", log.path, "--from", "2026-10-24", "--to", "2026-10-25"});
    // The sun stands as it did; clocks were an hour on in October, and go back on the 25th.
    CHECK_THAT(o.out, Contains("Sa 2026-10-24 14:"));
    CHECK_THAT(o.out, Contains("Su 2026-10-25 13:"));
    CHECK_THAT(o.out, Contains("between the shot and these dates clocks go forward 1 hour"));
    CHECK_THAT(o.out, Contains("clocks go back 1 hour on Sunday 25 October 2026"));
}

TEST_CASE("a shot by lamp is restored from where the lamp stood", "[log]") {
    const Log log;
    const Words lamp{"--date", "2026-02-17", "--at",   "15:40",
                     "--shot", "proof",      "--lamp", "key lamp"};
    const Outcome no_place = log.add(lamp);
    CHECK(no_place.code == 2);
    CHECK_THAT(no_place.err, Contains("--lamp-at"));
    CHECK_FALSE(std::filesystem::exists(log.path));
    REQUIRE(log.add(with(lamp, {"--lamp-at", "1.8,-2.8", "--lamp-height", "3.6 m"})).code == 0);
    const auto json = document(log.match({"--json"}));
    CHECK(json["shot"]["key"] == "lamp");
    CHECK(json["by_lamp"]["is_wanted_place"] == true);
    CHECK(json["by_lamp"]["stand"]["at_m"][0] == 1.8);
    CHECK(json["by_lamp"]["stand"]["height_above_ground_m"] == Approx(3.6));
    // The sun that stands where the lamp stood: its direction is the lamp's from the mark.
    CHECK(json["shot"]["azimuth_deg"] == Approx(202.2).margin(0.1));
    CHECK(json["shot"]["apparent_altitude_deg"] == Approx(22.85).margin(0.05));
    CHECK_THAT(log.match({}).out, Contains("the lamp again: "));
}

TEST_CASE("night, and a mark in the shade, are asked about or logged without a key", "[log]") {
    const Log log;
    const Outcome shade = log.add({"--date", "2026-02-17", "--at", "16:10"});
    CHECK(shade.code == 2);
    CHECK_THAT(shade.err, Contains("no sun reaches type case at 16:10"));
    const Outcome half_day = log.add({"--date", "2026-02-17", "--at", "01:44", "--key", "sun"});
    CHECK(half_day.code == 2);
    CHECK_THAT(half_day.err, Contains("24-hour clock"));
    REQUIRE(log.add({"--date", "2026-02-17", "--at", "22:00", "--shot", "night"}).code == 0);
    CHECK_THAT(log.text(), Contains("key = \"sky\""));
    const Outcome o = log.match({});
    CHECK(o.code == 1);
    CHECK_THAT(o.err, Contains("day.log:2: the shot's key was neither sun nor lamp"));
}

TEST_CASE("a shot logged against the file is matched all the same, and said", "[log]") {
    const Log log;
    const Outcome o = log.add(
        {"--date", "2026-02-17", "--at", "16:10", "--window", "press window", "--shot", "late"});
    REQUIRE(o.code == 0);
    CHECK_THAT(o.out, Contains("BY THE LOCATION FILE"));
    CHECK_THAT(log.match({}).out, Contains("BY THE LOCATION FILE the key did not reach the mark"));
}

TEST_CASE("a location that changed since the shot is told, so is a mark that is gone", "[log]") {
    const Log log;
    const std::string room = (log.folder.path / "room.toml").string();
    const std::string text = example_text("tallow-lane");
    std::ofstream{room} << text;
    REQUIRE(log.add(hands, room).code == 0);
    CHECK_THAT(log.text(), Contains("place = \"room.toml\""));
    CHECK(document(log.match({"--json"}))["notes"].empty());
    std::ofstream{room} << changed(text, "at = [2.3, 1.8]", "at = [2.4, 1.8]");
    CHECK_THAT(log.match({}).out, Contains("THE LOCATION FILE HAS CHANGED since the shot"));
    std::ofstream{room} << changed(changed(text, "name = \"type case\"", "name = \"type frame\""),
                                   "aims_at = \"type case\"", "aims_at = \"type frame\"");
    const Outcome gone = log.match({});
    CHECK(gone.code == 1);
    CHECK_THAT(gone.err, Contains("day.log:2: mark \"type case\" is not in the location"));
    CHECK_THAT(gone.err, Contains("type frame"));
    std::ofstream{room} << changed(text, "Europe/London", "Europe/Oslo");
    CHECK_THAT(log.match({}).out, Contains("THE LOG SAYS UTC+00:00 at the shot"));
    std::filesystem::remove(room);
    const Outcome none = log.match({});
    CHECK(none.code == 1);
    CHECK_THAT(none.err, Contains("--location"));
    CHECK(log.match({"--location", press}).code == 0);
}

TEST_CASE("bad lines of a log are named, the others are answered", "[log]") {
    const Log log;
    REQUIRE(log.add(hands).code == 0);
    const std::string good = log.text();
    log.write(good + "{ at = 2026-02-17T13:50:00Z, place = \"x\n" + "wide, T4\n");
    const Outcome o = log.match({"--shot", "hands"});
    CHECK(o.code == 0);
    CHECK_THAT(o.err, Contains("day.log:3:39: the line ends without its closing brace"));
    CHECK_THAT(o.err, Contains("day.log:4:1: the line holds no shot"));
    const Outcome bad = run_program({"match", log.path + ":3"});
    CHECK(bad.code == 1);
    CHECK_THAT(bad.err, Contains("closing brace"));
    CHECK(run_program({"match", log.path + ":9"}).code == 1);
    CHECK_THAT(log.match({"--shot", "hand"}).err, Contains("did you mean \"hands\"?"));
    // What is added stands whole on a line of its own, however the last one ended.
    log.write(good + "{ at = 2026");
    REQUIRE(log.add(with(hands, {"--note", "again"})).code == 0);
    CHECK(log.text().starts_with(good + "{ at = 2026\n{ at = 2026-02-17T13:44"));
    CHECK(log.match({}).code == 0);
}

TEST_CASE("what is no light log is neither read nor touched", "[log]") {
    const Log log;
    for (const std::string& foreign :
         {example_text("tallow-lane"), std::string{"a,b\r\n1,2\r\n"}}) {
        log.write(foreign);
        const Outcome o = log.add(hands);
        CHECK(o.code == 1);
        CHECK_THAT(o.err, Contains("no light log"));
        CHECK(log.text() == foreign);
        CHECK(log.match({}).code == 1);
    }
    log.write("");
    const Outcome empty = log.match({});
    CHECK(empty.code == 1);
    CHECK_THAT(empty.err, Contains("holds no shot yet"));
    CHECK(run_program({"log", press, "-o", log.folder.path.string()}).code != 0);
}

TEST_CASE("two shoots that log into one file at once lose nothing", "[log]") {
    const Log log;
    constexpr int each = 6;
    for (int i = 0; i < each; ++i) {
        const std::string n = std::to_string(i);
        Child one{{"log", press, "-o", log.path, "--date", "2026-02-17", "--at", "13:44", "--shot",
                   "a" + n},
                  {}};
        Child two{{"log", press, "-o", log.path, "--date", "2026-02-17", "--at", "13:46", "--shot",
                   "b" + n},
                  {}};
        CHECK(one.wait() == 0);
        CHECK(two.wait() == 0);
    }
    CHECK(examples::lines_of(log.text()).size() == 1 + 2 * each);
    for (int i = 0; i < each; ++i)
        for (const char* who : {"a", "b"}) {
            const Outcome o = log.match({"--shot", who + std::to_string(i), "--line"});
            CHECK(o.code == 0);
            CHECK(o.err.empty());
        }
}

TEST_CASE("match refuses what it can't answer, and says what it takes", "[log]") {
    for (const Words& wrong : {Words{"--within", "0"},
                               {"--within", "31"},
                               {"--coverage", "1"},
                               {"--hours", "20:00,08:00"},
                               {"--shot", "hands", "--lamp", "fill panel"},
                               {"--json", "--csv"},
                               {"--show", "everything"},
                               {"--from", "2026-03-01"}}) {
        INFO(wrong[0] << ' ' << wrong[1]);
        const Outcome o = run_program(with({"match", example_log, "--shot", "hands"}, wrong));
        CHECK(o.code == 2);
        CHECK(o.out.empty());
        CHECK_THAT(o.err, Contains("accepted") || Contains("give one") || Contains("needs") ||
                              Contains("must stand first"));
    }
}

TEST_CASE("the example's log is whole, and each of its shots is answered or explained", "[log]") {
    std::size_t answered = 0;
    for (int line = 3; line <= 7; ++line) {
        const Outcome o = run_program({"match", example_log + ":" + std::to_string(line), "--from",
                                       "2026-10-12", "--to", "2026-11-08", "--json"});
        if (o.code == 0) {
            (void)document(o);
            ++answered;
        } else {
            CHECK_THAT(o.err, Contains("neither sun nor lamp"));
        }
    }
    CHECK(answered == 4);
}
