#include "keyhour/study/patch_way.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "flax_road.hpp"
#include "keyhour/room/camera_axes.hpp"
#include "support/random_location.hpp"
#include "worked_room.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

const site::LocalDate date_asked{date::year{2026} / 2 / 14};

/// Is it crossed at an instant: asked of patches and coverages themselves, no search between.
bool is_crossed(const RoomStudy& study, std::size_t window, Crossed what, std::size_t index,
                Instant t) {
    const Moment m = study.path().at(t);
    if (m.above_skyline_deg <= 0) return false;
    const room::Point3 sun = study.sun(m);
    if (what == Crossed::mark) return study.scene().coverage(index, window, sun) > 1e-6;
    for (const room::Patch& p : study.scene().patches(window, sun)) {
        if (what == Crossed::object &&
            p.surface == room::Surface{room::Surface::Kind::object, index})
            return true;
        if (what == Crossed::frame && room::in_frame(study.room(), study.room().cameras[index], p))
            return true;
    }
    return false;
}

/// Compares one thing's spans with those found by stepping; @return how many were long enough.
std::size_t compare(const OnDates& on, std::size_t window, Crossed what, std::size_t index,
                    const std::vector<Crossing>& told) {
    constexpr Seconds step{20};
    constexpr double margin_s = 21;
    const auto stepped =
        runs(on.start_of(on.first), on.start_of(on.first, 1), step,
             [&](Instant t) { return is_crossed(on.study, window, what, index, t); });
    std::size_t looked_at = 0;
    for (const Run& run : stepped) {
        if (run.to - run.from < Seconds{90}) continue;
        CAPTURE(window, static_cast<int>(what), index, (run.from - on.start_of(on.first)).count());
        // Between two steps a run may be parted: every part of it is told.
        double told_s = 0;
        for (const Crossing& c : told)
            if (c.window == window && c.what == what && c.index == index)
                told_s += std::max(
                    0.0, (std::min(c.span.to, run.to) - std::max(c.span.from, run.from)).count());
        CHECK(told_s > (run.to - run.from).count() - 2 * margin_s);
        ++looked_at;
    }
    for (const Crossing& c : told) {
        if (c.window != window || c.what != what || c.index != index) continue;
        const Instant mid = c.span.from + 0.5 * c.span.length();
        CHECK(is_crossed(on.study, window, what, index, mid));
    }
    return looked_at;
}

const Crossing* first_of(const std::vector<Crossing>& all, Crossed what) {
    const auto at = std::ranges::find_if(all, [&](const Crossing& c) { return c.what == what; });
    return at == all.end() ? nullptr : &*at;
}

/// The worked room with a camera.
site::Location with_camera(room::Point2 at, double height_m) {
    site::Location l = WorkedRoom{}.location();
    room::Camera c;
    c.name = "A";
    c.at = at;
    c.height_m = height_m;
    l.room->cameras = {c};
    return l;
}

}  // namespace

TEST_CASE("what a patch crosses on its way is what stepping through the day finds", "[way]") {
    std::size_t looked_at = 0, rooms = 0;
    for (std::uint64_t seed = 1; rooms < 12 && seed < 60; ++seed) {
        test::Dice dice{seed};
        const OnDates on{test::random_location(dice), date_asked, date_asked};
        const auto told = crossings(on.study, on.start_of(date_asked), on.start_of(date_asked, 1));
        if (told.empty()) continue;
        ++rooms;
        CAPTURE(seed);
        const room::Room& room = on.study.room();
        for (std::size_t w = 0; w < room.windows.size(); ++w) {
            if (room.windows[w].cover != room::Cover::open) continue;
            for (std::size_t i = 0; i < room.marks.size(); ++i)
                looked_at += compare(on, w, Crossed::mark, i, told);
            for (std::size_t i = 0; i < room.objects.size(); ++i)
                looked_at += compare(on, w, Crossed::object, i, told);
            for (std::size_t i = 0; i < room.cameras.size(); ++i)
                looked_at += compare(on, w, Crossed::frame, i, told);
        }
    }
    CHECK(rooms == 12);
    CHECK(looked_at > 40);
}

