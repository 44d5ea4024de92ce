// A lock's leaks held against brute force in rooms thrown at random: bearings a tenth of a degree
// apart, minute by minute.

#include <date/date.h>
#include <fmt/format.h>

#include <catch2/catch.hpp>

#include "keyhour/study/lock.hpp"
#include "support/asked_rooms.hpp"
#include "support/random_location.hpp"

using namespace keyhour;
using namespace keyhour::study;
using test::Dice;

namespace {

constexpr Seconds day{86400}, minute{60}, within{15};

std::vector<room::PlanTurn> turns(const RoomStudy& study, double apart_deg) {
    std::vector<room::PlanTurn> out;
    const double doubt = study.room().bearing.within.in_degrees();
    const int n = static_cast<int>(std::ceil(doubt / apart_deg));
    for (int i = -n; i <= n; ++i)
        out.emplace_back(Azimuth{wrapped_turn(room::plan_bearing(study.room()).from_north +
                                              Angle::degrees(n > 0 ? doubt * i / n : 0))});
    return out;
}

struct Looked {
    std::size_t leaks = 0, alone = 0, marks = 0;
    std::vector<std::string> wrong;
};

class LockJudge {
public:
    LockJudge(const RoomStudy& study, const Span& lock, Looked& looked)
        : study_{study}, lock_{lock}, looked_{looked} {}

    void judge(std::size_t window) {
        const LockAnswer told = leaks_of_lock(study_, lock_.from, lock_.to);
        for (const Leak& leak : told.leaks) {
            if (leak.window != window) continue;
            mine_.push_back(leak);
            ++looked_.leaks;
            if (!leak.span) ++looked_.alone;
        }
        const auto coarse = turns(study_, 0.1), fine = turns(study_, 0.01);
        std::optional<Instant> first;
        std::vector<bool> reached(study_.room().marks.size());
        for (Instant t = lock_.from + Seconds{1}; t < lock_.to; t = t + minute) {
            const Moment m = study_.path().at(t);
            const bool is_in = comes_in(window, m, coarse);
            if (is_in && !first) first = t;
            if (is_in != is_told(t) && !near_an_end(t) && (is_in || !comes_in(window, m, fine)))
                complain("window {}: {} at {:.0f}", window, is_in ? "sun untold" : "no sun", s(t));
            if (is_in) see_marks(window, m, coarse, reached);
        }
        for (const CoverToHang& cover : told.covers)
            if (cover.window == window && first && cover.sure_by > *first + Seconds{1})
                complain("window {}: safe by {:.0f}, sun at {:.0f}", window, s(cover.sure_by),
                         s(*first));
        judge_marks(window, reached);
    }

private:
    template <class... Args>
    void complain(fmt::format_string<Args...> words, Args&&... args) {
        looked_.wrong.push_back(fmt::format(words, std::forward<Args>(args)...));
    }
    [[nodiscard]] double s(Instant t) const { return (t - lock_.from).count(); }

    [[nodiscard]] bool comes_in(std::size_t window, const Moment& m,
                                const std::vector<room::PlanTurn>& turns) const {
        return m.above_skyline_deg > 0 && std::ranges::any_of(turns, [&](const auto& turn) {
                   return study_.scene().open_area(window, turn.to_plan(m.toward)) >
                          room::smallest_patch_m2;
               });
    }
    [[nodiscard]] bool is_told(Instant t) const {
        return std::ranges::any_of(mine_, [&](const Leak& leak) {
            return leak.possible.from <= t && t <= leak.possible.to;
        });
    }
    [[nodiscard]] bool near_an_end(Instant t) const {
        return std::ranges::any_of(mine_, [&](const Leak& leak) {
            return std::abs((leak.possible.from - t).count()) < within.count() ||
                   std::abs((leak.possible.to - t).count()) < within.count();
        });
    }
    void see_marks(std::size_t window, const Moment& m, const std::vector<room::PlanTurn>& turns,
                   std::vector<bool>& reached) const {
        for (std::size_t mark = 0; mark < reached.size(); ++mark)
            reached[mark] =
                reached[mark] || std::ranges::any_of(turns, [&](const auto& turn) {
                    return study_.scene().coverage(mark, window, turn.to_plan(m.toward)) >
                           least_share_on_mark;
                });
    }
    void judge_marks(std::size_t window, const std::vector<bool>& reached) {
        for (std::size_t mark = 0; mark < reached.size(); ++mark) {
            const bool told = std::ranges::any_of(mine_, [&](const Leak& leak) {
                return std::ranges::find(leak.marks, mark) != leak.marks.end();
            });
            if (told) ++looked_.marks;
            if (told == reached[mark]) continue;
            // Between two minutes, perhaps, and two bearings.
            std::vector<bool> closely(reached.size());
            const auto fine = turns(study_, 0.02);
            for (Instant t = lock_.from; told && t < lock_.to && !closely[mark]; t = t + Seconds{5})
                if (study_.path().at(t).above_skyline_deg > 0)
                    see_marks(window, study_.path().at(t), fine, closely);
            if (!closely[mark])
                complain("window {}: mark {} {}", window, mark, told ? "not lit" : "untold");
        }
    }

    const RoomStudy& study_;
    const Span& lock_;
    Looked& looked_;
    std::vector<Leak> mine_;
};

/// @param dates  in each room
void judge_rooms(std::uint64_t first, std::uint64_t last, int dates) {
    Looked all;
    for (std::uint64_t seed = first; seed <= last; ++seed) {
        Dice dice{seed};
        const site::Location location = test::random_location(dice);
        const date::sys_days d{date::year{2026} / 1 / 1};
        const Instant year = Instant::from_unix(d.time_since_epoch());
        for (int i = 0; i < dates; ++i) {
            const Instant from = year + dice.between(1, 363) * day;
            const Span lock{from, from + dice.between(2, 8) * Seconds{3600}, false, false};
            const RoomStudy study{location, SharedTrack::make(from - day, lock.to + day)};
            for (std::size_t w = 0; w < study.room().windows.size(); ++w) {
                const std::size_t before = all.wrong.size();
                LockJudge{study, lock, all}.judge(w);
                for (std::size_t k = before; k < all.wrong.size(); ++k)
                    FAIL_CHECK(fmt::format("room {} lock {}: {}", seed, i, all.wrong[k]));
            }
        }
    }
    INFO(fmt::format("{} leaks, {} alone, {} marks", all.leaks, all.alone, all.marks));
    const auto rooms = last - first + 1;
    CHECK(all.leaks > rooms);
    CHECK(all.marks > rooms / 4);
    CHECK(all.alone > 0);
}

}  // namespace

TEST_CASE("a lock's leaks at any bearing are what brute force finds", "[study]") {
    judge_rooms(1, 20, 2);
}

TEST_CASE("a lock's leaks are what brute force finds in many rooms", "[.300-rooms]") {
    const auto [first, last] = test::asked_rooms();
    judge_rooms(first, last, 4);
}
