// The plan's bearings within a doubt, by hand.

#include "keyhour/study/bearings.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "worked_room.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

/// How far each is turned from the stated plan, degrees.
std::vector<double> off(const room::Room& room, const std::vector<room::PlanTurn>& turns) {
    std::vector<double> out;
    const Angle stated = room::plan_bearing(room).from_north;
    // The plan's y axis, over the ground: where a ray along it comes from.
    for (const room::PlanTurn& turn : turns) {
        const room::Point3 north = turn.to_plan({0, 1, 0});
        const Angle bearing = Angle::radians(std::atan2(-north.x, north.y));
        out.push_back(wrapped_half_turn(bearing - stated).in_degrees());
    }
    return out;
}

void check(const std::vector<double>& found, const std::vector<double>& expected) {
    REQUIRE(found.size() == expected.size());
    for (std::size_t i = 0; i < found.size(); ++i)
        CHECK(found[i] == Approx(expected[i]).margin(1e-9));
}

}  // namespace

TEST_CASE("a doubt of two degrees is looked at in steps of half a degree, ends first", "[doubt]") {
    for (const double faces_deg : {0.0, 1.0, 225.0}) {  // over north too
        WorkedRoom worked;
        worked.faces_deg = faces_deg;
        const site::Location l = worked.location();
        const Bearings b{*l.room};
        check(off(*l.room, b.all), {-2, 2, -1.5, 1.5, -1, 1, -0.5, 0.5, 0});
        check(off(*l.room, b.some), {-2, 2});
        check(off(*l.room, {b.stated}), {0});
    }
}

TEST_CASE("a doubt that is no whole number of steps is cut in even ones that are shorter",
          "[doubt]") {
    WorkedRoom worked;
    worked.within_deg = 2.4;
    const site::Location l = worked.location();
    const Bearings b{*l.room};
    check(off(*l.room, b.all), {-2.4, 2.4, -1.92, 1.92, -1.44, 1.44, -0.96, 0.96, -0.48, 0.48, 0});
    check(off(*l.room, b.some), {-2.4, 2.4, -0.48, 0.48});
}

TEST_CASE("without doubt there is the stated bearing alone", "[doubt]") {
    WorkedRoom worked;
    worked.within_deg = 0;
    const Bearings b{*worked.location().room};
    CHECK(b.all.size() == 1);
    CHECK(b.some.empty());
}
