// A location moved by a draw, each figure against its stated value, its doubt and its share by
// hand.

#include "keyhour/study/doubtful_inputs.hpp"

#include <catch2/catch.hpp>

#include "keyhour/site/doubts.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

/// A room of 8 x 5 m that begins at (1, 1), every doubt of its own.
site::Location doubtful() {
    site::Location l;
    l.site.observer = {Angle::degrees(52), {}, 0};
    l.site.horizon = site::Horizon{
        {{Angle::degrees(0), Angle::degrees(4)}, {Angle::degrees(180), Angle::degrees(10)}}};
    room::Room r;
    r.floor = {{1, 1}, {9, 1}, {9, 6}, {1, 6}};
    r.walls = {"street", "yard", "back", "party"};
    r.height_m = 3;
    r.within_m = 0.16;
    r.bearing.faces = Angle::degrees(359);
    r.bearing.within = Angle::degrees(2);
    room::Window w;
    w.left_m = 2;
    w.width_m = 1.2;
    w.sill_m = 0.9;
    w.height_m = 1.5;
    w.reveal_m = 0.3;
    w.within = {0.1, 0.2, 0.05, 0.08, 0.02};
    r.windows = {w};
    r.marks = {{"mark", {4, 3}, 1.2, 0.15, {}, {0.5, 0.4}}};
    r.cameras = {{"camera", {6, 4}, 1.5, 0}};
    r.cameras[0].within_m = 0.2;
    room::Building b;
    b.footprint = {{0, -20}, {10, -20}, {10, -30}, {0, -30}};
    b.height_m = 10;
    b.within_m = 0.6;
    r.buildings = {b};
    l.room = r;
    l.clock_within_s = 30;
    return l;
}

/// A point of the cube at which an input's share is what is given; the rest are stated.
class Shares {
public:
    Shares() { point_.fill(0.5); }
    Shares& at(std::size_t dimension, double share) {
        point_[dimension] = (1 + share) / 2;
        return *this;
    }
    Shares& of(Input input, double share) { return at(static_cast<std::size_t>(input), share); }
    [[nodiscard]] Draw draw(const DoubtScale& scale = whole_doubt) const {
        return Draw{point_, scale};
    }

private:
    CubePoint point_{};
};

}  // namespace

TEST_CASE("a draw of no share leaves a location as it is stated, but for its bearing's doubt",
          "[doubt]") {
    const site::Location stated = doubtful(), l = moved(stated, Shares{}.draw());
    CHECK(l.room->windows[0].left_m == stated.room->windows[0].left_m);
    CHECK(l.room->marks[0].at == stated.room->marks[0].at);
    CHECK(l.room->floor == stated.room->floor);
    CHECK(l.room->bearing.faces.in_degrees() == Approx(359));
    CHECK(l.room->bearing.within == Angle{});
    CHECK(l.site.weather.pressure_hpa == stated.site.weather.pressure_hpa);
}

TEST_CASE("each length of a room is off by its own doubt's share", "[doubt]") {
    const Draw draw = Shares{}
                          .at(0, 0.1)
                          .at(static_cast<std::size_t>(Input::places_outside), 0.2)
                          .of(Input::mark_height, -0.3)
                          .of(Input::left, 0.4)
                          .of(Input::width, 0.5)
                          .of(Input::sill, -0.6)
                          .of(Input::height, 0.7)
                          .of(Input::reveal, -0.8)
                          .draw();
    const site::Location l = moved(doubtful(), draw);
    const room::Window& w = l.room->windows[0];
    CHECK(w.left_m == Approx(2 + 0.4 * 0.1));
    CHECK(w.width_m == Approx(1.2 + 0.5 * 0.2));
    CHECK(w.sill_m == Approx(0.9 - 0.6 * 0.05));
    CHECK(w.height_m == Approx(1.5 + 0.7 * 0.08));
    CHECK(w.reveal_m == Approx(0.3 - 0.8 * 0.02));
    CHECK(l.room->marks[0].at.x == Approx(4 + 0.1 * 0.5));
    CHECK(l.room->marks[0].at.y == Approx(3 + 0.2 * 0.5));
    CHECK(l.room->marks[0].height_m == Approx(1.2 - 0.3 * 0.4));
}

TEST_CASE("bearing, skyline, refraction and clock are off by their shares", "[doubt]") {
    const Draw draw = Shares{}
                          .of(Input::bearing, 0.9)
                          .of(Input::refraction, 0.5)
                          .of(Input::skyline, -0.5)
                          .of(Input::clock, -0.4)
                          .draw();
    const site::Location stated = doubtful(), l = moved(stated, draw);
    CHECK(l.room->bearing.faces.in_degrees() == Approx(359 + 1.8 - 360));  // over north
    // Refraction grows with the air's density, and so with its pressure.
    CHECK(l.site.weather.pressure_hpa == Approx(1010 * 1.05));
    const double within = site::horizon_within(stated.site).in_degrees();
    REQUIRE(within > 0);
    CHECK(l.site.horizon.points()[0].altitude.in_degrees() == Approx(4 - 0.5 * within));
    CHECK(l.site.horizon.points()[1].altitude.in_degrees() == Approx(10 - 0.5 * within));
    CHECK(clock_off(stated, draw) == Seconds{-12});
}