TEST_CASE("a point is crossed when a mark of its size would be lit, and a lens from before it",
          "[way]") {
    // The camera stands where the mark's light falls, and looks back at it: into the window.
    const OnDates on{with_camera({3, 3.6}, 0.9), date_asked, date_asked};
    const std::vector<NamedPoint> points{{"lens", {3, 3.6, 0.9}}};
    const auto told =
        crossings(on.study, on.start_of(date_asked), on.start_of(date_asked, 1), points);
    const Crossing* lens = first_of(told, Crossed::lens);
    const Crossing* point = first_of(told, Crossed::point);
    REQUIRE(lens != nullptr);
    REQUIRE(point != nullptr);
    // 4 cm and 2 cm about one place: the larger ball is touched first, and for little longer.
    CHECK(lens->span.from < point->span.from);
    CHECK(lens->span.to > point->span.to);
    CHECK((point->span.from - lens->span.from).count() < 200);
    // The angle off the axis, by the cosine rule from the sun's own azimuth and altitude.
    double least = 180;
    const room::Point3 axis = room::axes(on.study.room(), on.study.room().cameras[0]).forward;
    for (Instant t = lens->span.from; t < lens->span.to; t = t + Seconds{10}) {
        const room::Point3 sun = on.study.sun(on.study.path().at(t));
        least = std::min(least, std::acos(dot(axis, sun)) * 180 / 3.14159265358979);
    }
    CHECK(lens->off_axis.in_degrees() == Approx(least).margin(0.2));
    // Turned away from the window the sun falls on its back.
    site::Location away = on.location;
    away.room->marks.push_back({"door", {3, 5.9}, 0.9, 0.15, std::nullopt});
    away.room->cameras[0].aims_at = 1;
    const OnDates turned{away, date_asked, date_asked};
    CHECK(first_of(
              crossings(turned.study, turned.start_of(date_asked), turned.start_of(date_asked, 1)),
              Crossed::lens) == nullptr);
}

TEST_CASE("the sun's mirror image in the floor lies where height over tangent puts it", "[way]") {
    // A camera at the back, low, that looks at the mark and so towards the window, with a wide
    // lens.
    constexpr double eye_m = 0.5;
    site::Location l = with_camera({3.2, 5.5}, eye_m);
    l.room->marks[0].height_m = 0.4;
    l.room->cameras[0].view = Angle::degrees(75);
    l.room->cameras[0].view_vertical = Angle::degrees(60);
    const OnDates on{l, date_asked, date_asked};
    const auto told = crossings(on.study, on.start_of(date_asked), on.start_of(date_asked, 1));
    const Crossing* glare = first_of(told, Crossed::glare);
    REQUIRE(glare != nullptr);
    REQUIRE(glare->surface.has_value());
    CHECK(*glare->surface == room::Surface{room::Surface::Kind::floor, 0});
    // Law of reflection in a level mirror (Euclid, Catoptrics): the image lies towards the sun, at
    // the eye's height over the tangent of the sun's altitude. It shows while sun falls there.
    const auto shows = [&](Instant t) {
        const room::Point3 sun = on.study.sun(on.study.path().at(t));
        const double level = std::hypot(sun.x, sun.y), away = eye_m * level / sun.z;
        site::Location there = l;
        there.room->marks = {{"image",
                              {3.2 + away * sun.x / level, 5.5 + away * sun.y / level},
                              1e-3,
                              5e-4,
                              std::nullopt}};
        const room::Scene scene{*there.room};
        return scene.coverage(0, 0, sun) > 0.5;
    };
    CHECK_FALSE(shows(glare->span.from - Seconds{20}));
    CHECK(shows(glare->span.from + Seconds{20}));
    CHECK(shows(glare->span.to - Seconds{20}));
    CHECK_FALSE(shows(glare->span.to + Seconds{20}));
}

