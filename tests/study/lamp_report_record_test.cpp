// Whole reports of lamps: like the sun, by a wanted key, from where they stand; with fill.

#include <catch2/catch.hpp>

#include "keyhour/study/lamp_report.hpp"
#include "lamp_places.hpp"
#include "recorded.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

namespace {

constexpr date::year_month_day a_day = date::year{2026} / 3 / 10;

site::Location with_every_lamp(const char* name) {
    site::Location l = place_read(name);
    l.lamps = lamps_of_every_kind();
    l.lamps[0].within_m = 0.5;
    return l;
}

void note_report(Record& record, const char* label, LampReport report) {
    if (report.light) {
        report.light->patches.clear();
        report.light->on_ceiling.reset();
    }
    record.add(label, report);
}

}  // namespace

TEST_CASE("reports of lamps are those recorded", "[recorded][lamp_report]") {
    Record record{"lamp_reports"};
    site::Location l = with_every_lamp("tallow-lane");
    site::Lamp placed = l.lamps[0];
    placed.at = room::Point2{1.2, -4};
    placed.height_m = 2.4;
    l.lamps.push_back(placed);
    placed.at = room::Point2{1.2, -0.35};  // too near the wall
    l.lamps.push_back(placed);
    const OnDates on{l, a_day, a_day};
    const RoomLight light{on.study};
    const Instant noon = on.start_of(a_day) + Seconds{12.2 * 3600};
    const auto ask = [&](const char* label, const auto& change, const RoomLight* room = nullptr) {
        LampQuestion q;
        change(q);
        note_report(record, label, report_lamp(on.study, room, q));
    };
    ask("like", [&](LampQuestion& q) { q.like = noon; });
    ask("like_low", [&](LampQuestion& q) { q.like = on.start_of(a_day) + Seconds{7.5 * 3600}; });
    ask("like_night", [&](LampQuestion& q) { q.like = on.start_of(a_day), q.window = 1; });
    ask("like_window",
        [&](LampQuestion& q) { q.like = noon, q.window = 0, q.alike_share = 0.3, q.camera = 0; });
    for (const double angle : {20.0, 60.0, 110.0})
        ask("key", [&](LampQuestion& q) { q.key = WantedKey{0, angle, 2, {}}; });
    for (const bool right : {false, true})
        ask("side", [&](LampQuestion& q) { q.key = WantedKey{0, 40, 2.5, right}; });
    ask("middle", [&](LampQuestion& q) { q.through_middle = true; });
    ask("middle", [&](LampQuestion& q) {
        q.through_middle = true, q.window = 1, q.distance_m = 5, q.ground_below_m = 1;
    });
    ask("middle", [&](LampQuestion& q) {
        q.through_middle = true, q.farthest_m = 4, q.coverage = 0.3, q.lamp = 2;
    });
    ask("place", [&](LampQuestion& q) { q.lamp = 8; });
    ask("place", [&](LampQuestion& q) { q.lamp = 8, q.window = 1; });
    ask("too_near", [&](LampQuestion& q) { q.lamp = 9; });
    ask(
        "light", [&](LampQuestion& q) { q.lamp = 8, q.room_light_at = noon; }, &light);
    ask(
        "dark", [&](LampQuestion& q) { q.lamp = 8; }, &light);
    ask("no_light", [&](LampQuestion& q) { q.lamp = 8, q.room_light_at = noon; });
    ask("fill", [&](LampQuestion& q) { q.lamp = 8, q.fill = WantedFill{3, 4, {}}; });
    ask(
        "sun_key",
        [&](LampQuestion& q) {
            q.sun_is_key = true, q.like = noon, q.window = 0;
            q.fill = WantedFill{3, 2, light::RatioConvention::key_plus_fill_to_fill};
        },
        &light);
    record.check();
}

TEST_CASE("reports of lamps in other rooms are those recorded", "[recorded][lamp_report]") {
    Record record{"lamp_reports_far"};
    for (const char* name : {"flax-road", "sundet"}) {
        const OnDates on{with_every_lamp(name), a_day, a_day};
        const RoomLight light{on.study};
        for (std::size_t mark = 0; mark < on.study.room().marks.size(); ++mark) {
            LampQuestion q;
            q.mark = mark;
            q.like = on.start_of(a_day) + Seconds{15 * 3600};
            note_report(record, "like", report_lamp(on.study, nullptr, q));
            q.like.reset();
            q.key = WantedKey{mark, 45, 2, {}};
            q.room_light_at = on.start_of(a_day) + Seconds{11 * 3600};
            note_report(record, "key", report_lamp(on.study, &light, q));
        }
    }
    for (const std::uint64_t seed : {5U, 9U, 14U}) {
        const OnDates on{random_place(seed), a_day, a_day};
        for (std::size_t mark = 0; mark < on.study.room().marks.size(); ++mark) {
            LampQuestion q;
            q.mark = mark;
            q.through_middle = true;
            note_report(record, "random", report_lamp(on.study, nullptr, q));
        }
    }
    record.check();
}

