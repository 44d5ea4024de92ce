#pragma once
/// @file
/// The room as a vessel of light: how much its surfaces give back.

#include <optional>

#include "keyhour/light/glass.hpp"
#include "keyhour/light/inter_reflection.hpp"
#include "keyhour/room/scene.hpp"

namespace keyhour::study {

[[nodiscard]] light::Panes panes_of(const room::Window& window) noexcept;

/// Floor, walls, ceiling and windows of the room as one window's light meets them. Objects are not
/// counted.
[[nodiscard]] light::RoomReflectances reflectances_for(const room::Room& room,
                                                       const room::Window& window);

/// Objects count as the floor does.
[[nodiscard]] double reflectance_of(const room::Surface& surface,
                                    const room::Reflectance& r) noexcept;

/// The part of an opening's inner plane whose rays clear the outer rectangle; along the wall from
/// its left-hand corner, and above the floor.
struct ClearPart {
    double left_m, right_m, low_m, high_m;
};

/// Bars and what stands outside are left out; nothing if no ray comes through.
[[nodiscard]] std::optional<ClearPart> clear_part(const room::Scene& scene, std::size_t window,
                                                  room::Point3 sun);

/// A point of it, just inside the wall.
/// @param across,up  shares of its width and height, 0..1
[[nodiscard]] room::Point3 point_of(const ClearPart& part, const room::WallFrame& frame,
                                    double across, double up);

/// Mean reflectance where a window's sunbeam lands, 0..1: by rays through its opening, bars and
/// buildings left out; objects count as the floor does. 0 if none comes through.
[[nodiscard]] double landing_reflectance(const room::Scene& scene, std::size_t window,
                                         room::Point3 sun);

}  // namespace keyhour::study