TEST_CASE("what stands outside, cameras and the floor are off by their shares", "[doubt]") {
    const std::size_t after = static_cast<std::size_t>(Input::places_outside) + 1;
    const Draw draw = Shares{}
                          .of(Input::heights_outside, 0.5)
                          .at(after, -0.75)
                          .at(after + 1, 0.25)
                          .at(after + 2, 0.5)
                          .at(after + 3, -0.6)
                          .at(after + 4, 0.5)
                          .draw();
    const site::Location stated = doubtful(), l = moved(stated, draw);
    const room::Building& b = l.room->buildings[0];
    CHECK(b.height_m == Approx(10 * (1 + 0.5 * site::usual_building_within)));
    CHECK(b.footprint[2].x == Approx(10 - 0.75 * 0.6));
    CHECK(b.footprint[2].y == Approx(-30 + 0.25 * 0.6));
    CHECK(l.room->cameras[0].at.x == Approx(6 + 0.5 * 0.2));
    CHECK(l.room->cameras[0].at.y == Approx(4 - 0.6 * 0.2));
    // The longest length, 8 m, grows by half of 16 cm: 1 % of all, about the first corner.
    CHECK(l.room->floor[0].x == Approx(1));
    CHECK(l.room->floor[1].x == Approx(9.08));
    CHECK(l.room->floor[2].y == Approx(6.05));
    // Of a floor that is deeper than wide it is the depth.
    site::Location deep = stated;
    deep.room->floor = {{2, 1}, {5, 1}, {5, 9}, {2, 9}};
    CHECK(moved(deep, draw).room->floor[2].y == Approx(9.08));
    CHECK(moved(deep, draw).room->floor[2].x == Approx(5.03));
}

TEST_CASE("an opening stays within its wall, a mark within the room's height", "[doubt]") {
    site::Location l = doubtful();
    room::Window& w = l.room->windows[0];
    w.left_m = 6.7;  // of 8, 1.2 wide
    w.sill_m = 0;
    w.height_m = 2.98;
    w.reveal_m = 0.01;
    w.bars.set_back_m = 0.01;
    l.room->marks[0].height_m = 2.9;
    const site::Location most = moved(l, Shares{}
                                             .of(Input::left, 1)
                                             .of(Input::width, 1)
                                             .of(Input::height, 1)
                                             .of(Input::mark_height, 1)
                                             .draw());
    CHECK(most.room->windows[0].left_m == Approx(6.8));
    CHECK(most.room->windows[0].width_m == Approx(1.2));  // up to the wall's end
    CHECK(most.room->windows[0].height_m == Approx(3));
    CHECK(most.room->marks[0].height_m == Approx(3));
    const site::Location least =
        moved(l, Shares{}.of(Input::reveal, -1).of(Input::mark_height, -1).draw());
    CHECK(least.room->windows[0].reveal_m == 0);
    CHECK(least.room->windows[0].bars.set_back_m == 0);
}

TEST_CASE("half a doubt's scale moves half as far", "[doubt]") {
    DoubtScale scale = whole_doubt;
    scale[static_cast<std::size_t>(Input::left)] = 0.5;
    const Draw draw = Shares{}.of(Input::left, 0.4).of(Input::width, 0.4).draw(scale);
    const site::Location l = moved(doubtful(), draw);
    CHECK(l.room->windows[0].left_m == Approx(2 + 0.2 * 0.1));
    CHECK(l.room->windows[0].width_m == Approx(1.2 + 0.4 * 0.2));
}

TEST_CASE("an input without a doubt of its own is in none", "[doubt]") {
    const site::Location l = doubtful();
    for (std::size_t i = 0; i < input_count; ++i) {
        CAPTURE(i);
        CHECK(in_doubt(l, static_cast<Input>(i)));
    }
    site::Location exact = l;
    exact.clock_within_s = 0;
    exact.site.horizon = {};
    room::Room& r = *exact.room;
    r.within_m = 0;
    r.bearing.within = {};
    r.windows[0].within = {0, 0, 0, 0, 0};
    r.marks[0].within = {0, 0};
    r.cameras.clear();
    r.buildings.clear();
    for (std::size_t i = 0; i < input_count; ++i) {
        CAPTURE(i);
        CHECK(in_doubt(exact, static_cast<Input>(i)) ==
              (static_cast<Input>(i) == Input::refraction));
    }
    site::Location nowhere = l;
    nowhere.room.reset();
    CHECK_FALSE(in_doubt(nowhere, Input::bearing));
    CHECK_FALSE(in_doubt(nowhere, Input::floor));
    CHECK_FALSE(in_doubt(nowhere, Input::places_outside));
    CHECK(in_doubt(nowhere, Input::skyline));
}
