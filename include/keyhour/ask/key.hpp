#pragma once
/// @file
/// When does a window give a clean key by the sun, over one date or many? The whole answer: the
/// intervals, how sure they are, what failed, and what to measure better.

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "keyhour/ask/room_question.hpp"
#include "keyhour/study/best_key.hpp"
#include "keyhour/study/key_doubt.hpp"
#include "keyhour/study/key_light.hpp"
#include "keyhour/study/stop_wish.hpp"
#include "keyhour/study/together.hpp"

namespace keyhour::ask {

struct KeyRequest {
    study::KeySettings settings;  ///< names in it are those of the question's location
    study::CameraSetting camera;  ///< with a wish for a stop, holds that are too dark are set apart
    study::EnsembleSettings ensemble;
    std::optional<std::size_t> most;  ///< only the best so many are described; else all
    bool doubts = false;              ///< hold at 90 and 50 %, of those described
    bool why_unsure = false;
};

/// A hold that was left out as too dark for the wanted stop.
struct DarkKey {
    study::KeyInterval interval;
    double missing_stops = 0;
};

struct KeyAnswer {
    std::vector<study::KeyInterval> intervals;  ///< best first: longest sure, longest, earliest
    std::size_t described = 0;                  ///< of them, the first so many have their details
    std::vector<study::Together> together;      ///< keys on several marks at once
    std::vector<study::NearestMiss> misses;     ///< of those that give none in the whole range
    std::vector<DarkKey> dark;                  ///< least missing first
    std::vector<study::HoldDoubt> doubts;       ///< of those described, if asked for
    std::vector<study::InputEffect> why;        ///< what to measure better, most useful first
};

/// Over all dates and seasons of the question: study::clean_key season by season, sorted once, then
/// study::describe, hold_doubts and why_unsure as the request asks.
/// @pre the room has a mark
[[nodiscard]] KeyAnswer key(const RoomQuestion& question, const KeyRequest& request);

/// Start of the interval, or of its possible part where it exists at some bearings only.
[[nodiscard]] Instant start_of(const study::KeyInterval& interval);

/// The light of intervals, each in its own season: a tree in leaf takes sky as well.
class IntervalLight {
public:
    /// @param only_camera  of the beam in haze: no other is told of
    explicit IntervalLight(const RoomQuestion& question,
                           std::optional<std::string> only_camera = {})
        : question_{question}, only_camera_{std::move(only_camera)} {}
    /// Nothing for an interval that is only possible.
    [[nodiscard]] std::optional<study::KeyLight> of(const study::KeyInterval& interval);
    /// Level and ratio alone. @pre interval.span holds
    [[nodiscard]] study::LightDrift drift(const study::KeyInterval& interval);

private:
    const study::RoomLight& room_of(const study::KeyInterval& interval);

    const RoomQuestion& question_;
    std::optional<std::string> only_camera_;
    std::map<const study::RoomStudy*, study::RoomLight> lights_;
};

}  // namespace keyhour::ask
