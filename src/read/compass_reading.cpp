#include "compass_reading.hpp"

#include <fmt/format.h>

#include <cmath>

#include "keyhour/site/magnetic.hpp"

namespace keyhour::read {

namespace {

double decimal_year(site::LocalDate day) {
    const date::sys_days first{day.year() / 1 / 1}, next{(day.year() + date::years{1}) / 1 / 1};
    const double passed = static_cast<double>((date::sys_days{day} - first).count());
    return static_cast<int>(day.year()) + passed / static_cast<double>((next - first).count());
}

}  // namespace

tl::expected<CompassReading, std::string> compass_reading(const Observer& observer,
                                                          std::optional<site::LocalDate> measured,
                                                          const char* what) {
    // The needle turns by a tenth of a degree a year or so: the model's middle does without a date,
    // and the crew is told.
    constexpr double middle = (site::magnetic_first_year + site::magnetic_last_year) / 2;
    const auto correction =
        site::compass_correction(observer, measured ? decimal_year(*measured) : middle);
    if (!correction) return tl::unexpected{correction.error()};
    CompassReading reading{correction->declination, std::nullopt, correction->uncertainty};
    if (correction->warning) reading.question = fmt::format("{}: {}.", what, *correction->warning);
    if (!measured) {
        const double degrees = correction->declination.in_degrees();
        reading.question = fmt::format(
            "{}: on which day was the compass read? {:.1f} degrees {} was taken, for the middle of "
            "{:.0f}; write measured = \"2026-02-10\" with the day.",
            what, std::abs(degrees), degrees < 0 ? "WEST" : "EAST", std::floor(middle));
    }
    return reading;
}

}  // namespace keyhour::read
