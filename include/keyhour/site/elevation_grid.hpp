#pragma once
/// @file
/// Terrain as a grid of posts over latitude and longitude.

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <tl/expected.hpp>

namespace keyhour::site {

/// Posts stand at equal steps of degrees, the first row in the north, the first column in the west.
class ElevationGrid {
public:
    virtual ~ElevationGrid() = default;
    ElevationGrid() = default;
    ElevationGrid(const ElevationGrid&) = delete;
    ElevationGrid& operator=(const ElevationGrid&) = delete;

    struct Shape {
        double north_deg = 0, west_deg = 0;            ///< of the first post
        double row_step_deg = 0, column_step_deg = 0;  ///< above 0
        std::size_t rows = 0, columns = 0;             ///< 2 or more
    };
    [[nodiscard]] const Shape& shape() const noexcept { return shape_; }

    /// Metres above the sea, or nothing where the post is a void.
    [[nodiscard]] virtual std::optional<double> post(std::size_t row, std::size_t column) const = 0;
    /// Of all posts that are no voids; nothing if all are.
    [[nodiscard]] virtual std::optional<double> highest_m() const = 0;
    /// Gives back the memory of posts that were looked at; they can be looked at again.
    virtual void give_back() const {}

    /// Between four posts, bilinear; where one or more is a void, by the weights of the others.
    /// @param longitude_deg  in the turn of the grid: west <= longitude <= east
    /// @return nothing beyond the grid, and where all posts around are voids
    [[nodiscard]] std::optional<double> elevation_m(double latitude_deg,
                                                    double longitude_deg) const;
    [[nodiscard]] bool holds(double latitude_deg, double longitude_deg) const noexcept;

protected:
    Shape shape_;
};

/// "N52W002": the tile of one by one degree that holds a place; at its edge that to the north-east.
/// Any longitude; latitudes -90..90, the pole itself in the last tile.
[[nodiscard]] std::string srtm_tile_name(double latitude_deg, double longitude_deg);

/// A tile of the Shuttle Radar Topography Mission as distributed: NAME.hgt, named after its
/// south-west corner; 1201 or 3601 rows of as many 16-bit big-endian metres, -32768 a void.
/// Source of the form: the mission's own quick-start note (SRTM_Topo, version 2). From memory.
/// The file is mapped into memory: the system keeps of it what it has room for.
/// @return the tile, or "FOUND; ACCEPTED"
[[nodiscard]] tl::expected<std::unique_ptr<ElevationGrid>, std::string> open_srtm_tile(
    const std::string& path);

/// Was the program built with GDAL, so that it reads GeoTIFF?
[[nodiscard]] bool reads_geotiff() noexcept;

/// A GeoTIFF with elevations in metres, in degrees of WGS 84, north up.
/// @return the grid, or "FOUND; ACCEPTED"; always the latter where reads_geotiff() is false
[[nodiscard]] tl::expected<std::unique_ptr<ElevationGrid>, std::string> open_geotiff(
    const std::string& path);

}  // namespace keyhour::site
