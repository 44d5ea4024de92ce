#pragma once
/// @file
/// How bright and how warm is it at a mark, and how far under the key lies the fill?
///
/// All levels are illuminances in lx. The receivers: direct sun is measured square to its beam;
/// what comes through an opening from sky, ground and cloth at the mark's centre, facing the middle
/// of that window; light given back by the room is a mean over the room.

#include <memory>
#include <optional>
#include <vector>

#include "keyhour/light/clear_sky.hpp"
#include "keyhour/light/lighting_ratio.hpp"
#include "keyhour/study/room_study.hpp"

namespace keyhour::study {

/// Reflectance of the land outside, and of buildings: the handbooks' usual figure, from memory.
inline constexpr double ground_reflectance = 0.2;

/// What a sheer passes on, scattered; 0.4 to 0.7 (common practice, no source).
inline constexpr double sheer_transmittance = 0.5;

/// The sun at one instant.
struct SunNow {
    room::Point3 toward;        ///< unit vector in plan axes, along the refracted ray
    light::SkyState state;      ///< altitudes, distance, the site's elevation
    bool over_skyline = false;  ///< else no direct sun
};

/// What reaches a mark through one window.
struct WindowLight {
    double coverage = 0;   ///< share of the mark that direct sun reaches, 0..1; a sheer leaves none
    double direct_lx = 0;  ///< sun through the glass, times the coverage
    double sky_lx = 0;     ///< sky seen past jambs, bars, objects, buildings and skyline
    double ground_lx = 0;  ///< land and buildings seen likewise
    double cloth_lx = 0;   ///< from a sheer: the cloth itself
    [[nodiscard]] double total_lx() const { return direct_lx + sky_lx + ground_lx + cloth_lx; }
};

/// What comes in through one window, lm, past glass, bars, reveal, buildings, skyline and cover.
struct Entering {
    double sun_lm = 0;     ///< as a beam
    double sky_lm = 0;     ///< downward: meets floor and low walls first
    double ground_lm = 0;  ///< upward, from land and buildings: meets ceiling and high walls
    double cloth_lm = 0;   ///< from a sheer, either way
    double landing = 0;    ///< mean reflectance where the beam lands
    [[nodiscard]] double total_lm() const { return sun_lm + sky_lm + ground_lm + cloth_lm; }
};

/// The light at one mark with one window as its key.
struct MarkLight {
    std::vector<WindowLight> windows;  ///< every window, likely air
    std::vector<Entering> entering;    ///< likewise

    /// Through the key window. Low and high are those of the neighbouring airs (light/air.hpp)
    /// alone: what the air does, not what the model misses (light/clear_sky.hpp, sky_band).
    light::Band key_lx;
    /// Given back by floor, walls and ceiling; a mean over the room, good to a factor 2: more near
    /// the patch, less in a corner. Light of other windows is listed in `windows`, not added.
    light::Band fill_lx;
    /// Key to fill, log2(key / fill); nothing without both. As a ratio: light/lighting_ratio.hpp.
    std::optional<light::Band> key_to_fill_stops;

    /// Likely air. Nothing where the level is too low for a colour or the sun is down. The fill
    /// takes no colour from the room's surfaces: none is known.
    std::optional<double> key_kelvin, fill_kelvin, mix_kelvin;

    [[nodiscard]] light::KeyAndFill likely() const { return {key_lx.likely, fill_lx.likely}; }
    [[nodiscard]] double with_key_lx() const { return key_lx.likely + fill_lx.likely; }
    [[nodiscard]] double without_key_lx() const { return fill_lx.likely; }
};

/// A room's light, prepared once: what each mark sees through each window and what each window
/// takes in, as sums over directions.
///
/// Clear sky: CIE types 12 (very clear and normal air) and 13 (hazy), the same type for the
/// neighbouring airs, scaled to the sky's level; land and hills below the skyline give back 0.2 of
/// sun and sky on a level plane; buildings give back 0.2 of half the sky (sunlight on them is left
/// out; this project's choice). What the reveal's sides throw inward is left out.
/// With the sun below the horizon the sky keeps the shape it had with the sun on it.
class RoomLight {
public:
    /// @pre `study` outlives this
    explicit RoomLight(const RoomStudy& study);

    [[nodiscard]] SunNow sun(const Moment& m) const;

    /// @param mark,key_window  indices into the room's lists
    [[nodiscard]] MarkLight at(std::size_t mark, std::size_t key_window, const SunNow& sun) const;
    [[nodiscard]] MarkLight at(std::size_t mark, std::size_t key_window, const Moment& m) const {
        return at(mark, key_window, sun(m));
    }

    /// The same under a closed cloud (light/overcast.hpp), CIE type 1: a mean, which real cloud
    /// misses by a stop and more either way; low and high are that stop. Its colour is about
    /// light::overcast_kelvin; none is computed.
    [[nodiscard]] MarkLight overcast(std::size_t mark, std::size_t key_window,
                                     const SunNow& sun) const;

    /// Sky and ground (no direct sun) through a window on any small plane in the room, likely air.
    /// Not prepared: some 0.1 ms. @param facing  unit vector square to the plane
    [[nodiscard]] double view_lx(std::size_t window, room::Point3 at, room::Point3 facing,
                                 const SunNow& sun) const;

private:
    struct Prepared;
    std::shared_ptr<const Prepared> prepared_;
};

/// How the light moves while a hold lasts.
struct LightDrift {
    MarkLight at_start, at_end;
    [[nodiscard]] double key_stops() const;  ///< of the key's level, positive when it rises
    [[nodiscard]] std::optional<double> ratio_stops() const;  ///< of key to fill
    [[nodiscard]] std::optional<double> key_mired() const;    ///< positive: the key grows warmer
    /// Of the key, over both ends: the lowest and highest that the air may make it.
    [[nodiscard]] light::Band air_alone() const;
};

/// @param from,to  of the hold; looked at a second inside, as its ends may be where the sun goes
[[nodiscard]] LightDrift drift(const RoomLight& light, const SunPath& path, std::size_t mark,
                               std::size_t key_window, Instant from, Instant to);

/// Direct sun that has passed a window's glass, lx, square to its beam: clear sky, likely air; what
/// a lit mark gets of it. Needs no RoomLight.
[[nodiscard]] double direct_lx(const RoomStudy& study, std::size_t window, const Moment& m);

}  // namespace keyhour::study
