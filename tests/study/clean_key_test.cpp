#include "keyhour/study/clean_key.hpp"

#include <date/date.h>

#include <catch2/catch.hpp>

#include "../../src/study/key_parts.hpp"
#include "keyhour/study/doubt.hpp"
#include "support/described_key.hpp"
#include "worked_room.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

Instant utc(int month, int day, int hour = 0, int minute = 0) {
    const date::sys_days d{date::year{2026} / month / day};
    return Instant::from_unix_s(static_cast<double>(
        std::chrono::seconds{d.time_since_epoch()}.count() + hour * 3600 + minute * 60));
}

/// As good as a point, judged with no camera and no limit of altitude.
KeySettings point_settings() {
    KeySettings s;
    s.coverage = 0.5;
    s.altitude_deg[0] = 0;
    s.altitude_deg[1] = 90;
    return s;
}

std::vector<KeyInterval> key_of(const WorkedRoom& worked, int month, int day,
                                const KeySettings& settings) {
    const site::Location location = worked.location();
    const auto shared =
        SharedTrack::make(utc(month, day) - Seconds{86400}, utc(month, day) + Seconds{3 * 86400});
    const RoomStudy study{location, shared};
    return test::described_key(study, utc(month, day), utc(month, day) + Seconds{86400}, settings);
}

double minutes(const WorkedRoom& worked, int month, int day, const KeySettings& settings) {
    double sum = 0;
    for (const KeyInterval& k : key_of(worked, month, day, settings))
        sum += k.hold().count() / 60;
    return sum;
}

}  // namespace

// Worked out for this project's brief by a script of its own, checked against PyEphem 4.1.4 and
// against the reveal shadow-width formula; whole minutes, hence the margin of one minute.
TEST_CASE("the worked room's point of light holds 39 minutes on 10 March", "[study]") {
    WorkedRoom room;
    room.radius_m = 1e-3;
    const auto found = key_of(room, 3, 10, point_settings());
    REQUIRE(found.size() == 1);
    CHECK((found[0].span->from - utc(3, 10, 15, 3)).count() == Approx(0).margin(60));
    CHECK((found[0].span->to - utc(3, 10, 15, 42)).count() == Approx(0).margin(60));
}

TEST_CASE("one changed input changes the worked room's hold as published", "[study]") {
    WorkedRoom room;
    room.radius_m = 1e-3;
    const auto hold = [](const WorkedRoom& r, int month, int day) {
        return minutes(r, month, day, point_settings());
    };
    WorkedRoom other = room;
    other.faces_deg = 222;
    CHECK(hold(other, 3, 10) == Approx(24).margin(1));
    other.faces_deg = 228;
    CHECK(hold(other, 3, 10) == Approx(52).margin(1));
    other.faces_deg = 215;
    CHECK(hold(other, 3, 10) == 0);
    other = room;
    other.reveal_m = 0;
    CHECK(hold(other, 3, 10) == Approx(68).margin(1));
    other = room;
    other.sideways_m = 0.25;
    const double right = std::abs(hold(other, 3, 10) - 39);
    other.sideways_m = -0.25;
    const double left = std::abs(hold(other, 3, 10) - 39);
    CHECK(std::max(left, right) == Approx(21).margin(2));
    CHECK(hold(room, 2, 1) == Approx(112).margin(1));
    CHECK(hold(room, 2, 15) == Approx(107).margin(1));
    CHECK(hold(room, 2, 24) == Approx(97).margin(1));
    CHECK(hold(room, 3, 3) == Approx(68).margin(1));
    CHECK(hold(room, 3, 17) == Approx(10).margin(1));
    CHECK(hold(room, 3, 24) == 0);
}

TEST_CASE("a head and hands hold far less than their centre", "[study]") {
    WorkedRoom room;
    room.box_m = {0.5, 0.5, 0.3};
    KeySettings s = point_settings();
    s.coverage = 1;
    CHECK(minutes(room, 3, 10, s) == 0);
    CHECK(minutes(room, 2, 15, s) == Approx(58).margin(3));
}

