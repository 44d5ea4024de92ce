#pragma once
/// @file
/// The far skyline from elevation grids, with the Earth's curvature and refraction.

#include <memory>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "keyhour/site/elevation_grid.hpp"
#include "keyhour/site/horizon.hpp"
#include "keyhour/site/position.hpp"

namespace keyhour::site {

/// Mean radius of the Earth. Source: IUGG, R1 of GRS 80 (Moritz, Geodetic Reference System 1980).
inline constexpr double earth_radius_m = 6'371'008.8;

/// Coefficient of refraction of a level sight over land: the ray's curvature over the Earth's.
/// Source: Gauss's mean value, as in textbooks of surveying. From memory. Over water and at night
/// it strays from about 0.05 to 0.25.
inline constexpr double refraction_coefficient = 0.13;

/// Apparent altitude of a point, over the level of the eye. On a sphere with the radius R / (1 - k)
/// rays are straight; there the altitude is exact: tan = ((r + h) cos t - (r + e)) / ((r + h) sin
/// t) with t the distance over r.
/// @param distance_m  along the ground, above 0
/// @param eye_m, top_m  above the sea
[[nodiscard]] Altitude apparent_altitude(double distance_m, double eye_m, double top_m) noexcept;

/// From where on the Earth's bulge hides a top, seen past a sea at elevation `low_m`:
/// sqrt(2 r (eye - low)) + sqrt(2 r (top - low)).
[[nodiscard]] double visible_range_m(double eye_m, double top_m, double low_m = 0) noexcept;

/// The grids around a site.
class Terrain {
public:
    /// A folder of .hgt tiles (and .tif, where built with GDAL), or one such file. Opens what lies
    /// within sight of the highest mountain.
    /// @return the terrain, or "FOUND; ACCEPTED": an unreadable or misshapen tile, or none that
    ///         holds the site
    [[nodiscard]] static tl::expected<Terrain, std::string> open(const std::string& path,
                                                                 const Coordinates& site);

    /// @return nothing beyond the grids and in a void
    [[nodiscard]] std::optional<double> elevation_m(double latitude_deg,
                                                    double longitude_deg) const;
    [[nodiscard]] std::size_t grids() const noexcept { return grids_.size(); }
    [[nodiscard]] double highest_m() const noexcept { return highest_m_; }

    struct Skyline {
        Horizon horizon;                   ///< negative where the eye looks down on it
        double eye_m = 0;                  ///< above the sea
        double farthest_m = 0;             ///< to which it was looked
        std::vector<std::string> missing;  ///< tiles in sight that are not there: taken as sea
        bool has_voids = false;            ///< in sight: passed over
    };
    /// The skyline from an eye above the ground, at every quarter degree and closer where it is
    /// jagged. Nearer than `beyond_m` nothing is looked at: that is geometry.
    /// @return the skyline, or "FOUND; ACCEPTED": no elevation at the place
    [[nodiscard]] tl::expected<Skyline, std::string> skyline(const Coordinates& from,
                                                             double eye_above_ground_m,
                                                             double beyond_m) const;

private:
    struct Sight;
    std::vector<std::unique_ptr<ElevationGrid>> grids_;
    double highest_m_ = 0, least_step_m_ = 0;
    bool in_tiles_ = true;  // missing tiles have names
};

}  // namespace keyhour::site
