// The clean key of long ranges comes from regions of directions. Here it is compared with the
// conditions themselves, looked at every half minute, in rooms thrown at random.

#include <date/date.h>

#include <catch2/catch.hpp>

#include "support/random_location.hpp"
#include "support/sampled_key.hpp"

using namespace keyhour;
using namespace keyhour::study;
using test::Dice;
using test::random_location;
using test::random_settings;

namespace {

constexpr Seconds day{86400};

Instant new_year(int year) {
    const date::sys_days d{date::year{year} / 1 / 1};
    return Instant::from_unix_s(
        static_cast<double>(std::chrono::seconds{d.time_since_epoch()}.count()));
}

struct Tally {
    std::size_t spans = 0, sure = 0, possible_alone = 0, missed_by_sampling = 0;
};

/// Holds what was found against the conditions.
class Comparison {
public:
    Comparison(const RoomStudy& study, const KeySettings& settings, Tally& tally)
        : study_{study}, settings_{settings}, tally_{tally} {}

    /// Every interval that starts on one date.
    void on_date(const std::vector<KeyInterval>& found, Instant from) {
        const room::Room& room = study_.room();
        for (std::size_t mark = 0; mark < room.marks.size(); ++mark)
            for (const auto camera : study_.cameras_of(mark))
                for (std::size_t window = 0; window < room.windows.size(); ++window) {
                    const test::SampledKey key{study_, settings_, mark, camera, window};
                    std::vector<KeyInterval> mine;
                    for (const KeyInterval& k : found)
                        if (k.mark == mark && k.camera == camera && k.window == window)
                            mine.push_back(k);
                    std::sort(mine.begin(), mine.end(), [](const auto& a, const auto& b) {
                        return a.possible.from < b.possible.from;
                    });
                    CAPTURE(mark, window, (from - new_year(2026)).count() / 86400);
                    compare(key, mine, from);
                }
    }

private:
    /// A boundary may stray by a second; length then by two.
    static constexpr double within_s = 1;

    void compare(const test::SampledKey& key, const std::vector<KeyInterval>& mine, Instant from) {
        const Instant to = from + day;
        for (const Span& s : key.spans(from, to, study_.bearings().stated)) {
            if (s.runs_at_start || s.runs_at_end) continue;  // of another date, or cut by its end
            const auto k = std::ranges::find_if(mine, [&](const KeyInterval& i) {
                return i.span && std::abs((i.span->from - s.from).count()) <= within_s;
            });
            if (s.length() < settings_.shortest + Seconds{2 * within_s}) continue;
            CAPTURE(s.length().count(), (s.from - from).count());
            CHECK(k != mine.end());
            if (k == mine.end()) continue;
            ++tally_.spans;
            const Instant beyond = k->span->to + Seconds{0.4};
            if (beyond < s.to &&
                key.margin(study_.path().at(beyond), study_.bearings().stated) <= 0)
                ++tally_.missed_by_sampling;  // a gap of seconds between two samples
            else
                CHECK(std::abs((k->span->to - s.to).count()) <= within_s);
        }
        for (const KeyInterval& k : mine) {
            const Instant start = k.span ? k.span->from : k.possible.from;
            if (start < from || start >= to) continue;
            check_self(key, k);
        }
    }

    /// The interval against the conditions, at its middle and on both sides of its ends.
    void check_self(const test::SampledKey& key, const KeyInterval& k) {
        const auto at = [&](Instant t) {
            return key.margin(study_.path().at(t), study_.bearings().stated);
        };
        const Seconds aside{within_s};
        CAPTURE(k.hold().count(), k.sure_hold().count(), k.possible.length().count());
        if (k.span) {
            CHECK(at(k.span->from + aside) > 0);
            CHECK(at(k.span->to - aside) > 0);
            CHECK(at(k.span->from - aside) <= 0);
            CHECK(at(k.span->to + aside) <= 0);
            CHECK(k.possible.from <= k.span->from);
            CHECK(k.possible.to >= k.span->to);
        } else {
            ++tally_.possible_alone;
        }
        if (k.sure && k.sure->length() > 3 * aside) {
            ++tally_.sure;
            for (const double share : {0.0, 0.3, 0.7, 1.0}) {
                const Seconds in = aside + share * (k.sure->length() - 2 * aside);
                CHECK(key.holds_at_every(k.sure->from + in));
            }
        }
        if (k.possible.length() > 6 * aside)
            for (const double share : {0.2, 0.5, 0.8})
                CHECK(key.holds_at_some(k.possible.from + share * k.possible.length()));
    }