TEST_CASE("an answer says how much longer the mark's centre alone would hold", "[study]") {
    // The published figures of the worked room: 39 minutes on its centre on 10 March.
    KeySettings s = point_settings();
    s.coverage = 0.95;
    const auto found = key_of(WorkedRoom{}, 3, 10, s);
    REQUIRE(found.size() == 1);
    REQUIRE(found[0].centre);
    // The sun moves by a quarter of a degree a minute; some 4 to 7 m behind the window its patch
    // drifts by as many metres' 1/229th, more where the ray meets the surface aslant.
    REQUIRE(found[0].drift_m_per_min);
    CHECK(*found[0].drift_m_per_min > 4.0 / 229 * 0.8);
    CHECK(*found[0].drift_m_per_min < 7.0 / 229 * 2.5);
    CHECK(found[0].hold() < Seconds{10 * 60});
    CHECK(found[0].centre->length().count() / 60 == Approx(39).margin(1));

    WorkedRoom with_box;
    with_box.box_m = {0.5, 0.5, 0.3};
    const site::Location location = with_box.location();
    const Instant from = utc(3, 10), to = from + Seconds{86400};
    const RoomStudy study{location,
                          SharedTrack::make(from - Seconds{86400}, to + Seconds{2 * 86400})};
    const auto misses = nearest_misses(study, from, to, s, {});
    REQUIRE(misses.size() == 1);
    CHECK(misses[0].coverage < 0.95);
    REQUIRE(misses[0].centre);
    CHECK(misses[0].centre->length().count() / 60 == Approx(39).margin(1));
}

TEST_CASE("the sure part lies within the nominal, the nominal within the possible", "[study]") {
    WorkedRoom room;
    room.within_deg = 3;
    room.radius_m = 0.02;
    const auto found = key_of(room, 3, 10, point_settings());
    REQUIRE(found.size() == 1);
    const KeyInterval& k = found[0];
    REQUIRE(k.sure);
    CHECK(k.possible.from <= k.span->from);
    CHECK(k.span->from <= k.sure->from);
    CHECK(k.sure->to <= k.span->to);
    CHECK(k.span->to <= k.possible.to);
    // At 222 and 228 degrees alone the holds are other; what all share is shorter than the least.
    WorkedRoom least = room;
    least.faces_deg = 222;
    CHECK(k.sure_hold().count() / 60 <= minutes(least, 3, 10, point_settings()) + 0.1);
}

TEST_CASE("what exists at some bearing only is told as possible alone", "[study]") {
    WorkedRoom room;
    room.radius_m = 1e-3;
    room.faces_deg = 215;
    room.within_deg = 10;
    const auto found = key_of(room, 3, 10, point_settings());
    REQUIRE(found.size() == 1);
    CHECK_FALSE(found[0].span);
    CHECK_FALSE(found[0].sure);
    CHECK(found[0].possible.length() > Seconds{20 * 60});
}

namespace {

constexpr Seconds ten_seconds{10};

/// What the settings' usual limits ask of the only mark and window.
bool is_clean(const RoomStudy& study, Instant t, const room::PlanTurn& turn) {
    const Moment m = study.path().at(t);
    return m.altitude_deg >= 8 && m.altitude_deg <= 55 &&
           study.scene().coverage(0, 0, turn.to_plan(m.toward)) >= 0.95;
}

/// Of the span, the longest stretch that is clean at every bearing.
Seconds stepped_sure(const RoomStudy& study, const Span& span) {
    const auto& turns = study.bearings().all;
    Instant sure_from = span.from;
    Seconds longest{0};
    bool running = false;
    for (Instant t = span.from; t < span.to + ten_seconds; t = t + ten_seconds) {
        const bool all = t < span.to && std::ranges::all_of(turns, [&](const auto& turn) {
                             return is_clean(study, t, turn);
                         });
        if (all && !running) sure_from = t;
        if (!all && running) longest = std::max(longest, t - sure_from);
        running = all;
    }
    return longest;
}

/// From t on, as far as it is clean at some bearing.
Instant stepped_possible(const RoomStudy& study, Instant t, Seconds step) {
    while (std::ranges::any_of(study.bearings().all,
                               [&](const auto& turn) { return is_clean(study, t, turn); }))
        t = t + step;
    return t;
}

}  // namespace

