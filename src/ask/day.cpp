#include "keyhour/ask/day.hpp"

namespace keyhour::ask {

DayAnswer day(const SiteQuestion& question, site::LocalDate date, const DayRequest& request) {
    const site::Site& site = question.location.site;
    DayAnswer answer{study::day(site, question.track->track(), date, request.band), {}};
    if (!request.light) return answer;
    const study::SunPath path{site, question.track};
    study::add_sky(answer.day.late_light, site, path);
    answer.light = study::day_light(site, path, answer.day);
    return answer;
}

}  // namespace keyhour::ask
