#include "keyhour/light/sky_luminance.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace keyhour::light {
namespace {

using std::numbers::pi;

constexpr int type_count = 15;

/// ISO 15469:2004 / CIE S 011, table 1.
constexpr std::array<SkyType, type_count> sky_types{{
    {4.0, -0.70, 0, -1.0, 0},
    {4.0, -0.70, 2, -1.5, 0.15},
    {1.1, -0.80, 0, -1.0, 0},
    {1.1, -0.80, 2, -1.5, 0.15},
    {0.0, -1.00, 0, -1.0, 0},

    {0.0, -1.00, 2, -1.5, 0.15},
    {0.0, -1.00, 5, -2.5, 0.30},
    {0.0, -1.00, 10, -3.0, 0.45},
    {-1.0, -0.55, 2, -1.5, 0.15},
    {-1.0, -0.55, 5, -2.5, 0.30},

    {-1.0, -0.55, 10, -3.0, 0.45},
    {-1.0, -0.32, 10, -3.0, 0.45},
    {-1.0, -0.32, 16, -3.0, 0.30},
    {-1.0, -0.15, 16, -3.0, 0.30},
    {-1.0, -0.15, 24, -2.8, 0.15},
}};

/// Integral of gradation x indicatrix x cos Z over the dome, the sun at 0, 10 ... 90 degrees: made
/// by a sum over patches of 0.1 degree; the tests sum it again. A cubic between is within 0.15 %.
constexpr std::array<std::array<double, 10>, type_count> dome_integrals{{
    {7.31517, 7.31517, 7.31517, 7.31517, 7.31517, 7.31517, 7.31517, 7.31517, 7.31517,
     7.31517},  // 1
    {8.03501, 8.48965, 9.03608, 9.64811, 10.28407, 10.89456, 11.43013, 11.84708, 12.11153,
     12.20210},  // 2
    {4.13909, 4.13909, 4.13909, 4.13909, 4.13909, 4.13909, 4.13909, 4.13909, 4.13909,
     4.13909},  // 3
    {4.58849, 4.84217, 5.13742, 5.45746, 5.78104, 6.08526, 6.34818, 6.55076, 6.67842,
     6.72201},  // 4
    {3.14159, 3.14159, 3.14159, 3.14159, 3.14159, 3.14159, 3.14159, 3.14159, 3.14159,
     3.14159},  // 5
    {3.50955, 3.70005, 3.91569, 4.14219, 4.36454, 4.56852, 4.74146, 4.87289, 4.95497,
     4.98288},  // 6
    {3.84791, 4.15622, 4.52682, 4.92640, 5.32285, 5.68776, 5.99723, 6.23223, 6.37887,
     6.42870},  // 7
    {4.23836, 4.73464, 5.34190, 5.99828, 6.64759, 7.24267, 7.74527, 8.12566, 8.36249,
     8.44288},  // 8
    {2.10062, 2.20938, 2.32379, 2.43394, 2.53327, 2.61780, 2.68519, 2.73409, 2.76369,
     2.77360},  // 9
    {2.34137, 2.52866, 2.72983, 2.91926, 3.08378, 3.21838, 3.32202, 3.39518, 3.43866,
     3.45308},  // 10
    {2.62360, 2.93558, 3.27112, 3.58050, 3.84183, 4.04990, 4.20639, 4.31488, 4.37859,
     4.39959},  // 11
    {1.90491, 2.12901, 2.35371, 2.54741, 2.70232, 2.82046, 2.90647, 2.96472, 2.99841,
     3.00944},  // 12
    {2.09595, 2.45265, 2.80681, 3.10850, 3.34626, 3.52455, 3.65207, 3.73704, 3.78558,
     3.80136},  // 13
    {1.21832, 1.41840, 1.59955, 1.74225, 1.84789, 1.92319, 1.97491, 2.00834, 2.02704,
     2.03305},  // 14
    {1.44308, 1.76218, 2.05287, 2.28484, 2.45876, 2.58399, 2.67057, 2.72673, 2.75820,
     2.76833},  // 15
}};

double dome_integral(int index, double sun_deg) {
    const std::array<double, 10>& v = dome_integrals[static_cast<std::size_t>(index)];
    const double place = sun_deg / 10;
    const auto first = static_cast<std::size_t>(std::clamp(std::floor(place) - 1, 0.0, 6.0));
    const double t = place - static_cast<double>(first);
    return -(t - 1) * (t - 2) * (t - 3) / 6 * v[first] + t * (t - 2) * (t - 3) / 2 * v[first + 1] -
           t * (t - 1) * (t - 3) / 2 * v[first + 2] + t * (t - 1) * (t - 2) / 6 * v[first + 3];
}

/// phi(Z), by the sine of the altitude; 1 at the horizon, as b is negative.
double gradation(const SkyType& type, double up) {
    return up > 0 ? 1 + type.a * std::exp(type.b / up) : 1;
}

/// f(x), by the cosine of the angle from the sun.
double indicatrix(const SkyType& type, double cos_x) {
    if (type.c == 0 && type.e == 0) return 1;
    const double x = std::acos(std::clamp(cos_x, -1.0, 1.0));
    return 1 + type.c * (std::exp(type.d * x) - std::exp(type.d * pi / 2)) + type.e * cos_x * cos_x;
}

int index_of(int number) {
    return std::clamp(number, 1, type_count) - 1;
}

/// Cuts the dome into rings of equal height in altitude and calls back with each patch's middle
/// and solid angle.
template <class Count, class Visit>
void for_each_patch(int rings, Count patches_in_ring, Visit visit) {
    for (int i = 0; i < rings; ++i) {
        const double low = pi / 2 * i / rings, high = pi / 2 * (i + 1) / rings;
        const int n = patches_in_ring((low + high) / 2);
        const double solid_angle = (std::sin(high) - std::sin(low)) * 2 * pi / n;
        for (int j = 0; j < n; ++j)
            visit(direction({Angle::radians((low + high) / 2)},
                            {Angle::radians((j + 0.5) * 2 * pi / n)}),
                  solid_angle);
    }
}

/// Round numbers of about 6 degrees of arc; 573 patches in all.
constexpr std::array<int, 15> six_degree_rings{60, 59, 58, 56, 53, 50, 47, 42,
                                               38, 33, 27, 22, 16, 9,  3};

}  // namespace

