#include "keyhour/light/inter_reflection.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace keyhour::light {
namespace {

double mean(const RoomReflectances& room) {
    return std::clamp(room.mean, 0.0, highest_mean_reflectance);
}

/// What the room takes in for good at 1 lx all over, lm.
double absorption_m2(const RoomReflectances& room) {
    return room.area_m2 * (1 - mean(room));
}

/// Hopkinson's coefficient C, a row for each ten degrees of obstruction.
constexpr std::array<double, 9> obstruction_rows{39, 35, 31, 25, 20, 14, 10, 7, 5};

double obstruction_coefficient(Angle obstruction) {
    const double last = static_cast<double>(obstruction_rows.size() - 1);
    const double place = std::clamp(obstruction.in_degrees() / 10, 0.0, last);
    const auto i = static_cast<std::size_t>(std::min(std::floor(place), last - 1));
    return std::lerp(obstruction_rows[i], obstruction_rows[i + 1], place - static_cast<double>(i));
}

}  // namespace

double mean_reflectance(std::span<const ReflectingArea> surfaces) noexcept {
    double area = 0, reflected = 0;
    for (const ReflectingArea& s : surfaces) {
        area += s.area_m2;
        reflected += s.area_m2 * s.reflectance;
    }
    return area > 0 ? reflected / area : 0;
}

double split_flux_lx(double transmittance, double window_m2, double sky_lx, double ground_lx,
                     const RoomReflectances& room) noexcept {
    // Light from the sky comes down on the lower half first, light from the ground goes up.
    return transmittance * window_m2 * (sky_lx * room.lower + ground_lx * room.upper) /
           absorption_m2(room);
}

double sphere_lx(double landing_lm, double reflectance, const RoomReflectances& room) noexcept {
    return landing_lm * std::clamp(reflectance, 0.0, 1.0) / absorption_m2(room);
}

double reflected_component_percent(double transmittance, double window_m2, Angle obstruction,
                                   const RoomReflectances& room) noexcept {
    constexpr double from_ground = 5;
    return split_flux_lx(transmittance, window_m2, obstruction_coefficient(obstruction),
                         from_ground, room);
}

double mean_daylight_factor_percent(double transmittance, double window_m2, Angle visible_sky,
                                    const RoomReflectances& room) noexcept {
    const double R = mean(room);
    return transmittance * window_m2 * visible_sky.in_degrees() / (room.area_m2 * (1 - R * R));
}

}  // namespace keyhour::light
