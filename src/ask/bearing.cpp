#include "keyhour/ask/bearing.hpp"

#include <algorithm>

#include "keyhour/site/dates.hpp"
#include "keyhour/study/seasonal_study.hpp"

namespace keyhour::ask {
namespace {

constexpr const char* out_of_years = "an observation lies outside the years served";

site::Location turned(site::Location location, const study::BearingAnswer& answer) {
    room::Bearing& bearing = location.room->bearing;
    bearing.wall = answer.wall;
    bearing.faces = answer.faces.from_north;
    bearing.magnetic = false;
    bearing.within = Angle{};
    return location;
}

}  // namespace

tl::expected<BearingAnswer, std::vector<std::string>> bearing(
    const site::Location& location, const study::BearingQuestion& question, const DateRange& dates,
    std::optional<Instant> not_before) {
    const auto observed = study::track_over(question.observations);
    if (!observed) return tl::unexpected{std::vector<std::string>{out_of_years}};
    auto found =
        study::bearing_of_wall(location, study::SunPath{location.site, observed}, question);
    if (!found) return tl::unexpected{found.error()};
    BearingAnswer answer{*std::move(found), std::nullopt};
    const Instant start = location.site.zone.start_of(dates.first),
                  end = location.site.zone.start_of(site::next_day(dates.first));
    constexpr Seconds margin{2 * 3600};
    const auto track = study::SharedTrack::make(start - margin, end + margin);
    if (!track) return answer;
    const site::Location there = turned(location, answer.bearing);
    const study::SeasonalStudy seasons{there, track, dates.first, dates.first};
    answer.next =
        study::next_observations(seasons.on(dates.first), answer.bearing, question.clock_within_s,
                                 std::max(start, not_before.value_or(start)), end);
    return answer;
}

}  // namespace keyhour::ask
