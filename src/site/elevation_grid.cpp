#include "keyhour/site/elevation_grid.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace keyhour::site {

bool ElevationGrid::holds(double latitude_deg, double longitude_deg) const noexcept {
    const double rows = static_cast<double>(shape_.rows - 1);
    const double columns = static_cast<double>(shape_.columns - 1);
    const double row = (shape_.north_deg - latitude_deg) / shape_.row_step_deg;
    const double column = (longitude_deg - shape_.west_deg) / shape_.column_step_deg;
    return row >= 0 && row <= rows && column >= 0 && column <= columns;
}

std::optional<double> ElevationGrid::elevation_m(double latitude_deg, double longitude_deg) const {
    if (!holds(latitude_deg, longitude_deg)) return std::nullopt;
    const double row = (shape_.north_deg - latitude_deg) / shape_.row_step_deg;
    const double column = (longitude_deg - shape_.west_deg) / shape_.column_step_deg;
    const std::size_t r = std::min(static_cast<std::size_t>(row), shape_.rows - 2);
    const std::size_t c = std::min(static_cast<std::size_t>(column), shape_.columns - 2);
    const double down = row - static_cast<double>(r), right = column - static_cast<double>(c);
    double sum = 0, weights = 0;
    const auto add = [&](std::size_t i, std::size_t j, double weight) {
        if (weight <= 0) return;
        if (const auto metres = post(i, j)) {
            sum += weight * *metres;
            weights += weight;
        }
    };
    add(r, c, (1 - down) * (1 - right));
    add(r, c + 1, (1 - down) * right);
    add(r + 1, c, down * (1 - right));
    add(r + 1, c + 1, down * right);
    if (weights <= 0) return std::nullopt;
    return sum / weights;
}

std::string srtm_tile_name(double latitude_deg, double longitude_deg) {
    const int south = std::clamp(static_cast<int>(std::floor(latitude_deg)), -90, 89);
    int west = static_cast<int>(std::floor(longitude_deg - 360 * std::floor(longitude_deg / 360)));
    if (west >= 360) west -= 360;  // a hair below a whole turn
    if (west >= 180) west -= 360;
    return fmt::format("{}{:02}{}{:03}", south < 0 ? 'S' : 'N', std::abs(south),
                       west < 0 ? 'W' : 'E', std::abs(west));
}

}  // namespace keyhour::site
