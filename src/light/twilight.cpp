#include "keyhour/light/twilight.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

#include "smooth_step.hpp"

namespace keyhour::light {
namespace {

/// log10 of lx is l0 + l1 q + l2 q2 + l3 q3, with q the altitude over 90 degrees.
struct Piece {
    double from_deg;  ///< the true altitude above which it holds, up to the row before
    double l0, l1, l2, l3;
};

/// USNO Circular 171, sun and sky.
constexpr std::array<Piece, 6> sun_pieces{
    Piece{20, 3.74, 3.97, -4.07, 1.47},         Piece{5, 3.05, 13.28, -45.98, 64.33},
    Piece{-0.8, 2.88, 22.26, -207.64, 1034.30}, Piece{-5, 2.88, 21.81, -258.11, -858.36},
    Piece{-12, 2.70, 12.17, -431.69, -1899.83}, Piece{-18, 13.84, 262.72, 1447.42, 2797.93},
};
/// The same, full moon.
constexpr std::array<Piece, 3> moon_pieces{
    Piece{20, -1.95, 4.06, -4.24, 1.56},
    Piece{5, -2.58, 12.58, -42.58, 59.06},
    Piece{-0.8, -2.79, 24.27, -252.95, 1321.29},
};

double log_lx(const Piece& piece, double altitude_deg) {
    const double q = altitude_deg / 90;
    return piece.l0 + q * (piece.l1 + q * (piece.l2 + q * piece.l3));
}

/// The piece that holds at h, near its ends mixed with its neighbour.
double log_lx(std::span<const Piece> pieces, double h) {
    constexpr double reach = 0.25;
    double out = log_lx(pieces.back(), h);
    for (std::size_t i = pieces.size() - 1; i-- > 0;) {
        const double join = pieces[i].from_deg;
        const double weight = smooth_step((h - (join - reach)) / (2 * reach));
        if (weight > 0) out += weight * (log_lx(pieces[i], h) - out);
    }
    return out;
}

constexpr double night_deg = -18;

}  // namespace

double clear_day_to_night_lx(Altitude true_altitude) noexcept {
    const double h = std::clamp(true_altitude.above_horizon.in_degrees(), night_deg, 90.0);
    return std::pow(10, log_lx(sun_pieces, h));
}

double moonlight_lx(Altitude true_altitude, Angle phase_angle) noexcept {
    constexpr double set_deg = -0.8;
    const double f = std::fmod(std::abs(phase_angle.in_degrees()), 360.0);
    const double phase = f > 180 ? 360 - f : f;
    const double h = std::min(true_altitude.above_horizon.in_degrees(), 90.0);
    if (h <= night_deg) return 0;
    const double full = log_lx(moon_pieces, std::max(h, set_deg));
    const double lx = std::pow(10, full - 8.68e-3 * phase - 2.2e-9 * phase * phase * phase * phase);
    if (h >= set_deg) return lx;
    const auto sunlike = [](double deg) {
        return clear_day_to_night_lx({Angle::degrees(deg)}) -
               clear_day_to_night_lx({Angle::degrees(night_deg)});
    };
    return lx * sunlike(h) / sunlike(set_deg);
}

}  // namespace keyhour::light
