// Spans free of sun, and the sun in a room, span by span.

#include <catch2/catch.hpp>

#include "keyhour/study/sun_free.hpp"
#include "lamp_places.hpp"
#include "recorded.hpp"
#include "worked_room.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

namespace {

std::vector<LampSettings> kinds_of_settings() {
    std::vector<LampSettings> all(7);
    all[0].lock = Seconds{600};
    all[1].as_is = true;
    all[2].earliest = Seconds{8 * 3600};
    all[2].latest = Seconds{20 * 3600};
    all[3].earliest = Seconds{11.5 * 3600};
    all[3].as_is = true;
    all[3].lock = Seconds{3600};
    all[4].latest = Seconds{86400};
    all[5].lock = Seconds{11 * 3600};
    all[6].earliest = Seconds{12 * 3600};
    all[6].latest = Seconds{13 * 3600};
    all[6].lock = Seconds{60};
    return all;
}

void note_free(Record& record, const OnDates& on, std::size_t every = 1) {
    const auto settings = kinds_of_settings();
    const site::LocalDate before{date::sys_days{on.first} - date::days{1}};
    const RoomSun sun{on.study, on.start_of(before), on.start_of(on.last, 2), {false, true}};
    for (site::LocalDate d = on.first; d <= on.last;
         d = site::LocalDate{date::sys_days{d} + date::days{1}})
        for (std::size_t i = 0; i < settings.size(); i += every)
            for (const SunFreeSpan& span :
                 sun_free_spans(sun, d, d == on.first, settings[i],
                                i % 3 == 1 ? Edges::left_out : Edges::named))
                record.add("free", std::pair{i, span});
}

}  // namespace

TEST_CASE("spans free of sun are those recorded", "[recorded][sun_free]") {
    Record record{"sun_free"};
    for (const char* name : {"flax-road", "sundet", "tallow-lane", "bindery-and-wharf/bindery"})
        note_free(record, {place_read(name), 2026_y / 6 / 9, 2026_y / 6 / 10});
    record.check();
}

TEST_CASE("spans free of sun at changes of clocks and far north are those recorded",
          "[recorded][sun_free]") {
    Record record{"sun_free_far"};
    note_free(record, {place_read("flax-road"), 2026_y / 4 / 5, 2026_y / 4 / 5});
    note_free(record, {place_read("tallow-lane"), 2026_y / 3 / 29, 2026_y / 3 / 29});
    site::Location l = place_read("bindery-and-wharf/bindery");
    l.site.observer.latitude = Angle::degrees(75);
    note_free(record, {l, 2026_y / 6 / 20, 2026_y / 6 / 21}, 2);
    note_free(record, {l, 2026_y / 12 / 20, 2026_y / 12 / 21}, 2);
    record.check();
}

TEST_CASE("spans free of sun in random rooms are those recorded", "[recorded][sun_free]") {
    Record record{"sun_free_random"};
    for (const std::uint64_t seed : {2U, 3U, 5U, 9U, 14U})
        note_free(record, {random_place(seed), 2026_y / 4 / 12, 2026_y / 4 / 12});
    record.check();
}

TEST_CASE("spans free of sun of what is named alone, and by bearings, are those recorded",
          "[recorded][sun_free]") {
    Record record{"sun_free_asked"};
    const site::LocalDate d = 2026_y / 6 / 9;
    const OnDates on{place_read("flax-road"), d, d};
    for (const SunFreeSpan& span : sun_free_spans(on.study, d, true))
        record.add("all", span);
    LampSettings asked;
    asked.window = "lane window";
    asked.mark = "block";
    for (const SunFreeSpan& span : sun_free_spans(on.study, d, true, asked))
        record.add("window", span);
    asked = {};
    asked.camera = "B";
    for (const SunFreeSpan& span : sun_free_spans(on.study, d, true, asked))
        record.add("camera", span);
    asked.mark = "block";
    CHECK(sun_free_spans(on.study, d, true, asked).empty());
    // A lock a little longer than the stated span: only other bearings leave room for it.
    site::Location wide = place_read("flax-road");
    wide.room->bearing.within = Angle::degrees(6);
    const OnDates doubtful{wide, d, d};
    const RoomSun sun{
        doubtful.study, doubtful.start_of(d, -1), doubtful.start_of(d, 2), {false, true}};
    asked = {};
    asked.earliest = Seconds{9 * 3600};
    asked.latest = Seconds{17 * 3600};
    asked.mark = "block";
    for (const bool as_is : {false, true}) {
        asked.as_is = as_is;
        asked.lock = Seconds{1800};
        for (const SunFreeSpan& span : sun_free_spans(sun, d, true, asked, Edges::left_out))
            for (const double over_s : {-1.0, 60.0, 900.0}) {
                asked.lock = span.told().length() + Seconds{over_s};
                for (const SunFreeSpan& other :
                     sun_free_spans(sun, d, true, asked, Edges::left_out))
                    if (!other.span || over_s < 0) record.add("longer", other);
            }
    }
    record.check();
}

