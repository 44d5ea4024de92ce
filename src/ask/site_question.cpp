#include "keyhour/ask/site_question.hpp"

#include "keyhour/site/read_back.hpp"

namespace keyhour::ask {

std::unique_ptr<SiteQuestion> SiteQuestion::prepare(site::Location location, const DateRange& dates,
                                                    const site::Recce& recce, Seconds margin) {
    std::unique_ptr<SiteQuestion> question{new SiteQuestion{std::move(location), dates, recce}};
    question->track = study::SharedTrack::make(question->start_of(dates.first) - margin,
                                               question->end_of(dates.last) + margin);
    if (!question->track) return nullptr;
    return question;
}

std::vector<std::string> SiteQuestion::read_back(site::Units units) const {
    return site::site_read_back(location, dates.first, dates.last, {dates.is_today, units});
}

}  // namespace keyhour::ask
