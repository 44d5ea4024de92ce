#pragma once
/// @file
/// What `key` by the sun found over its dates, and the light of what it found.

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "keyhour/study/best_key.hpp"
#include "keyhour/study/key_doubt.hpp"
#include "keyhour/study/key_light.hpp"
#include "keyhour/study/stop_wish.hpp"
#include "room_options.hpp"
#include "tell/key_page.hpp"

namespace keyhour::cli {

struct SunAnswer {
    std::vector<study::KeyInterval> intervals;  ///< best first
    std::vector<study::NearestMiss> misses;     ///< of those that give none in the whole range
    std::vector<study::HoldDoubt> doubts;       ///< of the first so many intervals; see add_doubts
    std::vector<study::InputEffect> why;        ///< what to measure better; see add_why
};

/// Over all dates and seasons of the question.
SunAnswer ask_sun(const RoomQuestion& q, const study::KeySettings& wanted);

/// Asks the ensemble about the best intervals, so many of them.
void add_doubts(const RoomQuestion& q, const study::KeySettings& wanted,
                const study::EnsembleSettings& ensemble, std::size_t count, SunAnswer& answer);

/// Ranks what to measure better, by what it does to all intervals.
void add_why(const RoomQuestion& q, const study::KeySettings& wanted,
             const study::EnsembleSettings& ensemble, SunAnswer& answer);

/// Of the interval, or of its possible part.
Instant start_of(const study::KeyInterval& interval);

/// The light of intervals, each in its own season: a tree in leaf takes sky as well.
class IntervalLight {
public:
    /// @param wanted       are the figures to be told?
    /// @param only_camera  of the beam in haze: no other is told of
    IntervalLight(const RoomQuestion& q, const study::CameraSetting& camera, bool wanted,
                  std::optional<std::string> only_camera)
        : q_{q}, camera_{camera}, wanted_{wanted}, only_camera_{std::move(only_camera)} {}
    [[nodiscard]] bool is_wanted() const { return wanted_; }
    [[nodiscard]] const study::CameraSetting& camera() const { return camera_; }
    /// Nothing for an interval that is only possible. @pre is_wanted()
    [[nodiscard]] std::optional<study::KeyLight> of(const study::KeyInterval& interval);
    /// Level and ratio alone. @pre interval.span holds
    [[nodiscard]] study::LightDrift drift(const study::KeyInterval& interval);

private:
    const study::RoomLight& room_of(const study::KeyInterval& interval);

    const RoomQuestion& q_;
    study::CameraSetting camera_;
    bool wanted_;
    std::optional<std::string> only_camera_;
    std::map<const study::RoomStudy*, study::RoomLight> lights_;
};

/// Takes the holds that are too dark for the wanted stop out of the answer. Those that are only
/// possible stay: nothing is told of their light.
/// @return  least missing first; none if no stop is wanted
std::vector<tell::DarkKey> take_out_dark(SunAnswer& answer, IntervalLight& light);

}  // namespace keyhour::cli
