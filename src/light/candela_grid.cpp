#include "keyhour/light/candela_grid.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace keyhour::light {
namespace {

using std::numbers::pi;

/// Between which two angles a value lies, and how far along.
struct Between {
    std::size_t first;
    double along;
};

Between find(std::span<const double> angles, double value) {
    if (angles.size() == 1) return {0, 0};
    const auto above = std::upper_bound(angles.begin() + 1, angles.end() - 1, value);
    const auto first = static_cast<std::size_t>(above - angles.begin()) - 1;
    return {first, (value - angles[first]) / (angles[first + 1] - angles[first])};
}

bool ascending(std::span<const double> angles) {
    // Also false where one is not a number.
    for (std::size_t i = 1; i < angles.size(); ++i)
        if (!(angles[i - 1] < angles[i])) return false;
    return true;
}

bool vertical_range(std::span<const double> v) {
    return (v.front() == 0 || v.front() == 90) && (v.back() == 90 || v.back() == 180);
}

bool horizontal_range(std::span<const double> h) {
    const double last = h.back();
    return h.front() == 0 && (last == 0 || last == 90 || last == 180 || last == 360);
}

/// The same direction within the measured angles.
double folded(double horizontal_deg, double last) {
    if (last == 0) return 0;
    const double turn = std::fmod(horizontal_deg, 360.0);
    const double whole = turn < 0 ? turn + 360 : turn;
    if (last == 360) return whole;
    const double half = whole > 180 ? 360 - whole : whole;
    if (last == 180) return half;
    return half > 90 ? 180 - half : half;
}

}  // namespace

GridFault CandelaGrid::fault_of(const Data& data) noexcept {
    if (data.vertical_deg.size() < 2) return GridFault::too_few_vertical;
    if (data.horizontal_deg.empty()) return GridFault::no_horizontal;
    const std::size_t rows = data.vertical_deg.size(), planes = data.horizontal_deg.size();
    if (data.candela.size() % rows != 0 || data.candela.size() / rows != planes)
        return GridFault::wrong_count;
    if (!ascending(data.vertical_deg)) return GridFault::vertical_not_ascending;
    if (!ascending(data.horizontal_deg)) return GridFault::horizontal_not_ascending;
    if (!vertical_range(data.vertical_deg)) return GridFault::vertical_range;
    if (!horizontal_range(data.horizontal_deg)) return GridFault::horizontal_range;
    const auto good = [](double cd) { return std::isfinite(cd) && cd >= 0; };
    if (!std::all_of(data.candela.begin(), data.candela.end(), good)) return GridFault::bad_candela;
    if (!(std::isfinite(data.multiplier) && data.multiplier > 0)) return GridFault::bad_multiplier;
    return GridFault::none;
}

double CandelaGrid::on_plane(std::size_t horizontal, double vertical_deg) const noexcept {
    const std::size_t rows = data_.vertical_deg.size();
    const std::span<const double> plane = data_.candela.subspan(horizontal * rows, rows);
    const Between v = find(data_.vertical_deg, vertical_deg);
    return std::lerp(plane[v.first], plane[v.first + 1], v.along);
}

double CandelaGrid::candela(Angle vertical, Angle horizontal) const noexcept {
    // Degrees come through radians: what was measured to the last angle must not fall off it.
    constexpr double rounding = 1e-9;
    const double asked = vertical.in_degrees();
    const double low = data_.vertical_deg.front(), high = data_.vertical_deg.back();
    if (!(asked >= low - rounding && asked <= high + rounding)) return 0;
    const double v = std::clamp(asked, low, high);
    const Between h =
        find(data_.horizontal_deg, folded(horizontal.in_degrees(), data_.horizontal_deg.back()));
    const double first = on_plane(h.first, v);
    if (h.along == 0) return data_.multiplier * first;
    return data_.multiplier * std::lerp(first, on_plane(h.first + 1, v), h.along);
}

double CandelaGrid::lumens() const noexcept {
    const std::span<const double> H = data_.horizontal_deg, V = data_.vertical_deg;
    // Mean over the horizontal: trapezia, exact for straight lines.
    const auto ring_mean = [&](double vertical_deg) {
        if (H.size() == 1) return on_plane(0, vertical_deg);
        double sum = 0;
        for (std::size_t i = 1; i < H.size(); ++i)
            sum +=
                (H[i] - H[i - 1]) / 2 * (on_plane(i - 1, vertical_deg) + on_plane(i, vertical_deg));
        return sum / H.back();
    };
    double sum = 0;
    for (std::size_t i = 1; i < V.size(); ++i) {
        const double width = V[i] - V[i - 1];
        const int steps = static_cast<int>(std::ceil(width));
        for (int k = 0; k < steps; ++k) {
            const double low = V[i - 1] + width * k / steps,
                         high = V[i - 1] + width * (k + 1) / steps;
            sum += 2 * pi * (cos(Angle::degrees(low)) - cos(Angle::degrees(high))) *
                   ring_mean((low + high) / 2);
        }
    }
    return data_.multiplier * sum;
}

double CandelaGrid::peak_candela() const noexcept {
    return data_.multiplier * *std::max_element(data_.candela.begin(), data_.candela.end());
}

}  // namespace keyhour::light