TEST_CASE("the sun in a room is that recorded", "[recorded][sun_in_room]") {
    Record record{"sun_in_room"};
    const site::LocalDate d = 2026_y / 4 / 12;
    const auto look = [&](const OnDates& on) {
        const room::Room& room = on.study.room();
        const Instant from = on.start_of(d), to = on.start_of(d, 1);
        for (std::size_t w = 0; w < room.windows.size(); ++w) {
            record.add("lets_in",
                       std::pair{lets_sun_in(room.windows[w]), sun_in_step(on.study, w)});
            const auto spans = sun_spans(on.study, w, from, to);
            record.add("spans", spans);
            record.add("time", sun_time(on.study, w, from, to));
            for (const Span& s : spans)
                record.add(
                    "edges",
                    std::pair{sun_in_edge(on.study, w, s.from - Seconds{1}, s.from + Seconds{1}),
                              sun_in_edge(on.study, w, s.to + Seconds{1}, s.to - Seconds{1})});
            for (const Moment& m : on.study.path().samples(from, to, Seconds{4800}))
                for (const room::PlanTurn& turn : on.study.bearings().some) {
                    record.add("margin", sun_in_margin(on.study, w, m, turn));
                    if (m.above_skyline_deg < 0 || room.marks.empty()) continue;
                    std::string troubled;
                    for (std::size_t mark = 0; mark < room.marks.size(); ++mark)
                        for (const auto camera : on.study.cameras_of(mark))
                            for (const double near_m : {0.0, 0.5, 2.0})
                                for (const auto& by : {camera, std::optional<std::size_t>{}})
                                    troubled += troubles(on.study, w, mark, by, near_m, m, turn)
                                                    ? 'y'
                                                    : 'n';
                    record.add("troubles", troubled);
                }
        }
    };
    for (const char* name : {"flax-road", "sundet", "tallow-lane"})
        look({place_read(name), d, d});
    for (const std::uint64_t seed : {2U, 5U, 9U})
        look({random_place(seed), d, d});
    record.check();
}

TEST_CASE("covers for a mark are those recorded", "[recorded][sun_in_room]") {
    Record record{"cover_spans"};
    const site::LocalDate d = 2026_y / 4 / 12;
    const auto look = [&](const OnDates& on, double from_h, double to_h) {
        for (std::size_t mark = 0; mark < on.study.room().marks.size(); ++mark)
            for (const auto camera : on.study.cameras_of(mark))
                for (const double near_m : {0.0, 1.0})
                    record.add("covers",
                               cover_spans(on.study, mark % on.study.room().windows.size(), mark,
                                           camera, near_m, on.start_of(d) + Seconds{3600 * from_h},
                                           on.start_of(d) + Seconds{3600 * to_h}));
    };
    for (const char* name : {"flax-road", "sundet", "tallow-lane"}) {
        const OnDates on{place_read(name), d, d};
        look(on, 7, 18);
        look(on, 11.5, 11.6);
    }
    for (const std::uint64_t seed : {2U, 5U, 9U, 14U})
        look({random_place(seed), d, d}, 0, 24);
    record.check();
}

