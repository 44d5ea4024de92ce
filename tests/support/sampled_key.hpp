#pragma once
/// @file
/// The clean key by brute force: the conditions of design.md, section 3, looked at every few
/// seconds. The reference for the search by regions; knows nothing of it.

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "keyhour/study/clean_key.hpp"

namespace keyhour::test {

/// One mark, camera and window at one bearing of the plan; covers of other windows left aside.
struct SampledKey {
    const study::RoomStudy& study;
    const study::KeySettings& settings;
    std::size_t mark;
    std::optional<std::size_t> camera;
    std::size_t window;

    /// Positive where the key is clean.
    [[nodiscard]] double margin(const study::Moment& m, const room::PlanTurn& turn) const {
        double least = std::min({m.above_skyline_deg, m.altitude_deg - settings.altitude_deg[0],
                                 settings.altitude_deg[1] - m.altitude_deg});
        if (least <= 0) return least;
        const room::Point3 sun = turn.to_plan(m.toward);
        if (camera) {
            const room::Camera& c = study.room().cameras[*camera];
            const double angle = std::abs(room::key_angle(study.room(), c, sun).in_degrees());
            least = std::min(
                {least, angle - settings.key_angle_deg[0], settings.key_angle_deg[1] - angle});
            if (least <= 0) return least;
            if (room::in_frame(study.room(), c, sun)) return -1;
        }
        constexpr double equal = 1e-9;
        return std::min(least,
                        study.scene().coverage(mark, window, sun) - settings.coverage + equal);
    }

    /// Spans within from..to at one turn of the plan.
    [[nodiscard]] std::vector<study::Span> spans(Instant from, Instant to,
                                                 const room::PlanTurn& turn,
                                                 Seconds step = Seconds{30}) const {
        return study::find_spans(study.path(), study.path().samples(from, to, step),
                                 [&](const study::Moment& m) { return margin(m, turn); });
    }

    /// Does it hold at every, or at some, bearing a tenth of a degree apart within the doubt?
    [[nodiscard]] bool holds_at_every(Instant t) const {
        const study::Moment m = study.path().at(t);
        return std::ranges::all_of(turns(), [&](const auto& turn) { return margin(m, turn) > 0; });
    }
    [[nodiscard]] bool holds_at_some(Instant t) const {
        const study::Moment m = study.path().at(t);
        return std::ranges::any_of(turns(), [&](const auto& turn) { return margin(m, turn) > 0; });
    }

private:
    [[nodiscard]] std::vector<room::PlanTurn> turns() const {
        std::vector<room::PlanTurn> out;
        const double within = study.room().bearing.within.in_degrees();
        const int n = static_cast<int>(std::ceil(within / 0.1));
        for (int i = -n; i <= n; ++i)
            out.emplace_back(Azimuth{wrapped_turn(room::plan_bearing(study.room()).from_north +
                                                  Angle::degrees(n > 0 ? within * i / n : 0))});
        return out;
    }
};

}  // namespace keyhour::test
