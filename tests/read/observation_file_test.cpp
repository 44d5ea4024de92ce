#include "read/observation_file.hpp"

#include <catch2/catch.hpp>

#include "keyhour/site/dates.hpp"
#include "read/clock_error.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

site::Location press() {
    auto read = read::read_location(KEYHOUR_LOCATIONS "/tallow-lane.toml");
    REQUIRE(read);
    return *std::move(read);
}

read::Read<read::ObservationFile> read_text(const std::string& text) {
    return read::read_observations_text("format = 1\n[[observation]]\n" + text, "seen.toml",
                                        press());
}

read::Read<read::ObservationFile> flag(const std::string& kind, const std::string& text) {
    return read::read_observation_flag(text, kind, "--" + kind, press());
}

std::string refusal(const read::Read<read::ObservationFile>& r) {
    REQUIRE_FALSE(r);
    return read::text(r.error());
}

bool holds(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("the example's observations are read, each with its place", "[read]") {
    const auto seen =
        read::read_observations(KEYHOUR_LOCATIONS "/tallow-lane-recce/observations.toml", press());
    if (!seen) FAIL(read::text(seen.error()));
    CHECK(seen->questions.empty());
    CHECK(seen->clock_within_s == 20.0);
    REQUIRE(seen->observations.size() == 5);
    const auto& compass = std::get<WallBearing>(seen->observations[0].what);
    CHECK(compass.faces.in_degrees() == Approx(184));
    REQUIRE(compass.needle);
    CHECK(compass.needle->uncertainty.in_degrees() == Approx(0.39).margin(0.02));
    CHECK(compass.within.in_degrees() == Approx(3));
    const auto& graze = std::get<Graze>(seen->observations[2].what);
    CHECK(graze.wall == 1);
    CHECK(graze.sun == Graze::Sun::ends);
    CHECK(graze.time.within_s == 180);
    CHECK(site::iso_utc(graze.time.at) == "2026-02-10T13:27:00Z");
    const auto& corner = std::get<PatchCorner>(seen->observations[4].what);
    CHECK_FALSE(corner.by_head);
    CHECK(corner.by_left);
    CHECK(corner.at == room::Point3{3.62, 2.54, 0});
    CHECK(seen->observations[3].name == "jamb on the floor");
    CHECK(holds(seen->observations[3].place, "observations.toml:"));
}

TEST_CASE("a flag says what a file says", "[read]") {
    const auto by_flag = flag(
        "corner", "window=press window corner=head right floor=1.5, 0.98 at=2026-06-10 13:20:30");
    if (!by_flag) FAIL(read::text(by_flag.error()));
    const auto& corner = std::get<PatchCorner>(by_flag->observations[0].what);
    CHECK(corner.window == 0);
    CHECK(corner.by_head);
    CHECK_FALSE(corner.by_left);
    CHECK(corner.at == room::Point3{1.5, 0.98, 0});
    CHECK(corner.within_m == usual_corner_within_m);
    CHECK(corner.time.within_s == 1);
    CHECK(site::iso_utc(corner.time.at) == "2026-06-10T12:20:30Z");  // summer time
    CHECK(by_flag->observations[0].name == "corner 1");

    const auto on_wall = flag("corner",
                              "window=case window corner=sill left wall=back from_left_m=2 "
                              "above_floor_m=40 cm within_m=5 mm at=2026-02-10T13:20Z");
    REQUIRE(on_wall);
    const auto& c = std::get<PatchCorner>(on_wall->observations[0].what);
    CHECK(c.on_wall == std::size_t{2});
    CHECK(c.at.x == Approx(2));
    CHECK(c.at.y == Approx(4.6));
    CHECK(c.at.z == Approx(0.4));
    CHECK(c.within_m == Approx(0.005));

    const auto other = flag("other wall",
                            "wall=street other=chapel front faces=106 north=true turn_deg=90 "
                            "turn=anticlockwise");
    REQUIRE(other);
    CHECK(std::get<OtherWall>(other->observations[0].what).turn.in_degrees() == Approx(-90));
    CHECK(std::get<OtherWall>(other->observations[0].what).other == "chapel front");
    CHECK(std::get<OtherWall>(other->observations[0].what).within == usual_true_within);

    const auto outside = flag("map",
                              "wall=street left=52.9535N 1.1501W right=52.9536N 1.1507W "
                              "seen_from=outside");
    REQUIRE(outside);
    CHECK(std::get<MapLine>(outside->observations[0].what).left.longitude.in_degrees() ==
          Approx(-1.1507));
    const auto angle =
        flag("shadow", "wall=street angle_deg=66 hand=left at=2026-02-10T13:20 within_deg=0.5");
    REQUIRE(angle);
    CHECK_FALSE(std::get<ShadowAngle>(angle->observations[0].what).from_right);
}

TEST_CASE("an offset behind a time says which clock it was", "[read]") {
    const auto at = [](const std::string& text) {
        const auto r =
            read_text("kind = \"shadow\"\nfrom = [1, 2]\nto = [1, 3]\nat = " + text + "\n");
        if (!r) FAIL(read::text(r.error()));
        return site::iso_utc(time_of(r->observations[0])->at);
    };
    CHECK(at("\"2026-06-10T13:20\"") == "2026-06-10T12:20:00Z");
    CHECK(at("2026-06-10T13:20:00") == "2026-06-10T12:20:00Z");  // as TOML writes it
    CHECK(at("2026-06-10T13:20:00+02:00") == "2026-06-10T11:20:00Z");
    CHECK(at("\"2026-06-10T13:20-03:30\"") == "2026-06-10T16:50:00Z");
    CHECK(at("\"2026-06-10T13:20Z\"") == "2026-06-10T13:20:00Z");
    CHECK(at("\"2026-10-25T01:30+01:00\"") == "2026-10-25T00:30:00Z");
}

TEST_CASE("what the clock was is read as people say it", "[file]") {
    const auto clock = [](const std::string& text) {
        const auto r = read::read_observations_text(
            "format = 1\nclock = \"" + text +
                "\"\n[[observation]]\nkind = \"shadow\"\nfrom = [1, 2]\nto = [1, 3]\n"
                "at = \"2026-02-10T13:20\"\n",
            "seen.toml", press());
        if (!r) FAIL(read::text(r.error()));
        CHECK(site::iso_utc(time_of(r->observations[0])->at) == "2026-02-10T13:20:00Z");
        return r->clock_fast_s.value();
    };
    CHECK(clock("right") == 0);
    CHECK(clock("1 h fast") == 3600);
    CHECK(clock("1h fast") == 3600);
    CHECK(clock("30 min slow") == -1800);
    CHECK(clock("5 hours 45 minutes slow") == -20700);
    CHECK(clock("90 s fast") == 90);
    CHECK(clock("0.5 h slow") == -1800);
    for (const char* wrong : {"fast", "an hour fast", "1 h", "1 fast", "1 h late", "25 h fast", "",
                              "right now", "1 h fast and"}) {
        CAPTURE(wrong);
        CHECK_FALSE(read::read_clock_error(wrong));
    }
    CHECK(holds(refusal(read::read_observations_text(
                    "format = 1\nclock = \"1 h\"\n[[observation]]\nkind = \"shadow\"\nfrom = [1, "
                    "2]\nto = [1, 3]\nat = \"2026-02-10T13:20\"\n",
                    "seen.toml", press())),
                "seen.toml:2:9: "));
}

TEST_CASE("what is wrong with an observation is told with its place", "[read]") {
    CHECK(refusal(read_text(
              "kind = \"compass\"\nwall = \"street\"\nfaces = 361\nnorth = \"true\"\n")) ==
          "seen.toml:5:9: faces = 361 in [[observation]] 1 is out of range; accepted: 0 to 360 "
          "degrees\n  faces = 361\n          ^\n");
    CHECK(holds(refusal(read_text(
                    "kind = \"compass\"\nwall = \"streat\"\nfaces = 196\nnorth = \"true\"\n")),
                "there is no such wall; did you mean \"street\"?"));
    CHECK(holds(refusal(read_text("kind = \"compas\"\n")), "is not known; accepted: \"compass\""));
    CHECK(holds(refusal(read_text("kind = \"compass\"\nwall = \"street\"\nfaces = 196\n")),
                "\"north\" is missing in [[observation]] 1; accepted: \"true\" or \"magnetic\""));
    CHECK(holds(refusal(read_text("kind = \"compass\"\nwall = \"street\"\nfaces = 196\nnorth = "
                                  "\"true\"\nwithin = 3\n")),
                "unknown key \"within\" in [[observation]] 1; did you mean \"within_deg\"?"));
    const std::string shadow = "kind = \"shadow\"\nfrom = [1, 2]\nto = [1, 3]\nat = ";
    CHECK(holds(refusal(read_text(shadow + "\"15:20\"\n")), "\"15:20\" has no date"));
    CHECK(holds(refusal(read_text(shadow + "\"2026-02-10\"\n")), "\"2026-02-10\" has no time"));
    CHECK(holds(refusal(read_text(shadow + "\"10/02/2026 15:20\"\n")), "write"));
    CHECK(holds(refusal(read_text(shadow + "\"2026-02-10T3:20\"\n")), "morning or afternoon"));
    // The hour that clocks in London show twice, and the one that they leave out.
    CHECK(holds(refusal(read_text(shadow + "\"2026-10-25T01:30\"\n")), "write the UTC offset"));
    CHECK(holds(refusal(read_text(shadow + "\"2026-03-29T01:30\"\n")), "2026-03-29"));
    CHECK(holds(refusal(read_text("kind = \"compass\"\nwall = \"street\"\nfaces = 196\nnorth = "
                                  "\"magnetic\"\nmeasured = \"1999-05-01\"\n")),
                "the magnetic model holds from 2025 up to 2030"));
    CHECK(holds(refusal(read::read_observations_text("format = 1\n", "seen.toml", press())),
                "there is no observation"));
    CHECK(holds(refusal(read::read_observations("no-such-file.toml", press())), "cannot be read"));
    CHECK(holds(refusal(flag("shadow", "from 1,2 to 1,3")),
                "--shadow: \"from 1,2 to 1,3\" has no NAME=; accepted: NAME=VALUE"));
    CHECK(holds(refusal(flag("shadow", "from=1,2 from=1,3 to=1,4 at=2026-02-10T13:20")),
                "from= stands twice"));
    CHECK(holds(refusal(flag("shadow", "from=1,2 to= at=2026-02-10T13:20")), "to= has no value"));
    CHECK(holds(refusal(flag("shadow", "from=1,2 too=1,3 at=2026-02-10T13:20")),
                "unknown key \"too\""));
    CHECK(holds(refusal(flag("corner",
                             "window=pres window corner=head left floor=1,1 "
                             "at=2026-02-10T13:20")),
                "did you mean \"press window\"?"));
}

TEST_CASE("a compass reading outside the model's years, or without a day, is asked about",
          "[read]") {
    const std::string head =
        "kind = \"compass\"\nwall = \"street\"\nfaces = 196\nnorth = \"magnetic\"\n";
    const auto late = read_text(head + "measured = \"2031-05-01\"\n");
    REQUIRE(late);
    REQUIRE(late->questions.size() == 1);
    CHECK(holds(late->questions[0], "not for 2031.3: its nearest year was taken"));
    const auto undated = read_text(head);
    REQUIRE(undated);
    REQUIRE(undated->questions.size() == 1);
    CHECK(holds(undated->questions[0], "on which day was the compass read?"));
}

TEST_CASE("near a magnetic pole a compass reading is refused", "[read]") {
    auto far_north = press();
    far_north.site.observer.latitude = Angle::degrees(86);
    far_north.site.observer.longitude = Angle::degrees(140);
    const auto r =
        read::read_observation_flag("wall=street faces=193 north=magnetic measured=2026-02-10",
                                    "compass", "--compass", far_north);
    CHECK(holds(refusal(r), "a compass is useless here"));
}
