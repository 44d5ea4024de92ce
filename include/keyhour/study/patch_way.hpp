#pragma once
/// @file
/// A patch on its way: when does a window's sun cross a mark, an object, a point or a camera's
/// frame, and when does it, or its mirror image, come into the lens?

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "keyhour/study/room_study.hpp"
#include "keyhour/study/spans.hpp"

namespace keyhour::study {

/// A place that the file does not name: a face at the bench's end, a screen.
struct NamedPoint {
    std::string name;
    room::Point3 at;  ///< plan metres, z above the floor
};

/// What a window's sun meets on its way.
enum class Crossed {
    mark,    ///< some of its silhouette is lit
    object,  ///< its top or a side is lit
    point,   ///< a ball of 2 cm about it is lit
    frame,   ///< some of a patch lies in the camera's frame
    lens,    ///< direct sun on the lens's front, from before it
    glare,   ///< the sun's mirror image in a lit surface stands in the frame: seen if that shines
};

struct Crossing {
    std::size_t window = 0;
    Crossed what = Crossed::mark;
    std::size_t index = 0;  ///< into Room::marks, objects, cameras, or the points that were given
    Span span;  ///< at the stated bearing; runs_at_start, runs_at_end: cut by from or to
    /// Of the patch's middle, on the surface where it lies, m a minute at mid-span; for a mark or
    /// point on the surface behind it. Nothing for a lens, or where it does not last a minute
    /// there.
    std::optional<double> speed_m_per_min;
    /// Of a lens: smallest angle between its axis and the sun while it lasts; of others zero.
    Angle off_axis;
    bool sun_in_frame = false;             ///< of a lens: at some time the sun stands in the frame
    std::optional<room::Surface> surface;  ///< of glare: where the mirror image lies
};

/// The radius of a lens's front, m: common practice, no source.
inline constexpr double lens_radius_m = 0.04;

/// Every crossing within from..to by the windows whose cover is open, by window, then by what is
/// crossed, then by time.
///
/// The frame is the camera's angle of view, with nothing in the room taken to hide a patch from it.
/// A mirror image obeys the law of reflection (angle out equals angle in) in the plane of floor,
/// wall, or an object's top. Boundaries are good to 0.5 s; what lasts less than half a minute may
/// be passed over.
/// @pre from < to, and the study's track covers it
[[nodiscard]] std::vector<Crossing> crossings(const RoomStudy& study, Instant from, Instant to,
                                              std::span<const NamedPoint> points = {});

}  // namespace keyhour::study
