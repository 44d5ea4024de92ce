#pragma once
/// @file
/// The sun's track: the apparent place over a range of dates, computed once and shared by every
/// observer. The caller owns the memory; the core takes none.

#include <cstddef>
#include <optional>
#include <span>

#include "keyhour/sun/position.hpp"

namespace keyhour::sun {

/// One support of the interpolation.
struct TrackNode {
    double value[4] = {};  // x, y, z of the apparent place (au, true equator of date); equation of
                           // equinoxes or GAST part
    double rate[4] = {};
};

class Track {
public:
    /// How many nodes a track from..to needs; zero unless from < to and both are served.
    [[nodiscard]] static std::size_t nodes_needed(Instant from, Instant to) noexcept;

    /// Fills `nodes` and returns a track that reads them; `nodes` must outlive the track.
    /// Nothing if the range is not served or `nodes` is too short.
    [[nodiscard]] static std::optional<Track> build(Instant from, Instant to,
                                                    std::span<TrackNode> nodes) noexcept;

    [[nodiscard]] Instant from() const noexcept { return from_; }
    [[nodiscard]] Instant to() const noexcept { return to_; }

    /// The sun at t, interpolated; error below 0.01 arcsecond. @pre from() <= t <= to()
    [[nodiscard]] GeocentricSun at(Instant t) const noexcept;

    /// Azimuth and altitudes for an observer: the fast way.
    struct Horizontal {
        Azimuth azimuth;
        Altitude true_altitude, apparent_altitude;
    };
    [[nodiscard]] Horizontal horizontal(const Place& place, Instant t) const noexcept;

private:
    Instant from_, to_;
    std::span<const TrackNode> nodes_;
};

}  // namespace keyhour::sun