TEST_CASE("reports of lamps beside a forge are those recorded", "[recorded][lamp_report]") {
    Record record{"lamp_report_forge"};
    site::Location l = with_every_lamp("tallow-lane");
    site::Forge forge;
    forge.name = "stove";
    forge.at = {6, 4};
    forge.height_m = 1;
    l.found.forges.push_back(forge);
    const OnDates on{l, a_day, a_day};
    const RoomLight light{on.study};
    LampQuestion q;
    q.through_middle = true;
    q.fill = WantedFill{3, 4, {}};
    note_report(record, "dark", report_lamp(on.study, nullptr, q));
    q.room_light_at = on.start_of(a_day) + Seconds{12 * 3600};
    note_report(record, "light", report_lamp(on.study, &light, q));
    record.check();
}

TEST_CASE("a lamp beside the sun through other windows is that recorded",
          "[recorded][lamp_report]") {
    Record record{"lamp_report_sun"};
    const OnDates on{with_every_lamp("flax-road"), a_day, a_day};
    const RoomLight light{on.study};
    for (std::size_t mark = 0; mark < 2; ++mark)
        for (double hour = 7; hour < 20; hour += 0.5) {
            LampQuestion q;
            q.mark = mark;
            q.through_middle = true;
            q.window = (mark + 2) % 3;
            q.coverage = 0;
            q.room_light_at = on.start_of(a_day) + Seconds{3600 * hour};
            const LampReport report = report_lamp(on.study, &light, q);
            record.add("beside", std::pair{report.room_key_side_lx, report.room_fill_lx});
            record.add("levels", report.levels);
        }
    record.check();
}

TEST_CASE("the camera asked for, else the key's, else the first, tells the angle",
          "[lamp_report]") {
    site::Location l = with_every_lamp("tallow-lane");
    room::Camera second = l.room->cameras[0];
    second.name = "B";
    second.at = {6, 4};
    l.room->cameras.push_back(second);
    const OnDates on{l, a_day, a_day};
    LampQuestion q;
    q.through_middle = true;
    const auto camera = [&] { return report_lamp(on.study, nullptr, q).camera; };
    CHECK(camera() == std::optional<std::size_t>{0});
    q.camera = 1;
    const LampReport asked = report_lamp(on.study, nullptr, q);
    CHECK(asked.camera == std::optional<std::size_t>{1});
    REQUIRE(asked.key_angle_deg);
    const room::Mark& mark = on.study.room().marks[0];
    CHECK(*asked.key_angle_deg ==
          Approx(room::key_angle(
                     on.study.room(), on.study.room().cameras[1],
                     asked.stand.place()->at - room::Point3{mark.at.x, mark.at.y, mark.height_m})
                     .in_degrees()));
    q.through_middle = false;
    q.key = WantedKey{1, 45, 2, {}};
    q.camera.reset();
    CHECK(camera() == std::optional<std::size_t>{1});
    q.camera = 0;
    CHECK(camera() == std::optional<std::size_t>{0});
    l.room->cameras.clear();
    const OnDates without{l, a_day, a_day};
    q = {};
    q.through_middle = true;
    CHECK_FALSE(report_lamp(without.study, nullptr, q).camera);
    CHECK_FALSE(report_lamp(without.study, nullptr, q).key_angle_deg);
}

TEST_CASE("of windows the one with the farthest place is taken, then the nearest to the wish",
          "[recorded][lamp_report]") {
    Record record{"lamp_report_windows"};
    for (std::uint64_t seed = 1; seed <= 12; ++seed) {
        site::Location l = random_place(seed);
        if (l.room->marks.empty()) continue;
        l.lamps[0].stand_max_m = seed % 3 == 0 ? 1.5 : 6;
        const OnDates on{l, a_day, a_day};
        LampQuestion q;
        q.through_middle = seed % 2 == 0;
        if (!q.through_middle) {
            q.like = on.start_of(a_day) + Seconds{3600.0 * (7 + static_cast<double>(seed))};
        }
        const LampReport report = report_lamp(on.study, nullptr, q);
        record.add("window", std::pair{report.wish.window, report.stand});
    }
    record.check();
}

TEST_CASE("the sun as a key is that of the mark asked about", "[lamp_report]") {
    const OnDates on{with_every_lamp("flax-road"), a_day, a_day};
    const RoomLight light{on.study};
    LampQuestion q;
    q.sun_is_key = true;
    q.window = 0;
    q.like = on.start_of(a_day) + Seconds{14 * 3600};
    for (const std::size_t mark : {0U, 1U}) {
        q.mark = mark;
        const LampReport report = report_lamp(on.study, &light, q);
        CHECK(report.wish.mark == mark);
        CHECK(report.wish.window == 0);
        CHECK(report.levels.key_lx == light.at(mark, 0, on.study.path().at(*q.like)).key_lx.likely);
        CHECK_FALSE(report.light);
    }
}
