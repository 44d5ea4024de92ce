#include "keyhour/study/key_light.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace keyhour::study {
namespace {

/// Through the key window on the surface behind the mark.
std::optional<PatchContrast> contrast(const RoomStudy& study, const KeyInterval& k,
                                      const MarkLight& light, room::Point3 sun) {
    const room::Surface behind = study.scene().surface_behind(k.mark, sun);
    for (const room::Patch& patch : study.scene().patches(k.window, sun))
        if (patch.surface == behind)
            return patch_contrast(study.room(), patch, light.windows[k.window].beam_lx,
                                  light.given_back_lx.likely, sun);
    return std::nullopt;
}

constexpr std::array<LightCase, 5> cases{LightCase{}, LightCase{light::Cloud::mean},
                                         LightCase{light::Cloud::overcast},
                                         LightCase{light::Cloud::none, room::Cover::sheer},
                                         LightCase{light::Cloud::none, room::Cover::blackout}};

}  // namespace

KeyLight key_light(const RoomStudy& study, const RoomLight& light, const KeyInterval& interval) {
    const auto [from, to] = inside(*interval.span);
    const Moment first = study.path().at(from), last = study.path().at(to);
    auto a = light.in_cases(interval.mark, interval.window, light.sun(first), cases);
    auto b = light.in_cases(interval.mark, interval.window, light.sun(last), cases);
    KeyLight out;
    const std::array<LightDrift*, cases.size()> drifts{&out.clear, &out.mean_cloud, &out.overcast,
                                                       &out.with_sheer, &out.with_blackout};
    for (std::size_t i = 0; i < drifts.size(); ++i)
        *drifts[i] = {std::move(a[i]), std::move(b[i])};
    out.patch_at_start = contrast(study, interval, out.clear.at_start, study.sun(first));
    out.patch_at_end = contrast(study, interval, out.clear.at_end, study.sun(last));
    const Moment middle = study.path().at(from + (to - from) / 2.0);
    out.beams = beams_in_haze(study.scene(), interval.window, study.sun(middle));
    return out;
}

}  // namespace keyhour::study
