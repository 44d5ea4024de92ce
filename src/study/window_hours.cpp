#include "keyhour/study/window_hours.hpp"

#include <algorithm>

#include "keyhour/study/seasonal_study.hpp"
#include "keyhour/study/sun_in_room.hpp"

namespace keyhour::study {

namespace {

constexpr Seconds margin{86'400};  // the track reaches beyond the local dates of any zone

class YearOfWindows {
public:
    YearOfWindows(const site::Location& location, date::year year)
        : zone_{location.site.zone},
          year_{year},
          study_{location,
                 SharedTrack::make(zone_.start_of(year / 1 / 1) - margin,
                                   zone_.start_of((year + date::years{1}) / 1 / 1) + margin),
                 year / 1 / 1, year / 12 / 31} {}

    [[nodiscard]] Seconds on(std::size_t window, site::LocalDate day) const {
        const site::LocalDate next{date::local_days{day} + date::days{1}};
        return sun_time(study_.on(day), window, zone_.start_of(day), zone_.start_of(next));
    }

    [[nodiscard]] bool any(std::size_t window) const {
        for (date::local_days day{year_ / 1 / 1}; day <= date::local_days{year_ / 12 / 31};
             day += date::days{1}) {
            if (on(window, site::LocalDate{day}) > Seconds{0}) return true;
        }
        return false;
    }

private:
    const site::Zone& zone_;
    date::year year_;
    SeasonalStudy study_;
};

site::Location turned_half_round(const site::Location& location) {
    site::Location turned = location;
    turned.room->bearing.faces = turned.room->bearing.faces + Angle::degrees(180);
    return turned;
}

}  // namespace

std::array<site::LocalDate, 3> turning_dates(date::year year) {
    return {year / 3 / 20, year / 6 / 21, year / 12 / 21};
}

std::vector<WindowHours> window_hours(const site::Location& location, date::year year) {
    const auto dates = turning_dates(year);
    const YearOfWindows stated{location, year};
    const site::Location turned = turned_half_round(location);
    std::optional<YearOfWindows> opposite;  // only where a window gets no sun
    std::vector<WindowHours> out(location.room->windows.size());
    for (std::size_t window = 0; window < out.size(); ++window) {
        WindowHours& hours = out[window];
        for (std::size_t i = 0; i < dates.size(); ++i) {
            hours.on_turning_dates[i] = stated.on(window, dates[i]);
        }
        hours.sun_in_year = std::ranges::any_of(hours.on_turning_dates,
                                                [](Seconds sun) { return sun > Seconds{0}; }) ||
                            stated.any(window);
        if (hours.sun_in_year) continue;
        if (!opposite) opposite.emplace(turned, year);
        WindowHours::Opposite most{dates[0], Seconds{0}};
        for (const site::LocalDate day : dates) {
            const Seconds sun = opposite->on(window, day);
            if (sun > most.sun) most = {day, sun};
        }
        hours.opposite = most;
    }
    return out;
}

}  // namespace keyhour::study
