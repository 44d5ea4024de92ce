#pragma once
/// @file
/// The skyline as it is seen from one point: near things as geometry, far things as a profile.

#include <cstddef>
#include <string>
#include <vector>

#include "keyhour/room/scene.hpp"
#include "keyhour/site/location.hpp"

namespace keyhour::site {

/// "horizon" (level), "ridge" (terrain), "skyline" (a listed or surveyed profile).
[[nodiscard]] const char* far_words(const Horizon& far, const HorizonSource& source) noexcept;

class Outlook {
public:
    /// @param eye   plan metres, z above the room's floor (above the ground without a room)
    /// @param far   the profile of what is not geometry
    /// @param date  on which the trees are as they are
    Outlook(const Location& location, room::Point3 eye, const Horizon& far, LocalDate date);
    /// With the site's own profile.
    Outlook(const Location& location, room::Point3 eye, LocalDate date)
        : Outlook{location, eye, location.site.horizon, date} {}
    /// From the lens of a spot, with its own profile where it has one.
    Outlook(const Location& location, const Spot& spot, LocalDate date);

    enum class Kind {
        level,     ///< nothing: the level plane
        profile,   ///< the skyline as listed or surveyed
        terrain,   ///< the skyline from elevation grids
        building,  ///< index into buildings(location)
        tree,      ///< that counts as closed on the date; index into Location::trees
        own_walls  ///< the room's own body
    };
    struct Top {
        Altitude altitude;  ///< apparent; 90 degrees from within a footprint, below its top
        Kind kind = Kind::level;
        std::size_t index = 0;
        friend bool operator==(Top, Top) = default;
    };

    /// The highest thing in a true bearing, and what it is. Exact for prisms: the greatest of
    /// atan((top - eye) / distance) over the edges that the bearing crosses, touching included.
    /// From above everything the altitude may be below level only where terrain says so.
    [[nodiscard]] Top top_at(Azimuth bearing) const noexcept;

    /// Does anything stand near that closes the view? It may show the sun for a moment only.
    [[nodiscard]] bool has_things_near() const noexcept { return !closed_.empty(); }

    /// Share of direct light that trees which do not count as closed let through, 0..1: each that
    /// the ray crosses takes its opacity once.
    [[nodiscard]] double passes(Azimuth bearing, Altitude altitude) const noexcept;

    /// "building warehouse opposite", "tree lime", "ridge" (terrain), "skyline" (a listed or
    /// surveyed profile), "horizon" (level), "own walls outside".
    [[nodiscard]] std::string words(const Top& top) const;

private:
    /// An upright prism as seen from the eye.
    struct Prism {
        room::Ring footprint;  // the eye at the origin, x and y of the plan
        double top = 0;        // above the eye
        Kind kind = Kind::building;
        std::size_t index = 0;
        double opacity = 1;
        room::Point2 middle;  // of a circle around it
        double radius = 0;
        bool around = false;  // the eye stands within the footprint
    };
    void add(const room::Ring& footprint, double top_m, Kind kind, std::size_t index,
             double opacity);
    [[nodiscard]] static bool crosses(const Prism& prism, room::Point2 direction, double& nearest,
                                      double& farthest) noexcept;

    room::Point3 eye_;
    room::PlanTurn turn_;
    Horizon far_;
    Kind far_kind_ = Kind::level;
    std::vector<Prism> closed_, thin_;
    std::vector<std::string> building_words_, tree_names_;
};

}  // namespace keyhour::site
