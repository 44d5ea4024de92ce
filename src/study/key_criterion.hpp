#pragma once
/// @file
/// The conditions of a clean key, for one mark, camera and window, at any turn of the plan.

#include "key_margin.hpp"
#include "keyhour/study/clean_key.hpp"
#include "keyhour/study/sun_in_room.hpp"

namespace keyhour::study {

class KeyCriterion {
public:
    /// @param scene  study.scene(), or study.centres() to judge the marks' centres alone
    KeyCriterion(const RoomStudy& study, const room::Scene& scene, const KeySettings& settings,
                 std::size_t mark, std::optional<std::size_t> camera, std::size_t window);

    /// Positive where the key is clean. Margins are of order one; angles count a tenth a degree.
    double operator()(const Moment& m, const room::PlanTurn& turn) const;

    /// The condition that fails between `in` (clean) and `out` (not), at the stated bearing.
    [[nodiscard]] room::LimitingEdge limiting_edge(const Moment& out, const Moment& in) const;

    /// An open window, other than the key's, whose sun troubles the mark; none if there is none.
    /// @param sun  over the plan, above the skyline
    [[nodiscard]] std::optional<std::size_t> troubling(room::Point3 sun) const;

private:
    /// The margin, or -1 where sun of another window stands against it.
    [[nodiscard]] double besides_others(double margin, const SunOverPlan& sun) const;

    const RoomStudy& study_;
    const room::Scene& scene_;
    const KeySettings& settings_;
    std::size_t mark_;
    const room::Camera* camera_;
    std::size_t window_;
    double reach_m_;  ///< beyond this outside the opening the mark has no light at all
};

}  // namespace keyhour::study
