#include "keyhour/ask/patch.hpp"

#include <algorithm>

#include "keyhour/site/dates.hpp"

namespace keyhour::ask {

PatchAnswer Patches::at(Instant at, site::LocalDate date) {
    const study::RoomStudy& study = question_.study_on(date);
    PatchAnswer answer{study::patches_at(study, at), {}, {}};
    if (request_.light)
        answer.light = study::patch_light(study, lights_.try_emplace(&study, study).first->second,
                                          answer.instant);
    if (request_.doubt)
        answer.bands_m =
            ensembles_.try_emplace(&study, study).first->second.edge_bands_m(answer.instant);
    return answer;
}

std::vector<Instant> sunlit_instants(const RoomQuestion& question, site::LocalDate date,
                                     Seconds step) {
    std::vector<Instant> out;
    const Instant from = question.start_of(date), to = question.end_of(date);
    for (int i = 0; from + i * step < to; ++i) {
        const Instant t = from + i * step;
        if (study::sun_is_up(question.study_on(date), t)) out.push_back(t);
    }
    return out;
}

bool any_patch(const RoomQuestion& question, const std::vector<Instant>& instants) {
    return std::ranges::any_of(instants, [&](Instant t) {
        return !study::patches_at(question.study(), t).patches.empty();
    });
}

std::vector<WayAnswer> ways(const RoomQuestion& question,
                            const std::vector<study::NamedPoint>& points) {
    std::vector<WayAnswer> out;
    for (site::LocalDate d = question.dates.first; d <= question.dates.last; d = site::next_day(d))
        out.push_back({question.study_on(d), question.recce.units, d, points,
                       study::crossings(question.study_on(d), question.start_of(d),
                                        question.end_of(d), points)});
    return out;
}

}  // namespace keyhour::ask
