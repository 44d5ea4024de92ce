#pragma once
// Zone files packed into one, for a program that knows zones where a machine has none.

#include <string>
#include <string_view>
#include <vector>

#include "zone_source.hpp"

namespace keyhour::site {

/// Lines of text, then the bytes of TZif files: the version of the zone data; for each zone,
/// ascending, its name, where its file begins behind the empty line, how long that is and, where it
/// is known, its place by ISO 6709; an empty line. src/cross/zones.sh writes it.
class ZoneArchive final : public ZoneSource {
public:
    /// @param bytes  stay the caller's; of a damaged archive the zones that can be read are there
    explicit ZoneArchive(std::string_view bytes);

    /// Such as "2026f".
    [[nodiscard]] const std::string& version() const { return version_; }
    [[nodiscard]] bool is_there() const override { return !rows_.empty(); }
    [[nodiscard]] tl::expected<std::optional<NamedZone>, std::string> find(
        const std::string& name) const override;
    [[nodiscard]] std::vector<std::string> names() const override;
    [[nodiscard]] const ZonePlaces& places() const override { return places_; }

private:
    struct Row {
        std::string_view name, file;
    };

    std::string version_;
    std::vector<Row> rows_;
    ZonePlaces places_;
};

/// The zones in this program; none in one that is built for a machine that has them.
[[nodiscard]] const ZoneArchive& carried_zones();

}  // namespace keyhour::site
