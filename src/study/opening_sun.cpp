#include "opening_sun.hpp"

#include <numbers>
#include <utility>

#include "keyhour/study/lock.hpp"
#include "keyhour/study/sun_in_room.hpp"

namespace keyhour::study {

std::vector<OpeningSun> opening_sun(const RoomStudy& study, Instant first, Instant last, bool marks,
                                    const std::function<bool(const room::Window&)>& is_asked) {
    const room::Room& room = study.room();
    RegionSpans regions{study, first, last, 0, std::numbers::pi / 2};
    struct Found {
        std::size_t window, in;
        std::vector<std::pair<std::size_t, std::size_t>> marks;  ///< mark, region
    };
    std::vector<Found> found;
    for (std::size_t w = 0; w < room.windows.size(); ++w) {
        if (!is_asked(room.windows[w])) continue;
        Found f{w,
                regions.add(room::sunlit_region(study.scene(), w, room::smallest_patch_m2,
                                                regions.bounds())),
                {}};
        for (std::size_t mark = 0; marks && mark < room.marks.size(); ++mark) {
            room::RegionRequest request;
            request.mark = mark;
            request.window = w;
            request.coverage = least_share_on_mark;
            request.bounds = regions.bounds();
            const auto rings = room::covered_region(study.scene(), request);
            if (!rings.empty()) f.marks.emplace_back(mark, regions.add(rings));
        }
        found.push_back(std::move(f));
    }
    regions.cut();
    std::vector<OpeningSun> out;
    for (const Found& f : found) {
        OpeningSun sun;
        sun.window = f.window;
        const auto comes_in = [&](const Moment& m, const room::PlanTurn& turn) {
            return sun_in_margin(study, f.window, m, turn);
        };
        sun.stated = regions.stated(f.in, comes_in);
        sun.some = regions.some(f.in, comes_in);
        sun.on_mark.resize(room.marks.size());
        for (const auto& [mark, region] : f.marks) {
            const auto lights = [&, mark = mark](const Moment& m, const room::PlanTurn& turn) {
                if (m.above_skyline_deg <= 0) return m.above_skyline_deg;
                const room::Point3 toward = turn.to_plan(m.toward);
                return study.scene().coverage(mark, f.window, toward) - least_share_on_mark;
            };
            sun.on_mark[mark] = regions.some(region, lights);
        }
        out.push_back(std::move(sun));
    }
    return out;
}

}  // namespace keyhour::study
