#include "clearance.hpp"

#include <numbers>

#include "keyhour/sun/time_scales.hpp"
#include "keyhour/sun/trigonometry.hpp"

namespace keyhour::sun {

double first_guess_s(const Clearance& a, const Clearance& b) noexcept {
    // M + C cos(w t) + S sin(w t), w being a turn a day: the height and rate at a and the height at
    // b give M, C and S.
    constexpr double w = 2 * std::numbers::pi / seconds_per_day;
    const auto [s, c] = sine_cosine(w * (b.at - a.at).count());
    const double S = a.rate / w;
    const double C = (b.height - a.height - S * s) / (c - 1);
    const double M = a.height - C;
    // M + swing cos(w t - phase) = 0, on the side where it goes the way that b lies from a.
    const double phase = arctangent(S, C);
    const double half = arctangent(std::sqrt(C * C + S * S - M * M), -M);
    const double angle = b.height > a.height ? phase - half : phase + half;
    const double turns = fraction_of_turn(angle / (2 * std::numbers::pi));
    return (turns < 0 ? turns + 1 : turns) * seconds_per_day;
}

bool may_have_turned(const Clearance& a, const Clearance& b, double margin) noexcept {
    const bool towards = a.above() ? a.rate < 0 && b.rate > 0 : a.rate > 0 && b.rate < 0;
    if (!towards) return false;
    const double span_s = (b.at - a.at).count();
    const double meet_s = (b.height - a.height - b.rate * span_s) / (a.rate - b.rate);
    const double reach = a.height + a.rate * meet_s;
    return a.above() ? reach < margin : reach > -margin;
}

}  // namespace keyhour::sun