TEST_CASE("the loss that grew most is told, by hand", "[sun_in_room]") {
    using room::Edge;
    const auto most = [](const std::vector<room::Loss>& without,
                         const std::vector<room::Loss>& with) { return grown_most(without, with); };
    CHECK(most({}, {}).kind == Edge::none);
    CHECK(most({{{Edge::head, 0}, 0.0}}, {}).kind == Edge::none);
    CHECK(most({{{Edge::head, 0}, 0.3}, {{Edge::sill, 0}, 0.2}}, {}).kind == Edge::head);
    // Grown by 0.1 and by 0.2.
    CHECK(most({{{Edge::head, 0}, 0.5}, {{Edge::sill, 0}, 0.3}},
               {{{Edge::sill, 0}, 0.1}, {{Edge::head, 0}, 0.4}})
              .kind == Edge::sill);
    // Less than before is no growth.
    CHECK(most({{{Edge::head, 0}, 0.2}}, {{{Edge::head, 0}, 0.4}}).kind == Edge::none);
    // Equal growth: the first.
    CHECK(most({{{Edge::bar, 0}, 0.25}, {{Edge::sill, 0}, 0.25}}, {}).kind == Edge::bar);
    // Two buildings are two edges.
    CHECK(
        most({{{Edge::building, 0}, 0.5}, {{Edge::building, 1}, 0.4}}, {{{Edge::building, 0}, 0.4}})
            .index == 1);
}

TEST_CASE("what ends a span as it is, is told past sheers and blackouts", "[recorded][sun_free]") {
    Record record{"sun_free_as_is"};
    const site::LocalDate d = 2026_y / 4 / 12;
    const auto note = [&](site::Location l) {
        for (std::size_t hung = 0; hung < l.room->windows.size(); ++hung) {
            for (std::size_t w = 0; w < l.room->windows.size(); ++w)
                l.room->windows[w].cover = w == hung ? room::Cover::sheer : room::Cover::open;
            const OnDates on{l, d, d};
            LampSettings settings;
            settings.as_is = true;
            settings.lock = Seconds{900};
            for (const SunFreeSpan& span : sun_free_spans(on.study, d, true, settings))
                if (span.mark == 0)
                    record.add("as_is", std::pair{std::pair{span.window, span.told()},
                                                  std::pair{span.begins_by, span.ends_by}});
        }
    };
    note(place_read("flax-road"));
    for (const std::uint64_t seed : {9U, 14U, 20U})
        note(random_place(seed));
    record.check();
}

TEST_CASE("the sun low over the skyline is cut off by what stands nearer", "[sun_in_room]") {
    // The worked room stands on a plain.
    WorkedRoom worked;
    const site::LocalDate d = 2026_y / 12 / 21;
    const OnDates on{worked.location(), d, d};
    Instant t = on.start_of(d) + Seconds{14 * 3600};
    while (on.study.path().at(t).altitude_deg > 0.5)
        t = t + Seconds{10};
    const auto kind = [&](Instant without) {
        return sun_in_edge(on.study, 0, without, t - Seconds{3600}).kind;
    };
    CHECK(on.study.path().at(t).above_skyline_deg > 0.4);
    CHECK(kind(t) != room::Edge::horizon);
    CHECK(kind(t + Seconds{1200}) == room::Edge::horizon);
}

TEST_CASE("spans free of sun in great doubt are those recorded, in their order",
          "[recorded][sun_free]") {
    Record record{"sun_free_order"};
    const site::LocalDate d = 2026_y / 6 / 9;
    for (const double within_deg : {15.0, 40.0})
        for (const char* name : {"flax-road", "tallow-lane", "sundet"}) {
            site::Location l = place_read(name);
            l.room->bearing.within = Angle::degrees(within_deg);
            for (room::Window& w : l.room->windows)
                w.cover = room::Cover::open;
            const OnDates on{l, d, d};
            const RoomSun sun{on.study, on.start_of(d, -1), on.start_of(d, 2), {false, true}};
            for (const double minutes : {1.0, 10.0, 45.0}) {
                LampSettings settings;
                settings.lock = Seconds{60 * minutes};
                settings.earliest = Seconds{5 * 3600};
                settings.latest = Seconds{21 * 3600};
                for (const SunFreeSpan& span :
                     sun_free_spans(sun, d, true, settings, Edges::left_out))
                    record.add("span", std::pair{std::pair{span.window, span.mark},
                                                 std::pair{span.span, span.sure}});
            }
        }
    record.check();
}
