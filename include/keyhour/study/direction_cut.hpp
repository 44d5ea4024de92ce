#pragma once
/// @file
/// Cuts the sun's way over many days with fixed regions of directions.

#include <cstdint>
#include <utility>
#include <vector>

#include "keyhour/room/direction_region.hpp"
#include "keyhour/study/spans.hpp"
#include "keyhour/study/sun_turns.hpp"

namespace keyhour::study {

/// Regions of directions over the ground, each a set of rings, cut by every turn of the sun at
/// once. In hour angle and declination a day's way is nearly level, so each turn meets only those
/// few chords that span its declination, and each crossing is one division.
class DirectionCut {
public:
    /// @param turns  not empty; both outlive this
    DirectionCut(const SunPath& path, const SkyFrame& frame, const std::vector<SunTurn>& turns);

    /// A new, empty region. @return its number
    std::size_t add_region();

    /// Adds an outline over the plan, laid with its +y axis at `bearing` (radians), to three
    /// regions: as it is; where it holds at every bearing within `doubt` of that; at some.
    /// Turning the plan shifts an outline in azimuth. What holds at all shifts has its left edges
    /// moved right and its right edges left; what holds at some, the other way. Where both meet,
    /// at a highest or lowest point, the outline gains a level piece.
    void add_turned(std::size_t stated, std::size_t every, std::size_t some,
                    const room::DirectionRing& ring, double bearing, double doubt);

    /// Adds an outline over the ground to one region.
    void add(std::size_t region, const room::DirectionRing& ring);

    /// The bearing that makes an outline pass through a point of the way: of a side, moved by this
    /// much; of a highest or lowest point, that which brings it under the sun.
    struct Bearing {
        double azimuth = 0;     ///< of the point over the ground, or how far the side has moved
        bool follows = false;   ///< a highest or lowest point
        bool is_known = false;  ///< the outline does not turn with the plan
    };
    struct Event {
        Instant at;
        int change = 0;  ///< +1: the way enters a ring, -1: leaves one, 0: passes close by
        Bearing bearing;
    };
    /// A span, and which bearings bound it.
    struct Part {
        Span span;
        Bearing begins, ends;
    };
    struct Way {
        int at_start = 0;           ///< how often the first turn's beginning is ringed round
        std::vector<Event> events;  ///< in time
        /// Where the way passes an outline's corner so closely that the chords' error decides.
        std::vector<Event> brushes;
        /// Spans in which the way is ringed round, within from..to.
        [[nodiscard]] std::vector<Part> parts(Instant from, Instant to) const;
    };
    /// @return one for each region
    [[nodiscard]] std::vector<Way> cut() const;

private:
    struct Chord {
        double h, dh;   ///< hour angle where it begins (-pi..pi), and how far it goes
        double d0, d1;  ///< declinations
        std::uint32_t region;
        std::uint32_t before;  ///< the chord that ends where it begins
        Bearing bearing;
    };
    /// A point of an outline over the ground.
    struct Point {
        double azimuth, altitude;  ///< apparent; azimuth not wrapped
        SkyFrame::Height height;
        Bearing bearing;  ///< of the chord that begins here
    };
    void add_outline(std::size_t region, const std::vector<Point>& outline);
    /// Chords of bucket b: order[first[b]] to order[first[b + 1] - 1].
    struct Sorted {
        std::vector<std::uint32_t> first, order;
    };
    [[nodiscard]] Sorted sorted() const;
    void meet(const SunTurn& turn, std::uint32_t chord, std::vector<Way>& ways) const;

    const SkyFrame& frame_;
    const std::vector<SunTurn>& turns_;
    room::PlanDirection start_;  ///< over the ground, of the first turn's beginning
    std::vector<int> at_start_;  ///< of each region
    std::vector<Chord> chords_;
};

}  // namespace keyhour::study
