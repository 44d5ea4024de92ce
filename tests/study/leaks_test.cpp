#include <catch2/catch.hpp>
#include <map>

#include "flax_road.hpp"
#include "keyhour/study/lock.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

constexpr Seconds step{10};
constexpr double margin_s = 10.2;  // a step, and the searches' own tolerance
constexpr int surely_seen = 24;    // steps: landings are looked at every two minutes

/// How many steps each surface (or mark, or camera) is lit.
struct Landed {
    std::map<std::string, int> surfaces;
    std::map<std::size_t, int> marks, cameras;
};

Landed landing(const RoomStudy& study, std::size_t window, Instant from, Instant to) {
    Landed out;
    for (Instant t = from; t < to; t = t + step) {
        const room::Point3 sun = study.sun(study.path().at(t));
        std::map<std::size_t, bool> seen;
        for (const room::Patch& patch : study.scene().patches(window, sun)) {
            ++out.surfaces[room::words(patch.surface, study.room())];
            for (std::size_t c = 0; c < study.room().cameras.size(); ++c)
                if (room::in_frame(study.room(), study.room().cameras[c], patch)) seen[c] = true;
        }
        for (const auto& [camera, yes] : seen)
            if (yes) ++out.cameras[camera];
        for (std::size_t mark = 0; mark < study.room().marks.size(); ++mark)
            if (study.scene().coverage(mark, window, sun) > 0) ++out.marks[mark];
    }
    return out;
}

/// All that is told was seen, and all that lasted was told.
template <class Key>
void compare(const std::vector<Key>& told, const std::map<Key, int>& seen) {
    for (const Key& key : told)
        CHECK(seen.contains(key));
    for (const auto& [key, steps] : seen)
        if (steps > surely_seen) CHECK(std::find(told.begin(), told.end(), key) != told.end());
}

}  // namespace

TEST_CASE("a lock's leaks are those that stepping by ten seconds finds", "[study]") {
    std::size_t leaks = 0;
    for (const auto& day : {date::year{2026} / 1 / 20, date::year{2026} / 6 / 10}) {
        const OnDates hatters{flax_road(), day, day};
        const Instant from = hatters.start_of(day) + Seconds{9 * 3600.0};
        const Instant to = from + Seconds{7 * 3600.0};
        const LockAnswer told = leaks_of_lock(hatters.study, from, to);
        for (std::size_t w = 0; w < hatters.study.room().windows.size(); ++w) {
            std::vector<Leak> mine;
            for (const Leak& leak : told.leaks)
                if (leak.window == w && leak.span) mine.push_back(leak);
            const auto stepped = runs(from, to, step, [&](Instant t) {
                const Moment m = hatters.study.path().at(t);
                return m.above_skyline_deg > 0 &&
                       hatters.study.scene().open_area(w, hatters.study.sun(m)) >
                           room::smallest_patch_m2;
            });
            CAPTURE(w, site::LocalDate{day});
            REQUIRE(mine.size() == stepped.size());
            leaks += mine.size();
            for (std::size_t i = 0; i < mine.size(); ++i) {
                CHECK((mine[i].span->from - stepped[i].from).count() == Approx(0).margin(margin_s));
                CHECK((mine[i].span->to - stepped[i].to).count() == Approx(0).margin(margin_s));
                const Landed seen = landing(hatters.study, w, mine[i].span->from, mine[i].span->to);
                std::vector<std::string> surfaces;
                for (const room::Surface& surface : mine[i].surfaces)
                    surfaces.push_back(room::words(surface, hatters.study.room()));
                compare(surfaces, seen.surfaces);
                compare(mine[i].marks, seen.marks);
                compare(mine[i].cameras, seen.cameras);
            }
            const auto cover = std::find_if(told.covers.begin(), told.covers.end(),
                                            [&](const CoverToHang& c) { return c.window == w; });
            if (stepped.empty()) continue;
            REQUIRE(cover != told.covers.end());
            CHECK((*cover->needed_by - stepped[0].from).count() == Approx(0).margin(margin_s));
        }
    }
    CHECK(leaks >= 6);
}

TEST_CASE("a leak only at another bearing still asks for its cover", "[study]") {
    const date::year_month_day day = date::year{2026} / 6 / 10;
    const OnDates hatters{flax_road(), day, day};
    const Instant from = hatters.start_of(day) + Seconds{9 * 3600.0};
    const LockAnswer whole = leaks_of_lock(hatters.study, from, from + Seconds{7 * 3600.0});
    const auto late = std::find_if(whole.leaks.begin(), whole.leaks.end(), [](const Leak& l) {
        return l.span && l.span->from - l.possible.from > Seconds{300};
    });
    REQUIRE(late != whole.leaks.end());
    // A lock that ends before the leak begins at the stated bearing, but not at every other.
    const LockAnswer cut = leaks_of_lock(hatters.study, from, late->possible.from + Seconds{200});
    const auto leak = std::find_if(cut.leaks.begin(), cut.leaks.end(),
                                   [&](const Leak& l) { return l.window == late->window; });
    REQUIRE(leak != cut.leaks.end());
    CHECK_FALSE(leak->span);
    CHECK((leak->possible.from - late->possible.from).count() == Approx(0).margin(1));
    const auto cover = std::find_if(cut.covers.begin(), cut.covers.end(),
                                    [&](const auto& c) { return c.window == late->window; });
    REQUIRE(cover != cut.covers.end());
    CHECK_FALSE(cover->needed_by);
    CHECK(cover->sure_by == leak->possible.from);
}

TEST_CASE("no other placement of a lock needs less cover, and no earlier one as little",
          "[study]") {
    const date::year_month_day day = date::year{2026} / 6 / 10;
    const OnDates hatters{flax_road(), day, day};
    const Instant from = hatters.start_of(day) + Seconds{8 * 3600.0};
    const Instant to = hatters.start_of(day) + Seconds{18 * 3600.0};
    for (const double hours : {1.0, 3.0, 6.0}) {
        const Seconds length{hours * 3600};
        const auto best = best_lock(hatters.study, from, to, length);
        REQUIRE(best);
        double least = 1e300;
        Instant earliest = from;
        for (Instant start = from; start + length <= to; start = start + Seconds{600}) {
            const double area = leaks_of_lock(hatters.study, start, start + length).cover_area_m2();
            if (area < least - 1e-9) {
                least = area;
                earliest = start;
            }
        }
        CAPTURE(hours);
        CHECK(best->cover_area_m2() == Approx(least).margin(1e-9));
        CHECK(best->lock.from == earliest);
    }
}
