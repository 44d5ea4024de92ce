#pragma once
/// @file
/// A room prepared for computing: what does not depend on the sun is worked out once.
///
/// Sunlight is parallel, from the sun's centre. For one window and one direction all work is done
/// in that window's inner plane: everything is projected along the ray onto it, so that "which rays
/// pass" is a question about flat outlines. Coordinates there: u to the right seen from inside,
/// from the wall's left-hand corner; z up from the floor.

#include <array>
#include <cstddef>
#include <functional>
#include <vector>

#include "keyhour/room/limiting_edge.hpp"
#include "keyhour/room/opening.hpp"
#include "keyhour/room/room.hpp"
#include "keyhour/room/touch.hpp"
#include "keyhour/sun/observer.hpp"

namespace keyhour::room {

/// How the plan lies on the ground: turns level directions into plan axes.
class PlanTurn {
public:
    /// @param bearing_of_y  true bearing of the plan's +y axis
    explicit PlanTurn(Azimuth bearing_of_y) noexcept;
    /// East, north, up -> x, y, z of the plan.
    [[nodiscard]] Point3 to_plan(const LevelVector& v) const noexcept {
        return {v.east * cos_ - v.north * sin_, v.east * sin_ + v.north * cos_, v.up};
    }

private:
    Real sin_ = 0, cos_ = 1;
};

/// What receives light inside. An object's top and sides are one surface. A wall is whole: the
/// openings of other windows are not cut out of it.
struct Surface {
    enum class Kind { floor, wall, object } kind = Kind::floor;
    std::size_t index = 0;  ///< into Room::walls or Room::objects
    friend bool operator==(Surface, Surface) = default;
};

/// "floor", "wall NAME", "object NAME".
[[nodiscard]] std::string words(const Surface& surface, const Room& room);

/// Sunlight on one surface through one window.
struct Patch {
    Surface surface;
    Real area_m2 = 0;
    Point3 centroid;        ///< of the area
    Real edge_width_m = 0;  ///< soft edge, square to the ray, at the centroid
    /// Rings in plan metres: an outer ring, counter-clockwise seen from the lit side, then its
    /// holes, clockwise; then the next outer ring.
    std::vector<std::vector<Point3>> outlines;
};

/// Smallest patch that is reported.
inline constexpr Real smallest_patch_m2 = 1e-4;

/// A part of a mark's silhouette that is lost to one edge.
struct Loss {
    LimitingEdge edge;
    Real fraction = 0;  ///< of the silhouette; losses to several edges may overlap
};

struct Convex;

/// A part of an opening as a point of the room sees it.
struct ViewPart {
    Point3 toward;              ///< unit vector in plan axes, from the point through the part
    Real solid_angle_sr = 0;    ///< of the whole part
    Real incidence_cosine = 0;  ///< between that direction and the opening's outward normal
    // Shares of the part, 0..1; what is left over is jambs, bars, objects and inner walls.
    Real cloth = 0;     ///< the opening's inner plane can be seen: a sheer hangs there
    Real sky = 0;       ///< past bars and outer edge, over buildings and skyline
    Real ground = 0;    ///< past bars and outer edge: land below the skyline
    Real building = 0;  ///< past bars and outer edge: buildings and the room's own wings
    Point3 to_sky;      ///< unit vector to the middle of the sky in it
};

/// Of an opening from one direction, m2 in the wall's plane.
struct OpenAreas {
    Real panes_m2 = 0;  ///< between reveal and bars
    Real free_m2 = 0;   ///< of these, past buildings and the room's own wings
};

/// Tangent of the skyline's altitude, 0 or more, in a level direction of the plan (any length).
using Skyline = std::function<Real(Point2)>;

class Scene {
public:
    /// @pre `room` is sound as read::read_location leaves it: simple floor, windows in their walls
    explicit Scene(Room room);

    [[nodiscard]] const Room& room() const noexcept { return room_; }

    /// Outward component of the direction: positive while the sun is in front of the window's wall.
    [[nodiscard]] Real in_front(std::size_t window, Point3 sun) const noexcept;

    /// Area of the opening, measured in the wall's plane, through which direct sun enters, m2:
    /// reveal, bars, buildings and the room's own body taken away. Zero while the sun is behind the
    /// wall's plane or not above the level.
    /// @param sun  unit vector in plan axes, from the room to the sun (apparent direction)
    [[nodiscard]] Real open_area(std::size_t window, Point3 sun) const;

    /// The same for a direction at any height, below the level too, and what reveal and bars alone
    /// would leave. Both zero while the direction is behind the wall's plane.
    /// @param toward  unit vector in plan axes
    [[nodiscard]] OpenAreas open_areas(std::size_t window, Point3 toward) const;

    /// Fraction (0..1) of the mark's silhouette, seen from the sun, that the light through `window`
    /// reaches. Exact for spheres (circle against straight edges) and boxes. The window's cover is
    /// not looked at. An object or inner wall stands in the way where it lies sunward of the
    /// sphere's middle or of the box's face.
    [[nodiscard]] Real coverage(std::size_t mark, std::size_t window, Point3 sun) const;

