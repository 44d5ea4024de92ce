#include "keyhour/ask/room_question.hpp"

#include <algorithm>

#include "keyhour/site/read_back.hpp"
#include "keyhour/study/window_hours.hpp"

namespace keyhour::ask {

std::unique_ptr<RoomQuestion> RoomQuestion::prepare(site::Location location, const DateRange& dates,
                                                    const site::Recce& recce) {
    std::unique_ptr<RoomQuestion> question{new RoomQuestion{std::move(location), dates, recce}};
    constexpr Seconds day{86400};
    const auto shared = study::SharedTrack::make(question->start_of(dates.first) - day,
                                                 question->end_of(dates.last) + 2 * day);
    if (!shared) return nullptr;
    question->seasons =
        std::make_unique<study::SeasonalStudy>(question->location, shared, dates.first, dates.last);
    question->location = question->study().location();
    return question;
}

bool RoomQuestion::looks_reversed() const {
    const auto hours = study::window_hours(location, dates.first.year());
    return std::ranges::none_of(hours, [](const study::WindowHours& h) { return h.sun_in_year; }) &&
           std::ranges::any_of(hours, [](const study::WindowHours& h) {
               return h.opposite && h.opposite->sun > Seconds{0};
           });
}

std::vector<std::string> RoomQuestion::read_back(site::Units units) const {
    return site::read_back(location, dates.first, dates.last, {dates.is_today, units});
}

}  // namespace keyhour::ask
