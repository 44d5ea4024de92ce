#include "keyhour/study/patch_day.hpp"

#include "keyhour/study/sun_in_room.hpp"

namespace keyhour::study {

bool sun_is_up(const RoomStudy& study, Instant at) {
    return study.path().at(at).altitude_deg > 0;
}

PatchInstant patches_at(const RoomStudy& study, Instant at) {
    PatchInstant out;
    out.at = at;
    out.sun = study.path().position(at);
    const Moment m = study.path().at(at);
    if (m.above_skyline_deg <= 0) return out;
    const room::Point3 sun = study.sun(m);
    const room::Room& room = study.room();
    for (std::size_t w = 0; w < room.windows.size(); ++w) {
        if (!lets_sun_in(room.windows[w])) continue;
        for (room::Patch& patch : study.scene().patches(w, sun, out.sun.angular_diameter))
            out.patches.push_back({w, std::move(patch)});
    }
    for (std::size_t mark = 0; mark < room.marks.size(); ++mark)
        for (std::size_t w = 0; w < room.windows.size(); ++w) {
            if (!lets_sun_in(room.windows[w])) continue;
            const double fraction = study.scene().coverage(mark, w, sun);
            if (fraction > 0) out.coverages.push_back({mark, w, fraction});
        }
    return out;
}

}  // namespace keyhour::study
