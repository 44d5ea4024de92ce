#pragma once
/// @file
/// How bright and how warm is it at a mark, and how far under the key lies the fill?
///
/// All levels are illuminances in lx. The receivers: direct sun is measured square to its beam;
/// what comes through an opening from sky, ground and cloth at the mark's centre, facing the middle
/// of that window; light given back by the room is a mean over the room.

#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "keyhour/light/clear_sky.hpp"
#include "keyhour/light/lighting_ratio.hpp"
#include "keyhour/light/overcast.hpp"
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
    double beam_lx = 0;    ///< sun through the glass, square to its beam: what a lit place gets
    double direct_lx = 0;  ///< the same times the coverage
    double sky_lx = 0;     ///< sky seen past jambs, bars, objects, buildings and skyline
    double ground_lx = 0;  ///< land and buildings seen likewise
    double cloth_lx = 0;   ///< from a sheer: the cloth itself
    /// All but direct sun.
    [[nodiscard]] double diffuse_lx() const { return sky_lx + ground_lx + cloth_lx; }
    [[nodiscard]] double total_lx() const { return direct_lx + diffuse_lx(); }
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
    /// the patch, less in a corner.
    light::Band given_back_lx;
    /// Sky, ground and cloth of all other windows at the mark, each as a face turned to it gets it
    /// and added up: for two windows at right angles up to 1.4 times what one face gets of both.
    /// Their direct sun is left out: it comes from where the key's does, or is covered.
    light::Band other_windows_lx;
    /// What the key does not give: both of these together.
    light::Band fill_lx;
    /// Key to fill, log2(key / fill); nothing without both. As a ratio: light/lighting_ratio.hpp.
    std::optional<light::Band> key_to_fill_stops;

    /// Likely air. Nothing where the level is too low for a colour or the sun is down. The fill
    /// takes no colour from the room's surfaces: none is known. Light under cloud has that of D65.
    std::optional<double> key_kelvin, fill_kelvin, mix_kelvin;

    [[nodiscard]] light::KeyAndFill likely() const { return {key_lx.likely, fill_lx.likely}; }
    [[nodiscard]] double with_key_lx() const { return key_lx.likely + fill_lx.likely; }
    [[nodiscard]] double without_key_lx() const { return fill_lx.likely; }
    /// What an incident meter reads at the mark: key and fill together, over the airs.
    [[nodiscard]] light::Band metered_lx() const {
        return {key_lx.low + fill_lx.low, with_key_lx(), key_lx.high + fill_lx.high};
    }
};

/// What to reckon with beside the room as it stands under a clear sky.
struct LightCase {
    light::Cloud cloud = light::Cloud::none;
    std::optional<room::Cover> key_cover{};  ///< in the key window instead of its own
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

    /// The same in several cases: what they share is worked out once.
    ///
    /// Overcast: a closed cloud (light/overcast.hpp), CIE type 1: a mean, which real cloud misses
    /// by a stop and more either way; low and high are that stop. Mean: an average over time, half
    /// of the sky blue and the sun out half of the time; low and high are the lowest and highest of
    /// the closed cloud, the clear sky and this mean over the neighbouring airs, as a moment has
    /// the whole beam or none. A mark in the shade has most from lit clouds: there the mean lies
    /// above both the closed cloud's and the clear sky's light (light/overcast.hpp).
    /// @return  one for each case, in their order
    [[nodiscard]] std::vector<MarkLight> in_cases(std::size_t mark, std::size_t key_window,
                                                  const SunNow& sun,
                                                  std::span<const LightCase> cases) const;

    /// A mark's light in several cases, its key the window that gives it most under a clear sky.
    struct BestLit {
        std::size_t key_window = 0;
        std::vector<MarkLight> in_cases;
    };
    /// For every mark of the room: what they share is worked out once.
    [[nodiscard]] std::vector<BestLit> at_marks(const SunNow& sun,
                                                std::span<const LightCase> cases) const;

    /// Without a mark: what the windows take in and the room gives back; no key, no colours.
    /// @pre the room has a window
    [[nodiscard]] MarkLight in_room(const SunNow& sun) const;

    /// Under a closed cloud alone.
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

/// Direct sun that has passed a window's glass, lx, square to its beam: clear sky, likely air; what
/// a lit mark gets of it. Needs no RoomLight.
[[nodiscard]] double direct_lx(const RoomStudy& study, std::size_t window, const Moment& m);

}  // namespace keyhour::study
