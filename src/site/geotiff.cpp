#include <fmt/format.h>

#include "keyhour/site/elevation_grid.hpp"

namespace keyhour::site {

bool reads_geotiff() noexcept {
    return false;
}

tl::expected<std::unique_ptr<ElevationGrid>, std::string> open_geotiff(const std::string& path) {
    return tl::unexpected{fmt::format(
        "{}: this program was built without GDAL, which reads GeoTIFF; accepted: .hgt tiles",
        path)};
}

}  // namespace keyhour::site
