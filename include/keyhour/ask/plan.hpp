#pragma once
/// @file
/// How a shoot's scenes lie over its days: a timetable, what of it breaks first, and what becomes
/// of it under cloud and with the days swapped; or why there is none.

#include <optional>
#include <vector>

#include "keyhour/study/lamp_day.hpp"
#include "keyhour/study/plan_conflict.hpp"
#include "keyhour/study/shoot_problem.hpp"

namespace keyhour::ask {

struct PlanRequest {
    std::optional<study::ShootUnderWay> under_way;  ///< plans the rest
    bool variants = true;                           ///< overcast days and days swapped, too
    int late_min = 20;                              ///< for what breaks first
    study::PlanEffort effort;
};

struct PlannedScene {
    std::size_t scene = 0;
    Instant set_up_from, from, to;
    Instant latest;        ///< last safe beginning of the shooting, in the light that it was given
    bool is_sure = false;  ///< while it is shot the light holds within its doubt
    std::optional<Instant> latest_stated;   ///< at the stated figures alone, where that is later
    Seconds move{0};                        ///< from the place before, directly before the set-up
    std::vector<study::ClothToHang> cloth;  ///< of a lamp key, the soonest needed first
    [[nodiscard]] Seconds slack() const { return latest - from; }
};

/// From how late on the day breaks, and at what.
struct FirstToBreak {
    std::size_t scene = 0;
    int from_min = 0;  ///< the least lateness at which it does
};

struct PlannedDay {
    std::size_t day = 0;  ///< of the shoot's
    std::vector<PlannedScene> scenes;
    std::vector<study::Span> breaks;    ///< between scenes, long enough to count
    std::optional<FirstToBreak> first;  ///< of all lateness; none up to four hours
    std::optional<std::size_t>
        breaks_late;  ///< the scene that is lost if the day runs late_min late
    [[nodiscard]] Instant call() const { return scenes.front().set_up_from - scenes.front().move; }
    [[nodiscard]] Instant wrap() const { return scenes.back().to; }
};

/// Another plan, as the days and the scenes that it loses.
struct PlanVariant {
    bool exists = false, is_proven = false;
    std::vector<PlannedDay> days;
    std::vector<std::size_t> dropped;
};

struct PlanAnswer {
    study::ShootLight light;
    std::vector<PlannedDay> days;      ///< those with scenes, ascending
    std::vector<std::size_t> dropped;  ///< not those done
    bool exists = false;
    bool is_proven = false;     ///< the best of all plans; without one: there is none
    study::ShootProblem asked;  ///< what the conflict's rules are about
    std::optional<study::PlanConflict> conflict;
    std::vector<std::optional<PlanVariant>>
        overcast;                        ///< of each day; none where no scene needs sun
    std::optional<PlanVariant> swapped;  ///< of two days
};

/// Every plan in it has gone past study::broken_rules.
/// @return nothing if the sun's series do not serve these years
/// @pre study::can_plan(); the shoot was read by read::read_shoot
[[nodiscard]] std::optional<PlanAnswer> plan(const study::Shoot& shoot, const PlanRequest& request);

}  // namespace keyhour::ask
