#pragma once
/// @file
/// The sun's track: the apparent place over a range of dates, computed once and shared by every
/// observer. The caller owns the memory; the core takes none.

#include <cstddef>
#include <optional>
#include <span>

#include "keyhour/sun/position.hpp"
#include "keyhour/sun/time_scales.hpp"

namespace keyhour::sun {

/// One piece of the track: polynomials in time over node_span_s seconds of TT.
struct TrackNode {
    static constexpr std::size_t degree = 5;
    /// [k]: coefficients of s^k, s running from -1 to 1 over the piece, for the apparent place's x,
    /// y, z (au, true equator of date) and Greenwich sidereal time less Earth rotation (turns).
    double coefficient[degree + 1][4] = {};
};

/// Six days: the shortest large terms of nutation have periods of 9 and 14 days; at degree 5 the
/// pieces miss them by less than 0.001 arcsec. A year takes 61 nodes, 12 kB.
inline constexpr double node_span_s = 6 * seconds_per_day;

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

    /// The sun at t as angles, interpolated; error below 0.01 arcsecond. @pre from() <= t <= to()
    [[nodiscard]] GeocentricSun at(Instant t) const noexcept;

    /// The same as a vector: faster, for loops. @pre from() <= t <= to()
    [[nodiscard]] ApparentVector vector(Instant t) const noexcept;

    /// How fast vector() changes, each member a second. @pre from() <= t <= to()
    [[nodiscard]] ApparentVector rate(Instant t) const noexcept;

    /// Azimuth and altitudes for an observer: the fast way. @pre from() <= t <= to()
    using Horizontal = sun::Horizontal;
    [[nodiscard]] Horizontal horizontal(const Place& place, Instant t) const noexcept;

private:
    Track(Instant from, Instant to, std::span<const TrackNode> nodes) noexcept;

    struct Where {
        const TrackNode* node;
        double s;  // -1..1 within the node
    };
    [[nodiscard]] Where where(Instant t) const noexcept;

    Instant from_, to_;
    double first_tt_s_ = 0;  // where the first node begins, seconds of TT since J2000.0
    std::span<const TrackNode> nodes_;
};

}  // namespace keyhour::sun
