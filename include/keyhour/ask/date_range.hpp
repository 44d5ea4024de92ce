#pragma once
/// @file
/// Which local dates a question is about.

#include "keyhour/site/zone.hpp"

namespace keyhour::ask {

/// Local dates of the site, one or many.
struct DateRange {
    site::LocalDate first, last;  ///< inclusive
    bool is_range = false;        ///< asked for as a range, even if of one date
    bool is_today = false;        ///< nothing was asked for: today at the site
};

}  // namespace keyhour::ask
