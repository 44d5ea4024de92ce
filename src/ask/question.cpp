#include "keyhour/ask/question.hpp"

#include "keyhour/site/dates.hpp"

namespace keyhour::ask {

Instant Question::start_of(site::LocalDate date) const {
    return zone().start_of(date);
}

Instant Question::end_of(site::LocalDate date) const {
    return zone().start_of(site::next_day(date));
}

}  // namespace keyhour::ask
