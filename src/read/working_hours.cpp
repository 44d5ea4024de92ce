#include "working_hours.hpp"

#include "keyhour/site/dates.hpp"

namespace keyhour::read {
namespace {

const char* const hours_pair = "accepted: two times, as in hours = [\"08:00\", \"20:00\"]";

}  // namespace

std::optional<site::WorkingHours> read_hours(Fields& fields, std::string_view key) {
    const auto words = fields.two_texts(key, Need::optional, hours_pair);
    if (!words) return std::nullopt;
    site::WorkingHours hours;
    for (const auto& [word, time] :
         {std::pair{&words->first, &hours.from}, std::pair{&words->second, &hours.to}}) {
        if (*word == "24:00") {
            *time = std::chrono::hours{24};
        } else if (const auto read = site::read_time_of_day(*word)) {
            *time = *read;
        } else {
            fields.complain(key, read.error());
            return std::nullopt;
        }
    }
    if (hours.from < hours.to) return hours;
    fields.complain(key, fields.shown(key) + ": the earlier time must stand first", hours_pair);
    return std::nullopt;
}

}  // namespace keyhour::read
