#include "keyhour/light/configuration_factor.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace keyhour::light {
namespace {

using std::numbers::pi;

/// Over one corner of a rectangle X by Y, in units of the distance: odd in both, so that signed
/// corners add up to any rectangle.
double corner(double X, double Y) {
    const double x = std::hypot(1, X), y = std::hypot(1, Y);
    return (X / x * std::atan(Y / x) + Y / y * std::atan(X / y)) / (2 * pi);
}

/// On the plane of the lower edge: strip from the foot to X, up to Y.
double upright_corner(double X, double Y) {
    const double y = std::hypot(1, Y);
    return (std::atan(X) - std::atan(X / y) / y) / (2 * pi);
}

Ray cross(const Ray& a, const Ray& b) {
    return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}

double dot(const Ray& a, const Ray& b) {
    return a.x * b.x + a.y * b.y + a.z * b.z;
}

}  // namespace

double parallel_factor(const RectangleAhead& r) noexcept {
    const double left = r.left_m / r.distance_m, right = r.right_m / r.distance_m;
    const double low = r.low_m / r.distance_m, high = r.high_m / r.distance_m;
    return corner(right, high) - corner(left, high) - corner(right, low) + corner(left, low);
}

double perpendicular_factor(const RectangleAhead& r) noexcept {
    const double left = r.left_m / r.distance_m, right = r.right_m / r.distance_m;
    const double low = std::max(r.low_m / r.distance_m, 0.0);
    const double high = std::max(r.high_m / r.distance_m, 0.0);
    return upright_corner(right, high) - upright_corner(left, high) - upright_corner(right, low) +
           upright_corner(left, low);
}

double polygon_factor(std::span<const Ray> corners, const Ray& normal) noexcept {
    double sum = 0;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const Ray& a = corners[i];
        const Ray& b = corners[(i + 1) % corners.size()];
        const Ray g = cross(a, b);
        const double size = std::sqrt(dot(g, g));
        if (size == 0) continue;  // an edge that points at the receiver adds nothing
        sum += std::atan2(size, dot(a, b)) * dot(g, normal) / size;
    }
    return std::abs(sum) / (2 * pi);
}

}  // namespace keyhour::light
