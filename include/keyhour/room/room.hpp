#pragma once
/// @file
/// A room as the crew measured it: what the location file says, in metres, checked but not yet
/// prepared for computing (see room/scene.hpp for that).

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "keyhour/room/plan.hpp"
#include "keyhour/sun/angle.hpp"

namespace keyhour::room {

/// What hangs in a window, whole: nothing, thin white cloth that scatters what it lets through, or
/// cloth that lets nothing through. Only an open window throws patches.
enum class Cover { open, sheer, blackout };
/// Clear panes in the opening, one behind the other.
enum class Glass { none, single_pane, double_pane };

/// Glazing bars: flat, no depth, leaving panes of equal size.
struct Bars {
    int upright = 0;      ///< how many stand
    int level = 0;        ///< how many lie
    Real width_m = 0;     ///< of each bar
    Real set_back_m = 0;  ///< from the outer wall face inward, 0..reveal
};

/// Half the range in which a measured length lies, m. Nothing: the usual for how it was measured.
struct WindowDoubt {
    std::optional<Real> left_m, width_m, sill_m, height_m, reveal_m;
};
struct MarkDoubt {
    std::optional<Real> at_m, height_m;  ///< at_m: each way on the plan
};

/// A clear opening in a wall: a straight hole going outward from the wall's inner face.
struct Window {
    std::string name;      ///< each window's own
    std::size_t wall = 0;  ///< index into Room::walls
    Real left_m = 0;       ///< from the wall's left-hand corner, seen from inside, to the near jamb
    Real width_m = 0;      ///< above 0, within the wall
    Real sill_m = 0;       ///< above the room's floor, 0 or more
    Real height_m = 0;     ///< above 0; the head lies below the ceiling
    Real reveal_m = 0;     ///< depth of the opening, 0 or more
    Bars bars;             ///< none: one pane
    Glass glass = Glass::single_pane;
    Cover cover = Cover::open;
    WindowDoubt within{};  ///< of its taped lengths
};

/// Where the subject is: a sphere, or an upright box with sides along x and y.
struct Mark {
    std::string name;      ///< each mark's own
    Point2 at;             ///< of its centre, within the floor
    Real height_m = 0;     ///< of its centre above the floor, below the ceiling
    Real radius_m = 0.15;  ///< of the sphere: a head (common practice, no source)
    std::optional<std::array<Real, 3>> box_m;  ///< along x, along y, tall; then radius is unused
    MarkDoubt within{};                        ///< of its taped lengths
};

/// The radius of a sphere, half the diagonal of a box: no part of the mark is farther from its
/// centre.
[[nodiscard]] Real half_size(const Mark& mark) noexcept;

/// A camera inside, its axis through the middle of the mark that it aims at.
struct Camera {
    std::string name;                            ///< each camera's own
    Point2 at;                                   ///< of the lens, within the floor
    Real height_m = 0;                           ///< of the lens above the floor
    std::size_t aims_at = 0;                     ///< index into Room::marks
    Angle view = Angle::degrees(40);             ///< horizontal angle of view
    Angle view_vertical = Angle::degrees(22.5);  ///< 9:16 of the horizontal unless given
    std::optional<Real> within_m{};  ///< of its place, each way on the plan; nothing: the usual
};

/// Something inside that stands on the floor, blocks light and receives it.
struct Object {
    std::string name;
    Ring footprint;     ///< within the floor
    Real height_m = 0;  ///< of its top above the floor
};

/// A side of a building that throws light back: whole panes of glass, or white render.
struct Facade {
    enum class Kind { glass, white } kind = Kind::glass;
    std::size_t side = 0;  ///< side i runs from corner i of the footprint to corner i + 1
    Real bottom_m = 0;     ///< above the ground
    Real top_m = 0;        ///< above bottom_m, at most the building's height
};

/// Something outside that stands on the ground and blocks light.
struct Building {
    enum class Kind { building, tree };
    std::string name;                ///< in the words of the crew
    Ring footprint;                  ///< without corners it stands in nobody's way
    Real height_m = 0;               ///< above the ground
    std::optional<Facade> facade{};  ///< one side at most
    Kind kind = Kind::building;
    std::optional<Real> within_m{};  ///< of its place, each way on the plan; nothing: the usual
};

/// "building warehouse opposite", "tree lime".
[[nodiscard]] std::string words(const Building& building);

/// The bearing as it was given.
struct Bearing {
    std::size_t wall = 0;   ///< index into Room::walls
    Angle faces;            ///< as read, looking out, square to the wall
    bool magnetic = false;  ///< read from a compass
    Angle declination;      ///< of the compass, east positive; zero when not magnetic
    Angle within;           ///< stated uncertainty
    /// Looking out, from true north.
    [[nodiscard]] Azimuth faces_true() const {
        return {wrapped_turn(magnetic ? faces + declination : faces)};
    }
};

/// Shares of the light that the room's surfaces give back, 0..1, diffusely. The usual ones of
/// lighting practice: the lower ends of EN 12464-1's ranges (from memory).
struct Reflectance {
    Real floor = 0.2, walls = 0.5, ceiling = 0.7;
};

/// The room as measured, checked. Lists keep the order of the file; indices into them are used
/// everywhere.
struct Room {
    Ring floor;                      ///< inner faces of the walls, either turning sense
    std::vector<std::string> walls;  ///< wall i runs from corner i to corner i + 1
    Real height_m = 0;               ///< floor to ceiling, above 0
    Real floor_above_ground_m = 0;   ///< which is level; 0 in the open
    Bearing bearing;                 ///< of one wall, and so of the plan
    Reflectance reflectance;
    std::vector<Window> windows;
    std::vector<Mark> marks;
    std::vector<Camera> cameras;
    std::vector<Object> objects;
    std::vector<Building> buildings;
    std::optional<Real> within_m{};  ///< of the floor's longest length; nothing: the usual
};

/// A wall seen from inside: u runs to the right from its left-hand corner, n points outward.
struct WallFrame {
    Point2 left_corner;  ///< on the plan
    Point2 u;            ///< unit vector to the right, seen from inside
    Point2 n;            ///< unit vector outward
    Real width_m = 0;    ///< between its corners
};

/// @param wall  index below room.floor.size(); floor not self-crossing, of nonzero area
[[nodiscard]] WallFrame wall_frame(const Ring& floor, std::size_t wall) noexcept;

/// Bearing of the plan's +y axis, from the room's stated bearing.
[[nodiscard]] Azimuth plan_bearing(const Room& room) noexcept;

/// Which way wall i faces: looking out, from true north.
[[nodiscard]] Azimuth wall_faces(const Room& room, std::size_t wall) noexcept;

}  // namespace keyhour::room
