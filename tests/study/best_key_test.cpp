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
    CHECK(cut.fitting.front().altitude_deg[1] > whole.fitting.front().altitude_deg[1]);
    REQUIRE(cut.fitting.front().sure);
    CHECK(cut.fitting.front().sure->to <= cut.fitting.front().span->to);

    criteria.latest_end = std::chrono::hours{9};
    const auto none = press.on(february, criteria);
    CHECK_FALSE(none.fits());
    CHECK(none.why_not == "no clean key within the hours wanted");
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
    CHECK(press.on(february, criteria).why_not == "sure 56 min, 60 wanted");
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
