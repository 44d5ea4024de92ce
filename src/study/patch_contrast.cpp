#include "keyhour/study/patch_contrast.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "room_surfaces.hpp"

namespace keyhour::study {
namespace {

using room::Point3;

/// Twice the area, square to the ring's plane (Newell); a hole's points the other way.
Point3 doubled_area(const std::vector<Point3>& ring) {
    Point3 sum;
    for (std::size_t i = 1; i + 1 < ring.size(); ++i) {
        const Point3 a = ring[i] - ring[0], b = ring[i + 1] - ring[0];
        sum = sum + Point3{a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
    }
    return sum;
}

}  // namespace

double PatchContrast::stops() const {
    return std::log2(ratio());
}

double mean_incidence_cosine(const room::Patch& patch, Point3 sun) noexcept {
    if (patch.area_m2 <= 0) return 0;
    double toward_sun_m2 = 0;
    for (const auto& ring : patch.outlines)
        toward_sun_m2 += dot(doubled_area(ring), sun) / 2;
    return std::clamp(toward_sun_m2 / patch.area_m2, 0.0, 1.0);
}

std::optional<PatchContrast> patch_contrast(const room::Room& room, const room::Patch& patch,
                                            double beam_lx, double fill_lx, Point3 sun) {
    // Lambert: luminance = reflectance x illuminance / pi.
    const double wall = room.reflectance.walls * fill_lx / std::numbers::pi;
    if (wall <= 0) return std::nullopt;
    const double lx = beam_lx * mean_incidence_cosine(patch, sun) + fill_lx;
    return PatchContrast{patch.surface, lx,
                         reflectance_of(patch.surface, room.reflectance) * lx / std::numbers::pi,
                         wall};
}

}  // namespace keyhour::study
