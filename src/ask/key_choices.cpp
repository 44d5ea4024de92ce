#include "keyhour/ask/key_choices.hpp"

#include <algorithm>

#include "keyhour/site/seasons.hpp"

namespace keyhour::ask {
namespace {

/// @param ask  (study, dates), of each season in turn
template <class AskSeason>
void for_each_season(const site::Location& location, std::span<const site::LocalDate> dates,
                     const std::shared_ptr<const study::SharedTrack>& shared,
                     const AskSeason& ask) {
    if (dates.empty()) return;
    for (const site::Season& season : site::seasons(location, dates.front(), dates.back())) {
        const auto end = std::upper_bound(dates.begin(), dates.end(), season.last);
        const auto of_season = dates.first(static_cast<std::size_t>(end - dates.begin()));
        dates = dates.subspan(of_season.size());
        if (of_season.empty()) continue;
        const site::Location grown = site::in_season(location, season.first);
        ask(study::RoomStudy{grown, shared}, of_season);
    }
}

void keep_best(study::KeyChoice& choice, bool keep_all) {
    if (!keep_all && choice.fitting.size() > 1) choice.fitting.resize(1);
}

}  // namespace

void for_each_choice(const site::Location& location, std::span<const site::LocalDate> dates,
                     const std::shared_ptr<const study::SharedTrack>& shared,
                     const ChoiceRequest& request, const TakeChoice& take) {
    const ChoiceRequest& r = request;
    for_each_season(location, dates, shared, [&](const study::RoomStudy& study, auto of_season) {
        for (study::DateChoice& day :
             study::key_choices(study, of_season, r.settings, r.criteria)) {
            if (r.misses) study::add_miss(study, {&day.date, 1}, r.settings, day.choice);
            keep_best(day.choice, r.keep_all);
            if (r.described && (day.choice.fits() || !r.only_fitting))
                study::describe(study, r.settings, day.choice);
            take(study, day);
        }
    });
}

study::KeyChoice choice_of_range(const site::Location& location,
                                 std::span<const site::LocalDate> dates,
                                 const std::shared_ptr<const study::SharedTrack>& shared,
                                 const ChoiceRequest& request) {
    constexpr std::size_t stretch = 366;  // only the best of each is kept
    const ChoiceRequest& r = request;
    study::KeyChoice total;
    for_each_season(location, dates, shared, [&](const study::RoomStudy& study, auto of_season) {
        study::KeyChoice season;
        while (!of_season.empty()) {
            const auto now = of_season.first(std::min(stretch, of_season.size()));
            of_season = of_season.subspan(now.size());
            for (study::DateChoice& day : study::key_choices(study, now, r.settings, r.criteria))
                study::add_choice(season, std::move(day.choice), r.keep_all);
        }
        study::describe(study, r.settings, season);  // while its trees stand as they did
        study::add_choice(total, std::move(season), r.keep_all);
    });
    if (r.misses)
        for_each_season(location, dates, shared,
                        [&](const study::RoomStudy& study, auto of_season) {
                            study::add_miss(study, of_season, r.settings, total);
                        });
    keep_best(total, r.keep_all);
    return total;
}

}  // namespace keyhour::ask
