#pragma once
/// @file
/// What `key` by the sun found over its dates, and the light of what it found.

#include <map>
#include <vector>

#include "keyhour/study/best_key.hpp"
#include "keyhour/study/mark_light.hpp"
#include "room_options.hpp"

namespace keyhour::cli {

struct SunAnswer {
    std::vector<study::KeyInterval> intervals;  ///< best first
    std::vector<study::NearestMiss> misses;     ///< of those that give none in the whole range
};

/// Over all dates and seasons of the question.
SunAnswer ask_sun(const RoomQuestion& q, const study::KeySettings& wanted);

/// Of the interval, or of its possible part.
Instant start_of(const study::KeyInterval& interval);

/// The light of intervals, each in its own season: a tree in leaf takes sky as well.
class IntervalLight {
public:
    IntervalLight(const RoomQuestion& q, bool wanted) : q_{q}, wanted_{wanted} {}
    [[nodiscard]] bool is_wanted() const { return wanted_; }
    /// Null if no levels are wanted.
    const study::RoomLight* of(const study::KeyInterval& interval) {
        if (!wanted_) return nullptr;
        const study::RoomStudy& study = q_.seasons->at(start_of(interval));
        return &lights_.try_emplace(&study, study).first->second;
    }

private:
    const RoomQuestion& q_;
    bool wanted_;
    std::map<const study::RoomStudy*, study::RoomLight> lights_;
};

}  // namespace keyhour::cli
