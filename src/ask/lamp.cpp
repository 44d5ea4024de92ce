#include "keyhour/ask/lamp.hpp"

#include <optional>

namespace keyhour::ask {

LampAnswer lamp(const RoomQuestion& question, const study::LampQuestion& wish) {
    LampAnswer answer;
    answer.question = wish;
    const study::RoomStudy& study = question.study();
    if (const study::FoundInRoom* found = study.found()) answer.forges = found->forges(wish.mark);
    std::optional<study::RoomLight> light;
    if (wish.room_light_at || wish.sun_is_key) light.emplace(study);
    answer.report = study::report_lamp(study, light ? &*light : nullptr, answer.question);
    return answer;
}

std::size_t sunniest_window(const RoomQuestion& question, std::size_t mark, Instant at) {
    const study::RoomStudy& study = question.study();
    const room::Point3 sun = study.sun(study.path().at(at));
    std::size_t best = 0;
    double most = -1;
    for (std::size_t w = 0; w < study.room().windows.size(); ++w)
        if (const double c = study.scene().coverage(mark, w, sun); c > most) {
            most = c;
            best = w;
        }
    return best;
}

LampKeys::LampKeys(const RoomQuestion& question)
    : sun_{*question.seasons, question.dates.first, question.dates.last, {.every = true}} {}

std::vector<study::LampChoice> LampKeys::on(site::LocalDate date,
                                            const study::LampSettings& settings,
                                            study::Edges edges) {
    const study::RoomSun& sun = sun_.on(date);
    return study::lamp_choices(sun, date, sun_.is_first(date), settings, edges);
}

}  // namespace keyhour::ask
