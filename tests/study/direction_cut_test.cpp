// The spans of a way by its events, by hand.

#include "keyhour/study/direction_cut.hpp"

#include <catch2/catch.hpp>

#include "flax_road.hpp"
#include "worked_room.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

using Way = DirectionCut::Way;

Instant at(double s) {
    return Instant::from_unix_s(s);
}

DirectionCut::Event event(double s, int change) {
    return {at(s), change, {s / 1000, false, true}};
}

struct Expected {
    double from, to;
    bool at_start = false, at_end = false;
    double begins = 0, ends = 0;
};

void check(const Way& way, double from, double to, const std::vector<Expected>& expected) {
    const auto parts = way.parts(at(from), at(to));
    REQUIRE(parts.size() == expected.size());
    for (std::size_t i = 0; i < parts.size(); ++i) {
        INFO("part " << i);
        CHECK(parts[i].span.from == at(expected[i].from));
        CHECK(parts[i].span.to == at(expected[i].to));
        CHECK(parts[i].span.runs_at_start == expected[i].at_start);
        CHECK(parts[i].span.runs_at_end == expected[i].at_end);
        CHECK(parts[i].begins.azimuth == expected[i].begins);
        CHECK(parts[i].ends.azimuth == expected[i].ends);
    }
}

}  // namespace

TEST_CASE("a way brushes a corner whichever point its outline begins at", "[direction_cut]") {
    using namespace date::literals;
    const auto d = 2026_y / 5 / 1;
    const OnDates on{WorkedRoom{}.location(), d, d};
    const SunPath& path = on.study.path();
    const Instant ten = on.start_of(d) + Seconds{10 * 3600.0};
    const Moment m = path.at(ten);
    const double degree = std::numbers::pi / 180;
    const double x = std::atan2(m.toward.east, m.toward.north);
    const double y = m.altitude_deg * degree + 1e-5;  // two seconds of arc over the sun
    // No longer than a chord, so that every point of the outline is a corner.
    room::DirectionRing ring{
        {x, y}, {x + 0.1 * degree, y + 0.3 * degree}, {x - 0.1 * degree, y + 0.3 * degree}};
    const SkyFrame frame{path};
    const auto turns = sun_turns(path, on.start_of(d), on.start_of(d, 1));
    DirectionCut cut{path, frame, turns};
    cut.add(cut.add_region(), {{0, 0}, {0.1, 0}, {0.1, 0.1}});
    for (int i = 0; i < 3; ++i) {
        cut.add(cut.add_region(), ring);
        std::rotate(ring.begin(), ring.begin() + 1, ring.end());
    }
    const auto ways = cut.cut();
    for (std::size_t i = 1; i <= 3; ++i) {
        INFO("outline " << i);
        CHECK(ways[i].parts(on.start_of(d), on.start_of(d, 1)).empty());
        REQUIRE(ways[i].brushes.size() == 1);
        CHECK((ways[i].brushes[0].at - ten).count() == Approx(0).margin(1));
    }
}

TEST_CASE("a way crosses every chord of an outline, wherever that begins", "[direction_cut]") {
    using namespace date::literals;
    const auto d = 2026_y / 5 / 1;
    const OnDates on{WorkedRoom{}.location(), d, d};
    const SunPath& path = on.study.path();
    const Instant ten = on.start_of(d) + Seconds{10 * 3600.0};
    const SkyFrame frame{path};
    const auto turns = sun_turns(path, on.start_of(d), on.start_of(d, 1));
    const double degree = std::numbers::pi / 180;
    const auto parts_of = [&](const room::DirectionRing& ring, Instant from) {
        DirectionCut cut{path, frame, turns};
        cut.add(cut.add_region(), ring);
        return cut.cut()[0].parts(from, on.start_of(d, 1));
    };
    const auto box = [&](double x, double y) {
        const double s = 0.15 * degree;
        return room::DirectionRing{{x - s, y - s}, {x + s, y - s}, {x + s, y + s}, {x - s, y + s}};
    };
    const Moment m = path.at(ten);
    room::DirectionRing ring =
        box(std::atan2(m.toward.east, m.toward.north), m.altitude_deg * degree);
    // Round where the first turn begins, below the horizon.
    const LevelVector v = path.place().direction(path.vector(turns.front().begins));
    room::DirectionRing first = box(std::atan2(v.east, v.north), std::asin(v.up));
    for (int corner = 0; corner < 4; ++corner) {
        INFO("from corner " << corner);
        const auto parts = parts_of(ring, on.start_of(d));
        REQUIRE(parts.size() == 1);
        CHECK(parts[0].span.from < ten);
        CHECK(parts[0].span.to > ten);
        const auto begun = parts_of(first, turns.front().begins);
        REQUIRE(!begun.empty());
        CHECK(begun[0].span.from == turns.front().begins);
        std::rotate(ring.begin(), ring.begin() + 1, ring.end());
        std::rotate(first.begin(), first.begin() + 1, first.end());
    }
}

TEST_CASE("a way is ringed round between its events", "[direction_cut]") {
    const Way two{0, {event(100, 1), event(200, -1), event(300, 1), event(400, -1)}, {}};
    check(two, 0, 1000, {{100, 200, false, false, 0.1, 0.2}, {300, 400, false, false, 0.3, 0.4}});
    check(two, 150, 350, {{150, 200, true, false, 0.1, 0.2}, {300, 350, false, true, 0.3, 0.4}});
    check(two, 200, 300, {});
    check(two, 100, 400, {{100, 200, true, false, 0.1, 0.2}, {300, 400, false, true, 0.3, 0.4}});
    check(two, 210, 290, {});
}

TEST_CASE("a way that begins or ends within is ringed to the end", "[direction_cut]") {
    check({1, {}, {}}, 0, 10, {{0, 10, true, true, 0, 0}});
    check({0, {}, {}}, 0, 10, {});
    check({1, {event(5, -1)}, {}}, 0, 10, {{0, 5, true, false, 0, 0.005}});
    check({0, {event(5, 1)}, {}}, 0, 10, {{5, 10, false, true, 0.005, 0}});
    check({-1, {event(5, 1)}, {}}, 0, 10, {});
    check({-1, {event(5, 1), event(6, 1)}, {}}, 0, 10, {{6, 10, false, true, 0.006, 0}});
}

TEST_CASE("rings that overlap or touch are one part, a hole two", "[direction_cut]") {
    check({0, {event(1, 1), event(2, 1), event(3, -1), event(4, -1)}, {}}, 0, 10,
          {{1, 4, false, false, 0.001, 0.004}});
    check({0, {event(1, 1), event(3, -1), event(3, 1), event(4, -1)}, {}}, 0, 10,
          {{1, 4, false, false, 0.001, 0.004}});
    check({0, {event(1, 1), event(3, -1), event(3, 1)}, {}}, 0, 10,
          {{1, 10, false, true, 0.001, 0}});
    check({1, {event(3, -1), event(4, 1)}, {}}, 0, 10,
          {{0, 3, true, false, 0, 0.003}, {4, 10, false, true, 0.004, 0}});
}
