// What is left of a day's light, and the rigging before it.

#include <catch2/catch.hpp>

#include "keyhour/study/countdown.hpp"
#include "keyhour/study/timetable.hpp"
#include "lamp_places.hpp"
#include "recorded.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

namespace {

Instant at_minute(double m) {
    return Instant::from_unix_s(60 * m);
}

Span span_of(double from, double to) {
    return {at_minute(from), at_minute(to), false, false};
}

std::vector<ShotWish> wishes(std::uint64_t seed, int count) {
    test::Dice dice{seed};
    std::vector<ShotWish> all;
    for (int i = 0; i < count; ++i) {
        ShotWish wish;
        wish.set_up = Seconds{60.0 * dice.whole(0, 20)};
        wish.shot = Seconds{60.0 * dice.whole(3, 15)};
        double from = dice.whole(0, 60);
        for (int n = dice.whole(1, 2); n > 0; --n) {
            const double to = from + dice.whole(5, 40);
            wish.light.push_back(span_of(from, to));
            from = to + dice.whole(5, 40);
        }
        all.push_back(wish);
    }
    return all;
}

}  // namespace

TEST_CASE("the light that a shot wants is that of its side, or all from dawn to dusk",
          "[countdown]") {
    SpotDay day;
    day.wanted = {span_of(100, 200)};
    CHECK(light_wanted(day, site::Side::any).empty());
    day.direct.resize(2);
    day.direct[0].span = span_of(100, 200);
    day.direct[1].span = span_of(300, 420);
    const auto ends = [&] {
        const auto whole = light_wanted(day, site::Side::any);
        REQUIRE(whole.size() == 1);
        CHECK_FALSE(whole[0].runs_at_start);
        CHECK_FALSE(whole[0].runs_at_end);
        return std::pair{whole[0].from, whole[0].to};
    };
    CHECK(ends() == std::pair{at_minute(100), at_minute(420)});
    day.late_light.resize(2);
    day.late_light[0] = {at_minute(60), at_minute(130), false, {}, {}, {}};
    day.late_light[1] = {at_minute(400), at_minute(470), true, {}, {}, {}};
    CHECK(ends() == std::pair{at_minute(60), at_minute(470)});
    day.direct.clear();
    CHECK(ends() == std::pair{at_minute(60), at_minute(470)});
    for (const site::Side side : {site::Side::front, site::Side::side, site::Side::back}) {
        const auto wanted = light_wanted(day, side);
        REQUIRE(wanted.size() == 1);
        CHECK(wanted[0].from == at_minute(100));
    }
}

TEST_CASE("a shot as long as its light begins with it", "[countdown]") {
    const ShotWish wish{
        {span_of(0, 9), span_of(20, 30), span_of(40, 49)}, Seconds{300}, Seconds{600}};
    const auto last = last_start(wish);
    REQUIRE(last);
    CHECK(last->start == at_minute(15));
    const auto fits = still_fit(std::vector{wish}, at_minute(15));
    REQUIRE(fits.size() == 1);
    CHECK(fits[0].roll == at_minute(20));
    CHECK(fits[0].done == at_minute(30));
    CHECK(still_fit(std::vector{wish}, at_minute(15.1)).empty());
}

TEST_CASE("orders of shots are those recorded", "[recorded][countdown]") {
    Record record{"countdown_orders"};
    record.add("none", still_fit({}, at_minute(0)));
    // Up to twelve exactly; beyond that by their last starts.
    for (const int count : {1, 2, 3, 4, 6, 8, 12, 13, 15})
        for (std::uint64_t seed = 1; seed <= (count > 8 ? 3 : 5); ++seed) {
            const auto all = wishes(100 * seed + static_cast<std::uint64_t>(count), count);
            record.add("order", still_fit(all, at_minute(3)));
            for (const ShotWish& wish : all)
                record.add("last", last_start(wish));
        }
    record.check();
}

TEST_CASE("the stop as it falls is that recorded", "[recorded][countdown]") {
    Record record{"countdown_steps"};
    for (const auto& [name, spot] :
         {std::pair{"mill-green/mill-green", 0}, {"sundet", 0}, {"flax-road", 0}}) {
        site::Location l = place_read(name);
        for (site::Tree& tree : l.trees)
            tree.opacity = 0.4;  // thin: some of the beam comes through
        const site::LocalDate d = 2026_y / 6 / 21;
        const Instant start = l.site.zone.start_of(d);
        const SpotLight light{
            l, static_cast<std::size_t>(spot),
            SharedTrack::make(start - Seconds{86400}, start + Seconds{3 * 86400})};
        const auto note = [&](double from_h, double to_h) {
            for (const CountdownStep& step :
                 countdown(light, start + Seconds{3600 * from_h}, start + Seconds{3600 * to_h}))
                record.add("step", step);
            record.add("end", 0);
        };
        note(3, 6);
        note(15.02, 21.98);
        note(23.5, 24.5);  // over midnight
        note(12.01, 12.02);
        note(12, 12);
    }
    record.check();
}

TEST_CASE("rigging counted back is that recorded", "[recorded][timetable]") {
    Record record{"timetable"};
    site::Rigging rigging;
    rigging.tasks = {{"covers", {{1, 40}, {2, 25}, {4, 15}}},
                     {"lamp", {{2, 30}, {3, 20}}},
                     {"dress", {{1, 12.5}}}};
    for (const int crew : {0, 1, 2, 3, 4, 9}) {
        for (const site::Task& task : rigging.tasks)
            record.add("length", length_of(task, crew));
        record.add("table", count_back(rigging, crew, at_minute(600)));
    }
    record.add("sizes", crew_sizes(rigging));
    rigging.crew = 3;
    record.add("sizes", crew_sizes(rigging));
    rigging.crew = 7;
    record.add("sizes", crew_sizes(rigging));
    rigging.tasks.clear();
    record.add("sizes", crew_sizes(rigging));
    record.add("table", count_back(rigging, 1, at_minute(600)));
    record.check();
}