TEST_CASE("search by bracket and solve finds what stepping by ten seconds finds", "[study]") {
    WorkedRoom room;
    room.within_deg = 4;
    const site::Location location = room.location();
    const Instant from = utc(2, 10), to = utc(3, 20);
    const auto shared = SharedTrack::make(from - Seconds{86400}, to + Seconds{2 * 86400});
    const RoomStudy study{location, shared};
    const auto found = test::described_key(study, from, to, KeySettings{});
    REQUIRE(found.size() > 20);
    const auto near = Approx(0).margin(2 * ten_seconds.count());
    std::size_t looked_at = 0;
    for (const KeyInterval& k : found) {
        if (!k.span) continue;
        ++looked_at;
        const auto& stated = study.bearings().stated;
        CHECK(is_clean(study, k.span->from + Seconds{0.2}, stated));
        CHECK_FALSE(is_clean(study, k.span->from - Seconds{0.2}, stated));
        CHECK(is_clean(study, k.span->to - Seconds{0.2}, stated));
        CHECK_FALSE(is_clean(study, k.span->to + Seconds{0.2}, stated));
        CHECK((k.sure_hold() - stepped_sure(study, *k.span)).count() == near);
        CHECK((k.possible.from - stepped_possible(study, k.span->from, -ten_seconds)).count() ==
              near);
        CHECK((k.possible.to - stepped_possible(study, k.span->to, ten_seconds)).count() == near);
    }
    CHECK(looked_at > 20);
}

TEST_CASE("a day without a key names the nearest miss", "[study]") {
    WorkedRoom room;
    const site::Location location = room.location();
    const Instant from = utc(6, 21), to = from + Seconds{86400};
    const auto shared = SharedTrack::make(from - Seconds{86400}, to + Seconds{2 * 86400});
    const RoomStudy study{location, shared};
    const KeySettings s;
    const auto found = test::described_key(study, from, to, s);
    REQUIRE(found.empty());
    const auto misses = nearest_misses(study, from, to, s, found);
    REQUIRE(misses.size() == 1);
    CHECK(misses[0].edge.kind == room::Edge::head);
    CHECK(misses[0].reason == "sun too high: the head cuts it off");
    CHECK(misses[0].at);
}

TEST_CASE("in a mirrored room the other jamb and the other end of the span limit it", "[study]") {
    // Facing 225 and 135 degrees mirror each other about the meridian: what begins the one ends
    // the other, left and right exchanged. The sun's path is its own mirror image to a degree.
    using room::Edge;
    const auto mirrored = [](Edge edge) {
        return edge == Edge::left_jamb    ? Edge::right_jamb
               : edge == Edge::right_jamb ? Edge::left_jamb
                                          : edge;
    };
    WorkedRoom west, east;
    west.radius_m = east.radius_m = 1e-3;
    east.faces_deg = 135;
    int jambs = 0;
    for (const double sideways : {-0.25, 0.0, 0.25})
        for (const int day : {1, 10, 24}) {
            west.sideways_m = sideways;
            east.sideways_m = -sideways;
            const auto a = key_of(west, 2, day, point_settings());
            const auto b = key_of(east, 2, day, point_settings());
            CAPTURE(sideways, day);
            REQUIRE(a.size() == 1);
            REQUIRE(b.size() == 1);
            CHECK(a[0].begins_by.kind == mirrored(b[0].ends_by.kind));
            CHECK(a[0].ends_by.kind == mirrored(b[0].begins_by.kind));
            CHECK((a[0].hold() - b[0].hold()).count() == Approx(0).margin(240));
            for (const Edge edge : {a[0].begins_by.kind, a[0].ends_by.kind})
                if (edge == Edge::left_jamb || edge == Edge::right_jamb) ++jambs;
        }
    CHECK(jambs >= 9);
}