TEST_CASE("a patch on the floor runs as fast as its shadow's edge", "[way]") {
    // On a level floor every point of a parallel beam moves alike: by the change of the window
    // middle's shadow, height over tangent, in a minute.
    const OnDates on{with_camera({5, 5}, 1.5), date_asked, date_asked};
    const auto told = crossings(on.study, on.start_of(date_asked), on.start_of(date_asked, 1));
    const Crossing* frame = first_of(told, Crossed::frame);
    REQUIRE(frame != nullptr);
    REQUIRE(frame->speed_m_per_min.has_value());
    CHECK(*frame->speed_m_per_min > 0.005);
    CHECK(*frame->speed_m_per_min < 0.2);
}

TEST_CASE("a crossing is cut where the range cuts it, and not where its window's sun alone is",
          "[way]") {
    const OnDates on{WorkedRoom{}.location(), date_asked, date_asked};
    const auto of_mark = [&](Instant to) {
        for (const Crossing& c : crossings(on.study, on.start_of(on.first), to, {}))
            if (c.what == Crossed::mark) return c.span;
        return Span{};
    };
    const Span whole = of_mark(on.start_of(on.first, 1));
    REQUIRE(whole.length() > Seconds{600});
    CHECK_FALSE(whole.runs_at_start);
    CHECK_FALSE(whole.runs_at_end);
    // The window has sun for a while yet when the mark has none.
    const Span after = of_mark(whole.to + Seconds{600});
    CHECK_FALSE(after.runs_at_end);
    CHECK((after.to - whole.to).count() == Approx(0).margin(2));
    const Span within = of_mark(whole.from + Seconds{300});
    CHECK(within.runs_at_end);
    CHECK_FALSE(within.runs_at_start);
}

TEST_CASE("the sun's mirror image in a wall is where the mirrored eye would see it", "[way]") {
    // A low camera that looks at the back wall, y = 6, on which a low sun falls.
    constexpr double eye_m = 0.3;
    site::Location l = with_camera({3.4, 4.2}, eye_m);
    l.room->marks[0].at = {3.2, 5.6};
    l.room->marks[0].height_m = 0.6;
    l.room->cameras[0].view = Angle::degrees(80);
    l.room->cameras[0].view_vertical = Angle::degrees(70);
    const OnDates on{l, date_asked, date_asked};
    const auto shows = [&](Instant t) {
        const room::Point3 sun = on.study.sun(on.study.path().at(t));
        if (sun.z <= 0 || sun.y >= 0) return false;
        // Equal angles: from the eye's image behind the wall, at y = 12 - 4.2, towards the sun.
        const double way = (12 - 4.2 - 6) / -sun.y;
        site::Location there = l;
        there.room->marks = {
            {"image", {3.4 + way * sun.x, 6 - 1e-3}, eye_m + way * sun.z, 5e-4, std::nullopt}};
        return room::Scene{*there.room}.coverage(0, 0, sun) > 0.5;
    };
    int seen = 0;
    for (const Crossing& c :
         crossings(on.study, on.start_of(date_asked), on.start_of(date_asked, 1))) {
        if (c.what != Crossed::glare || !c.surface) continue;
        if (*c.surface != room::Surface{room::Surface::Kind::wall, 2}) continue;
        ++seen;
        CHECK(shows(c.span.from + Seconds{20}));
        CHECK(shows(c.span.to - Seconds{20}));
    }
    CHECK(seen == 1);
    // And it is told whenever it shows.
    int minutes = 0;
    for (int i = 0; i < 1440; ++i)
        minutes += shows(on.start_of(date_asked) + Seconds{60.0 * i}) ? 1 : 0;
    CHECK(minutes > 10);
}
