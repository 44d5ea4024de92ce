#include <fmt/format.h>

#include <catch2/catch.hpp>

#include "keyhour/site/doubts.hpp"
#include "read/location_file.hpp"

using namespace keyhour;

namespace {

struct Lines {
    std::string bearing = R"({ wall = "a", faces = 180, north = "true" })";
    std::string reveal = "reveal_m = 0.3", window_rest, mark_rest, height = "height_m = 1.2",
                site_rest;

    [[nodiscard]] std::string text() const {
        return fmt::format(R"(format = 1
[site]
position = "52.9536N 1.1505W"
time_zone = "Europe/London"
{}
[room]
floor = [[0, 0], [5, 0], [5, 4], [0, 4]]
walls = ["a", "b", "c", "d"]
height_m = 3
bearing = {}
[[window]]
name = "w"
wall = "a"
left_m = 1.9
width_m = 1.2
sill_m = 0.9
height_m = 1.5
{}
{}
[[mark]]
name = "bench"
at = [2.5, 1.6]
{}
{}
)",
                           site_rest, bearing, reveal, window_rest, height, mark_rest);
    }
    [[nodiscard]] site::Location read() const {
        auto location = read::read_location_text(text(), "t.toml");
        if (!location) FAIL(read::text(location.error()));
        return *std::move(location);
    }
    [[nodiscard]] std::string complaint() const {
        const auto location = read::read_location_text(text(), "t.toml");
        return location ? "" : read::text(location.error());
    }
};

}  // namespace

TEST_CASE("a length given as a range is its middle, half the width its doubt", "[read][doubt]") {
    Lines lines;
    lines.reveal = "reveal_m = [0.2, \"35 cm\"]";
    lines.height = "height_m = [1.1, 1.3]";
    const site::Location l = lines.read();
    CHECK(l.room->windows[0].reveal_m == Approx(0.275));
    CHECK(l.room->windows[0].within.reveal_m.value() == Approx(0.075));
    CHECK_FALSE(l.room->windows[0].within.sill_m.has_value());
    CHECK(l.room->marks[0].height_m == Approx(1.2));
    CHECK(l.room->marks[0].within.height_m.value() == Approx(0.1));
    CHECK_FALSE(l.room->marks[0].within.at_m.has_value());
}

TEST_CASE("within_m is for every taped length but those given as ranges", "[read][doubt]") {
    Lines lines;
    lines.reveal = "reveal_m = [0.2, 0.4]";
    lines.window_rest = "within_m = \"3 cm\"";
    lines.mark_rest = "within_m = 0.08";
    lines.site_rest = "clock_within_s = 30";
    const site::Location l = lines.read();
    const room::WindowDoubt& w = l.room->windows[0].within;
    CHECK(w.left_m.value() == Approx(0.03));
    CHECK(w.height_m.value() == Approx(0.03));
    CHECK(w.reveal_m.value() == Approx(0.1));
    CHECK(l.room->marks[0].within.at_m.value() == Approx(0.08));
    CHECK(l.room->marks[0].within.height_m.value() == Approx(0.08));
    CHECK(l.clock_within_s.value() == 30);
    CHECK(site::clock_within_s(l) == 30);
    CHECK(site::doubts(l.room->windows[0]).left.given);
}

TEST_CASE("a bearing's range runs clockwise and may pass north", "[read][doubt]") {
    Lines lines;
    lines.bearing = R"({ wall = "a", faces = [350, 14], north = "true" })";
    const site::Location l = lines.read();
    CHECK(l.room->bearing.faces.in_degrees() == Approx(2));
    CHECK(l.room->bearing.within.in_degrees() == Approx(12));
    lines.bearing = R"({ wall = "a", faces = [190, 202], north = "magnetic" })";
    CHECK(lines.read().room->bearing.faces.in_degrees() == Approx(196));
    CHECK(lines.read().room->bearing.within.in_degrees() == Approx(6));
}

TEST_CASE("without a word the usual doubts stand, and say so", "[read][doubt]") {
    const site::Location l = Lines{}.read();
    const site::WindowDoubts w = site::doubts(l.room->windows[0]);
    CHECK(w.reveal.within_m == site::usual_opening_within_m);
    CHECK_FALSE(w.reveal.given);
    CHECK(site::doubts(l.room->marks[0]).at.within_m == site::usual_mark_within_m);
    CHECK(site::clock_within_s(l) == site::usual_clock_within_s);
    CHECK(site::horizon_within(l.site) == Angle{});
}

TEST_CASE("doubts that make no sense are told with their place", "[read][doubt]") {
    Lines lines;
    lines.reveal = "reveal_m = [0.35, 0.2]";
    CHECK(lines.complaint() ==
          "t.toml:18:12: reveal_m = [0.35, 0.2] in [[window]] \"w\" runs backwards; accepted: the "
          "least, then the most that it may be, as in reveal_m = [0.2, 0.35]\n"
          "  reveal_m = [0.35, 0.2]\n"
          "             ^\n");
    lines.reveal = "reveal_m = [0.35]";
    CHECK(lines.complaint().find("reveal_m = [0.35] in [[window]] \"w\" is not a range") !=
          std::string::npos);
    lines.reveal = "reveal_m = [0.2, -1]";
    CHECK(lines.complaint().find("out of range") != std::string::npos);
    lines.reveal = "reveal_m = [0.2, \"wide\"]";
    CHECK(lines.complaint().find("is not a length") != std::string::npos);

    lines = {};
    lines.window_rest = "within_m = -0.1";
    CHECK(lines.complaint().find("within_m = -0.1 in [[window]] \"w\" is out of range; accepted: 0 "
                                 "m to 5 m") != std::string::npos);
    lines.window_rest = "within_m = 3";  // centimetres?
    CHECK(lines.complaint().find("within_m = 3 in [[window]] \"w\"") != std::string::npos);

    lines = {};
    lines.site_rest = "clock_within_s = -1";
    CHECK(lines.complaint().find("accepted: 0 to 3600 seconds") != std::string::npos);

    lines = {};
    lines.bearing = R"({ wall = "a", faces = [202, 190], north = "true" })";
    CHECK(lines.complaint().find("is 348 degrees wide, clockwise from the first to the second; "
                                 "accepted: a range of up to 90 degrees") != std::string::npos);
    lines.bearing = R"({ wall = "a", faces = [190, 202], north = "true", within_deg = 3 })";
    CHECK(lines.complaint().find("beside a range") != std::string::npos);
    lines.bearing = R"({ wall = "a", faces = [190, 361], north = "true" })";
    CHECK(lines.complaint().find("361") != std::string::npos);
}
