#include "keyhour/study/patch_light.hpp"

#include <array>
#include <utility>

namespace keyhour::study {
namespace {

constexpr std::array<LightCase, 3> patch_cases{LightCase{}, LightCase{light::Cloud::mean},
                                               LightCase{light::Cloud::overcast}};

}  // namespace

PatchLight patch_light(const RoomStudy& study, const RoomLight& light,
                       const PatchInstant& instant) {
    const room::Room& room = study.room();
    const SunNow sun = light.sun(study.path().at(instant.at));
    PatchLight out;
    for (RoomLight::BestLit& lit : light.at_marks(sun, patch_cases))
        out.marks.push_back({lit.key_window, std::move(lit.in_cases[0]), lit.in_cases[1].key_lx,
                             lit.in_cases[2].key_lx});
    // Beams and what is given back are the room's, the same from every mark.
    const MarkLight whole = out.marks.empty() ? light.in_room(sun) : out.marks.front().clear;
    for (const WindowPatch& p : instant.patches)
        out.patches.push_back(patch_contrast(room, p.patch, whole.windows[p.window].beam_lx,
                                             whole.given_back_lx.likely, sun.toward));
    for (std::size_t w = 0; w < room.windows.size(); ++w)
        if (whole.windows[w].beam_lx > 0) {
            const auto beams = beams_in_haze(study.scene(), w, sun.toward);
            out.beams.insert(out.beams.end(), beams.begin(), beams.end());
        }
    return out;
}

}  // namespace keyhour::study
