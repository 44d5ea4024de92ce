#pragma once
/// @file
/// A location and the dates asked about: what every prepared question holds.

#include <utility>

#include "keyhour/ask/date_range.hpp"
#include "keyhour/site/location.hpp"
#include "keyhour/site/recce.hpp"

namespace keyhour::ask {

/// It stays where it is: studies and answers look at its location.
class Question {
public:
    Question(const Question&) = delete;
    Question& operator=(const Question&) = delete;

    site::Location location;
    DateRange dates;
    site::Recce recce;

    [[nodiscard]] const site::Zone& zone() const noexcept { return location.site.zone; }

    /// Local midnight at the date's start, and at its end.
    [[nodiscard]] Instant start_of(site::LocalDate date) const;
    [[nodiscard]] Instant end_of(site::LocalDate date) const;

protected:
    Question(site::Location where, const DateRange& when, const site::Recce& how)
        : location{std::move(where)}, dates{when}, recce{how} {}
    ~Question() = default;
};

}  // namespace keyhour::ask
