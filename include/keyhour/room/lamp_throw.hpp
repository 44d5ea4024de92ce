#pragma once
/// @file
/// What a lamp outside throws through one window: the light of a point, where the sun's is
/// parallel.

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "keyhour/room/scene.hpp"

namespace keyhour::room {

/// A part of the opening as the lamp sees it.
struct ThrownPart {
    Point3 toward;                ///< unit vector in plan axes, from the lamp through the part
    Point3 through;               ///< the part's middle, in the opening's inner plane
    double solid_angle_sr = 0;    ///< of what is open of it: bars, reveal, buildings taken away
    double incidence_cosine = 0;  ///< between the ray and the opening's normal
};

/// One lamp, as a point, before one window. All is projected from the lamp onto the window's inner
/// plane; what stands between them, inside or outside, is in the way. The window's cover is not
/// looked at. Light that meets another window on its way out is lost.
class LampThrow {
public:
    /// @param lamp  plan metres, z from the room's floor
    /// @pre `scene` outlives this
    LampThrow(const Scene& scene, std::size_t window, Point3 lamp);

    /// Does the lamp stand beyond the wall's outer face, and not so far aside that the reveal
    /// shuts? What else is in the way is not looked at.
    [[nodiscard]] bool enters() const noexcept { return enters_; }

    /// Of the clear opening, the share (0..1, measured in its inner plane) through which light
    /// comes.
    [[nodiscard]] double open_share() const;

    /// Light on floor, walls and objects, patches below 1 cm2 left out.
    /// @param face_diameter_m  of the lamp, for the soft edge: the edge of what stands in the outer
    ///                         plane (similar triangles, light/lamp.hpp)
    [[nodiscard]] std::vector<Patch> patches(double face_diameter_m) const;

    /// Light on the ceiling, which only a lamp that stands lower gives. Its surface is not set.
    [[nodiscard]] std::optional<Patch> on_ceiling(double face_diameter_m) const;

    /// Fraction (0..1) of the mark's silhouette, seen from the lamp, which its light reaches;
    /// measured in a plane square to the line from lamp to mark.
    [[nodiscard]] double coverage(std::size_t mark) const;

    /// What takes which part of that silhouette away. A lamp that does not stand before the window
    /// loses all to the jamb on its side.
    [[nodiscard]] std::vector<Loss> losses(std::size_t mark) const;

    /// The opening cut into `across` x `up` equal parts; those of which something is open. Exact
    /// but for directions, which are those of the part's middle.
    [[nodiscard]] std::vector<ThrownPart> parts(int across, int up) const;

private:
    template <class Silhouette>
    void judge(const Silhouette& silhouette, double& lit, double& whole) const;
    template <class Silhouette>
    void collect(const Silhouette& silhouette, std::vector<Loss>& out, double& whole) const;
    template <class Each>
    void for_each_silhouette(std::size_t mark, const Each& each) const;
    [[nodiscard]] std::vector<std::array<double, 4>> panes() const;
    [[nodiscard]] double edge_width(double face_diameter_m, Point2 inside) const;

    const Scene& scene_;
    std::size_t window_;
    Point3 lamp_;                                        ///< u, w, z
    double left_ = 0, right_ = 0, sill_ = 0, head_ = 0;  ///< meets inner and outer rectangle
    bool enters_ = false;
    std::vector<UprightPiece> outside_;  ///< between the lamp's plane and the outer plane
};

}  // namespace keyhour::room
