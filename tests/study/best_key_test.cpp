// The choice of a date: which intervals fit, and why none does.

#include "keyhour/study/best_key.hpp"

#include <catch2/catch.hpp>

#include "keyhour/site/dates.hpp"
#include "keyhour/study/mark_light.hpp"
#include "read/location_file.hpp"

using namespace keyhour;
using namespace date::literals;

namespace {

struct Press {
    site::Location location = *read::read_location(KEYHOUR_LOCATIONS "/tallow-lane.toml");
    std::shared_ptr<const study::SharedTrack> track =
        study::SharedTrack::make(Instant::from_unix_s(1767225600),   // 2026-01-01
                                 Instant::from_unix_s(1798761600));  // 2027-01-01
    study::RoomStudy room{location, track};

    study::KeyChoice on(site::LocalDate date, const study::KeyCriteria& criteria = {}) const {
        auto choice = study::key_choices(room, std::vector{date}, {}, criteria).front().choice;
        study::describe(room, {}, choice);
        return choice;
    }
};

constexpr site::LocalDate february = 2026_y / 2 / 17;

}  // namespace

TEST_CASE("a date's choice is what key finds on it, whatever other dates are asked for",
          "[study]") {
    const Press press;
    std::vector<site::LocalDate> dates;
    for (site::LocalDate d = 2026_y / 2 / 1; d <= site::LocalDate{2026_y / 4 / 10};
         d = site::next_day(d))
        dates.push_back(d);
    const auto choices = study::key_choices(press.room, dates, {}, {});
    REQUIRE(choices.size() == dates.size());
    const site::Zone& zone = press.location.site.zone;
    for (std::size_t i = 0; i < dates.size(); i += 7) {
        const auto alone = study::clean_key(press.room, zone.start_of(dates[i]),
                                            zone.start_of(site::next_day(dates[i])));
        CHECK(choices[i].date == dates[i]);
        std::size_t held = 0;
        for (const auto& k : alone)
            held += k.span.has_value();
        REQUIRE(choices[i].choice.fitting.size() == held);
        if (held == 0) continue;
        const auto& best = choices[i].choice.fitting.front();
        CHECK((best.span->from - alone.front().span->from).count() == Approx(0).margin(0.2));
        CHECK((best.span->to - alone.front().span->to).count() == Approx(0).margin(0.2));
    }
}

TEST_CASE("hours cut an interval, and the cut end names no edge", "[study]") {
    const Press press;
    const auto whole = press.on(february);
    REQUIRE(whole.fits());
    const study::Span span = *whole.fitting.front().span;  // 12:58 to 14:19
    study::KeyCriteria criteria;
    criteria.latest_end = std::chrono::hours{14};
    const auto cut = press.on(february, criteria);
    REQUIRE(cut.fits());
    CHECK((cut.fitting.front().span->from - span.from).count() == Approx(0).margin(0.2));
    CHECK(site::iso_local(cut.fitting.front().span->to, press.location.site.zone) ==
          "2026-02-17T14:00:00+00:00");
    CHECK(cut.fitting.front().ends_by.kind == room::Edge::none);
    CHECK(cut.fitting.front().begins_by.kind == whole.fitting.front().begins_by.kind);
    CHECK(cut.fitting.front().begins_by.kind != room::Edge::none);
    CHECK(cut.fitting.front().altitude_deg[1] > whole.fitting.front().altitude_deg[1]);
    REQUIRE(cut.fitting.front().sure);
    CHECK(cut.fitting.front().sure->to <= cut.fitting.front().span->to);

    criteria.latest_end = std::chrono::hours{9};
    const auto none = press.on(february, criteria);
    CHECK_FALSE(none.fits());
    CHECK(none.why_not == "no clean key within the hours wanted");
}

TEST_CASE("an end that the hours cut within its last second names no edge", "[best_key]") {
    const Press press;
    const auto whole = press.on(february).fitting.at(0);
    const auto second_of = [&](Instant t) {
        return std::chrono::seconds{static_cast<long>(
            std::floor((t - press.location.site.zone.start_of(february)).count()))};
    };
    REQUIRE(whole.begins_by.kind != room::Edge::none);
    REQUIRE(whole.ends_by.kind != room::Edge::none);
    study::KeyCriteria criteria;
    criteria.earliest_start = second_of(whole.span->from) + std::chrono::seconds{1};
    criteria.latest_end = second_of(whole.span->to);
    const auto cut = press.on(february, criteria).fitting.at(0);
    CHECK((cut.span->from - whole.span->from).count() < 1);
    CHECK((whole.span->to - cut.span->to).count() < 1);
    CHECK(cut.span->runs_at_start);
    CHECK(cut.span->runs_at_end);
    CHECK(cut.begins_by.kind == room::Edge::none);
    CHECK(cut.ends_by.kind == room::Edge::none);
}

TEST_CASE("what does not fit says by how much", "[study]") {
    const Press press;
    study::KeyCriteria criteria;
    criteria.min_hold = Seconds{2 * 3600};
    const auto hold = press.on(february, criteria);
    CHECK_FALSE(hold.fits());
    REQUIRE(hold.nearest);
    CHECK(hold.why_not == "hold 81 min, 120 wanted");
    criteria.min_hold = Seconds{0};
    criteria.min_sure = Seconds{60 * 60};
    CHECK(press.on(february, criteria).why_not == "56 min at any bearing, 60 wanted");
}

