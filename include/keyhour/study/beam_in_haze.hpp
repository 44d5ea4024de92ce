#pragma once
/// @file
/// From which camera does a window's sunbeam show in haze?

#include <vector>

#include "keyhour/room/scene.hpp"

namespace keyhour::study {

/// One window's beam before one camera. Nothing in the room is taken to hide it.
struct BeamInHaze {
    std::size_t window = 0, camera = 0;
    /// Between the lens's axis and the direction to the sun: 0, the lens looks into the light; 180,
    /// the light comes from behind the camera.
    Angle off_axis;
    /// By how much light must turn from the beam to the lens, where the beam crosses the frame; the
    /// same as off_axis if it does not.
    Angle scattering;
    double in_frame_m = 0;     ///< longest way across the frame among nine rays of the beam
    bool sun_in_lens = false;  ///< the sun itself stands in the frame, and in this window

    /// How much brighter than the same beam seen square from its side, for thin haze: single
    /// scattering, Henyey & Greenstein (light/haze.hpp). A line of sight that runs along the beam
    /// passes more of it, which comes on top.
    [[nodiscard]] double stops_over_side() const;
};

/// What the nine rays are: a grid over the part of the opening that the sun clears; bars and what
/// stands outside are left out.
/// @pre the sun is above the level and before the window's wall
[[nodiscard]] BeamInHaze beam_in_haze(const room::Scene& scene, std::size_t window,
                                      std::size_t camera, room::Point3 sun);

/// For every camera of the room.
[[nodiscard]] std::vector<BeamInHaze> beams_in_haze(const room::Scene& scene, std::size_t window,
                                                    room::Point3 sun);

}  // namespace keyhour::study
