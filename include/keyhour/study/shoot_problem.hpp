#pragma once
/// @file
/// A shoot with its light as a problem for the search: in whole minutes since local midnight of its
/// first day.

#include <optional>
#include <string>
#include <vector>

#include "keyhour/study/plan_search.hpp"
#include "keyhour/study/shoot_light.hpp"

namespace keyhour::study {

/// A day in the field.
struct ShootUnderWay {
    std::size_t day = 0;            ///< of Shoot::days
    Instant free_from;              ///< when the crew can begin what comes next
    Instant work_since;             ///< the call, or the end of the last break
    std::size_t place = 0;          ///< where it is
    std::vector<std::size_t> done;  ///< scenes
};

/// What is otherwise than the file says.
struct ShootCase {
    std::optional<std::size_t> overcast;  ///< a day without sun: what needs it may be dropped, and
                                          ///< cover scenes are no longer kept in reserve
    /// Of each scene, the one day on which it may be; empty: any.
    std::vector<std::size_t> only_day;
    std::optional<ShootUnderWay> under_way;
};

struct ShootProblem {
    PlanProblem problem;  ///< scenes are the shoot's; those done have no light and may be dropped
    Instant origin;
    std::size_t first_day = 0;         ///< of Shoot::days: the problem's first
    std::size_t cover_pairs_from = 0;  ///< of the problem's order: from here on covers after sun
    std::vector<bool> done;            ///< of each scene

    [[nodiscard]] Instant at(int minute) const { return origin + Seconds{60.0 * minute}; }
};

/// A scene has the light that is sure; where nothing of a stretch is, the stated one, but not what
/// can't be repeated. Ends of light are rounded inward.
[[nodiscard]] ShootProblem problem_of(const Shoot& shoot, const ShootLight& light,
                                      const ShootCase& otherwise = {});

/// The first item of a day of the plan that is late for its light, people or hours if the day
/// begins so many minutes late and all follows as soon as it can, breaks kept.
/// @return its index in the plan; nothing if all holds
[[nodiscard]] std::optional<std::size_t> first_to_break(const PlanProblem& problem,
                                                        const Plan& plan, std::size_t day,
                                                        int late);

}  // namespace keyhour::study
