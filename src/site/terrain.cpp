#include "keyhour/site/terrain.hpp"

#include <fmt/format.h>

#include <GeographicLib/Geodesic.hpp>
#include <GeographicLib/GeodesicLine.hpp>
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <limits>
#include <numbers>
#include <set>

#include "keyhour/site/quoted.hpp"

namespace keyhour::site {
namespace {

constexpr double radius_m = earth_radius_m / (1 - refraction_coefficient);
constexpr double highest_on_earth_m = 8849;
/// A spot's eye may stand on a mountain of the site's surroundings: its height over the site's.
constexpr double eye_over_site_m = 1000;

constexpr double coarse_step_deg = 0.25, finest_step_deg = 0.0625, jagged_deg = 0.1;
constexpr double knot_m = 1000;         // a geodesic is straight in degrees within 2 cm of this
constexpr double growth = 0.002;        // of a step with the distance: a tenth of a degree
constexpr double near_a_pole_deg = 88;  // where longitudes turn too fast for straight pieces

/// Tangent of the apparent altitude. The difference of large numbers is taken apart:
/// (r + h) cos t - (r + e) = (h - e) - 2 (r + h) sin^2(t / 2).
double slope(double distance_m, double eye_m, double top_m) noexcept {
    const double t = distance_m / radius_m, half = std::sin(t / 2);
    return ((top_m - eye_m) - 2 * (radius_m + top_m) * half * half) /
           ((radius_m + top_m) * std::sin(t));
}

double in_turn_of(double longitude_deg, double west_deg) {
    const double east = longitude_deg - west_deg;
    return west_deg + (east - 360 * std::floor(east / 360));
}

bool grid_holds(const ElevationGrid& grid, double latitude_deg, double longitude_deg) {
    return grid.holds(latitude_deg, in_turn_of(longitude_deg, grid.shape().west_deg));
}

/// Distance to the nearest point of a grid, good enough to tell whether it can be seen.
double distance_m(const ElevationGrid& grid, const Coordinates& from) {
    const auto& s = grid.shape();
    const double south = s.north_deg - s.row_step_deg * static_cast<double>(s.rows - 1);
    const double width = s.column_step_deg * static_cast<double>(s.columns - 1);
    const double latitude = from.latitude.in_degrees(), longitude = from.longitude.in_degrees();
    const double nearest_latitude = std::clamp(latitude, south, s.north_deg);
    double east = in_turn_of(longitude, s.west_deg) - s.west_deg;  // 0..360 east of its west edge
    if (east > width) east = east - width < 360 - east ? width : 0;
    double metres = 0;
    GeographicLib::Geodesic::WGS84().Inverse(latitude, longitude, nearest_latitude,
                                             s.west_deg + east, metres);
    return metres;
}

using Opened = tl::expected<std::unique_ptr<ElevationGrid>, std::string>;

std::string extension_of(const std::filesystem::path& path) {
    std::string out = path.extension().string();
    for (char& c : out)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return out;
}

bool is_geotiff(const std::filesystem::path& path) {
    const std::string extension = extension_of(path);
    return extension == ".tif" || extension == ".tiff";
}

Opened open_grid(const std::filesystem::path& path) {
    std::error_code ignored;
    if (std::filesystem::exists(path, ignored) &&
        !std::filesystem::is_regular_file(path, ignored))  // a pipe would be waited for
        return tl::unexpected{path.string() +
                              ": this is no plain file; accepted: a grid of heights"};
    if (is_geotiff(path)) return open_geotiff(path.string());
    if (extension_of(path) == ".hgt") return open_srtm_tile(path.string());
    return tl::unexpected{
        fmt::format("{}: not a grid that can be read; accepted: a folder of .hgt "
                    "tiles, one such tile{}",
                    path.string(), reads_geotiff() ? ", a GeoTIFF" : "")};
}

/// The grids of a folder, in the order of their names, or the one file.
tl::expected<std::vector<std::filesystem::path>, std::string> files_of(const std::string& path) {
    namespace fs = std::filesystem;
    std::error_code error;
    const auto status = fs::status(path, error);
    if (!fs::exists(status))
        return tl::unexpected{
            fmt::format("{}: there is no such file or folder; accepted: a folder "
                        "of .hgt tiles, or one file",
                        path)};
    if (!fs::is_directory(status)) return std::vector<fs::path>{path};
    std::vector<fs::path> out;
    for (fs::directory_iterator it{path, error}, end; !error && it != end; it.increment(error))
        if (extension_of(it->path()) == ".hgt" || (is_geotiff(it->path()) && reads_geotiff()))
            out.push_back(it->path());
    if (error)
        return tl::unexpected{
            fmt::format("{}: the folder cannot be read: {}; accepted: a folder of .hgt tiles", path,
                        error.message())};
    std::sort(out.begin(), out.end());
    return out;
}

/// Could a tile of this name be in sight? Spares opening a whole planet's folder.
bool may_be_near(const std::filesystem::path& path, const Coordinates& site) {
    const std::string name = path.stem().string();
    if (name.size() != 7 || is_geotiff(path)) return true;
    const double latitude = std::abs(std::atof(name.substr(1, 2).c_str()));
    const double south = name[0] == 'S' || name[0] == 's' ? -latitude : latitude;
    constexpr double reach_deg = 7;  // more than sight from the highest to the next
    return std::abs(south + 0.5 - site.latitude.in_degrees()) <= reach_deg;
}

}  // namespace

Altitude apparent_altitude(double distance_m, double eye_m, double top_m) noexcept {
    return {Angle::radians(std::atan(slope(distance_m, eye_m, top_m)))};
}

double visible_range_m(double eye_m, double top_m, double low_m) noexcept {
    return std::sqrt(2 * radius_m * std::max(0.0, eye_m - low_m)) +
           std::sqrt(2 * radius_m * std::max(0.0, top_m - low_m));
}

tl::expected<Terrain, std::string> Terrain::open(const std::string& path, const Coordinates& site) {
    const auto files = files_of(path);
    if (!files) return tl::unexpected{files.error()};
    Terrain terrain;
    const double latitude = site.latitude.in_degrees(), longitude = site.longitude.in_degrees();
    std::vector<std::unique_ptr<ElevationGrid>> all;
    std::optional<double> ground;
    bool holds_site = false;
    for (const auto& file : *files) {
        if (!may_be_near(file, site)) continue;
        auto grid = open_grid(file);
        if (!grid) return tl::unexpected{grid.error()};
        terrain.in_tiles_ = terrain.in_tiles_ && !is_geotiff(file);
        if (grid_holds(**grid, latitude, longitude)) {
            holds_site = true;
            const auto here =
                (*grid)->elevation_m(latitude, in_turn_of(longitude, (*grid)->shape().west_deg));
            if (here) ground = here;
        }
        all.push_back(*std::move(grid));
    }
    if (!holds_site)
        return tl::unexpected{fmt::format(
            "{}: no grid holds the site; its tile is {}.hgt, named after its south-west "
            "corner",
            path, srtm_tile_name(latitude, longitude))};
    if (!ground)
        return tl::unexpected{
            fmt::format("{}: the grid has a void at the site; fill it, or give the skyline as a "
                        "survey",
                        path)};
    const double reach = 1.01 * visible_range_m(*ground + eye_over_site_m, highest_on_earth_m);
    terrain.highest_m_ = *ground;
    terrain.least_step_m_ = std::numeric_limits<double>::infinity();
    for (auto& grid : all) {
        if (distance_m(*grid, site) > reach) continue;
        if (const auto highest = grid->highest_m())
            terrain.highest_m_ = std::max(terrain.highest_m_, *highest);
        constexpr double metres_a_degree = earth_radius_m * std::numbers::pi / 180;
        terrain.least_step_m_ =
            std::min(terrain.least_step_m_, metres_a_degree * grid->shape().row_step_deg);
        terrain.grids_.push_back(std::move(grid));
    }
    return terrain;
}

std::optional<double> Terrain::elevation_m(double latitude_deg, double longitude_deg) const {
    // Tiles share the posts of their edges: where one has a void the other may not.
    for (const auto& grid : grids_)
        if (grid_holds(*grid, latitude_deg, longitude_deg))
            if (const auto metres = grid->elevation_m(
                    latitude_deg, in_turn_of(longitude_deg, grid->shape().west_deg)))
                return metres;
    return std::nullopt;
}

namespace {

struct Place {
    double latitude, longitude;
};

/// The geodesic from a place in one bearing.
class WayOut {
public:
    WayOut(double latitude_deg, double longitude_deg, double bearing_deg)
        : line_{GeographicLib::Geodesic::WGS84().Line(
              latitude_deg, longitude_deg, bearing_deg,
              Line::LATITUDE | Line::LONGITUDE | Line::DISTANCE_IN | Line::LONG_UNROLL)},
          from_{latitude_deg, longitude_deg},
          to_{from_} {}

