#include "tzif.hpp"
#include "zone_archive.hpp"
#include "zone_files.hpp"
#include "zone_source.hpp"

namespace keyhour::site {
namespace {

class SystemZones final : public ZoneSource {
public:
    [[nodiscard]] bool is_there() const override { return !zone_folder().empty(); }
    [[nodiscard]] tl::expected<std::optional<NamedZone>, std::string> find(
        const std::string& name) const override {
        if (!has_zone_file(name)) return std::nullopt;
        const auto bytes = zone_file(name);
        if (!bytes) return tl::unexpected{std::string{"has a zone file that cannot be read"}};
        auto zone = zone_in(*bytes);
        if (!zone)
            return tl::unexpected{"has a file among this machine's zones that " + zone.error() +
                                  ": it is no zone file"};
        return std::optional{*std::move(zone)};
    }
    [[nodiscard]] std::vector<std::string> names() const override { return zone_names(); }
    [[nodiscard]] const ZonePlaces& places() const override { return zone_places(); }
};

}  // namespace

const ZoneSource& system_zones() {
    static const SystemZones files;
    // What a machine has may be newer than the program.
    const ZoneArchive& carried = carried_zones();
    return files.is_there() || !carried.is_there() ? static_cast<const ZoneSource&>(files)
                                                   : carried;
}

}  // namespace keyhour::site
