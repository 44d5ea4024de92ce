#include "keyhour/study/light_changes.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "flax_road.hpp"
#include "keyhour/study/patch_day.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

using Kind = LightChange::Kind;

bool is_on_floor(const RoomStudy& study, std::size_t window, Instant t) {
    for (const WindowPatch& p : patches_at(study, t).patches)
        if (p.window == window && p.patch.surface.kind == room::Surface::Kind::floor) return true;
    return false;
}

}  // namespace

namespace {

void check_keys(const std::vector<LightChange>& changes, const DayStrip& strip) {
    REQUIRE(!strip.keys.empty());
    std::size_t keys = 0;
    for (const LightChange& c : changes)
        if (c.kind == Kind::key_begins) {
            REQUIRE(c.mark);
            CHECK(std::ranges::any_of(strip.keys, [&](const KeyInterval& k) {
                return k.span && k.mark == *c.mark && k.window == c.window && k.span->from == c.at;
            }));
            ++keys;
        }
    CHECK(keys >= 1);
}

}  // namespace

TEST_CASE("the changes of light are those that plain stepping finds", "[study]") {
    const site::LocalDate date{date::year{2026} / 6 / 21};
    const OnDates hat_works{flax_road(), date, date};
    const RoomStudy& study = hat_works.study;
    const DayStrip strip = day_strip(hat_works.location, &study, study.path().shared(), date);
    const auto changes = light_changes(study, strip);
    CHECK(std::ranges::is_sorted(changes, {}, &LightChange::at));
    const auto told = [&](Kind kind, std::size_t window, Instant t, double within_s = 20) {
        return std::ranges::any_of(changes, [&](const LightChange& c) {
            return c.kind == kind && c.window == window && std::abs((c.at - t).count()) <= within_s;
        });
    };
    int sun = 0, floor = 0;
    for (std::size_t w = 0; w < study.room().windows.size(); ++w) {
        const auto lit = [&](Instant t) {
            for (const WindowPatch& p : patches_at(study, t).patches)
                if (p.window == w) return true;
            return false;
        };
        for (const Run& run : runs(strip.from, strip.to, Seconds{20}, lit)) {
            // A sliver that grows slowly is no patch at first.
            CHECK(told(Kind::sun_in, w, run.from, 90));
            CHECK(told(Kind::sun_out, w, run.to, 90));
            ++sun;
            const auto on_floor = [&](Instant t) { return is_on_floor(study, w, t); };
            for (const Run& there : runs(run.from, run.to, Seconds{20}, on_floor)) {
                if (there.from - run.from > Seconds{80} && there.to - there.from > Seconds{300}) {
                    CHECK(told(Kind::floor_reached, w, there.from));
                    ++floor;
                }
                if (run.to - there.to > Seconds{80} && there.to - there.from > Seconds{300}) {
                    CHECK(told(Kind::floor_left, w, there.to));
                    ++floor;
                }
            }
        }
    }
    CHECK(sun >= 3);
    CHECK(floor >= 2);
    check_keys(changes, strip);
    CHECK(std::ranges::count(changes, true, &LightChange::is_first_or_last) == 2);
    for (const LightChange& c : changes)
        if (c.is_first_or_last)
            CHECK(c.at == (c.kind == Kind::sun_in ? changes.front().at : changes.back().at));
}
