// The sun of whole days through windows, and locks in it.

#include <catch2/catch.hpp>

#include "keyhour/study/lock.hpp"
#include "lamp_places.hpp"
#include "recorded.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

namespace {

constexpr date::year_month_day a_day = date::year{2026} / 4 / 12;

Instant second(double s) {
    return Instant::from_unix_s(s);
}

/// Every other window with another cover.
site::Location covered(site::Location l) {
    for (std::size_t w = 1; w < l.room->windows.size(); w += 2)
        l.room->windows[w].cover = w % 4 == 1 ? room::Cover::sheer : room::Cover::blackout;
    return l;
}

void note(Record& record, const RoomSun& sun) {
    for (const OpeningSun& opening : sun.windows())
        record.add("opening", opening);
    for (std::size_t w = 0; w < sun.study().room().windows.size(); ++w)
        record.add("of", sun.of(w) == nullptr ? -1L : sun.of(w) - sun.windows().data());
}

}  // namespace

TEST_CASE("the sun of rooms is that recorded", "[recorded][room_sun]") {
    Record record{"room_sun"};
    for (const char* name : {"flax-road", "sundet", "tallow-lane", "bindery-and-wharf/bindery"}) {
        const OnDates on{place_read(name), a_day, a_day};
        note(record, {on.study, on.start_of(a_day), on.start_of(a_day, 2), {true, true}});
        note(record, {on.study, on.start_of(a_day), on.start_of(a_day, 1), {false, false}});
    }
    for (const std::uint64_t seed : {3U, 5U, 8U, 14U}) {
        const OnDates on{covered(random_place(seed)), a_day, a_day};
        note(record, {on.study, on.start_of(a_day), on.start_of(a_day, 1), {true, false}});
        note(record, {on.study, on.start_of(a_day), on.start_of(a_day, 1), {false, true}});
    }
    record.check();
}

TEST_CASE("spans cut to a range, and the gaps between them, by hand", "[room_sun]") {
    const std::vector<Span> spans{{second(10), second(20), true, false},
                                  {second(30), second(40), false, false},
                                  {second(50), second(60), false, true}};
    const auto is = [](const Span& s, double from, double to, bool at_start, bool at_end) {
        return s.from == second(from) && s.to == second(to) && s.runs_at_start == at_start &&
               s.runs_at_end == at_end;
    };
    const auto all = within(spans, second(0), second(100));
    REQUIRE(all.size() == 3);
    CHECK(is(all[0], 10, 20, true, false));
    CHECK(is(all[1], 30, 40, false, false));
    CHECK(is(all[2], 50, 60, false, true));
    const auto cut = within(spans, second(15), second(35));
    REQUIRE(cut.size() == 2);
    CHECK(is(cut[0], 15, 20, true, false));
    CHECK(is(cut[1], 30, 35, false, true));
    const auto inner = within(spans, second(32), second(38));
    REQUIRE(inner.size() == 1);
    CHECK(is(inner[0], 32, 38, true, true));
    const auto exact = within(spans, second(30), second(40));
    REQUIRE(exact.size() == 1);
    CHECK(is(exact[0], 30, 40, true, true));
    // Ends are found within 0.05 s: what only reaches so far in is not in.
    CHECK(within(spans, second(19.96), second(30.04)).empty());
    CHECK(within(spans, second(19.9), second(30.1)).size() == 2);
    CHECK(within(spans, second(20), second(30)).empty());
    CHECK(within(std::vector<Span>{}, second(0), second(1)).empty());

    const auto free = gaps(spans, second(0), second(100));
    REQUIRE(free.size() == 4);
    CHECK(is(free[0], 0, 10, true, false));
    CHECK(is(free[1], 20, 30, false, false));
    CHECK(is(free[2], 40, 50, false, false));
    CHECK(is(free[3], 60, 100, false, true));
    const auto between = gaps(spans, second(22), second(28));
    REQUIRE(between.size() == 1);
    CHECK(is(between[0], 22, 28, true, true));
    const auto from_sun = gaps(spans, second(10), second(45));
    REQUIRE(from_sun.size() == 2);
    CHECK(is(from_sun[0], 20, 30, false, false));
    CHECK(is(from_sun[1], 40, 45, false, true));
    CHECK(gaps(spans, second(31), second(40)).empty());

    OpeningSun sun;
    sun.window = 3;
    sun.stated = spans;
    sun.every = {spans[1]};
    sun.some = {spans[0], spans[2]};
    sun.on_mark = {{}, {spans[2]}};
    const OpeningSun part = within(sun, second(15), second(55));
    CHECK(part.window == 3);
    CHECK(part.stated.size() == 3);
    CHECK(part.every.size() == 1);
    REQUIRE(part.some.size() == 2);
    CHECK(is(part.some[0], 15, 20, true, false));
    REQUIRE(part.on_mark.size() == 2);
    CHECK(part.on_mark[0].empty());
    CHECK(is(part.on_mark[1].at(0), 50, 55, false, true));
}

namespace {

void note_leaks(Record& record, const OnDates& on, double from_h, double to_h,
                std::optional<std::size_t> key) {
    const Instant from = on.start_of(a_day) + Seconds{3600 * from_h},
                  to = on.start_of(a_day) + Seconds{3600 * to_h};
    const LockAnswer answer = leaks_of_lock(on.study, from, to, key);
    record.add("lock", answer);
    record.add("area", std::pair{answer.cover_area_m2(), answer.cover_area_m2(0.15)});
    const RoomSun sun{on.study, on.start_of(a_day), on.start_of(a_day, 1), {true, false}};
    record.add("left_out", leaks_of_lock(sun, from, to, key, Landing::left_out).leaks.size());
    record.add("covers", covers_of_lock(sun, from, to, key));
    record.add("all_covers",
               covers_of_lock(sun, on.start_of(a_day), on.start_of(a_day, 1), std::nullopt));
}

}  // namespace

