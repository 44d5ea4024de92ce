#pragma once
/// @file
/// Between which times does the light at a spot come and go, when what hides the sun is known only
/// so well?

#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "keyhour/study/key_doubt.hpp"
#include "keyhour/study/spot_light.hpp"

namespace keyhour::study {

/// As many as a patch's.
inline constexpr EnsembleSettings spot_ensemble{32, 1, whole_doubt};

/// Members: the location with skyline, heights outside, bearing of the plan, clock and refraction
/// moved within their doubts. The refraction's grows towards the horizon (site::refraction_within).
class SpotEnsemble {
public:
    /// @pre spot < location.spots.size()
    SpotEnsemble(const site::Location& location, std::size_t spot,
                 std::shared_ptr<const SharedTrack> shared,
                 const EnsembleSettings& ensemble = spot_ensemble);

    /// By the clock, between which times 90 % of the members have this end of the light.
    struct Ends {
        std::optional<Span> begins, ends;  ///< nothing for an end at midnight
    };
    /// @param direct  of the spot's stated day `date`
    /// A member's end is that of its light which lies nearest, within two hours.
    [[nodiscard]] Ends ends(const DirectSpan& direct, site::LocalDate date) const;

    /// The same of all of the day's light. Members are moved one after the other and not kept: a
    /// street of houses is large, and thirty-two of it for each of many spots fill a machine.
    [[nodiscard]] std::vector<Ends> ends(std::span<const DirectSpan> direct,
                                         site::LocalDate date) const;

private:
    [[nodiscard]] std::vector<Moment> samples_about(Instant t, Seconds step) const;

    site::Location location_;  ///< with this spot alone
    std::vector<Draw> draws_;
    SunPath path_;  ///< its own skyline is level
};

}  // namespace keyhour::study