    [[nodiscard]] Place at(double d) const {
        Place place{};
        double azimuth = 0, ignored = 0;
        line_.GenPosition(false, d, Line::LATITUDE | Line::LONGITUDE | Line::LONG_UNROLL,
                          place.latitude, place.longitude, azimuth, ignored, ignored, ignored,
                          ignored, ignored);
        return place;
    }
    /// Between knots of the line, but near a pole. @pre d never falls from one call to the next
    [[nodiscard]] Place near(double d) {
        while (d > to_m_) {
            from_m_ = to_m_;
            from_ = to_;
            to_m_ += knot_m;
            to_ = at(to_m_);
        }
        if (std::max(std::abs(from_.latitude), std::abs(to_.latitude)) > near_a_pole_deg)
            return at(d);
        const double k = (d - from_m_) / (to_m_ - from_m_);
        return {from_.latitude + k * (to_.latitude - from_.latitude),
                from_.longitude + k * (to_.longitude - from_.longitude)};
    }

private:
    using Line = GeographicLib::GeodesicLine;
    Line line_;
    double from_m_ = 0, to_m_ = 0;  // the knots around the last sample
    Place from_, to_;
};

}  // namespace

/// One eye, looking round.
struct Terrain::Sight {
    const Terrain& terrain;
    double latitude_deg, longitude_deg, eye_m, beyond_m;
    const ElevationGrid* last = nullptr;  // samples along a ray stay in one grid for long
    double farthest_m = 0;
    bool has_voids = false;
    std::set<std::string> missing;

