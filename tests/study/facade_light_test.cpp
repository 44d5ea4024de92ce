#include "keyhour/study/facade_light.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "keyhour/site/dates.hpp"
#include "worked_room.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

/// A worked room that faces north, with a glass front 24 m before its window that faces south; its
/// pane begins above the room, so that the room's own shadow never reaches it.
site::Location with_front(room::Facade::Kind kind, double bottom_m = 4, double top_m = 16) {
    WorkedRoom worked;
    worked.faces_deg = 0;
    worked.latitude_deg = 48;
    site::Location l = worked.location();
    // The window's wall lies along y = 0; outside is towards negative y.
    room::Building bank;
    bank.name = "bank";
    bank.footprint = {{-10, -40}, {14, -40}, {14, -24}, {-10, -24}};
    bank.height_m = 16;
    bank.facade = room::Facade{kind, 2, bottom_m, top_m};
    l.room->buildings = {bank};
    return l;
}

std::shared_ptr<const SharedTrack> track(const char* day) {
    const Instant from = *site::read_utc(day);
    return SharedTrack::make(from, from + Seconds{86400});
}

}  // namespace

TEST_CASE("a mirror sends light out as steeply as it came in", "[facade]") {
    for (const double a : {0.0, 0.7, 2.0, 4.4}) {
        const room::Point2 n{std::cos(a), std::sin(a)};
        const room::Point3 sun{0.6, -0.48, 0.64};
        const room::Point3 image = mirrored(sun, n);
        CHECK(image.z == sun.z);
        CHECK(dot(image, image) == Approx(dot(sun, sun)));
        // Angle of incidence equals angle of reflection; what lies along the mirror stays.
        CHECK(dot(room::Point2{image.x, image.y}, n) ==
              Approx(-dot(room::Point2{sun.x, sun.y}, n)));
        const room::Point2 along{-n.y, n.x};
        CHECK(dot(room::Point2{image.x, image.y}, along) ==
              Approx(dot(room::Point2{sun.x, sun.y}, along)));
        const room::Point3 back = mirrored(image, n);
        CHECK(back.x == Approx(sun.x));
        CHECK(back.y == Approx(sun.y));
    }
}

TEST_CASE("a glass front throws sun into a north room while the image stands in the pane",
          "[facade]") {
    // First principles, the other way about: the image of the window's middle behind the mirror
    // sees the sun through the pane.
    const site::Location l = with_front(room::Facade::Kind::glass);
    for (const char* day :
         {"2026-02-10T00:00:00Z", "2026-11-05T00:00:00Z", "2026-12-01T00:00:00Z"}) {
        const RoomStudy study{l, track(day)};
        const Instant from = *site::read_utc(day), to = from + Seconds{86400};
        const auto found = facade_light(study, from, to);
        const double eye_x = 3, eye_z = 0.9 + 0.75, eye_y = -0.3, image_y = -48 - eye_y;
        int lit = 0;
        for (int i = 0; i < 1440; ++i) {
            const Instant t = from + Seconds{60.0 * i + 7};
            const Moment m = study.path().at(t);
            const room::Point3 sun = study.sun(m);
            bool expected = false;
            if (sun.y > 0 && m.altitude_deg > 0) {  // in front of the pane: towards the room
                const double reach = (-24 - image_y) / sun.y;
                const double x = eye_x + reach * sun.x, z = eye_z + reach * sun.z;
                expected = x > -10 && x < 14 && z > 4 && z < 16;
            }
            bool ours = false;
            for (const FacadeLight& f : found)
                for (const ThrownBack& v : f.visits)
                    ours = ours || (t > v.span.from && t < v.span.to);
            INFO(site::iso_utc(t));
            // The eye stands 1 mm further out: half a second.
            CHECK(ours == expected);
            if (expected) ++lit;
        }
        CHECK(lit > 60);
        REQUIRE(found.size() == 1);
        CHECK(found[0].kind == room::Facade::Kind::glass);
    }
}

TEST_CASE("light from a glass front reaches the mark that lies in its way", "[facade]") {
    const site::Location l = with_front(room::Facade::Kind::glass);
    const RoomStudy study{l, track("2026-12-01T00:00:00Z")};
    const Instant from = *site::read_utc("2026-12-01T00:00:00Z");
    const auto found = facade_light(study, from, from + Seconds{86400});
    REQUIRE(found.size() == 1);
    REQUIRE(found[0].visits.size() == 1);
    // Around noon the image stands before the window, 15 to 20 degrees high: on the mark 2.5 m in.
    CHECK(found[0].visits[0].marks == std::vector<std::size_t>{0});
}

