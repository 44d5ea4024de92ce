#include "keyhour/ask/check.hpp"

namespace keyhour::ask {

CheckAnswer check(const site::Location& location, date::year year) {
    CheckAnswer out;
    out.year = year;
    if (!location.room) return out;
    out.sun = study::window_hours(location, year);
    out.meter = study::meter_correction(location);
    return out;
}

}  // namespace keyhour::ask