    /// Which edges may touch the mark's silhouette: a bound for searches, cheaper than coverage.
    /// @param wanted  coverage below which all is dark
    [[nodiscard]] Touch touch(std::size_t mark, std::size_t window, Point3 sun,
                              Real wanted) const noexcept;

    /// How far the mark's centre lies within the opening as seen along the ray, metres in the
    /// wall's plane; negative outside. Knows head, sill and jambs only: a smooth guide for
    /// searches.
    [[nodiscard]] Real centre_margin(std::size_t mark, std::size_t window,
                                     Point3 sun) const noexcept;

    /// The edge of the opening that the mark's centre lies farthest beyond, as seen along the ray;
    /// none while it lies within.
    [[nodiscard]] LimitingEdge farthest_edge(std::size_t mark, std::size_t window,
                                             Point3 sun) const noexcept;

    /// What takes which part of the mark's silhouette away.
    [[nodiscard]] std::vector<Loss> losses(std::size_t mark, std::size_t window, Point3 sun) const;

    /// What takes away which part (of the opening's area) of the sun that could enter.
    [[nodiscard]] std::vector<Loss> opening_losses(std::size_t window, Point3 sun) const;

    /// Sunlight through `window` on every surface, patches below 1 cm2 left out.
    /// @param sun_diameter  the sun's angular diameter, for the soft edge
    [[nodiscard]] std::vector<Patch> patches(std::size_t window, Point3 sun,
                                             Angle sun_diameter = Angle::degrees(0.5331)) const;

    /// Whether sunlight through `window` lands nearer to `centre` than a radius, in patches of 1
    /// cm2 and more. Same answer as patches() and distance_to(), without cutting far faces.
    [[nodiscard]] bool lands_within(std::size_t window, Point3 sun, Point3 centre,
                                    Real radius_m) const;

    /// Does anything stand outside before this window, buildings or a wing of the room itself?
    [[nodiscard]] bool has_outside(std::size_t window) const noexcept {
        return !openings_[window].outside.empty();
    }

    /// Might what stands outside cut a mark's light now? Cheap; no more than a bound.
    [[nodiscard]] bool may_be_shaded(std::size_t mark, std::size_t window,
                                     Point3 sun) const noexcept;

    /// Does the mark lie on the room's side of the window's wall, with a straight line from its
    /// centre to some part of the opening that no inner wall cuts? Without one no light, of sun or
    /// lamp, gets from this window to this mark.
    [[nodiscard]] bool faces(std::size_t window, std::size_t mark) const noexcept;

    /// Middle of the opening, in the wall's inner plane.
    [[nodiscard]] Point3 middle(std::size_t window) const noexcept;

    /// The opening's four corners there, in order round it.
    [[nodiscard]] std::vector<Point3> corners(std::size_t window) const;

    /// What a point sees through the opening, by central projection onto the opening's inner plane,
    /// which is cut into `across` x `up` equal parts: exact within a part, but for the skyline,
    /// which is level across it.
    /// @param from  plan metres; nothing is seen from on or beyond the wall's plane
    /// @return      parts of which something is seen
    [[nodiscard]] std::vector<ViewPart> view_out(std::size_t window, Point3 from,
                                                 const Skyline& skyline, int across, int up) const;

    /// Directions of the opening in plan axes: to the right seen from inside, outward.
    [[nodiscard]] const WallFrame& frame(std::size_t window) const noexcept {
        return openings_[window].frame;
    }

    /// The surface that a ray from the sun through the mark's centre meets next.
    [[nodiscard]] Surface surface_behind(std::size_t mark, Point3 sun) const;

    /// The surface that a ray from the sun through a point of the room meets next.
    [[nodiscard]] Surface surface_down_sun(Point3 from, Point3 sun) const;

private:
    using Opening = OpeningOf<OwnList>;
    using Obstacles = Opening::Obstacles;
    struct Beam;
    [[nodiscard]] static Real past_outside(const Opening& o, const Beam& beam);

    [[nodiscard]] bool make_beam(std::size_t window, Point3 sun, Beam& beam) const noexcept;
    /// Of the mark's centre from left jamb, right jamb, sill, head; positive within.
    [[nodiscard]] std::array<Real, 4> distances_within(std::size_t mark, std::size_t window,
                                                       Point3 sun) const noexcept;
    friend class PatchMaker;

    Room room_;
    std::vector<Opening> openings_;
};

/// Is a direction within the camera's frame (its horizontal and vertical angles of view)?
/// @param direction  from the camera, plan axes, any length
[[nodiscard]] bool in_frame(const Room& room, const Camera& camera, Point3 direction) noexcept;

/// Does any part of the patch lie in the camera's frame? What stands between is not looked at.
[[nodiscard]] bool in_frame(const Room& room, const Camera& camera, const Patch& patch);

/// Shortest distance from a point to the lit outlines, metres.
[[nodiscard]] Real distance_to(const Patch& patch, Point3 p);

/// Horizontal angle at the mark between the direction to the camera and to the light:
/// 0 = from the camera, 180 = back light; positive when the light stands to the right of the camera
/// as seen from the mark.
/// @return  -180..180 degrees
[[nodiscard]] Angle key_angle(const Room& room, const Camera& camera, Point3 sun) noexcept;

}  // namespace keyhour::room