    /// What counts at a place: nothing in a void; the sea where there is no grid.
    std::optional<double> top_at(double latitude, double longitude) {
        if (!last || !grid_holds(*last, latitude, longitude)) {
            const auto it = std::find_if(
                terrain.grids_.begin(), terrain.grids_.end(),
                [&](const auto& grid) { return grid_holds(*grid, latitude, longitude); });
            last = it == terrain.grids_.end() ? nullptr : it->get();
        }
        if (!last) {
            missing.insert(terrain.in_tiles_ ? srtm_tile_name(latitude, longitude)
                                             : std::string{"what lies beyond the grid"});
            return 0;
        }
        if (const auto metres =
                last->elevation_m(latitude, in_turn_of(longitude, last->shape().west_deg)))
            return metres;
        const auto other = terrain.elevation_m(latitude, longitude);
        if (!other) has_voids = true;
        return other;
    }

    /// Where the steepest line of sight in one bearing touches the ground.
    struct Steepest {
        double slope = -std::numeric_limits<double>::infinity();
        double at_m = 0, step_m = 0;  ///< and how far the samples stand apart there
        void see(double here, double d, double step) {
            if (here > slope) *this = {here, d, step};
        }
    };

    double slope_at(double d, Place place) {
        const auto top = top_at(place.latitude, place.longitude);
        return top ? slope(d, eye_m, *top) : -std::numeric_limits<double>::infinity();
    }

