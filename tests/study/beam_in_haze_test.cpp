#include "keyhour/study/beam_in_haze.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "workshop.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

using Catch::Matchers::WithinAbs;

/// In the workshop, at the mark in the beam (5.0, 2.5, 0.6); view 40 by 22.5 degrees.
room::Camera camera_at(double x, double y, double height_m = 0.6) {
    return {"A", {x, y}, height_m, 1, Angle::degrees(40), Angle::degrees(22.5)};
}

/// Sun 20 degrees high, 30 degrees to the left looking out: in the plan it shines toward +x, +y.
BeamInHaze beam_before(const room::Camera& camera, double altitude_deg = 20) {
    const Lit lit{Workshop{.cameras = {camera}}.location()};
    return beam_in_haze(lit.study.scene(), 0, 0, sun_at(altitude_deg, 30).toward);
}

TEST_CASE("the lens that looks into the light sees the beam best", "[study][light]") {
    // Beyond the mark from the window, beside it, and on the window's side.
    const BeamInHaze into = beam_before(camera_at(5.9, 4.3));
    const BeamInHaze aside = beam_before(camera_at(6.8, 2.0));
    const BeamInHaze with = beam_before(camera_at(4.2, 0.9));
    CHECK(into.off_axis < Angle::degrees(45));
    CHECK(with.off_axis > Angle::degrees(135));
    CHECK(into.stops_over_side() > 1.5);
    CHECK(with.stops_over_side() < 0);
    CHECK(into.stops_over_side() > aside.stops_over_side());
    CHECK(aside.stops_over_side() > with.stops_over_side());
}

TEST_CASE("straight into the light and straight along it", "[study][light]") {
    // The lens's axis laid along the beam: the sun at 20 degrees, the camera 1.5 m down or up the
    // beam from the mark.
    const room::Point3 sun = sun_at(20, 30).toward;
    for (const double way_m : {-1.5, 1.5}) {
        const room::Point3 at = room::Point3{5.0, 2.5, 0.6} + way_m * sun;
        const BeamInHaze beam = beam_before(camera_at(at.x, at.y, at.z));
        CHECK_THAT(beam.off_axis.in_degrees(), WithinAbs(way_m < 0 ? 0 : 180, 1e-4));
    }
}

TEST_CASE("square to the beam the frame's width is the length that crosses it", "[study][light]") {
    // A sun almost level, straight in: the beam runs along +y. The camera looks along +x at a mark
    // of the beam's middle, 2 m away: the frame is 2 x 2 tan 20 = 1.456 m wide there.
    const Workshop shop{
        .cameras = {{"A", {1.6, 2.5}, 1.55, 0, Angle::degrees(40), Angle::degrees(22.5)}}};
    const Lit lit{shop.location()};
    const BeamInHaze beam = beam_in_haze(lit.study.scene(), 0, 0, sun_at(0.01, 0).toward);
    // The rays of the grid run at x = 3.133, 3.6 and 4.067: the farthest crosses the most.
    CHECK_THAT(beam.in_frame_m, WithinAbs(2 * (2 + 1.4 / 3) * std::tan(20 * 0.0174532925), 0.01));
    CHECK_THAT(beam.off_axis.in_degrees(), WithinAbs(90, 0.01));
    CHECK_THAT(beam.scattering.in_degrees(), WithinAbs(90, 0.1));
    CHECK_THAT(beam.stops_over_side(), WithinAbs(0, 0.01));
    CHECK_FALSE(beam.sun_in_lens);
}

TEST_CASE("a beam that leaves the room before the frame has no length in it", "[study][light]") {
    // The camera looks away from the beam: its mark lies between the two.
    const BeamInHaze behind = beam_before(camera_at(4.9, 2.4), 65);
    CHECK(behind.in_frame_m == 0);
    CHECK(behind.scattering.in_degrees() == behind.off_axis.in_degrees());
}

TEST_CASE("a wall's line beyond its end stops no beam", "[study][light]") {
    // From the window's middle at 1.55 m the beam comes down after 4.26 m, at (5.73, 3.69): in the
    // arm of an L whose wall y = 3 ends at x = 4.
    site::Location whole = Workshop{.cameras = {camera_at(6.9, 2.0)}}.location(), l = whole;
    l.room->floor = {{0, 0}, {7.2, 0}, {7.2, 4.6}, {4, 4.6}, {4, 3}, {0, 3}};
    l.room->walls = {"street", "yard", "back", "inner", "shop", "party"};
    const auto length = [](const site::Location& of) {
        const Lit lit{of};
        return beam_in_haze(lit.study.scene(), 0, 0, sun_at(20, 30).toward).in_frame_m;
    };
    REQUIRE(length(whole) > 0.3);
    CHECK(length(l) == Approx(length(whole)));
}

TEST_CASE("the sun in the lens is told where it shines through the window", "[study][light]") {
    const Lit lit{
        Workshop{.cameras = {{"A", {3.6, 4.0}, 1.0, 0, Angle::degrees(60), Angle::degrees(40)}}}
            .location()};
    // From 4 m in and 1 m high the opening stands 0 to 18.7 degrees high.
    const auto in_lens = [&](double altitude_deg, double aside_deg) {
        return beam_in_haze(lit.study.scene(), 0, 0, sun_at(altitude_deg, aside_deg).toward)
            .sun_in_lens;
    };
    CHECK(in_lens(10, 0));
    CHECK_FALSE(in_lens(25, 0));   // over the head, though within the frame
    CHECK_FALSE(in_lens(10, 20));  // the wall is before it
    CHECK_FALSE(in_lens(10, 80));
}

}  // namespace
