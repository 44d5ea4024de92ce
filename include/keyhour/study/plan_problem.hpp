#pragma once
/// @file
/// Scenes to be laid over days, in whole minutes from one origin and without a word about light:
/// what a search needs to know, what a judge checks, what a plan is worth.
///
/// The crew stays together. A scene's shooting lies in one span of its light (which lasts the
/// over-run longer), in one span in which its people are there, and with its set-up, which stands
/// directly before it, in the hours of one day.

#include <compare>
#include <cstddef>
#include <optional>
#include <vector>

namespace keyhour::study {

/// Minutes; from <= to.
struct MinuteSpan {
    int from = 0, to = 0;
    friend bool operator==(const MinuteSpan&, const MinuteSpan&) = default;
};

struct PlanScene {
    int place = 0;               ///< row of PlanProblem::moves
    int set_up = 0, length = 1;  ///< 0 and more, 1 and more
    int over_run = 0;
    bool repeatable = true;
    bool may_be_dropped = false;
    std::vector<MinuteSpan> light;     ///< ascending; may overlap
    std::vector<MinuteSpan> presence;  ///< of all its people together; ascending
    std::optional<int> set_up_group;   ///< a scene right after one of its own is not set up again
    bool stays_together = true;        ///< no other scene stands between those of its set-up
};

struct PlanDay {
    MinuteSpan hours;  ///< in which all work of the day lies
    MinuteSpan whole;  ///< the day from midnight to midnight; of one under way, from now on
};

/// Two scenes; void where one is dropped.
struct PlanPair {
    std::size_t first = 0, second = 0;
};

struct PlanLimits {
    int rest = 0;  ///< from a day's last end to the next day's first beginning
    int break_after = 0, break_length = 0;  ///< no longer work without a break so long
    int longest_day = 0;                    ///< from first beginning to last end
    int enough_slack = 0;                   ///< more counts as this
};

/// A day that is under way.
struct PlanStart {
    int place = 0;  ///< where the crew is, at the beginning of the first day's hours
    int work_since =
        0;  ///< minute of the call, of the last break's end; not after those hours begin
};

struct PlanProblem {
    std::vector<PlanDay> days;  ///< ascending, apart
    std::vector<PlanScene> scenes;
    std::vector<std::vector<int>> moves;  ///< minutes from place to place; 0 within one
    std::vector<PlanPair> order;          ///< the first ends before the second is set up
    std::vector<PlanPair> same_day;
    PlanLimits limits;
    std::optional<PlanStart> under_way;
};

struct PlanItem {
    std::size_t scene = 0, day = 0;
    int set_up_from = 0;   ///< minute at which its set-up begins
    int from = 0, to = 0;  ///< of the shooting
    int latest = 0;  ///< minute at which the shooting may begin at the latest, all else as it is
    [[nodiscard]] int slack() const noexcept { return latest - from; }
};

struct Plan {
    std::vector<PlanItem> items;  ///< in order
    std::vector<std::size_t> dropped;
};

/// What makes one plan better than another: compared member by member, more is better.
struct PlanWorth {
    int kept = 0;         ///< scenes
    int firm_least = 0;   ///< least slack of what can't be repeated; enough if there is none
    int firm_sum = 0;     ///< and their slack together; each at most enough
    int least = 0;        ///< least slack of all
    int less_moving = 0;  ///< minutes of moves, negative
    int sum = 0;          ///< slack of all together
    friend auto operator<=>(const PlanWorth&, const PlanWorth&) = default;
};

[[nodiscard]] PlanWorth worth_of(const PlanProblem& problem, const Plan& plan);

/// A stretch of minutes at which a scene's shooting may begin, by its light, people and a day's
/// hours.
struct PlanSlot {
    std::size_t scene = 0, day = 0;
    int earliest = 0, latest = 0;
};
/// Of all scenes: by earliest, then latest, then scene.
[[nodiscard]] std::vector<PlanSlot> slots_of(const PlanProblem& problem);

/// One of the rules that a plan keeps, as a conflict names it.
struct PlanRule {
    enum class Kind {
        kept,         ///< scene `index` is not dropped
        light,        ///< of scene `index`
        people,       ///< of scene `index`
        order,        ///< pair `index`
        same_day,     ///< pair `index`
        same_set_up,  ///< group `index`
        hours,        ///< of day `index`
        moves,
        rest,
        breaks,
        longest_day
    } kind = Kind::kept;
    std::size_t index = 0;
    friend bool operator==(const PlanRule&, const PlanRule&) = default;
};

/// All that the problem has.
[[nodiscard]] std::vector<PlanRule> rules_of(const PlanProblem& problem);

/// The problem with these of its rules alone.
[[nodiscard]] PlanProblem with_rules(const PlanProblem& problem,
                                     const std::vector<PlanRule>& rules);

}  // namespace keyhour::study
