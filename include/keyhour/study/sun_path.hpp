#pragma once
/// @file
/// The sun over one site: a track shared by all sites, seen from one place and over one skyline.

#include <memory>
#include <optional>
#include <vector>

#include "keyhour/site/location.hpp"
#include "keyhour/sun/track.hpp"

namespace keyhour::study {

/// Owns a sun::Track and its nodes; made once a run and shared by every location.
class SharedTrack {
public:
    /// @return null if the range is not served (years 1800-2200)
    [[nodiscard]] static std::shared_ptr<const SharedTrack> make(Instant from, Instant to);
    [[nodiscard]] const sun::Track& track() const noexcept { return *track_; }

private:
    std::vector<sun::TrackNode> nodes_;  // the track looks at them
    std::optional<sun::Track> track_;
};

/// The sun at one instant, as light goes: along the refracted ray.
struct Moment {
    Instant at;
    LevelVector toward;            ///< unit vector to the sun, apparent direction
    double altitude_deg = 0;       ///< apparent
    double above_skyline_deg = 0;  ///< apparent altitude less the skyline's, both >= level
};

/// The shared track from one site: its observer, weather and skyline are copied.
class SunPath {
public:
    /// @pre shared is not null
    SunPath(const site::Site& site, std::shared_ptr<const SharedTrack> shared);

    /// @pre the shared track covers t
    [[nodiscard]] Moment at(Instant t) const;
    /// The full position. @pre as at()
    [[nodiscard]] sun::Position position(Instant t) const;
    /// The sun as seen from the Earth's centre; outside the shared track computed from the series.
    [[nodiscard]] sun::ApparentVector vector(Instant t) const;
    [[nodiscard]] const sun::Place& place() const noexcept { return place_; }

    /// from, from + step, ...; the last one is `to` itself.
    [[nodiscard]] std::vector<Moment> samples(Instant from, Instant to, Seconds step) const;

    [[nodiscard]] const std::shared_ptr<const SharedTrack>& shared() const noexcept {
        return shared_;
    }
    [[nodiscard]] Instant from() const noexcept { return shared_->track().from(); }
    [[nodiscard]] Instant to() const noexcept { return shared_->track().to(); }

private:
    std::shared_ptr<const SharedTrack> shared_;
    sun::Place place_;
    site::Horizon horizon_;
};

}  // namespace keyhour::study