TEST_CASE("leaks of locks are those recorded", "[recorded][lock]") {
    Record record{"leaks"};
    for (const char* name : {"flax-road", "sundet", "tallow-lane", "bindery-and-wharf/bindery"}) {
        const OnDates on{place_read(name), a_day, a_day};
        note_leaks(record, on, 10, 12, 0);
        note_leaks(record, on, 13, 13.05, 1);
        note_leaks(record, on, 16, 17.5, 2);
    }
    record.check();
}

TEST_CASE("leaks of locks in random rooms are those recorded", "[recorded][lock]") {
    Record record{"leaks_random"};
    for (const std::uint64_t seed : {3U, 5U, 9U, 14U}) {
        const OnDates on{covered(random_place(seed)), a_day, a_day};
        note_leaks(record, on, 8, 10, std::nullopt);
        note_leaks(record, on, 12, 13.5, 0);
    }
    record.check();
}

TEST_CASE("a mark's leak begins before its own sun and ends after it", "[lock]") {
    // Sun from 100 to 200 s, on the mark from 140 to 160: touching spans do not overlap.
    OpeningSun sun;
    sun.on_mark = {{{second(140), second(160), false, false}}};
    CHECK(within(sun, second(100), second(140)).on_mark[0].empty());
    CHECK(within(sun, second(100), second(141)).on_mark[0].size() == 1);
    CHECK(within(sun, second(160), second(200)).on_mark[0].empty());
}

TEST_CASE("the best places of locks are those recorded", "[recorded][lock]") {
    Record record{"best_locks"};
    const auto ask = [&](const OnDates& on, double from_h, double to_h) {
        const Instant from = on.start_of(a_day) + Seconds{3600 * from_h},
                      to = on.start_of(a_day) + Seconds{3600 * to_h};
        const RoomSun sun{on.study, on.start_of(a_day), on.start_of(a_day, 1), {true, false}};
        for (std::size_t key = 0; key <= on.study.room().windows.size(); ++key)
            for (const double hours : {0.1, 1.0, 2.0, 3.75, 7.0, 13.0, to_h - from_h}) {
                const auto lock = best_lock(
                    sun, from, to, Seconds{3600 * hours},
                    key < on.study.room().windows.size() ? std::optional{key} : std::nullopt,
                    Landing::left_out);
                record.add("lock", lock ? std::optional{std::pair{lock->lock, lock->covers}}
                                        : std::nullopt);
            }
    };
    for (const char* name : {"flax-road", "sundet", "tallow-lane", "bindery-and-wharf/bindery"}) {
        const OnDates on{place_read(name), a_day, a_day};
        ask(on, 8, 20);
        ask(on, 10.02, 16.41);
    }
    for (const std::uint64_t seed : {3U, 5U, 8U, 9U, 14U, 20U})
        ask(OnDates{covered(random_place(seed)), a_day, a_day}, 0, 23.9);
    const OnDates on{place_read("flax-road"), a_day, a_day};
    const Instant nine = on.start_of(a_day) + Seconds{9 * 3600};
    record.add("alone", best_lock(on.study, nine, nine + Seconds{5 * 3600}, Seconds{7200}, 0));
    record.add("whole", best_lock(on.study, nine, nine + Seconds{7200}, Seconds{7200}));
    record.add("too_long", best_lock(on.study, nine, nine + Seconds{7199}, Seconds{7200}));
    record.check();
}

TEST_CASE("locks of odd lengths are placed as recorded", "[recorded][lock]") {
    Record record{"odd_locks"};
    test::Dice dice{5};
    for (const std::uint64_t seed : {2U, 3U, 5U, 8U, 9U, 14U, 20U, 21U}) {
        const OnDates on{random_place(seed), a_day, a_day};
        const RoomSun sun{on.study, on.start_of(a_day), on.start_of(a_day, 1), {true, false}};
        const std::size_t windows = on.study.room().windows.size();
        for (int i = 0; i < 80; ++i) {
            const Instant from = on.start_of(a_day) + Seconds{dice.between(4, 12) * 3600};
            const Instant to = from + Seconds{dice.between(3, 11) * 3600};
            std::optional<std::size_t> key;
            if (const std::size_t w = dice.index(windows + 1); w < windows) key = w;
            Seconds length{dice.between(0.2, 3) * 3600};
            if (key && dice.chance(0.9)) {
                // Hardly shorter than from one window's sun to the key's own, or the other way.
                const OpeningSun& other = sun.windows()[dice.index(sun.windows().size())];
                const auto ends =
                    gaps(dice.chance(0.5) ? other.some : sun.of(*key)->stated, from, to);
                const auto begins =
                    gaps(dice.chance(0.5) ? other.some : sun.of(*key)->stated, from, to);
                if (!ends.empty() && !begins.empty()) {
                    const Seconds shorter{dice.between(1, 70)};
                    const Instant first = ends[dice.index(ends.size())].from;
                    length = begins[dice.index(begins.size())].to - first - shorter;
                }
                if (length < Seconds{60}) length = Seconds{60};
            }
            const auto lock = best_lock(sun, from, to, length, key, Landing::left_out);
            record.add("lock", lock ? std::optional{std::pair{lock->lock, lock->covers.size()}}
                                    : std::nullopt);
        }
    }
    record.check();
}
