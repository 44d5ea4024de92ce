#pragma once
/// @file
/// Between which times does the light at a spot come and go, when what hides the sun is known only
/// so well?

#include <memory>
#include <optional>
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
    /// @pre spot < location.spots.size(); the location outlives this
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

private:
    struct Member {
        site::Location location;
        double refraction = 0;  ///< -1..1 of its doubt
        Seconds clock_off{0};
    };
    [[nodiscard]] std::optional<Span> around(Instant bound, bool is_end,
                                             const std::vector<site::Outlook>& outlooks) const;

    std::size_t spot_;
    std::vector<Member> members_;
    SunPath path_;  ///< its own skyline is level
    Weather weather_;
};

}  // namespace keyhour::study