    /// Samples from `first` on, until nothing farther off can stand higher.
    Steepest look_along(WayOut& way, double first) {
        Steepest steepest;
        // Beyond this even what lies below the eye only sinks.
        const double turning_m =
            std::sqrt(2 * radius_m * std::max(0.0, eye_m - terrain.highest_m_));
        double d = first, step = 0;
        for (;; d += step) {
            step = std::max(terrain.least_step_m_ / 2, growth * d);
            if (d >= turning_m && slope(d, eye_m, terrain.highest_m_) <= steepest.slope) break;
            steepest.see(slope_at(d, way.near(d)), d, step);
            if (d > visible_range_m(eye_m, terrain.highest_m_) + knot_m) break;  // voids to the end
        }
        farthest_m = std::max(farthest_m, d);
        return steepest;
    }

    /// The apparent altitude of the skyline in one bearing, in degrees.
    double altitude_deg(double bearing_deg) {
        WayOut way{latitude_deg, longitude_deg, bearing_deg};
        const double first = std::max(beyond_m, 1.0);
        Steepest steepest = look_along(way, first);
        if (!std::isfinite(steepest.slope)) return 0;
        // A sharp edge stands between two steps: look there once more, twice as closely each time.
        for (double step = steepest.step_m; step > 0.1; step /= 2)
            for (const double there : {steepest.at_m - step / 2, steepest.at_m + step / 2})
                if (there >= first) steepest.see(slope_at(there, way.at(there)), there, step);
        return std::atan(steepest.slope) * 180 / std::numbers::pi;
    }

    /// Points strictly between two bearings, closer where the skyline is jagged.
    void refine(double b0, double a0, double b1, double a1, std::vector<HorizonPoint>& out) {
        if (b1 - b0 <= finest_step_deg || std::abs(a1 - a0) <= jagged_deg) return;
        const double middle = (b0 + b1) / 2, altitude = altitude_deg(middle);
        refine(b0, a0, middle, altitude, out);
        out.push_back({Angle::degrees(middle), Angle::degrees(altitude)});
        refine(middle, altitude, b1, a1, out);
    }
};

tl::expected<Terrain::Skyline, std::string> Terrain::skyline(const Coordinates& from,
                                                             double eye_above_ground_m,
                                                             double beyond_m) const {
    const double latitude = from.latitude.in_degrees(), longitude = from.longitude.in_degrees();
    const auto ground = elevation_m(latitude, longitude);
    if (!ground)
        return tl::unexpected{
            fmt::format("no elevation at {}: no grid holds the place, or it is a void there; its "
                        "tile is {}.hgt",
                        in_words(from), srtm_tile_name(latitude, longitude))};
    Sight sight{*this, latitude, longitude, *ground + eye_above_ground_m, beyond_m, nullptr,
                0,     false,    {}};
    std::vector<HorizonPoint> points;
    constexpr int count = static_cast<int>(360 / coarse_step_deg);
    const double first = sight.altitude_deg(0);
    double before = first;
    for (int i = 0; i < count; ++i) {
        const double b0 = i * coarse_step_deg, b1 = (i + 1) * coarse_step_deg;
        points.push_back({Angle::degrees(b0), Angle::degrees(before)});
        const double after = i + 1 == count ? first : sight.altitude_deg(b1);
        sight.refine(b0, before, b1, after, points);
        before = after;
        constexpr int sector = 16;  // bearings, 4 degrees: neighbours look at the same posts
        if (i % sector == sector - 1)
            for (const auto& grid : grids_)
                grid->give_back();
    }
    Skyline out;
    out.horizon = Horizon{std::move(points)};
    out.eye_m = sight.eye_m;
    out.farthest_m = sight.farthest_m;
    out.missing.assign(sight.missing.begin(), sight.missing.end());
    out.has_voids = sight.has_voids;
    return out;
}

}  // namespace keyhour::site
