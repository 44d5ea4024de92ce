// `key --by lamp`, `lock` and `lamp` say the same of the same day, in rooms thrown at random, and
// it is what brute force finds minute by minute.

#include <catch2/catch.hpp>

#include "keyhour/study/lamp_day.hpp"
#include "support/random_location.hpp"

using namespace keyhour;
using namespace keyhour::study;
using test::Dice;

namespace {

constexpr Seconds minute{60}, hair{0.2};
constexpr double day_s = 86400;

bool comes_in(const RoomStudy& study, std::size_t window, const Moment& m,
              const room::PlanTurn& turn) {
    return m.above_skyline_deg > 0 &&
           study.scene().open_area(window, turn.to_plan(m.toward)) > room::smallest_patch_m2;
}

site::Location random_place(Dice& dice) {
    site::Location location = test::random_location(dice);
    for (room::Window& w : location.room->windows)
        if (dice.chance(0.15)) w.cover = room::Cover::sheer;
    site::Lamp lamp;
    lamp.name = "key";
    lamp.photometry = light::DataSheet{{4000, 5}, Angle::degrees(30), {}, {}, 0.3};
    location.lamps.push_back(lamp);
    return location;
}

struct Tally {
    std::size_t spans = 0, sure = 0, locks = 0, covers = 0, leaks = 0, places = 0;
};

/// One room on one date.
class Judge {
public:
    Judge(const site::Location& location, site::LocalDate date, Seconds lock, Tally& tally)
        : date_{date},
          midnight_{location.site.zone.start_of(date)},
          seasons_{
              location,
              SharedTrack::make(midnight_ - Seconds{2 * day_s}, midnight_ + Seconds{5 * day_s}),
              date, site::LocalDate{date::sys_days{date} + date::days{1}}},
          study_{seasons_.on(date)},
          tally_{tally} {
        settings_.lock = lock;
        settings_.earliest = Seconds{site::usual_working_hours.from};
        settings_.latest = Seconds{site::usual_working_hours.to};
    }

    void judge() {
        SeasonalSun sun{seasons_,
                        date_,
                        site::LocalDate{date::sys_days{date_} + date::days{1}},
                        {.marks = true, .every = true}};
        const RoomSun& here = sun.on(date_);
        const auto choices = lamp_choices(here, date_, true, settings_, Edges::left_out);
        look();
        for (const LampChoice& choice : choices)
            judge_span(choice);
        if (choices.empty()) return;
        judge_covers_alone(choices.front().span);
        for (const LampChoice& choice : choices)
            if (choice.lock) return judge_lock(here, choice);
    }

private:
    /// Which window lets sun in at which minute of the hours, at the stated bearing.
    void look() {
        lit_.resize(study_.room().windows.size());
        for (Instant t = from() + Seconds{1}; t < to(); t = t + minute)
            moments_.push_back(study_.path().at(t));
        for (std::size_t w = 0; w < lit_.size(); ++w)
            for (const Moment& m : moments_)
                lit_[w].push_back(comes_in(study_, w, m, study_.bearings().stated));
    }

    void judge_span(const LampChoice& choice) {
        const SunFreeSpan& s = choice.span;
        if (!s.span) return;
        ++tally_.spans;
        if (s.sure) ++tally_.sure;
        for (std::size_t i = 0; i < moments_.size(); ++i) {
            const Instant t = moments_[i].at;
            if (t < s.span->from + hair || t > s.span->to - hair) continue;
            if (lit_[s.window][i]) FAIL_CHECK("sun through the key window in a span free of it");
            if (s.sure && t > s.sure->from + hair && t < s.sure->to - hair && i % 5 == 0)
                for (const room::PlanTurn& turn : study_.bearings().all)
                    if (comes_in(study_, s.window, moments_[i], turn))
                        FAIL_CHECK("sun at another bearing in what is sure");
            for (std::size_t w = 0; w < lit_.size(); ++w) {
                if (w == s.window || !lit_[w][i] || !lets_sun_in(study_.room().windows[w]))
                    continue;
                ++tally_.leaks;
                if (!is_covered(s.covers, w, t)) FAIL_CHECK("a leak without its cover");
            }
        }
    }

