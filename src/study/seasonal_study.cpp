#include "keyhour/study/seasonal_study.hpp"

#include "keyhour/site/dates.hpp"

namespace keyhour::study {

SeasonalStudy::SeasonalStudy(const site::Location& location,
                             const std::shared_ptr<const SharedTrack>& shared,
                             site::LocalDate first, site::LocalDate last) {
    for (const site::Season& season : site::seasons(location, first, last))
        stretches_.push_back(std::make_unique<const Stretch>(
            season, site::in_season(location, season.first), shared));
}

const RoomStudy& SeasonalStudy::on(site::LocalDate date) const noexcept {
    const Stretch* found = stretches_.front().get();
    for (const auto& stretch : stretches_)
        if (stretch->season.first <= date) found = stretch.get();
    return found->study;
}

const RoomStudy& SeasonalStudy::at(Instant t) const {
    return on(site::local_date(t, stretches_.front()->location.site.zone));
}

}  // namespace keyhour::study
