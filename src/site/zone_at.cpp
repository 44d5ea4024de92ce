#include "keyhour/site/zone_at.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <numbers>

#include "zone_source.hpp"

namespace keyhour::site {
namespace {

bool is_abbreviation(const std::string& text) {
    return text.size() >= 3 && text.size() <= 5 &&
           std::ranges::all_of(text, [](char c) { return c >= 'A' && c <= 'Z'; });
}

bool says(const Zone& zone, const std::string& abbreviation) {
    const Instant january = Instant::from_unix_s(1767268800);  // 2026-01-01T12:00Z
    const Instant july = Instant::from_unix_s(1782907200);     // 2026-07-01T12:00Z
    return zone.at(january).abbreviation == abbreviation ||
           zone.at(july).abbreviation == abbreviation;
}

/// The cosine of the angle at the Earth's centre: largest where nearest.
double nearness(const Coordinates& a, const ZonePlace& b) {
    const Angle latitude = Angle::degrees(b.latitude_deg);
    const Angle turn = a.longitude - Angle::degrees(b.longitude_deg);
    return sin(a.latitude) * sin(latitude) + cos(a.latitude) * cos(latitude) * cos(turn);
}

}  // namespace

std::optional<std::string> zone_that_says(const std::string& abbreviation,
                                          const Coordinates& place) {
    std::optional<std::string> best;
    // An eighth of the way round the Earth: a zone farther off is nobody's there.
    double best_nearness = std::numbers::sqrt2 / 2;
    for (const auto& [name, at] : zone_source().places()) {
        const double near = nearness(place, at);
        // Places are few that lie equally near; the name decides, whatever the table's order.
        if (near < best_nearness || (near == best_nearness && name > *best)) continue;
        const auto zone = Zone::named(name);
        if (!zone || !says(*zone, abbreviation)) continue;
        best = name;
        best_nearness = near;
    }
    return best;
}

tl::expected<Zone, std::string> zone_at(const std::string& text,
                                        const std::optional<Coordinates>& place) {
    auto zone = Zone::named(text);
    if (zone || !is_abbreviation(text)) return zone;
    const auto meant = place ? zone_that_says(text, *place) : std::nullopt;
    if (!meant)
        return tl::unexpected{fmt::format(
            "time zone \"{}\" is not known; an abbreviation tells neither the continent "
            "nor its rules of summer time; accepted: an IANA name such as "
            "\"Europe/London\" or \"Australia/Sydney\", or a POSIX TZ string",
            text)};
    return tl::unexpected{
        fmt::format("time zone \"{}\" is an abbreviation that tells no rules of summer time; for "
                    "this position write \"{}\", the nearest zone whose clocks say {}",
                    text, *meant, text)};
}

}  // namespace keyhour::site
