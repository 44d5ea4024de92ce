#include "keyhour/study/year_key.hpp"

#include <algorithm>

#include "keyhour/study/day.hpp"

namespace keyhour::study {
namespace {

constexpr Seconds kDay{86400};

}  // namespace

std::shared_ptr<const SharedTrack> track_of_year(const site::Zone& zone, date::year year) {
    return SharedTrack::make(zone.start_of(year / 1 / 1) - 2 * kDay,
                             zone.start_of((year + date::years{1}) / 1 / 1) + 3 * kDay);
}

KeyYear key_year(const SeasonalStudy& seasons, std::size_t mark, date::year year,
                 const KeySettings& settings) {
    KeyYear out;
    out.mark = mark;
    out.year = year;
    const site::LocalDate first{year / 1 / 1}, last{year / 12 / 31};
    const site::Zone& zone = seasons.on(first).location().site.zone;
    KeySettings wanted = settings;
    wanted.mark = seasons.on(first).room().marks[mark].name;
    const auto shared = track_of_year(zone, year);
    for (const auto& stretch : seasons.stretches()) {
        const site::LocalDate begin = std::max(first, stretch->season.first);
        const site::LocalDate end = std::min(last, stretch->season.last);
        const std::size_t before = out.days.size();
        for (site::LocalDate d = begin; d <= end; d = site::next_day(d)) {
            KeyDay& day = out.days.emplace_back(
                KeyDay{d, zone.start_of(d), zone.start_of(site::next_day(d)), {}, {}, {}});
            if (!shared) continue;
            const auto sun =
                sun_over_horizon(stretch->study.location().site, shared->track(), day.from, day.to);
            day.first_sun = sun.first;
            day.last_sun = sun.last;
        }
        if (out.days.size() == before) continue;
        auto keys = clean_key(stretch->study, zone.start_of(begin),
                              zone.start_of(site::next_day(end)), wanted);
        for (KeyInterval& key : keys) {
            const Instant start = key.span ? key.span->from : key.possible.from;
            const auto day =
                std::find_if(out.days.begin() + static_cast<std::ptrdiff_t>(before), out.days.end(),
                             [&](const KeyDay& d) { return start < d.to; });
            if (day != out.days.end()) day->intervals.push_back(std::move(key));
        }
    }
    out.clock_changes = site::clock_changes(zone, first, last);
    return out;
}

}  // namespace keyhour::study