const SkyType& cie_sky_type(int number) noexcept {
    return sky_types[static_cast<std::size_t>(index_of(number))];
}

int clear_sky_type(Air air) noexcept {
    const double halfway = std::sqrt(normal_air.beta * hazy_air.beta);
    return air.beta < halfway ? clear_type : hazy_clear_type;
}

Sky::Sky(int type, Altitude sun_altitude, Azimuth sun_azimuth,
         double diffuse_horizontal_lx) noexcept
    : type_{&cie_sky_type(type)}, diffuse_horizontal_lx_{diffuse_horizontal_lx} {
    const double sun_deg = std::clamp(sun_altitude.above_horizon.in_degrees(), 0.0, 90.0);
    sun_ = direction({Angle::degrees(sun_deg)}, sun_azimuth);
    scale_ = diffuse_horizontal_lx / dome_integral(index_of(type), sun_deg);
}

double Sky::luminance_cd_m2(const Direction& towards) const noexcept {
    if (towards.up < 0) return 0;
    return scale_ * gradation(*type_, towards.up) * indicatrix(*type_, cosine(towards, sun_));
}

double Sky::zenith_luminance_cd_m2() const noexcept {
    return luminance_cd_m2({0, 0, 1});
}

double Sky::plane_lx(const Direction& normal) const noexcept {
    constexpr int rings = 45;
    double sum = 0;
    for_each_patch(
        rings, [](double) { return 4 * rings; },
        [&](const Direction& towards, double solid_angle) {
            const double c = cosine(towards, normal);
            if (c > 0) sum += c * solid_angle * luminance_cd_m2(towards);
        });
    return sum;
}

SkyPatches::SkyPatches(const Sky& sky) noexcept {
    std::size_t k = 0;
    int ring = 0;
    double level = 0;
    for_each_patch(
        static_cast<int>(six_degree_rings.size()),
        [&](double) { return six_degree_rings[static_cast<std::size_t>(ring++)]; },
        [&](const Direction& towards, double solid_angle) {
            patches_[k] = {towards, solid_angle * sky.luminance_cd_m2(towards)};
            level += patches_[k].lx * towards.up;
            ++k;
        });
    // A sharp glow round the sun falls between the patches or on one: the level plane puts it
    // right.
    const double correction = level > 0 ? sky.diffuse_horizontal_lx() / level : 0;
    for (Patch& patch : patches_)
        patch.lx *= correction;
}

double SkyPatches::plane_lx(const Direction& normal) const noexcept {
    double sum = 0;
    for (const Patch& patch : patches_)
        sum += std::max(cosine(patch.towards, normal), 0.0) * patch.lx;
    return sum;
}

}  // namespace keyhour::light
