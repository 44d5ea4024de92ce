// A page has no disk: what reads or writes one natively says so, or finds nothing.
#include "cli/calendar_file.hpp"
#include "cli/date_options.hpp"
#include "file/disk_contents.hpp"
#include "file/replaced_text.hpp"
#include "keyhour/site/terrain.hpp"
#include "site/zone_source.hpp"

namespace keyhour {
namespace {

constexpr const char* no_disk = "there is no disk here";

}  // namespace

namespace file {

tl::expected<std::string, Problem> disk_contents(const std::string& path, std::size_t,
                                                 const std::string&, const std::string& accepted,
                                                 Taken) {
    return tl::unexpected{Problem{path, 0, 0, no_disk, accepted, {}}};
}

tl::expected<void, std::string> may_replace(const std::string&) {
    return tl::unexpected{std::string{no_disk}};
}

tl::expected<void, std::string> replace_text(const std::string&, std::string_view,
                                             std::string_view) {
    return tl::unexpected{std::string{no_disk}};
}

}  // namespace file

namespace site {
namespace {

class NoZones final : public ZoneSource {
public:
    [[nodiscard]] bool is_there() const override { return false; }
    [[nodiscard]] tl::expected<std::optional<NamedZone>, std::string> find(
        const std::string&) const override {
        return std::nullopt;
    }
    [[nodiscard]] std::vector<std::string> names() const override { return {}; }
    [[nodiscard]] const ZonePlaces& places() const override { return places_; }

private:
    ZonePlaces places_;
};

}  // namespace

const ZoneSource& system_zones() {
    static const NoZones none;
    return none;
}

tl::expected<Terrain, std::string> Terrain::open(const std::string&, const Coordinates&) {
    return tl::unexpected{std::string{no_disk}};
}

tl::expected<Terrain::Skyline, std::string> Terrain::skyline(const Coordinates&, double,
                                                             double) const {
    return tl::unexpected{std::string{no_disk}};
}

}  // namespace site

namespace cli {

std::string earlier_calendar(const std::string&) {
    return {};
}

Instant calendar_made_at() {
    return now();
}

}  // namespace cli
}  // namespace keyhour