TEST_CASE("what stands between takes the thrown-back light away", "[facade]") {
    site::Location l = with_front(room::Facade::Kind::glass);
    room::Building hoarding;
    hoarding.name = "hoarding";
    hoarding.footprint = {{-40, -12.2}, {46, -12.2}, {46, -12}, {-40, -12}};
    hoarding.height_m = 30;
    l.room->buildings.push_back(hoarding);
    const Instant from = *site::read_utc("2026-12-01T00:00:00Z");
    const RoomStudy study{l, track("2026-12-01T00:00:00Z")};
    CHECK(facade_light(study, from, from + Seconds{86400}).empty());
    // Behind the glass it is in nobody's way.
    l.room->buildings[1].footprint = {{-40, -60.2}, {46, -60.2}, {46, -60}, {-40, -60}};
    const RoomStudy behind{l, track("2026-12-01T00:00:00Z")};
    CHECK(facade_light(behind, from, from + Seconds{86400}).size() == 1);
}

TEST_CASE("a facade that faces away, or stands behind the room, throws nothing in", "[facade]") {
    site::Location l = with_front(room::Facade::Kind::glass);
    const Instant from = *site::read_utc("2026-12-01T00:00:00Z");
    l.room->buildings[0].facade->side = 0;  // its far side
    const RoomStudy away{l, track("2026-12-01T00:00:00Z")};
    CHECK(facade_light(away, from, from + Seconds{86400}).empty());
    l = with_front(room::Facade::Kind::glass);
    l.room->buildings[0].footprint = {{-10, 24}, {14, 24}, {14, 40}, {-10, 40}};
    for (std::size_t side = 0; side < 4; ++side) {
        l.room->buildings[0].facade->side = side;
        const RoomStudy behind{l, track("2026-12-01T00:00:00Z")};
        CHECK(facade_light(behind, from, from + Seconds{86400}).empty());
    }
}

TEST_CASE("white render is a soft source while the sun stands on it", "[facade]") {
    const site::Location l = with_front(room::Facade::Kind::white);
    const RoomStudy study{l, track("2026-12-01T00:00:00Z")};
    const Instant from = *site::read_utc("2026-12-01T00:00:00Z");
    const auto found = facade_light(study, from, from + Seconds{86400});
    REQUIRE(found.size() == 1);
    CHECK(found[0].kind == room::Facade::Kind::white);
    // It faces south, all the winter sun's day, nothing in the way.
    REQUIRE(found[0].visits.size() == 1);
    const Moment first = study.path().at(found[0].visits[0].span.from);
    CHECK(first.altitude_deg == Approx(0).margin(0.01));
    CHECK(found[0].visits[0].marks.empty());
}

TEST_CASE(
    "a front throws the same light whichever way round its building was walked, and however high "
    "the room",
    "[facade]") {
    for (const auto kind : {room::Facade::Kind::glass, room::Facade::Kind::white}) {
        // The image passes over this pane's top for some time about noon.
        const site::Location l = with_front(kind, 4, 9.5);
        site::Location turned = l, raised = l;
        room::Building& bank = turned.room->buildings[0];
        bank.footprint = {bank.footprint.rbegin(), bank.footprint.rend()};
        bank.facade->side = 0;  // from (-10, -24) to (14, -24)
        raised.room->floor_above_ground_m = 3;
        raised.room->buildings[0].height_m += 3;
        raised.room->buildings[0].facade->bottom_m += 3;
        raised.room->buildings[0].facade->top_m += 3;
        const auto shared = track("2026-12-01T00:00:00Z");
        const Instant from = shared->track().from(), to = from + Seconds{86400};
        const auto as_is = facade_light(RoomStudy{l, shared}, from, to);
        REQUIRE(as_is.size() == 1);
        REQUIRE(!as_is[0].visits.empty());
        for (const site::Location* same : {&turned, &raised}) {
            const auto found = facade_light(RoomStudy{*same, shared}, from, to);
            REQUIRE(found.size() == 1);
            REQUIRE(found[0].visits.size() == as_is[0].visits.size());
            for (std::size_t i = 0; i < found[0].visits.size(); ++i) {
                const Span &a = found[0].visits[i].span, &b = as_is[0].visits[i].span;
                CHECK(std::fabs((a.from - b.from).count()) < 1);
                CHECK(std::fabs((a.to - b.to).count()) < 1);
            }
        }
    }
}
