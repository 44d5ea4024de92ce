// The choices of dates, whole.

#include <catch2/catch.hpp>

#include "key_rooms.hpp"
#include "keyhour/study/best_key.hpp"
#include "recorded.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

namespace {

using std::chrono::hours;
using std::chrono::minutes;

std::vector<site::LocalDate> each_of(site::LocalDate first, int days) {
    std::vector<site::LocalDate> out;
    for (int i = 0; i < days; ++i)
        out.emplace_back(date::sys_days{first} + date::days{i});
    return out;
}

struct Asked {
    OnDates on;
    std::vector<site::LocalDate> dates;
    KeySettings settings{};

    Asked(const site::Location& l, site::LocalDate first, int days, const KeySettings& s = {})
        : on{l, first, each_of(first, days).back()}, dates{each_of(first, days)}, settings{s} {}

    /// Each date's choice, and the best of all of them.
    void record(Record& record, std::string_view label, const KeyCriteria& criteria,
                bool keep_all) const {
        KeyChoice total;
        for (DateChoice& date : key_choices(on.study, dates, settings, criteria)) {
            describe(on.study, settings, date.choice);
            record.add(label, std::pair{date.date, date.choice.why_not});
            if (date.choice.nearest) record.add("nearest", date.choice.nearest->possible);
            for (const KeyInterval& k : date.choice.fitting)
                record.add("fits", std::vector{k.span.value_or(Span{}), k.sure.value_or(Span{})});
            add_choice(total, std::move(date.choice), keep_all);
        }
        add_miss(on.study, dates, settings, total);
        record.add("total", total);
    }
};

}  // namespace

TEST_CASE("choices by what is wanted of a key are those recorded", "[recorded][best_key]") {
    Record record{"choices"};
    const Asked asked{example("tallow-lane"), 2026_y / 2 / 14, 4};
    const auto with = [](auto set) {
        KeyCriteria c;
        set(c);
        return c;
    };
    asked.record(record, "any", {}, true);
    asked.record(record, "best", {}, false);
    asked.record(record, "hold", with([](KeyCriteria& c) { c.min_hold = minutes{25}; }), true);
    asked.record(record, "longer", with([](KeyCriteria& c) { c.min_hold = minutes{100}; }), false);
    // On the 15th from a minute's 25th second to another's 37th: 80 min 12 s, 81 by the clock.
    asked.record(record, "minutes", with([](KeyCriteria& c) { c.min_hold = minutes{81}; }), false);
    asked.record(record, "sure", with([](KeyCriteria& c) { c.min_sure = minutes{12}; }), false);
    asked.record(record, "surer", with([](KeyCriteria& c) { c.min_sure = minutes{70}; }), false);
    asked.record(record, "level", with([](KeyCriteria& c) { c.min_level_lx = 90000; }), false);
    asked.record(record, "low", with([](KeyCriteria& c) { c.min_level_lx = 20000; }), false);
    // Shorter by the day, until there is none.
    const Asked later{WorkedRoom{}.location(), 2026_y / 3 / 9, 12};
    later.record(record, "none_fits", with([](KeyCriteria& c) { c.min_hold = hours{1}; }), false);
    later.record(record, "ends", {}, false);
    const Asked two{flax_road(), 2026_y / 5 / 2, 2, all_angles(0.5)};
    two.record(record, "two", with([](KeyCriteria& c) { c.min_hold = hours{5}; }), true);
    record.check();
}

TEST_CASE("choices within hours are those recorded", "[recorded][best_key]") {
    Record record{"choices_hours"};
    const Asked asked{flax_road(), 2026_y / 5 / 1, 3, all_angles(0.5)};
    const auto between = [](std::optional<std::chrono::seconds> from,
                            std::optional<std::chrono::seconds> to) {
        KeyCriteria c;
        c.earliest_start = from;
        c.latest_end = to;
        return c;
    };
    asked.record(record, "from", between(hours{11}, {}), true);
    asked.record(record, "to", between({}, hours{11}), true);
    asked.record(record, "short", between(hours{11}, hours{11} + minutes{20}), true);
    asked.record(record, "night", between(hours{2} + minutes{30}, hours{3}), false);
    asked.record(record, "from_night", between(hours{2} + minutes{30}, hours{26}), false);
    KeyCriteria both = between(hours{10}, hours{12});
    both.min_hold = minutes{40};
    asked.record(record, "both", both, false);
    // The next days' clocks go on, or back.
    site::Location london = WorkedRoom{}.location();
    london.site.zone = *site::Zone::named("Europe/London");
    for (const site::LocalDate d : {2026_y / 3 / 28, 2026_y / 10 / 24}) {
        const Asked change{london, d, 2, all_angles(0.5)};
        change.record(record, "all", between(hours{1} + minutes{30}, {}), true);
        change.record(record, "skipped", between(hours{1} + minutes{30}, hours{15}), true);
        change.record(record, "late", between(hours{15} + minutes{50}, hours{40}), true);
    }
    // Past midnight by the clock an interval may begin on one date and end on the next; or it lasts
    // while the clocks change.
    site::Location west = london;
    for (const double longitude_deg : {-131.0, -130.0, -129.0, -127.0, -146.0}) {
        west.site.observer.longitude = Angle::degrees(longitude_deg);
        for (const site::LocalDate d : {2026_y / 3 / 28, 2026_y / 10 / 24}) {
            const Asked night{west, d, 3, all_angles(0.3)};
            night.record(record, "unbounded", {}, true);
            night.record(record, "to", between(hours{1} + minutes{20}, hours{24}), true);
            night.record(record, "from", between(minutes{1}, hours{1} + minutes{20}), false);
        }
    }
    for (int seed = 1; seed <= 24; ++seed) {
        const ThrownRoom room{seed};
        Asked{room.location, room.date, 1, room.settings}.record(
            record, "thrown", between(hours{seed % 12}, hours{12 + seed % 12}), false);
    }
    record.check();
}

TEST_CASE("choices of dates apart and without a key are those recorded", "[recorded][best_key]") {
    Record record{"choices_apart"};
    for (const int seed : {8, 20, 31}) {
        const ThrownRoom room{seed};
        Asked asked{room.location, 2026_y / 7 / 1, 6, room.settings};
        asked.dates = {asked.dates[0], asked.dates[1], asked.dates[3], asked.dates[5]};
        asked.record(record, "thrown", {}, false);
    }
    WorkedRoom north;
    north.faces_deg = 0;
    Asked{north.location(), 2026_y / 1 / 10, 2}.record(record, "north", {}, true);
    WorkedRoom high;
    KeySettings s;
    s.altitude_deg[0] = 40;
    KeyCriteria c;
    c.earliest_start = hours{12};
    Asked{high.location(), 2026_y / 3 / 1, 2, s}.record(record, "high", c, true);
    record.check();
}
