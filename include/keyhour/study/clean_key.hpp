#pragma once
/// @file
/// When does a window give a clean key at a mark, by the sun, and for how long does it hold?

#include <optional>
#include <string>
#include <vector>

#include "keyhour/study/room_study.hpp"
#include "keyhour/study/spans.hpp"
#include "keyhour/study/sun_in_room.hpp"

namespace keyhour::study {

/// Every number of the clean key is a setting. The defaults are common practice, no source.
struct KeySettings {
    double coverage = 0.95;              ///< of the mark's silhouette, 0..1
    double key_angle_deg[2] = {25, 70};  ///< unsigned, 0..180
    double altitude_deg[2] = {8, 55};    ///< apparent, 0..90
    double near_m = 1.5;                 ///< sun of another window this near the mark needs a cover
    bool as_is = false;                  ///< no cover may be hung
    Seconds shortest{60};                ///< shorter intervals are left out
    std::optional<std::string> mark, camera, window;  ///< only these
};

struct KeyInterval {
    std::size_t mark = 0;
    std::optional<std::size_t> camera;  ///< none aims at the mark: angle and frame are not judged
    std::size_t window = 0;
    std::optional<Span> span;  ///< at the stated bearing; none: it exists at some bearing only
    std::optional<Span> sure;  ///< holds at every bearing within the stated doubt
    Span possible;             ///< holds at some

    // What `describe` fills in, for an interval at the stated bearing:
    /// The run around it in which the mark's centre alone would pass: how much a point deceives.
    std::optional<Span> centre;
    room::LimitingEdge begins_by, ends_by;
    double key_angle_deg[2] = {0, 0};  ///< unsigned, at start and end
    double altitude_deg[2] = {0, 0};   ///< apparent
    bool light_from_right = false;     ///< of the camera as seen from the mark, at the start
    std::vector<CoverSpan> to_cover;
    std::optional<double> drift_m_per_min;  ///< of the patch behind the mark, at mid-interval
    room::Surface behind;                   ///< the surface of that patch

    [[nodiscard]] Seconds hold() const { return span ? span->length() : Seconds{0}; }
    [[nodiscard]] Seconds sure_hold() const { return sure ? sure->length() : Seconds{0}; }
};

/// A setting that what came nearest to a clean key does not meet.
struct Shortfall {
    enum class Of { coverage, altitude, key_angle } of = Of::coverage;
    double is = 0, wanted = 0;  ///< coverage 0..1, else degrees; `wanted` is the limit missed
    /// By which the setting would have to change: degrees, or percent of the mark.
    [[nodiscard]] double change() const noexcept;
};

/// Why a window gives no clean key at a mark in a span of time, and what came nearest: the instant,
/// of those at which the sun lights some of the mark, that needs the smallest change of settings, a
/// degree counting as a percent of the mark; else where its light passes nearest.
struct NearestMiss {
    std::size_t mark = 0;
    std::optional<std::size_t> camera;
    std::size_t window = 0;
    std::string reason;          ///< in words, without the time
    std::optional<Instant> at;   ///< of the nearest miss; none if the sun never came in
    std::optional<Span> centre;  ///< the mark's centre alone has a clean key, around then
    double coverage = 0;         ///< there
    double altitude_deg = 0;
    std::optional<double> key_angle_deg;
    room::LimitingEdge edge;            ///< what failed
    std::vector<Shortfall> shortfalls;  ///< the greatest change first; none: no setting fails
    double change = 0;                  ///< of all settings together; of one in frame 180 more
};

/// Would a smaller change of settings do for `a`? One that the sun never entered comes last.
[[nodiscard]] bool is_nearer(const NearestMiss& a, const NearestMiss& b) noexcept;

/// Intervals that start in from <= t < to, best first: longest sure hold, longest hold, earliest.
/// They may run past `to` by a day. What is told about each is left to `describe`, which costs more
/// than the search.
/// @pre the study's track reaches from `from` to a day past `to`
[[nodiscard]] std::vector<KeyInterval> clean_key(const RoomStudy& study, Instant from, Instant to,
                                                 const KeySettings& settings = {});

/// Fills in what is told about an interval beside its times; nothing for one without a span.
void describe(const RoomStudy& study, const KeySettings& settings, KeyInterval& interval);

/// Longest sure hold, then longest hold, then earliest.
[[nodiscard]] bool is_better(const KeyInterval& a, const KeyInterval& b);

/// Longest sure hold first, then longest hold, then earliest.
void sort_best_first(std::vector<KeyInterval>& intervals);

/// For every mark, camera and window that gave none of `found`: why.
[[nodiscard]] std::vector<NearestMiss> nearest_misses(const RoomStudy& study, Instant from,
                                                      Instant to, const KeySettings& settings,
                                                      const std::vector<KeyInterval>& found);

}  // namespace keyhour::study
