#pragma once
/// @file
/// What a glowing forge in the room gives a mark.

#include <optional>
#include <string>
#include <vector>

#include "keyhour/room/scene.hpp"
#include "keyhour/site/forge.hpp"

namespace keyhour::study {

/// Light of one forge.
struct ForgeLight {
    std::string name;
    /// At the mark's centre, on a receiver turned to the opening's middle, lx; 0 where something
    /// stands between, or from behind the opening.
    double mark_lx = 0;
    double given_back_lx = 0;  ///< by the room, passed round: a mean, good to a factor 2
    std::optional<room::LimitingEdge> blocked;
    double kelvin = 0;
};

/// The opening is an evenly bright matt rectangle (Lambert), as bright as the metered level makes
/// it. Close by that is the rectangle's configuration factor (light/configuration_factor.hpp), far
/// off the inverse square of a small source with the cosine at its face.
/// @return lx
[[nodiscard]] double forge_level_lx(const site::Forge& forge, room::Point3 at);

/// Every forge at one mark; each burns as it did when it was metered.
[[nodiscard]] std::vector<ForgeLight> forge_light(const room::Room& room,
                                                  const std::vector<site::Forge>& forges,
                                                  std::size_t mark);

/// Of all forges, lx.
[[nodiscard]] double at_mark_lx(const std::vector<ForgeLight>& forges);
[[nodiscard]] double given_back_lx(const std::vector<ForgeLight>& forges);

}  // namespace keyhour::study
