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
    /// y (au, true equator of date), and its z and Greenwich sidereal time less Earth rotation
    /// (turns).
    Pair coefficient[degree + 1][2] = {};
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

    /// The same and how fast it changes. @pre from() <= t <= to()
    [[nodiscard]] ApparentMotion motion(Instant t) const noexcept;

    /// Azimuth and altitudes for an observer: the fast way. @pre from() <= t <= to()
    using Horizontal = sun::Horizontal;
    [[nodiscard]] Horizontal horizontal(const Place& place, Instant t) const noexcept;

    /// The same at even steps, out[i] at first + i * step: a third faster than one by one.
    /// @pre every instant lies in from()..to()
    void horizontals(const Place& place, Instant first, Seconds step,
                     std::span<Horizontal> out) const noexcept;

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

inline Track::Where Track::where(Instant t) const noexcept {
    const double spans = (tt_seconds_since_j2000(t) - first_tt_s_) * (1 / node_span_s);
    const auto last = static_cast<int>(nodes_.size()) - 1;
    int i = static_cast<int>(spans);
    i = i < 0 ? 0 : i > last ? last : i;
    return {&nodes_[static_cast<std::size_t>(i)], 2 * (spans - i) - 1};
}

inline ApparentVector Track::vector(Instant t) const noexcept {
    const auto [node, s] = where(t);
    Pair xy = node->coefficient[TrackNode::degree][0];
    Pair z_offset = node->coefficient[TrackNode::degree][1];
    for (std::size_t k = TrackNode::degree; k-- > 0;) {
        xy = xy * s + node->coefficient[k][0];
        z_offset = z_offset * s + node->coefficient[k][1];
    }
    return {xy[0], xy[1], z_offset[0], earth_rotation_turns(t) + z_offset[1]};
}

inline Horizontal Track::horizontal(const Place& place, Instant t) const noexcept {
    return place.horizontal(vector(t));
}

}  // namespace keyhour::sun