TEST_CASE("the reason for a miss is the limit most missed", "[study]") {
    // The lens looks across the light, so that the key angle is far too wide whenever the sun is
    // low; that the sun is low as well is told after it.
    WorkedRoom worked;
    site::Location location = worked.location();
    room::Camera camera;
    camera.name = "A";
    camera.at = {3, 5};
    camera.height_m = 1.2;
    location.room->cameras.push_back(camera);
    const Instant from = utc(2, 10), to = from + Seconds{86400};
    const auto shared = SharedTrack::make(from - Seconds{86400}, to + Seconds{2 * 86400});
    const RoomStudy study{location, shared};
    KeySettings s;
    s.altitude_deg[0] = 20;
    const auto misses = nearest_misses(study, from, to, s, {});
    REQUIRE(misses.size() == 1);
    CHECK(misses[0].edge.kind == room::Edge::key_angle);
    CHECK(misses[0].reason.starts_with("on the mark, but key angle too wide"));
    REQUIRE(misses[0].key_angle_deg);
    CHECK(*misses[0].key_angle_deg > 120);
}

TEST_CASE("a key that lasts too short at every bearing is not told, one long enough at one is",
          "[study]") {
    WorkedRoom room;
    room.radius_m = 1e-3;
    room.faces_deg = 215;
    room.within_deg = 10;
    // At the outermost bearing it lasts longest.
    WorkedRoom outermost = room;
    outermost.faces_deg = 225;
    outermost.within_deg = 0;
    KeySettings s = point_settings();
    const auto longest = key_of(outermost, 3, 10, s);
    REQUIRE(longest.size() == 1);
    s.shortest = longest[0].hold() - Seconds{2};
    CHECK(key_of(room, 3, 10, s).size() == 1);
    s.shortest = longest[0].hold() + Seconds{2};
    CHECK(key_of(room, 3, 10, s).empty());
    // At the stated bearing it is told down to the shortest, and no further.
    s.shortest = longest[0].hold() - Seconds{2};
    REQUIRE(key_of(outermost, 3, 10, s).size() == 1);
    s.shortest = longest[0].hold() + Seconds{2};
    CHECK(key_of(outermost, 3, 10, s).empty());
}

TEST_CASE("the shadow of a thin post parts a date's key, and what is sure of it", "[study]") {
    WorkedRoom room;
    room.radius_m = 0.01;
    room.within_deg = 0.3;
    site::Location location = room.location();
    // Ten metres out in the sun's way: it shades the mark for a minute or so.
    const auto d = room::wall_frame(location.room->floor, 0);
    const room::Point2 at = d.left_corner + 3.05 * d.u + 10.0 * d.n;
    room::Building post;
    post.name = "post";
    post.footprint = {at, at + 0.04 * d.u, at + 0.04 * d.u + 0.04 * d.n, at + 0.04 * d.n};
    post.height_m = 30;
    location.room->buildings.push_back(post);
    const Instant from = utc(2, 15), to = from + Seconds{86400};
    const RoomStudy study{location,
                          SharedTrack::make(from - Seconds{86400}, to + Seconds{2 * 86400})};
    const auto margin = [&](Instant t) {
        const Moment m = study.path().at(t);
        return m.altitude_deg > 0 && study.scene().coverage(0, 0, study.sun(m)) >= 0.5;
    };
    std::vector<double> changes;
    for (int s = 1; s < 86400; ++s)
        if (margin(from + Seconds{s - 1.0}) != margin(from + Seconds{s * 1.0}))
            changes.push_back(s);
    REQUIRE(changes.size() == 4);
    CHECK(changes[2] - changes[1] < 150);
    auto found = clean_key(study, from, to, point_settings());
    REQUIRE(found.size() == 2);
    std::sort(found.begin(), found.end(),
              [](const auto& a, const auto& b) { return a.span->from < b.span->from; });
    CHECK((found[0].span->to - from).count() == Approx(changes[1]).margin(1.5));
    CHECK((found[1].span->from - from).count() == Approx(changes[2]).margin(1.5));
    for (const KeyInterval& k : found) {
        REQUIRE(k.sure);
        CHECK(k.sure->from >= k.span->from);
        CHECK(k.sure->to <= k.span->to);
    }
}

