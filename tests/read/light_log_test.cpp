#include "read/light_log.hpp"

#include <catch2/catch.hpp>

#include "tell/light_log_line.hpp"

using namespace keyhour;
using Catch::Contains;

namespace {

const std::string head = "# keyhour light log 1\n";

study::LoggedShot shot() {
    study::LoggedShot s;
    s.at = "2026-02-17T13:42:00+00:00";
    s.name = "hands \"1\" \\ a";
    s.place = "tallow-lane.toml";
    s.mark = "type case";
    s.camera = "A";
    s.window = "case window";
    s.key = study::ShotKey::lamp;
    s.lamp = "key lamp";
    s.lamp_at = room::Point2{1.25, -3.5};
    s.lamp_height_m = 3.1;
    s.azimuth_deg = 209.31;
    s.altitude_deg = 22.4;
    s.computed_lx = 61200;
    s.computed_kelvin = 5100;
    s.t_number = 5.6;
    s.cloth = {"yard window", "black over the skylight"};
    s.note = "w\xc3\xadnd";
    s.file_digest = "0f3a5c7e9b1d2f40";
    return s;
}

read::LightLog read_text(const std::string& text) {
    auto log = read::read_light_log_text(text, "day.log");
    REQUIRE(log);
    return *std::move(log);
}

}  // namespace

TEST_CASE("a shot is read from its line as it was written", "[log]") {
    const auto log = read_text(head + tell::light_log_line(shot(), "ev = 12.5") + "\n");
    REQUIRE(log.problems.empty());
    REQUIRE(log.shots.size() == 1);
    const study::LoggedShot &s = log.shots[0], wrote = shot();
    CHECK(s.line == 2);
    CHECK(s.at == wrote.at);
    CHECK(s.name == wrote.name);
    CHECK(s.place == wrote.place);
    CHECK(s.mark == wrote.mark);
    CHECK(s.camera == wrote.camera);
    CHECK(s.window == wrote.window);
    CHECK(s.key == wrote.key);
    CHECK(s.lamp == wrote.lamp);
    CHECK(s.lamp_at->x == 1.25);
    CHECK(s.lamp_at->y == -3.5);
    CHECK(s.lamp_height_m == wrote.lamp_height_m);
    CHECK(s.azimuth_deg == wrote.azimuth_deg);
    CHECK(s.altitude_deg == wrote.altitude_deg);
    CHECK(s.computed_lx == wrote.computed_lx);
    CHECK(s.computed_kelvin == wrote.computed_kelvin);
    CHECK(s.t_number == wrote.t_number);
    CHECK(s.cloth == wrote.cloth);
    CHECK(s.note == wrote.note);
    CHECK(s.file_digest == wrote.file_digest);
    // 2^12.5 = N^2 / t at ISO 100; E = C 2^EV / S with C = 250 (ISO 2720).
    CHECK(*s.metered_lx == Approx(2.5 * 5792.6).epsilon(1e-4));
}

TEST_CASE("a log cut anywhere keeps every whole line and names the cut one", "[log]") {
    const std::string line = tell::light_log_line(shot(), "lux = 52000");
    const std::string text = head + line + "\n" + line + "\n";
    for (std::size_t n = 0; n <= text.size(); ++n) {
        INFO(n);
        const auto log = read_text(text.substr(0, n));
        const std::size_t in_first = n > head.size() ? n - head.size() : 0;
        const std::size_t whole = in_first / (line.size() + 1);
        const std::size_t part = in_first % (line.size() + 1);
        const std::size_t last_is_whole = part == line.size() ? 1 : 0;
        CHECK(log.shots.size() == whole + last_is_whole);
        const bool cut = part > 0 && last_is_whole == 0;
        REQUIRE(log.problems.size() == (cut ? 1U : 0U));
        if (!cut) continue;
        CHECK(log.problems[0].line == static_cast<int>(whole) + 2);
        CHECK_THAT(log.problems[0].found, Contains("cut off"));
    }
}

