#include <catch2/catch.hpp>

#include "flax_road.hpp"
#include "keyhour/study/clean_key.hpp"
#include "support/described_key.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

constexpr Seconds step{10};
constexpr double margin_s = 10.6;  // a step, and the searches' own tolerance

/// Sun through one window on the mark, or on a surface near it.
bool is_near(const RoomStudy& study, std::size_t window, std::size_t mark, double near_m,
             Instant t) {
    const Moment m = study.path().at(t);
    if (m.above_skyline_deg <= 0 || study.room().windows[window].cover != room::Cover::open)
        return false;
    const room::Point3 sun = study.sun(m);
    if (study.scene().coverage(mark, window, sun) > 0) return true;
    const room::Mark& at = study.room().marks[mark];
    for (const room::Patch& patch : study.scene().patches(window, sun))
        if (room::distance_to(patch, {at.at.x, at.at.y, at.height_m}) < near_m) return true;
    return false;
}

bool is_clean(const RoomStudy& study, const KeyInterval& who, const KeySettings& s, Instant t) {
    const Moment m = study.path().at(t);
    if (m.above_skyline_deg <= 0 || m.altitude_deg < s.altitude_deg[0] ||
        m.altitude_deg > s.altitude_deg[1])
        return false;
    const room::Point3 sun = study.sun(m);
    const room::Camera& camera = study.room().cameras[*who.camera];
    const double angle = std::abs(room::key_angle(study.room(), camera, sun).in_degrees());
    return angle >= s.key_angle_deg[0] && angle <= s.key_angle_deg[1] &&
           !room::in_frame(study.room(), camera, sun) &&
           study.scene().coverage(who.mark, who.window, sun) >= s.coverage;
}

const date::year_month_day days[] = {date::year{2026} / 5 / 2, date::year{2026} / 6 / 10,
                                     date::year{2026} / 8 / 20};

}  // namespace

TEST_CASE("to_cover lists what stepping by ten seconds finds near the mark", "[study]") {
    std::size_t listed = 0;
    for (const auto& day : days) {
        const OnDates hatters{flax_road(), day, day};
        KeySettings s;
        s.near_m = 3;
        s.key_angle_deg[1] = 140;
        for (const KeyInterval& k : test::described_key(hatters.study, hatters.start_of(day),
                                                        hatters.start_of(day, 1), s)) {
            if (!k.span) continue;
            std::vector<CoverSpan> stepped;
            for (std::size_t w = 0; w < hatters.study.room().windows.size(); ++w) {
                if (w == k.window) continue;
                for (const Run& run : runs(k.span->from, k.span->to, step, [&](Instant t) {
                         return is_near(hatters.study, w, k.mark, s.near_m, t);
                     }))
                    stepped.push_back({w, run.from, run.to});
            }
            CAPTURE(k.window, k.mark, site::LocalDate{day});
            REQUIRE(k.to_cover.size() == stepped.size());
            listed += stepped.size();
            for (std::size_t i = 0; i < stepped.size(); ++i) {
                CHECK(k.to_cover[i].window == stepped[i].window);
                CHECK((k.to_cover[i].from - stepped[i].from).count() == Approx(0).margin(margin_s));
                CHECK((k.to_cover[i].to - stepped[i].to).count() == Approx(0).margin(margin_s));
            }
        }
    }
    CHECK(listed >= 3);
}

namespace {

/// Of the interval what is clean and free of near sun through other windows.
std::vector<Run> stepped_as_it_is(const RoomStudy& study, const KeyInterval& who,
                                  const KeySettings& s) {
    return runs(who.span->from, who.span->to, step, [&](Instant t) {
        if (!is_clean(study, who, s, t)) return false;
        for (std::size_t w = 0; w < study.room().windows.size(); ++w)
            if (w != who.window && is_near(study, w, who.mark, s.near_m, t)) return false;
        return true;
    });
}

}  // namespace

TEST_CASE("as it is, only what needs no cover remains", "[study]") {
    std::size_t found = 0, shortened = 0;
    for (const auto& day : days) {
        const OnDates hatters{flax_road(), day, day};
        KeySettings s;
        s.near_m = 3;
        s.key_angle_deg[1] = 140;
        s.as_is = true;
        const Instant from = hatters.start_of(day), to = hatters.start_of(day, 1);
        const auto told = test::described_key(hatters.study, from, to, s);
        KeySettings covered = s;
        covered.as_is = false;
        for (const KeyInterval& who : clean_key(hatters.study, from, to, covered)) {
            if (!who.span) continue;
            for (const Run& run : stepped_as_it_is(hatters.study, who, s)) {
                if (run.to - run.from < s.shortest + 2 * step) continue;
                CAPTURE(who.window, who.mark, site::LocalDate{day});
                const auto k = std::find_if(told.begin(), told.end(), [&](const KeyInterval& t) {
                    return t.span && t.mark == who.mark && t.window == who.window &&
                           std::abs((t.span->from - run.from).count()) < margin_s;
                });
                REQUIRE(k != told.end());
                CHECK((k->span->to - run.to).count() == Approx(0).margin(margin_s));
                CHECK(k->to_cover.empty());
                ++found;
                if (k->hold() < who.hold() - step) {
                    ++shortened;
                    CHECK((k->begins_by.kind == room::Edge::cover ||
                           k->ends_by.kind == room::Edge::cover));
                }
            }
        }
        for (const KeyInterval& k : told)
            if (k.span) {
                CHECK(is_clean(hatters.study, k, s, k.span->from + 0.5 * k.hold()));
            }
    }
    CHECK(found >= 1);
    CHECK(shortened >= 1);
}
