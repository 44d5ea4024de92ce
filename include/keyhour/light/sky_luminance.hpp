#pragma once
/// @file
/// How bright the sky is in each direction, and what a plane of any slope gets from it.

#include <array>
#include <cstddef>
#include <span>

#include "keyhour/light/air.hpp"
#include "keyhour/light/direction.hpp"

namespace keyhour::light {

/// A sky of the standard: how luminance falls from zenith to horizon, and with the angle from the
/// sun.
struct SkyType {
    double a, b;     ///< gradation: 1 + a exp(b / cos Z), Z the zenith angle
    double c, d, e;  ///< indicatrix: 1 + c (exp(d x) - exp(d pi/2)) + e cos2 x, x the angle from
                     ///< the sun, radians
};

/// The numbers of the standard's types that a crew needs. Which air takes which is ours.
inline constexpr int overcast_type = 1;     ///< steep gradation, no trace of the sun
inline constexpr int uniform_type = 5;      ///< the same everywhere
inline constexpr int mean_cloud_type = 7;   ///< partly cloudy, brighter round the sun
inline constexpr int clear_type = 12;       ///< very clear and normal air
inline constexpr int hazy_clear_type = 13;  ///< hazy air

/// @param number  1..15; beyond, the nearer end
/// Source: ISO 15469:2004 / CIE S 011.
[[nodiscard]] const SkyType& cie_sky_type(int number) noexcept;

/// 12, or 13 from halfway (in ln beta) between normal and hazy.
[[nodiscard]] int clear_sky_type(Air air) noexcept;

/// The sky of one instant.
class Sky {
public:
    /// @param type               number of the standard's type
    /// @param sun_altitude       apparent; below the horizon the sun is taken on it (ours: the
    ///                           standard ends there)
    /// @param diffuse_horizontal_lx  what the sky gives a level plane, >= 0: scales the whole
    Sky(int type, Altitude sun_altitude, Azimuth sun_azimuth,
        double diffuse_horizontal_lx) noexcept;

    /// cd/m2; nothing below the horizon. About 20 ns. The sun itself is no part of it.
    /// Scaled by a table of the dome's integral: the level plane gets what was asked within 0.2 %.
    [[nodiscard]] double luminance_cd_m2(const Direction& towards) const noexcept;
    [[nodiscard]] double zenith_luminance_cd_m2() const noexcept;

    /// What a plane gets from the sky alone, lx: by a sum over patches of two degrees, within 0.1
    /// %. Some 0.5 ms; for many planes under one sky use SkyPatches.
    [[nodiscard]] double plane_lx(const Direction& normal) const noexcept;

    [[nodiscard]] double diffuse_horizontal_lx() const noexcept { return diffuse_horizontal_lx_; }

private:
    const SkyType* type_;
    Direction sun_;
    double diffuse_horizontal_lx_;
    double scale_;  ///< cd/m2 for a product of gradation and indicatrix of 1
};

/// The sky in some 570 patches of about 6 x 6 degrees, for many planes: some 30 us to make, 0.7 us
/// a plane; within 1 % of Sky::plane_lx, 2 % with a hazy sky's sun near the plane's edge.
class SkyPatches {
public:
    explicit SkyPatches(const Sky& sky) noexcept;
    [[nodiscard]] double plane_lx(const Direction& normal) const noexcept;

    /// A patch: its middle, and its luminance times its solid angle, lx.
    struct Patch {
        Direction towards;
        double lx;
    };
    [[nodiscard]] std::span<const Patch> patches() const& noexcept { return patches_; }
    std::span<const Patch> patches() const&& = delete;  // would outlive what it shows

private:
    static constexpr std::size_t count = 573;
    std::array<Patch, count> patches_;
};

/// What a plane gets from the ground in front of it, lx, with nothing in between.
/// @param normal                of the plane
/// @param ground                reflectance, 0..1
/// @param global_horizontal_lx  on the ground
/// A level plane that looks up gets none, a wall half of ground x level.
[[nodiscard]] constexpr double ground_lx(const Direction& normal, double ground,
                                         double global_horizontal_lx) noexcept {
    return 0.5 * (1 - normal.up) * ground * global_horizontal_lx;
}

/// What a plane gets from the beam, lx.
[[nodiscard]] constexpr double beam_lx(const Direction& normal, const Direction& sun,
                                       double direct_normal_lx) noexcept {
    const double c = cosine(normal, sun);
    return c > 0 ? c * direct_normal_lx : 0;
}

}  // namespace keyhour::light
