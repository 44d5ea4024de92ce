#pragma once
/// @file
/// Which further observation, at which minute, would make a bearing surer.

#include <vector>

#include "keyhour/study/bearing.hpp"
#include "keyhour/study/room_study.hpp"

namespace keyhour::study {

struct NextObservation {
    enum class Kind {
        graze_begins,  ///< the sun begins to graze a wall's plane
        graze_ends,
        jamb_shadow,  ///< shadow of a window's jamb on the floor
        plumb_line    ///< shadow of a plumb line outside, on level ground
    } kind = Kind::plumb_line;
    std::size_t index = 0;       ///< of the wall, of the window; of the wall asked about
    Instant at;                  ///< the whole minute
    double shadow_m = 0;         ///< length of shadow that can be measured
    double sigma_deg = 0;        ///< of that observation alone
    double sigma_after_deg = 0;  ///< of the bearing, together with what there is
};

/// The best moment of each kind, of each wall and of all windows, the most helpful first. A plumb
/// line is proposed where no jamb's shadow falls on the floor. The usual doubts are reckoned with.
/// @param study  the room at the answer's bearing; its path covers from..to
[[nodiscard]] std::vector<NextObservation> next_observations(const RoomStudy& study,
                                                             const BearingAnswer& answer,
                                                             double clock_within_s, Instant from,
                                                             Instant to);

}  // namespace keyhour::study
