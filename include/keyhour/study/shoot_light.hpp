#pragma once
/// @file
/// The light of a shoot's scenes on its days, by the studies that answer `key`, `lock` and
/// `exterior`.

#include <memory>
#include <span>
#include <vector>

#include "keyhour/study/shoot.hpp"
#include "keyhour/study/spans.hpp"
#include "keyhour/study/sun_path.hpp"

namespace keyhour::study {

/// A stretch in which a scene's light is there.
struct SceneLight {
    Span stated;               ///< at the stated bearing and skyline
    std::optional<Span> sure;  ///< of it, what holds within their doubt; none: nothing does
};

/// Of one scene on one day, ascending; none: that day has no such light.
using SceneDay = std::vector<SceneLight>;

struct ShootLight {
    /// Over the days and three to either side.
    std::shared_ptr<const SharedTrack> track;
    std::vector<std::vector<SceneDay>> scenes;  ///< of each scene, of each day
    std::size_t first_day = 0;                  ///< of those that it was looked for on

    [[nodiscard]] const SceneDay& of(std::size_t scene, std::size_t day) const {
        return scenes[scene][day];
    }
};

/// Sun keys are clean_key's intervals, lamp keys sun_free_spans within the shoot's hours that hold
/// the scene and its over-run, late light and sides a spot's (SpotDay::for_late_light, sides,
/// direct), with the usual settings of each. The doubt is the bearing's for keys, for direct light
/// that of SpotEnsemble; late light, daylight, dusk and night have none of their own here.
/// @param first_day  of the shoot's days; those before it have no light told
/// @param done       scenes that have none told
/// @return nothing if the sun's series do not serve these years
/// @pre the shoot was read by read::read_shoot: hours exist on its days, scenes have what their
///      light needs
[[nodiscard]] std::optional<ShootLight> light_of(const Shoot& shoot, std::size_t first_day = 0,
                                                 std::span<const std::size_t> done = {});

}  // namespace keyhour::study