TEST_CASE("a key outside of the hours wanted is named", "[study]") {
    const Press press;
    const study::Span whole = *press.on(february).fitting.front().span;
    study::KeyCriteria criteria;
    criteria.latest_end = std::chrono::hours{9};
    auto none = press.on(february, criteria);
    REQUIRE(none.nearest);
    CHECK(none.nearest->span->from == whole.from);
    // A shorter one within the hours is nearer, though it is too short.
    study::KeyChoice short_one;
    short_one.nearest = none.nearest;
    short_one.nearest->span->to = whole.from + Seconds{300};
    short_one.why_not = "hold 5 min, 30 wanted";
    study::add_choice(none, short_one, false);
    CHECK(none.why_not == "hold 5 min, 30 wanted");
}

namespace {

/// What settings would have to change by, degrees and percent, for the mark at an instant.
double change_at(const study::RoomStudy& room, const study::KeySettings& wanted, std::size_t mark,
                 std::size_t camera, std::size_t window, Instant t) {
    const study::Moment m = room.path().at(t);
    if (m.above_skyline_deg <= 0 || m.altitude_deg <= 0) return 1e9;
    const room::Point3 sun = room.sun(m);
    if (room.scene().in_front(window, sun) <= 0) return 1e9;
    const double lit = room.scene().coverage(mark, window, sun);
    if (lit <= 0) return 1e9;
    const auto off = [](double value, const double(&limits)[2]) {
        return std::max({0.0, limits[0] - value, value - limits[1]});
    };
    const room::Camera& seen_by = room.room().cameras[camera];
    const double angle = std::abs(room::key_angle(room.room(), seen_by, sun).in_degrees());
    return 100 * std::max(0.0, wanted.coverage - lit) + off(m.altitude_deg, wanted.altitude_deg) +
           off(angle, wanted.key_angle_deg) + (room::in_frame(room.room(), seen_by, sun) ? 180 : 0);
}

}  // namespace

TEST_CASE("a near miss needs the smallest change of settings of any second", "[study]") {
    const Press press;
    for (const site::LocalDate date : {2026_y / 2 / 17, 2026_y / 11 / 20}) {
        const auto kept = press.on(date);
        REQUIRE(kept.fits());
        const study::KeyInterval& key = kept.fitting.front();
        REQUIRE(key.camera);
        study::KeySettings wanted;  // half a degree below the least that the hold has
        wanted.key_angle_deg[0] = 0;
        wanted.key_angle_deg[1] = std::min(key.key_angle_deg[0], key.key_angle_deg[1]) - 0.5;
        wanted.mark = press.room.room().marks[key.mark].name;
        wanted.window = press.room.room().windows[key.window].name;
        const site::Zone& zone = press.location.site.zone;
        const Instant from = zone.start_of(date), to = zone.start_of(site::next_day(date));
        double least = 1e9;
        for (Instant t = from; t < to; t = t + Seconds{5})
            least = std::min(least,
                             change_at(press.room, wanted, key.mark, *key.camera, key.window, t));
        study::KeyChoice choice;
        study::add_miss(press.room, std::vector{date}, wanted, choice);
        REQUIRE(choice.miss);
        CAPTURE(site::iso_date(date), least, choice.miss->reason);
        CHECK(choice.miss->change == Approx(least).margin(0.02));
        CHECK(choice.miss->change <= 0.51);
        CHECK(change_at(press.room, wanted, key.mark, *key.camera, key.window, *choice.miss->at) ==
              Approx(choice.miss->change).margin(1e-6));
    }
}

TEST_CASE("a level wanted is that of the weaker end", "[study]") {
    const Press press;
    const auto whole = press.on(february);
    REQUIRE(whole.fits());
    const auto& k = whole.fitting.front();
    // Direct sun alone, as the light at the mark counts it: the whole mark is lit within the hold.
    const study::RoomLight light{press.room};
    const auto lit = [&](Instant t) {
        return light.at(k.mark, k.window, press.room.path().at(t)).windows[k.window].direct_lx;
    };
    const double level = std::min(lit(k.span->from + Seconds{1}), lit(k.span->to - Seconds{1}));
    study::KeyCriteria criteria;
    criteria.min_level_lx = level * 0.9;
    CHECK(press.on(february, criteria).fits());
    criteria.min_level_lx = level * 1.1;
    const auto weak = press.on(february, criteria);
    CHECK_FALSE(weak.fits());
    CHECK(weak.why_not.find(" lx, ") != std::string::npos);
}

TEST_CASE("the best of a range is the best of its dates", "[study]") {
    const Press press;
    std::vector<site::LocalDate> dates;
    for (int d = 1; d <= 28; ++d)
        dates.push_back(2026_y / 2 / d);
    auto choices = study::key_choices(press.room, dates, {}, {});
    Seconds longest_sure{0};
    study::KeyChoice total;
    for (auto& day : choices) {
        for (const auto& k : day.choice.fitting)
            longest_sure = std::max(longest_sure, k.sure_hold());
        study::add_choice(total, day.choice, false);
    }
    REQUIRE(total.fitting.size() == 1);
    CHECK(total.fitting.front().sure_hold() == longest_sure);
    CHECK(total.why_not.empty());
}

TEST_CASE("the first choice added to none is taken whole, with why it does not fit", "[study]") {
    study::KeyChoice total, other;
    other.why_not = "no clean key within the hours wanted";
    other.is_outside_hours = true;
    other.miss = study::NearestMiss{};
    other.miss->mark = 3;
    study::add_choice(total, other, true);
    CHECK(total.why_not == other.why_not);
    CHECK(total.is_outside_hours);
    REQUIRE(total.miss);
    CHECK(total.miss->mark == 3);
}
