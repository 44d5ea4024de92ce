#include <date/tz.h>

#include <algorithm>
#include <exception>

#include "zone_files.hpp"
#include "zone_source.hpp"

namespace keyhour::site {
namespace {

using std::chrono::seconds;

/// As date's tz library reads a zone file.
class FileChanges final : public ListedChanges {
public:
    explicit FileChanges(const date::time_zone& zone) : zone_{&zone} {}

    [[nodiscard]] std::optional<PosixZone::Offset> at(std::int64_t unix_s,
                                                      bool has_rule) const override {
        const date::sys_info info = zone_->get_info(date::sys_seconds{seconds{unix_s}});
        // date's library freezes the offset after the last listed change: the sign of it is an
        // end in the last year that it knows.
        const bool frozen = info.end >= date::sys_days{date::year::max() / 1 / 1};
        if (frozen && has_rule) return std::nullopt;
        return PosixZone::Offset{static_cast<std::int32_t>(info.offset.count()),
                                 info.save.count() != 0, info.abbrev};
    }

private:
    const date::time_zone* zone_;
};

const date::tzdb* database() {
    try {
        const date::tzdb& zones = date::get_tzdb();
        if (!zones.zones.empty()) return &zones;
    } catch (const std::exception&) {
        // there is none
    }
    return nullptr;
}

const date::time_zone* find_zone(const date::tzdb& zones, const std::string& name) {
    const auto at = std::lower_bound(
        zones.zones.begin(), zones.zones.end(), name,
        [](const date::time_zone& z, const std::string& n) { return z.name() < n; });
    return at != zones.zones.end() && at->name() == name ? &*at : nullptr;
}

/// @return why the zone's file cannot serve; else nothing
std::optional<std::string> read_file(const date::time_zone& listed, NamedZone& zone) {
    try {
        const auto bytes = zone_file(listed.name());
        if (!bytes) return "has a zone file that cannot be read";
        if (const auto fault = fault_of_zone_file(*bytes))
            return "has a file among this machine's zones that " + *fault + ": it is no zone file";
        // A rule that cannot be read leaves the last listed offset, as date's library does.
        std::string why;
        zone.rule = PosixZone::read(last_line_of_zone_file(*bytes), why);
        zone.listed = std::make_shared<FileChanges>(listed);
        // Reads the zone's file, which may be damaged.
        static_cast<void>(zone.listed->at(0, zone.rule != nullptr));
    } catch (const std::exception&) {
        return "has a zone file that cannot be read";
    }
    return std::nullopt;
}

class SystemZones final : public ZoneSource {
public:
    [[nodiscard]] bool is_there() const override { return database() != nullptr; }
    [[nodiscard]] tl::expected<std::optional<NamedZone>, std::string> find(
        const std::string& name) const override {
        const date::tzdb* zones = database();
        const date::time_zone* listed = zones != nullptr ? find_zone(*zones, name) : nullptr;
        if (listed == nullptr) return std::nullopt;
        NamedZone zone;
        if (auto fault = read_file(*listed, zone)) return tl::unexpected{*std::move(fault)};
        return zone;
    }
    [[nodiscard]] std::vector<std::string> names() const override {
        std::vector<std::string> names;
        if (const date::tzdb* zones = database())
            for (const date::time_zone& z : zones->zones)
                names.push_back(z.name());
        return names;
    }
    [[nodiscard]] const ZonePlaces& places() const override { return zone_places(); }
};

}  // namespace

const ZoneSource& system_zones() {
    static const SystemZones zones;
    return zones;
}

}  // namespace keyhour::site
