#pragma once
/// @file
/// When does the sun stand in regions of directions that turn with the plan: at the stated bearing,
/// at every bearing within its doubt, at some? The one engine of keys, leaks and lamps' hours.

#include <functional>
#include <memory>
#include <vector>

#include "keyhour/room/direction_region.hpp"
#include "keyhour/study/direction_cut.hpp"
#include "keyhour/study/room_study.hpp"

namespace keyhour::study {

/// Ascending.
struct BearingSpans {
    std::vector<Span> stated;  ///< at the stated bearing
    std::vector<Span> every;   ///< at every bearing within the doubt
    std::vector<Span> some;    ///< at some
};

/// The span of `spans` (ascending) that holds the middle of `inside`, made to hold it all.
[[nodiscard]] Span run_with(const std::vector<Span>& spans, const Span& inside);

/// Positive where the condition holds with the plan laid at a turn.
using TurnedMargin = std::function<double(const Moment&, const room::PlanTurn&)>;

class RegionSpans {
public:
    /// @param lowest,highest  apparent altitudes between which the sun counts, radians; the skyline
    ///                        is seen to besides
    RegionSpans(const RoomStudy& study, Instant first, Instant last, double lowest, double highest);
    RegionSpans(const RegionSpans&) = delete;
    RegionSpans& operator=(const RegionSpans&) = delete;
    ~RegionSpans();

    /// Where outlines are wanted: on these days, at these bearings.
    [[nodiscard]] room::RegionBounds bounds() const;

    /// @param rings  over the plan
    /// @return the region's number
    std::size_t add(const std::vector<room::DirectionRing>& rings);

    /// Cuts the sun's way with all that was added.
    void cut();

    /// Ends are held to the margin itself, at the bearing that makes each.
    /// @param margin  positive in the region while the sun counts
    [[nodiscard]] BearingSpans spans(std::size_t region, const TurnedMargin& margin) const;
    /// The same at the stated bearing alone, or at some.
    [[nodiscard]] std::vector<Span> stated(std::size_t region, const TurnedMargin& margin) const;
    [[nodiscard]] std::vector<Span> some(std::size_t region, const TurnedMargin& margin) const;

private:
    class Settler;
    class Reach;
    struct Added {
        std::size_t stated, every, some;
    };
    enum class Kind { stated, every, some };
    [[nodiscard]] std::vector<Span> spans(std::size_t way, Kind kind,
                                          const TurnedMargin& margin) const;

    const RoomStudy& study_;
    Instant first_, last_;
    double lowest_, highest_;
    std::vector<SunTurn> turns_;
    SkyFrame frame_;
    double bearing_, doubt_;
    std::unique_ptr<Reach> reach_;
    DirectionCut cut_;
    std::size_t sky_;
    std::vector<Added> added_;
    std::vector<DirectionCut::Way> ways_;
    std::vector<DirectionCut::Part> open_;
};

}  // namespace keyhour::study