TEST_CASE("a limit of altitude bounds a key where the sun stands at it", "[study]") {
    // The point of light of 10 March, 15:03 to 15:42, while the sun goes down.
    WorkedRoom room;
    room.radius_m = 1e-3;
    const auto whole = key_of(room, 3, 10, point_settings());
    REQUIRE(whole.size() == 1);
    const double high = whole[0].altitude_deg[0], low = whole[0].altitude_deg[1];
    REQUIRE(high > low + 3);
    KeySettings s = point_settings();
    s.altitude_deg[1] = high - 1;
    s.altitude_deg[0] = low + 1;
    const auto cut = key_of(room, 3, 10, s);
    REQUIRE(cut.size() == 1);
    CHECK(cut[0].altitude_deg[0] == Approx(high - 1).margin(0.001));
    CHECK(cut[0].altitude_deg[1] == Approx(low + 1).margin(0.001));
    CHECK(cut[0].begins_by.kind == room::Edge::altitude);
    CHECK(cut[0].ends_by.kind == room::Edge::altitude);
}

TEST_CASE("of several parts within a key the longest is told", "[clean_key]") {
    const auto at = [](double s) { return Instant::from_unix_s(s); };
    const auto longest = [&](const std::vector<std::pair<double, double>>& parts, double from,
                             double to) {
        std::vector<Span> spans;
        for (const auto& [a, b] : parts)
            spans.push_back({at(a), at(b)});
        const auto best = longest_within(spans, {at(from), at(to)});
        return best ? std::pair{best->from.unix_s(), best->to.unix_s()} : std::pair{-1.0, -1.0};
    };
    const std::pair none{-1.0, -1.0};
    CHECK(longest({{0, 10}, {20, 40}, {50, 60}}, 0, 100) == std::pair{20.0, 40.0});
    CHECK(longest({{0, 30}, {40, 60}, {70, 75}}, 0, 100) == std::pair{0.0, 30.0});
    CHECK(longest({{0, 10}, {20, 30}}, 0, 100) == std::pair{0.0, 10.0});
    CHECK(longest({{0, 30}, {40, 60}}, 15, 100) == std::pair{40.0, 60.0});
    CHECK(longest({{0, 30}, {40, 60}}, 0, 50) == std::pair{0.0, 30.0});
    CHECK(longest({{0, 100}}, 20, 30) == std::pair{20.0, 30.0});
    CHECK(longest({{0, 20}, {30, 40}}, 20, 30) == none);
    CHECK(longest({{0, 20.04}}, 20, 30) == none);  // no longer than an end is known to
    CHECK(longest({{0, 20.06}}, 20, 30) == std::pair{20.0, 20.06});
    CHECK(longest({{29.96, 50}}, 20, 30) == none);
    CHECK(longest({}, 20, 30) == none);
}

TEST_CASE("the better key is the longer sure one, then the longer one, then the earlier",
          "[study]") {
    const auto key = [](double from, double minutes, double sure_minutes) {
        KeyInterval k;
        const Instant at = utc(3, 10) + Seconds{60 * from};
        k.span = Span{at, at + Seconds{60 * minutes}, false, false};
        k.possible = *k.span;
        if (sure_minutes > 0) k.sure = Span{at, at + Seconds{60 * sure_minutes}, false, false};
        return k;
    };
    CHECK(is_better(key(0, 20, 15), key(0, 90, 10)));
    CHECK_FALSE(is_better(key(0, 90, 10), key(0, 20, 15)));
    CHECK(is_better(key(50, 30, 10), key(0, 20, 10)));
    CHECK_FALSE(is_better(key(0, 20, 10), key(50, 30, 10)));
    CHECK(is_better(key(0, 30, 10), key(50, 30, 10)));
    CHECK_FALSE(is_better(key(50, 30, 10), key(0, 30, 10)));
    std::vector<KeyInterval> keys{key(0, 90, 0), key(10, 30, 10), key(20, 20, 15)};
    sort_best_first(keys);
    CHECK(keys[0].hold() == Seconds{20 * 60});
    CHECK(keys[2].hold() == Seconds{90 * 60});
}
