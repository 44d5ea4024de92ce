#include "site_options.hpp"

#include <fmt/format.h>

#include "keyhour/site/place_check.hpp"
#include "keyhour/site/position.hpp"
#include "keyhour/site/read_back.hpp"
#include "keyhour/site/zone_at.hpp"
#include "options.hpp"
#include "read/location_file.hpp"
#include "units_option.hpp"
#include "words/length.hpp"

namespace keyhour::cli {
namespace {

constexpr double lowest_m = -500, highest_m = 9000;

Answer<site::Location> read_file(const std::string& path, const read::Changes& changes) {
    auto location = read::read_location(path, changes);
    if (!location) return data_failure(read::text(location.error()));
    return *std::move(location);
}

Answer<site::Location> read_typed(const SiteOptions& options) {
    if (options.zone.empty())
        return usage_failure("--position needs --zone, such as --zone Europe/London");
    if (options.position.empty())
        return usage_failure("--zone needs --position, such as --position \"52.95N 1.15W\"");
    const auto place = site::read_position(options.position);
    if (!place) return usage_failure("--position: " + place.error());
    auto zone = site::zone_at(options.zone, *place);
    if (!zone) return usage_failure("--zone: " + zone.error());
    if (!(options.elevation_m >= lowest_m && options.elevation_m <= highest_m))
        return usage_failure(
            options.units == "ft"
                ? fmt::format("--elevation {}: accepted: -1640 to 29527 ft",
                              words::elevation(options.elevation_m, site::Units::feet))
                : fmt::format("--elevation {:g}: accepted: {:g} to {:g} metres",
                              options.elevation_m, lowest_m, highest_m));
    site::Location location;
    location.site.name = options.position;
    location.site.observer = {place->latitude, place->longitude, options.elevation_m};
    location.site.zone = *std::move(zone);
    if (const auto doubt = site::check_place(*place, location.site.zone)) {
        if (doubt->is_error) return data_failure("--position and --zone: " + doubt->message);
        location.questions.push_back(doubt->message);
    }
    return location;
}

}  // namespace

void SiteOptions::offer(Options& command) {
    command.add_option("location", location, "location file (TOML)")->type_name("FILE");
    command.add_option("--position", position, "in place of a file, such as \"52.95N 1.15W\"");
    command.add_option("--zone", zone, "its time zone, such as Europe/London");
    command.add_option("--elevation", elevation_m, "its metres above the sea (default: 0)")
        ->type_name("M");
    offer_units(command, units);
    what_if.offer(command);
}

Answer<site::Recce> SiteOptions::recce() const {
    return recce_of(location, units, what_if.changes());
}

Answer<site::Location> SiteOptions::read(Names names) const {
    if (!location.empty() && (!position.empty() || !zone.empty()))
        return usage_failure(
            "a location file has its own position and zone: give the file or "
            "--position and --zone");
    const auto told = [names](Answer<site::Location> read) -> Answer<site::Location> {
        if (!read) return read;
        return with(names, *std::move(read));
    };
    if (!location.empty()) return told(read_file(location, what_if.changes()));
    if (!what_if.typed.empty())
        return usage_failure("--if changes a location file, and there is none");
    if (position.empty() && zone.empty())
        return usage_failure("no place: give a location file, or --position and --zone");
    return told(read_typed(*this));
}

std::vector<std::string> site_read_back(const site::Location& location, const DateRange& dates,
                                        site::Units units) {
    return site::site_read_back(location, dates.first, dates.last, {dates.is_today, units});
}

}  // namespace keyhour::cli
