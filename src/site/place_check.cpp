#include "keyhour/site/place_check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "keyhour/site/dates.hpp"
#include "zone_source.hpp"

namespace keyhour::site {
namespace {

using std::chrono::seconds;

constexpr double too_many_hours = 3;
constexpr Angle far = Angle::degrees(30);   // from the zone's place, for a question at equal hours
constexpr Angle near = Angle::degrees(12);  // and how near a slip must bring it

// The smaller of the offsets of January and July: summer time aside, in either hemisphere.
seconds standard_offset(const Zone& zone) {
    const auto january = zone.at(Instant::from_unix_s(1767268800)).utc_offset;  // 2026-01-01T12Z
    const auto july = zone.at(Instant::from_unix_s(1782907200)).utc_offset;     // 2026-07-01T12Z
    return std::min(january, july);
}

double hours_between(Angle longitude, Angle other) {
    return std::abs(wrapped_half_turn(longitude - other).in_degrees()) / 15;
}

Angle distance(const Coordinates& a, const ZonePlace& b) {
    const Angle latitude = Angle::degrees(b.latitude_deg);
    const double c =
        sin(a.latitude) * sin(latitude) +
        cos(a.latitude) * cos(latitude) * cos(a.longitude - Angle::degrees(b.longitude_deg));
    return Angle::radians(std::acos(std::clamp(c, -1.0, 1.0)));
}

struct Clock {
    std::string name;
    seconds offset{};
    std::optional<ZonePlace> place;

    [[nodiscard]] double hours_to(const Coordinates& c) const {
        const double by_offset =
            hours_between(c.longitude, Angle::degrees(static_cast<double>(offset.count()) / 240));
        if (!place) return by_offset;
        return std::min(by_offset,
                        hours_between(c.longitude, Angle::degrees(place->longitude_deg)));
    }
};

struct Slip {
    Coordinates meant;
    std::string question;
    bool swaps_or_turns_longitude = true;
};

std::vector<Slip> slips(const Coordinates& c) {
    std::vector<Slip> out;
    // exchanged: what was read as longitude is the latitude
    if (std::abs(c.longitude.in_degrees()) <= 90)
        out.push_back({{c.longitude, c.latitude}, "Latitude and longitude swapped?"});
    out.push_back({{c.latitude, -c.longitude},
                   c.longitude < Angle{} ? "East typed as west?" : "West typed as east?"});
    out.push_back({{-c.latitude, c.longitude},
                   c.latitude < Angle{} ? "North typed as south?" : "South typed as north?",
                   false});
    return out;
}

/// "40.7N 74W", as a position is typed.
std::string as_typed(const Coordinates& c) {
    const double latitude = c.latitude.in_degrees(), longitude = c.longitude.in_degrees();
    constexpr double steps = 1e4;  // of a degree; {:.7g} leaves no zeros behind
    const auto shown = [](double degrees) { return std::round(std::abs(degrees) * steps) / steps; };
    return fmt::format("{:.7g}{} {:.7g}{}", shown(latitude), latitude < 0 ? 'S' : 'N',
                       shown(longitude), longitude < 0 ? 'W' : 'E');
}

std::string where(const Clock& clock) {
    if (!clock.place) return fmt::format("{} ({})", clock.name, utc_offset(clock.offset));
    const Coordinates c{Angle::degrees(clock.place->latitude_deg),
                        Angle::degrees(clock.place->longitude_deg)};
    return fmt::format("{} ({}; its table has {})", clock.name, utc_offset(clock.offset),
                       degrees_and_minutes(c));
}

// A zone kept for its clock alone says nothing about a place.
bool has_no_place(const std::string& name) {
    constexpr std::array names{"UTC", "UTC0", "GMT", "GMT0", "Zulu", "Universal", "UCT"};
    return name.starts_with("Etc/") || std::find(names.begin(), names.end(), name) != names.end();
}

std::optional<ZonePlace> place_of(const std::string& zone) {
    const ZonePlaces& places = zone_source().places();
    const auto at = places.find(zone);
    return at == places.end() ? std::nullopt : std::optional{at->second};
}

}  // namespace

std::optional<PlaceDoubt> check_place(const Coordinates& place, const Zone& zone) {
    const Clock clock{zone.name(), standard_offset(zone), place_of(zone.name())};
    const double hours = clock.hours_to(place);
    const bool apart = hours > too_many_hours;
    const bool far_away = clock.place && distance(place, *clock.place) > far;
    if (!apart && !far_away) return std::nullopt;

    std::vector<Slip> fitting;
    for (const Slip& slip : slips(place)) {
        const bool fits = clock.place ? distance(slip.meant, *clock.place) < near
                                      : apart && slip.swaps_or_turns_longitude &&
                                            clock.hours_to(slip.meant) <= too_many_hours;
        if (fits) fitting.push_back(slip);
    }
    if (fitting.empty() && apart)  // a zone may be wide: let the hours decide
        for (const Slip& slip : slips(place))
            if (slip.swaps_or_turns_longitude && clock.hours_to(slip.meant) <= too_many_hours)
                fitting.push_back(slip);
    if (!apart && fitting.empty()) return std::nullopt;

    const double longitude = place.longitude.in_degrees();
    PlaceDoubt doubt;
    doubt.message =
        fmt::format("longitude {:.4g} {} is about {:.1f} h {} of Greenwich; the zone is {}.",
                    std::abs(longitude), longitude < 0 ? "WEST" : "EAST", std::abs(longitude) / 15,
                    longitude < 0 ? "west" : "east", where(clock));
    for (const Slip& slip : fitting) {
        doubt.message += fmt::format(" {} That would be {}: write \"{}\".", slip.question,
                                     in_words(slip.meant), as_typed(slip.meant));
        doubt.is_error = doubt.is_error || (apart && slip.swaps_or_turns_longitude);
    }
    if (fitting.empty()) doubt.message += " Is the zone right?";
    if (has_no_place(zone.name())) doubt.is_error = false;
    return doubt;
}

}  // namespace keyhour::site
