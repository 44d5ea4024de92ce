// Keys and hours of sun over years, whole; keys of several marks and rooms at once.

#include <catch2/catch.hpp>

#include "key_rooms.hpp"
#include "keyhour/study/together.hpp"
#include "keyhour/study/visit.hpp"
#include "keyhour/study/window_hours.hpp"
#include "keyhour/study/year_key.hpp"
#include "recorded.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

TEST_CASE("a year of keys is that recorded", "[recorded][year_key]") {
    Record record{"year_keys"};
    site::Location l = example("tallow-lane");
    l.trees = {{"lime",
                {{1, -9}, {3, -9}, {3, -7}, {1, -7}},
                8,
                0.8,
                0.3,
                date::month{4},
                date::month{10}}};
    const date::year year{2026};
    const SeasonalStudy seasons{l, track_of_year(l.site.zone, year), year / 1 / 1, year / 12 / 31};
    KeySettings s;
    s.mark = "nobody";
    const KeyYear told = key_year(seasons, 0, year, s);
    record.add("mark", told.mark);
    record.add("year", static_cast<int>(told.year));
    record.add("days", told.days.size());
    for (std::size_t i = 0; i < told.days.size(); i += 12)
        record.add("day", told.days[i]);
    std::vector<std::size_t> counts;
    for (const KeyDay& day : told.days)
        counts.push_back(day.intervals.size());
    record.add("counts", counts);
    record.add("changes", told.clock_changes);
    // Of seasons that reach beyond the year its dates alone.
    const SeasonalStudy longer{l, track_of_year(l.site.zone, year), 2025_y / 8 / 1, 2027_y / 5 / 1};
    const KeyYear same = key_year(longer, 0, year);
    record.add("longer", std::pair{same.days.size(),
                                   std::pair{same.days.front().date, same.days.back().date}});
    const auto track = track_of_year(l.site.zone, year);
    record.add("track", std::vector{track->track().from(), track->track().to()});
    record.add("unserved", track_of_year(l.site.zone, date::year{2300}) == nullptr);
    record.check();
}

TEST_CASE("hours of sun through windows are those recorded", "[recorded][window_hours]") {
    Record record{"window_hours"};
    for (const char* const name : {"flax-road", "sundet"})
        record.add(name, window_hours(example(name), date::year{2026}));
    // Sun from the south-west alone, or over a ridge at midsummer, or with a window turned round.
    for (const double faces_deg : {10.0, 35.0, 60.0, 100.0})
        for (const double north_deg : {60.0, 20.0}) {
            WorkedRoom worked;
            worked.faces_deg = faces_deg;
            site::Location l = worked.location();
            l.site.horizon =
                skyline({{0, north_deg}, {130, 60}, {131, 2}, {300, 2}, {301, north_deg}});
            l.room->windows.push_back(l.room->windows[0]);
            l.room->windows[1].wall = 2;
            record.add("hidden", window_hours(l, date::year{2026}));
        }
    // Sun in spring and late summer alone: through a gap in the ridge, too low for it in March,
    // under a head that a higher sun does not come below.
    WorkedRoom deep;
    deep.faces_deg = 101;
    deep.reveal_m = 1;
    site::Location gap = deep.location();
    gap.room->windows[0].height_m = 0.3;
    gap.site.horizon = skyline({{0, 60}, {99, 60}, {100, 12}, {102, 12}, {103, 60}});
    record.add("gap", window_hours(gap, date::year{2026}));
    site::Location dark = WorkedRoom{}.location();
    dark.site.horizon = rim(70);
    record.add("dark", window_hours(dark, date::year{2026}));
    record.check();
}

TEST_CASE("keys of several marks at once are those recorded", "[recorded][together]") {
    Record record{"together"};
    for (std::uint64_t seed = 301; seed <= 312; ++seed) {
        test::Dice dice{seed};
        const auto instant = [&](double minute) {
            return Instant::from_unix_s(1.77e9 + 60 * minute);
        };
        std::vector<KeyInterval> keys;
        for (int i = 0; i < 9; ++i) {
            KeyInterval k;
            k.mark = dice.index(4);
            const double from = dice.between(0, 200), to = from + dice.between(0.5, 90);
            k.possible = {instant(from - 5), instant(to + 5)};
            if (dice.chance(0.9)) k.span = Span{instant(from), instant(to)};
            if (dice.chance(0.7)) k.sure = Span{instant(from + (to - from) / 9), instant(to)};
            keys.push_back(k);
        }
        for (const Together& t : keys_together(keys))
            record.add("together", t);
    }
    record.check();
}

TEST_CASE("days of several rooms are those recorded", "[recorded][visit]") {
    Record record{"visits"};
    for (std::uint64_t seed = 401; seed <= 420; ++seed) {
        test::Dice dice{seed};
        std::vector<VisitRoom> rooms;
        const int count = dice.whole(1, 6);
        for (int i = 0; i < count; ++i) {
            const double latitude = dice.between(52, 52.3), longitude = dice.between(-1, -0.5);
            VisitRoom room{{Angle::degrees(latitude), Angle::degrees(longitude)}, {}};
            for (int k = dice.whole(0, 3); k > 0; --k) {
                const double from = dice.between(0, 600), to = from + dice.between(5, 120);
                room.holds.push_back(
                    {Instant::from_unix_s(60 * from), Instant::from_unix_s(60 * to)});
            }
            rooms.push_back(room);
        }
        VisitSettings settings;
        settings.speed_kmh = dice.between(4, 90);
        if (dice.chance(0.5)) settings.detour = 1;
        if (dice.chance(0.5)) settings.setup = Seconds{60 * dice.between(0, 50)};
        if (dice.chance(0.5)) settings.work = Seconds{60 * dice.between(1, 50)};
        record.add("plan", plan_visit(rooms, settings));
    }
    record.check();
}
