// GeoTIFF through GDAL: built where CMake finds it (KEYHOUR_GDAL).
#include <fmt/format.h>
#include <gdal_priv.h>
#include <gdalwarper.h>
#include <ogr_spatialref.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <list>
#include <unordered_map>
#include <vector>

#include "keyhour/site/elevation_grid.hpp"

namespace keyhour::site {
namespace {

struct Close {
    void operator()(GDALDataset* dataset) const { GDALClose(dataset); }
};
using Dataset = std::unique_ptr<GDALDataset, Close>;

constexpr int side = 256;                // of a block of posts
constexpr std::size_t most_blocks = 64;  // 16 MiB of floats

/// Reads block by block and keeps the last used, so that memory stays bounded.
class GeoTiff final : public ElevationGrid {
public:
    /// @param warped  lies over `original`, or is null where that is in degrees already
    GeoTiff(Dataset original, Dataset warped, const std::array<double, 6>& corner)
        : original_{std::move(original)},
          warped_{std::move(warped)},
          band_{top()->GetRasterBand(1)} {
        // A post is the middle of its cell.
        shape_ = {corner[3] + corner[5] / 2,
                  corner[0] + corner[1] / 2,
                  -corner[5],
                  corner[1],
                  static_cast<std::size_t>(top()->GetRasterYSize()),
                  static_cast<std::size_t>(top()->GetRasterXSize())};
        int known = 0;
        const double nothing = band_->GetNoDataValue(&known);
        if (known != 0) nothing_ = nothing;
    }

    std::optional<double> post(std::size_t row, std::size_t column) const override {
        const auto& values = block(static_cast<int>(row) / side, static_cast<int>(column) / side);
        const double metres = values[(row % side) * side + column % side];
        if (!std::isfinite(metres) || (nothing_ && metres == *nothing_)) return std::nullopt;
        return metres;
    }

    std::optional<double> highest_m() const override {
        std::optional<double> highest;
        for (std::size_t r0 = 0; r0 < shape_.rows; r0 += side)
            for (std::size_t c0 = 0; c0 < shape_.columns; c0 += side)
                for (std::size_t r = r0; r < std::min(r0 + side, shape_.rows); ++r)
                    for (std::size_t c = c0; c < std::min(c0 + side, shape_.columns); ++c)
                        if (const auto metres = post(r, c); metres && !(highest >= metres))
                            highest = metres;
        return highest;
    }

private:
    [[nodiscard]] GDALDataset* top() const { return warped_ ? warped_.get() : original_.get(); }

    struct Block {
        long key = 0;
        std::vector<float> values;
    };

    const std::vector<float>& block(int row, int column) const {
        const long key = static_cast<long>(row) << 32U | column;
        if (!blocks_.empty() && blocks_.front().key == key) return blocks_.front().values;
        if (const auto found = where_.find(key); found != where_.end()) {
            blocks_.splice(blocks_.begin(), blocks_, found->second);
            return blocks_.front().values;
        }
        if (blocks_.size() >= most_blocks) {
            where_.erase(blocks_.back().key);
            blocks_.pop_back();
        }
        blocks_.push_front({key, std::vector<float>(std::size_t{side} * side, NAN)});
        where_[key] = blocks_.begin();
        const int x = column * side, y = row * side;
        const int wide = std::min(side, static_cast<int>(shape_.columns) - x);
        const int high = std::min(side, static_cast<int>(shape_.rows) - y);
        // What cannot be read stays a void.
        if (band_->RasterIO(GF_Read, x, y, wide, high, blocks_.front().values.data(), wide, high,
                            GDT_Float32, sizeof(float), sizeof(float) * side) != CE_None)
            std::fill(blocks_.front().values.begin(), blocks_.front().values.end(), NAN);
        return blocks_.front().values;
    }

    Dataset original_, warped_;
    GDALRasterBand* band_;
    std::optional<double> nothing_;
    mutable std::list<Block> blocks_;  // the last used first
    mutable std::unordered_map<long, std::list<Block>::iterator> where_;
};

void register_once() {
    static const bool done = [] {
        GDALAllRegister();
        CPLSetErrorHandler(CPLQuietErrorHandler);  // what fails is told by us
        constexpr GIntBig cache_bytes = 16 << 20;
        GDALSetCacheMax64(cache_bytes);
        return true;
    }();
    (void)done;
}

/// The raster in degrees of WGS 84: laid over it if it is in another system.
Dataset in_degrees(GDALDataset& dataset) {
    constexpr double most_cells_off = 0.125;
    Dataset out{static_cast<GDALDataset*>(GDALAutoCreateWarpedVRT(
        &dataset, nullptr, SRS_WKT_WGS84_LAT_LONG, GRA_Bilinear, most_cells_off, nullptr))};
    return out;
}

bool is_in_metres(const std::string& unit) {
    return unit.empty() || unit == "m" || unit == "metre" || unit == "meter" || unit == "metres" ||
           unit == "meters";
}

}  // namespace

bool reads_geotiff() noexcept {
    return true;
}

tl::expected<std::unique_ptr<ElevationGrid>, std::string> open_geotiff(const std::string& path) {
    const auto refused = [&](const std::string& why) {
        return tl::unexpected{
            fmt::format("{}: {}; accepted: a GeoTIFF with elevations in metres", path, why)};
    };
    register_once();
    constexpr const char* drivers[] = {"GTiff", nullptr};
    Dataset dataset{static_cast<GDALDataset*>(
        GDALOpenEx(path.c_str(), GDAL_OF_RASTER | GDAL_OF_READONLY, drivers, nullptr, nullptr))};
    if (!dataset) return refused("cannot be read");
    if (dataset->GetRasterCount() < 1) return refused("holds no raster");
    const OGRSpatialReference* system = dataset->GetSpatialRef();
    if (!system) return refused("does not say where on Earth it lies");
    const std::string unit = dataset->GetRasterBand(1)->GetUnitType();
    if (!is_in_metres(unit)) return refused(fmt::format("has elevations in \"{}\"", unit));
    std::array<double, 6> corner{};
    const auto placed = [&](GDALDataset& raster) {
        return raster.GetGeoTransform(corner.data()) == CE_None && corner[1] > 0 && corner[5] < 0 &&
               corner[2] == 0 && corner[4] == 0;
    };
    Dataset warped;
    if (system->IsGeographic() == 0 || !placed(*dataset)) {
        warped = in_degrees(*dataset);
        if (!warped || !placed(*warped)) return refused("cannot be laid out in degrees");
    }
    GDALDataset& top = warped ? *warped : *dataset;
    if (top.GetRasterXSize() < 2 || top.GetRasterYSize() < 2)
        return refused("has fewer than two rows or columns");
    return std::make_unique<GeoTiff>(std::move(dataset), std::move(warped), corner);
}

}  // namespace keyhour::site
