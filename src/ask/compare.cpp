#include "keyhour/ask/compare.hpp"

#include "keyhour/ask/ranking.hpp"

namespace keyhour::ask {
namespace {

Standing standing_of(const BriefHold& hold) {
    return {true, hold.sure_length(), hold.span.length(), hold.span.from};
}

}  // namespace

std::vector<BriefDate> brief_keys(const site::Location& location,
                                  std::span<const site::LocalDate> dates,
                                  const std::shared_ptr<const study::SharedTrack>& shared,
                                  ChoiceRequest request) {
    request.keep_all = true;
    request.misses = request.described = false;
    std::vector<BriefDate> out;
    for_each_choice(location, dates, shared, request,
                    [&](const study::RoomStudy& study, study::DateChoice& day) {
                        BriefDate date{day.date, {}, day.choice.why_not};
                        for (const study::KeyInterval& k : day.choice.fitting)
                            date.holds.push_back({*k.span, k.sure, study.room().marks[k.mark].name,
                                                  study.room().windows[k.window].name});
                        out.push_back(std::move(date));
                    });
    return out;
}

Comparison compare(std::vector<BriefPlace> places) {
    Comparison out{std::move(places), {}};
    const BriefHold* surest = nullptr;
    for (std::size_t p = 0; p < out.places.size(); ++p)
        for (std::size_t d = 0; d < out.places[p].dates.size(); ++d) {
            const BriefHold* hold = out.places[p].dates[d].best();
            if (hold == nullptr) continue;
            if (surest != nullptr && !is_surer(standing_of(*hold), standing_of(*surest))) continue;
            surest = hold;
            out.surest = {p, d};
        }
    return out;
}

}  // namespace keyhour::ask