TEST_CASE("a line by hand needs a time, a place and a mark, and no offset", "[log]") {
    const auto log = read_text(
        "# keyhour light log 1\r\n\r\n# by hand\r\n"
        "  { at = 2026-02-17T13:42:00, place = \"a.toml\", mark = \"m\" }  \r\n"
        "{ at = \"2026-02-17 13:50\", place = \"a.toml\", mark = \"m\" } # wind");
    CHECK(log.problems.empty());
    REQUIRE(log.shots.size() == 2);
    CHECK(log.shots[0].line == 4);
    CHECK(log.shots[0].at == "2026-02-17T13:42:00");
    CHECK(log.shots[0].key == study::ShotKey::sun);
}

TEST_CASE("a bad line of a log is told with line and column, the others are read", "[log]") {
    const std::string good = "{ at = 2026-02-17T13:42:00Z, place = \"a.toml\", mark = \"m\" }\n";
    struct Bad {
        std::string line;
        int column;
        const char* says;
    };
    for (const Bad& bad :
         {Bad{"{ at = 2026-02-17T13:42:00Z, place = \"a.toml\", mrk = \"m\" }", 48, "mrk"},
          {"{ at = 2026-02-30T13:42:00Z, place = \"a.toml\", mark = \"m\" }", 1, ""},
          {"{ at = 13:42:00, place = \"a.toml\", mark = \"m\" }", 8, "no date"},
          {"{ at = 2026-02-17T13:42:00Z, place = \"a.toml\", mark = \"m\", stop = 0 }", 67, "stop"},
          {"{ place = \"a.toml\", mark = \"m\" }", 1, "at"},
          {"13:42 wide, T4", 1, "no shot"},
          {"{ at = 2026-02-17T13:42:00Z, place = \"a.toml\", mark = \"m", 56, "cut off"},
          {"{ at = 2026-02-17T13:42:00Z, place = \"\xff\", mark = \"m\" }", 1, "UTF-8"}}) {
        INFO(bad.line);
        const auto log = read_text(head + good + bad.line + "\n" + good);
        CHECK(log.shots.size() == 2);
        REQUIRE_FALSE(log.problems.empty());
        CHECK(log.problems[0].file == "day.log");
        CHECK(log.problems[0].line == 3);
        if (bad.column > 1) CHECK(log.problems.back().column == bad.column);
        CHECK_THAT(log.problems.back().message(), Contains(bad.says));
    }
}

TEST_CASE("a file that is no light log is refused, an empty one holds none", "[log]") {
    CHECK(read_text("").shots.empty());
    CHECK(read_text(head).shots.empty());
    for (const char* foreign : {"format = 1\n", "{\"keyhour\": 1}\n", "\n# keyhour light log 1\n",
                                "# keyhour light log 2\n", "\x89PNG\r\n"}) {
        INFO(foreign);
        const auto log = read::read_light_log_text(foreign, "day.log");
        REQUIRE_FALSE(log);
        CHECK_THAT(log.error().message(), Contains("no light log"));
        CHECK_FALSE(read::next_log_line(foreign, "day.log", "{ }"));
    }
}

TEST_CASE("what is added makes a log whole again and never touches what stands there", "[log]") {
    const std::string line = "{ at = 2026-02-17T13:42:00Z, place = \"a.toml\", mark = \"m\" }";
    for (const std::string& before :
         {std::string{}, std::string{"# keyh"}, std::string{"# keyhour light log 1"}, head,
          head + line, head + line + "\n", head + line.substr(0, 20)}) {
        INFO(before);
        const auto added = read::next_log_line(before, "day.log", line);
        REQUIRE(added);
        const auto log = read_text(before + *added);
        REQUIRE_FALSE(log.shots.empty());
        CHECK(log.shots.back().mark == "m");
        CHECK(log.problems.size() == (before.ends_with(line.substr(0, 20)) ? 1U : 0U));
    }
}
