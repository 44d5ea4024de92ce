#pragma once
/// @file
/// What a lamp gives, however its light is known: one answer for photometry, data sheet and lumens,
/// with its diffusion.

#include <optional>
#include <variant>

#include "keyhour/room/plan.hpp"
#include "keyhour/site/lamp.hpp"

namespace keyhour::study {

/// Where what shines of a lamp is (its face, or the diffusion before it), and where it is aimed.
struct LampPose {
    room::Point3 at;
    room::Point3 axis;  ///< unit vector in plan axes
};

/// A lamp hung to shine down.
[[nodiscard]] inline LampPose hung(room::Point3 at) {
    return {at, {0, 0, -1}};
}

class LampOutput {
public:
    using Source = std::variant<light::LampBeam, light::CandelaGrid, light::SoftFace>;

    /// @pre `lamp` outlives this
    explicit LampOutput(const site::Lamp& lamp);

    /// Not where only the lumens are known: such a lamp hangs and shines down.
    [[nodiscard]] bool can_be_aimed() const noexcept { return can_be_aimed_; }

    /// Of what shines: the diffusion where there is one.
    [[nodiscard]] double face_diameter_m() const noexcept { return face_; }

    /// cd in a direction, as from afar. An LM-63 file's vertical angle 0 is the axis; its
    /// horizontal angle 0 lies level, to the right as the lamp looks (of a lamp that shines
    /// straight down: along the plan's x).
    /// @param toward  from the lamp, any length
    [[nodiscard]] double candela(const LampPose& pose, room::Point3 toward) const;

    /// lx at a point, square to the ray unless a cosine is given.
    [[nodiscard]] double level_lx(const LampPose& pose, room::Point3 at,
                                  double cos_incidence = 1) const;

    /// How far off on the axis a level > 0 is found; nothing if it is brighter than any.
    [[nodiscard]] std::optional<double> distance_for_m(double level_lx) const;

    [[nodiscard]] double axis_candela() const;
    /// All its light, lm, after the diffusion.
    [[nodiscard]] double lumens() const;

private:
    Source source_;
    double face_;
    bool can_be_aimed_;
};

}  // namespace keyhour::study
