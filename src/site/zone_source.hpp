#pragma once
// Where zones known by name come from: the machine's zone files, or a table that a page hands over.

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <tl/expected.hpp>
#include <unordered_map>
#include <vector>

#include "posix_zone.hpp"

namespace keyhour::site {

/// Where a zone's principal place lies.
struct ZonePlace {
    double latitude_deg = 0, longitude_deg = 0;
};
using ZonePlaces = std::unordered_map<std::string, ZonePlace>;

/// A zone's changes of clocks as far as they are listed.
class ListedChanges {
public:
    virtual ~ListedChanges() = default;
    /// Nothing where the zone's rule holds. @param unix_s  seconds since 1970, UTC
    [[nodiscard]] virtual std::optional<PosixZone::Offset> at(std::int64_t unix_s,
                                                              bool has_rule) const = 0;
};

/// One of them is missing, or the listed changes go before the rule.
struct NamedZone {
    std::shared_ptr<const ListedChanges> listed;
    std::unique_ptr<PosixZone> rule;
};

class ZoneSource {
public:
    virtual ~ZoneSource() = default;
    /// False where there are no zones at all.
    [[nodiscard]] virtual bool is_there() const = 0;
    /// Nothing of an unknown name. @return or why the zone cannot serve: "has a file that ..."
    [[nodiscard]] virtual tl::expected<std::optional<NamedZone>, std::string> find(
        const std::string& name) const = 0;
    /// Ascending.
    [[nodiscard]] virtual std::vector<std::string> names() const = 0;
    [[nodiscard]] virtual const ZonePlaces& places() const = 0;
};

/// What zones are asked of now.
[[nodiscard]] const ZoneSource& zone_source();

/// The machine's zone files.
[[nodiscard]] const ZoneSource& system_zones();

}  // namespace keyhour::site
