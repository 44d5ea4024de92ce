#include "keyhour/light/lamp.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace keyhour::light {
namespace {

using std::numbers::pi;

bool is_positive(double x) {
    return std::isfinite(x) && x > 0;
}

/// How far behind the face the inverse square starts: E1/E2 = ((r2 + r0)/(r1 + r0))^2.
double behind_face_m(const SheetReading& first, const SheetReading& second) {
    const double s = std::sqrt(first.level_lx / second.level_lx);
    return (second.distance_m - s * first.distance_m) / (s - 1);
}

SheetFault fault_of_second(const SheetReading& first, const SheetReading& second) {
    if (!is_positive(second.level_lx)) return SheetFault::level_not_positive;
    if (!is_positive(second.distance_m)) return SheetFault::distance_not_positive;
    if (first.distance_m == second.distance_m) return SheetFault::readings_at_one_distance;
    const bool falls = (first.distance_m < second.distance_m) == (first.level_lx > second.level_lx);
    if (!falls || first.level_lx == second.level_lx) return SheetFault::readings_not_of_a_beam;
    // Rounded figures of a plain lamp may put the point a little before the face.
    const double allowance = 0.05 * std::min(first.distance_m, second.distance_m);
    return behind_face_m(first, second) < -allowance ? SheetFault::readings_not_of_a_beam
                                                     : SheetFault::none;
}

/// What the beam sends within an angle of its axis, lm, by a sum over rings.
double lumens_within(const LampBeam& lamp, double half_angle_rad) {
    constexpr int rings = 180;
    const double width = half_angle_rad / rings;
    double sum = 0;
    for (int i = 0; i < rings; ++i) {
        const double solid_angle = 2 * pi * (std::cos(i * width) - std::cos((i + 1) * width));
        sum += solid_angle * lamp.candela(Angle::radians((i + 0.5) * width));
    }
    return sum;
}

}  // namespace

SheetFault fault_of(const DataSheet& sheet) noexcept {
    if (!is_positive(sheet.reading.level_lx)) return SheetFault::level_not_positive;
    if (!is_positive(sheet.reading.distance_m)) return SheetFault::distance_not_positive;
    if (!is_positive(sheet.beam.in_degrees()) || sheet.beam > Angle::degrees(170))
        return SheetFault::beam_out_of_range;
    if (sheet.field && !(*sheet.field > sheet.beam && *sheet.field <= Angle::degrees(180)))
        return SheetFault::field_not_over_beam;
    if (!(sheet.face_diameter_m >= 0)) return SheetFault::face_negative;
    return sheet.second_reading ? fault_of_second(sheet.reading, *sheet.second_reading)
                                : SheetFault::none;
}

LampBeam::LampBeam(const DataSheet& sheet) noexcept
    : half_beam_rad_{sheet.beam.in_radians() / 2},
      exponent_{sheet.field ? std::log(std::log2(10.0)) /
                                  std::log(sheet.field->in_radians() / sheet.beam.in_radians())
                            : 2},
      behind_{sheet.second_reading ? behind_face_m(sheet.reading, *sheet.second_reading) : 0},
      face_{sheet.face_diameter_m} {
    const double from_source = sheet.reading.distance_m + behind_;
    peak_ = sheet.reading.level_lx * from_source * from_source;
}

double LampBeam::candela(Angle off_axis) const noexcept {
    const double angle = std::abs(off_axis.in_radians());
    if (angle >= pi / 2) return 0;
    return peak_ * std::exp2(-std::pow(angle / half_beam_rad_, exponent_));
}

double LampBeam::level_lx(double distance_m, Angle off_axis, double cos_incidence) const noexcept {
    return point_source_lx(candela(off_axis), distance_m + behind_, cos_incidence);
}

double LampBeam::distance_for_m(double level_lx) const noexcept {
    return std::sqrt(peak_ / level_lx) - behind_;
}

double LampBeam::lumens() const noexcept {
    return lumens_within(*this, pi / 2);
}

SoftFace diffused(const LampBeam& lamp, const Diffusion& frame) noexcept {
    const double from_source = frame.distance_m + lamp.virtual_source_m();
    const double caught = lumens_within(lamp, std::atan2(frame.diameter_m / 2, from_source));
    return {.candela = frame.transmittance * caught / pi, .diameter_m = frame.diameter_m};
}

double fall_off_stops(double near_m, double far_m) noexcept {
    return 2 * std::log2(far_m / near_m);
}

}  // namespace keyhour::light
