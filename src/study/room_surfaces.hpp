#pragma once
/// @file
/// The room as a vessel of light: how much its surfaces give back.

#include "keyhour/light/glass.hpp"
#include "keyhour/light/inter_reflection.hpp"
#include "keyhour/room/scene.hpp"

namespace keyhour::study {

[[nodiscard]] light::Glass glass_of(const room::Window& window) noexcept;

/// Floor, walls, ceiling and windows of the room as one window's light meets them. Objects are not
/// counted.
[[nodiscard]] light::RoomReflectances reflectances_for(const room::Room& room,
                                                       const room::Window& window);

/// Mean reflectance where a window's sunbeam lands, 0..1: by rays through its opening, bars and
/// buildings left out; objects count as the floor does. 0 if none comes through.
[[nodiscard]] double landing_reflectance(const room::Scene& scene, std::size_t window,
                                         room::Point3 sun);

}  // namespace keyhour::study