    const RoomStudy& study_;
    const KeySettings& settings_;
    Tally& tally_;
};

/// @param dates  of each year, spread over it
Tally compare(std::uint64_t seed, int years, int dates) {
    Dice dice{seed};
    const site::Location location = random_location(dice);
    const KeySettings settings = random_settings(dice);
    Tally tally;
    const int first_year = 2026 + static_cast<int>(seed % 10);
    for (int year = first_year; year < first_year + years; ++year) {
        const Instant from = new_year(2026 + (year - 2026) % 10), to = from + 365 * day;
        const auto shared = SharedTrack::make(from - 2 * day, to + 3 * day);
        const RoomStudy study{location, shared};
        const auto found = clean_key(study, from, to, settings);
        Comparison comparison{study, settings, tally};
        for (int i = 0; i < dates; ++i)
            comparison.on_date(found, from + std::floor((i + dice.unit()) * 365 / dates) * day);
    }
    return tally;
}

}  // namespace

TEST_CASE("regions find the intervals that sampling finds", "[study][statistics]") {
    Tally all;
    for (std::uint64_t seed = 1; seed <= 200; ++seed) {
        CAPTURE(seed);
        const Tally one = compare(seed, 1, 4);
        all.spans += one.spans;
        all.sure += one.sure;
        all.possible_alone += one.possible_alone;
    }
    CHECK(all.spans > 200);
    CHECK(all.sure > 50);
    CHECK(all.possible_alone > 10);
}

TEST_CASE("as it is, an interval of a long range begins and ends where no cover is needed",
          "[study]") {
    std::size_t found = 0, by_cover = 0;
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
        Dice dice{seed};
        const site::Location location = random_location(dice);
        KeySettings settings;
        settings.as_is = true;
        settings.key_angle_deg[0] = 0;
        settings.key_angle_deg[1] = 180;
        const Instant from = new_year(2026) + dice.whole(0, 330) * day;
        const RoomStudy study{location, SharedTrack::make(from - 2 * day, from + 33 * day)};
        CAPTURE(seed);
        for (const KeyInterval& k : clean_key(study, from, from + 30 * day, settings)) {
            if (!k.span) continue;
            const auto troubled = [&](Instant t) {
                for (std::size_t w = 0; w < study.room().windows.size(); ++w)
                    if (w != k.window && troubles(study, w, k.mark, std::nullopt, settings.near_m,
                                                  study.path().at(t), study.bearings().stated))
                        return true;
                return false;
            };
            const test::SampledKey key{study, settings, k.mark, k.camera, k.window};
            const auto is_good = [&](Instant t) {
                return key.margin(study.path().at(t), study.bearings().stated) > 0 && !troubled(t);
            };
            const Seconds aside{1};
            CHECK(is_good(k.span->from + aside));
            CHECK(is_good(k.span->to - aside));
            CHECK(!is_good(k.span->from - aside));
            CHECK(!is_good(k.span->to + aside));
            ++found;
            if (troubled(k.span->from - aside) || troubled(k.span->to + aside)) ++by_cover;
        }
    }
    CHECK(found > 50);
    CHECK(by_cover > 10);
}

TEST_CASE("regions find every interval of ten years that sampling finds", "[.ten-years]") {
    for (std::uint64_t seed = 1; seed <= 200; ++seed) {
        CAPTURE(seed);
        compare(seed, 10, 365);
    }
}