    static bool is_covered(const std::vector<CoverToHang>& covers, std::size_t window, Instant t) {
        return std::any_of(covers.begin(), covers.end(), [&](const CoverToHang& cover) {
            return cover.window == window && cover.sure_by <= t + hair;
        });
    }

    void same_covers(const std::vector<CoverToHang>& one, const std::vector<CoverToHang>& other) {
        REQUIRE(one.size() == other.size());
        tally_.covers += one.size();
        for (const CoverToHang& cover : one) {
            const auto same = std::find_if(other.begin(), other.end(), [&](const CoverToHang& c) {
                return c.window == cover.window;
            });
            REQUIRE(same != other.end());
            CHECK(std::abs((same->sure_by - cover.sure_by).count()) < hair.count());
            CHECK(same->needed_by.has_value() == cover.needed_by.has_value());
            CHECK(same->width_m == cover.width_m);
        }
    }

    /// `lock` asked alone about a span that `key --by lamp` tells.
    void judge_covers_alone(const SunFreeSpan& s) {
        const Span& span = s.told();
        const RoomSun alone{study_, span.from, span.to, {}};
        same_covers(s.covers,
                    leaks_of_lock(alone, span.from, span.to, s.window, Landing::left_out).covers);
    }

    /// `lock --minutes --key-window` and `lamp` asked alone, and the whole day.
    void judge_lock(const RoomSun& here, const LampChoice& choice) {
        ++tally_.locks;
        const RoomSun alone{study_, from(), to(), {}};
        const auto lock =
            best_lock(alone, from(), to(), settings_.lock, choice.span.window, Landing::left_out);
        REQUIRE(lock);
        CHECK(std::abs((lock->lock.from - choice.lock->lock.from).count()) < hair.count());
        same_covers(choice.lock->covers, lock->covers);
        LampDayQuestion q;
        q.window = choice.span.window;
        q.mark = choice.span.mark;
        q.camera = choice.span.camera;
        q.lock = settings_.lock;
        q.landing = Landing::left_out;
        q.daylight = false;
        q.lamp = LampQuestion{};
        q.lamp->through_middle = true;
        const LampDay day = lamp_day(here, date_, true, q);
        REQUIRE(day.lock);
        CHECK(day.lock->lock.from == choice.lock->lock.from);
        CHECK(day.is_free());
        same_covers(day.lock->covers, lock->covers);
        CHECK(day.cloth.size() == lock->covers.size());
        LampQuestion of_lamp = *q.lamp;
        of_lamp.window = q.window;
        of_lamp.mark = q.mark;
        const LampReport report = report_lamp(study_, nullptr, of_lamp);
        CHECK(day.lamp->light.has_value() == report.light.has_value());
        if (!report.light) return;
        ++tally_.places;
        CHECK(day.lamp->light->level_lx == report.light->level_lx);
    }

    [[nodiscard]] Instant from() const { return midnight_ + *settings_.earliest; }
    [[nodiscard]] Instant to() const { return midnight_ + *settings_.latest; }

    site::LocalDate date_;
    Instant midnight_;
    SeasonalStudy seasons_;
    const RoomStudy& study_;
    LampSettings settings_;
    Tally& tally_;
    std::vector<Moment> moments_;
    std::vector<std::vector<bool>> lit_;
};

}  // namespace

TEST_CASE("key by lamp, lock and lamp agree in rooms thrown at random, and with brute force",
          "[study][lamp]") {
    Tally tally;
    for (std::uint64_t seed = 1; seed <= 200; ++seed) {
        Dice dice{seed};
        const site::Location location = random_place(dice);
        const site::LocalDate date{date::sys_days{date::year{2026} / 1 / 1} +
                                   date::days{dice.whole(0, 360)}};
        CAPTURE(seed, date);
        Judge{location, date, Seconds{60.0 * dice.whole(30, 240)}, tally}.judge();
    }
    CAPTURE(tally.spans, tally.sure, tally.locks, tally.covers, tally.leaks, tally.places);
    CHECK(tally.spans > 400);
    CHECK(tally.sure > 300);
    CHECK(tally.locks > 100);
    CHECK(tally.covers > 100);
    CHECK(tally.leaks > 10000);
    CHECK(tally.places > 50);
}
