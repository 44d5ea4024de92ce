// The clean key of single dates and of a year, held against brute force in rooms thrown at random:
// bearings a tenth of a degree apart, minute by minute.

#include <date/date.h>
#include <fmt/format.h>

#include <catch2/catch.hpp>

#include "support/asked_rooms.hpp"
#include "support/key_judge.hpp"
#include "support/random_location.hpp"

using namespace keyhour;
using namespace keyhour::study;
using test::Dice;

namespace {

constexpr Seconds day{86400};

/// The sun's lowest point of the year's first night.
Instant first_midnight(const site::Location& location) {
    const date::sys_days d{date::year{2026} / 1 / 1};
    const Instant utc = Instant::from_unix(d.time_since_epoch());
    return utc - Seconds{location.site.observer.longitude.in_degrees() * 240};
}

std::vector<KeyInterval> on_date(const std::vector<KeyInterval>& found, Instant from) {
    std::vector<KeyInterval> out;
    for (const KeyInterval& k : found) {
        const Instant start = k.span ? k.span->from : k.possible.from;
        if (start >= from && start < from + day) out.push_back(k);
    }
    return out;
}

/// Dates with a key, and their neighbours: where a season of it begins or ends, the sun grazes.
std::vector<int> dates(Dice& dice, const std::vector<KeyInterval>& found, Instant from,
                       int wanted) {
    std::vector<int> out{dice.whole(1, 364)};
    while (static_cast<int>(out.size()) < wanted) {
        if (found.empty()) {
            out.push_back(dice.whole(1, 364));
            continue;
        }
        const KeyInterval& k = found[dice.index(found.size())];
        int n = static_cast<int>((k.possible.from - from) / day);
        // Half of them where the next date has none of the kind.
        const auto has = [&](int date) {
            const auto there = on_date(found, from + date * day);
            return std::ranges::any_of(there, [&](const KeyInterval& i) {
                return i.mark == k.mark && i.window == k.window && !!i.sure == !!k.sure &&
                       !!i.span == !!k.span;
            });
        };
        if (dice.chance(0.6))
            while (n > 1 && n < 363 && has(n + 1))
                ++n;
        out.push_back(std::clamp(n + (dice.chance(0.3) ? 1 : 0), 1, 363));
    }
    return out;
}

std::string difference(const std::optional<Span>& a, const std::optional<Span>& b) {
    constexpr double tenth = 0.1;
    if (!a && !b) return {};
    if (!a || !b)
        return fmt::format("one has none, the other {:.1f} s", (a ? a : b)->length().count());
    const double from = (a->from - b->from).count(), to = (a->to - b->to).count();
    if (std::abs(from) <= tenth && std::abs(to) <= tenth) return {};
    return fmt::format("{:.2f} s and {:.2f} s apart", from, to);
}

/// The date alone against the same date of a range.
void compare(std::vector<KeyInterval> alone, std::vector<KeyInterval> of_range,
             std::vector<std::string>& wrong) {
    const auto order = [](const KeyInterval& a, const KeyInterval& b) {
        return std::tuple(a.mark, a.window, a.camera.value_or(99), a.possible.from) <
               std::tuple(b.mark, b.window, b.camera.value_or(99), b.possible.from);
    };
    std::ranges::sort(alone, order);
    std::ranges::sort(of_range, order);
    if (alone.size() != of_range.size()) {
        wrong.push_back(
            fmt::format("the date alone has {}, the range {}", alone.size(), of_range.size()));
        return;
    }
    for (std::size_t i = 0; i < alone.size(); ++i) {
        const KeyInterval &a = alone[i], &b = of_range[i];
        for (const auto& [what, words] : {std::pair{"span", difference(a.span, b.span)},
                                          {"sure", difference(a.sure, b.sure)},
                                          {"possible", difference(a.possible, b.possible)}})
            if (!words.empty())
                wrong.push_back(fmt::format("mark {} window {}: {} alone and in a range: {}",
                                            a.mark, a.window, what, words));
    }
}

test::KeyVerdict judge(std::uint64_t seed, int wanted) {
    Dice dice{seed};
    const site::Location location = test::random_location(dice);
    const KeySettings settings = test::random_settings(dice);
    const Instant from = first_midnight(location), to = from + 365 * day;
    const RoomStudy study{location, SharedTrack::make(from - 2 * day, to + 3 * day)};
    const auto found = clean_key(study, from, to, settings);
    test::KeyVerdict verdict;
    test::KeyJudge key{study, settings, verdict};
    for (const int date : dates(dice, found, from, wanted)) {
        const Instant start = from + date * day;
        const auto alone = clean_key(study, start, start + day, settings);
        const std::size_t before = verdict.wrong.size();
        compare(alone, on_date(found, start), verdict.wrong);
        std::vector<KeyInterval> aside = on_date(found, start - day);
        const auto later = on_date(found, start + day);
        aside.insert(aside.end(), later.begin(), later.end());
        key.judge(alone, aside, start);
        for (std::size_t i = before; i < verdict.wrong.size(); ++i)
            verdict.wrong[i] = fmt::format("room {} date {} {}", seed, date, verdict.wrong[i]);
    }
    return verdict;
}

/// @param dates  in each room
void judge_rooms(std::uint64_t first, std::uint64_t last, int dates) {
    test::KeyVerdict all;
    for (std::uint64_t seed = first; seed <= last; ++seed) {
        const test::KeyVerdict one = judge(seed, dates);
        all.spans += one.spans;
        all.sure += one.sure;
        all.possible += one.possible;
        all.possible_alone += one.possible_alone;
        all.minutes += one.minutes;
        for (const std::string& words : one.wrong)
            FAIL_CHECK(words);
    }
    const auto rooms = last - first + 1;
    WARN(fmt::format("{} rooms: {} keys, {} sure, {} possible, {} of them alone; {} looks", rooms,
                     all.spans, all.sure, all.possible, all.possible_alone, all.minutes));
    CHECK(all.spans > rooms);
    CHECK(all.sure > rooms / 4);
    CHECK(all.possible_alone > rooms / 10);
}

}  // namespace

TEST_CASE("the key of a date is what brute force finds, alone and in a range", "[study]") {
    judge_rooms(1, 8, 2);
}

TEST_CASE("the key of many dates is what brute force finds", "[.300-rooms]") {
    const auto [first, last] = test::asked_rooms();
    judge_rooms(first, last, 6);
}
