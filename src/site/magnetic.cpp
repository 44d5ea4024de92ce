#include "keyhour/site/magnetic.hpp"

#include <fmt/format.h>

#include <GeographicLib/Geocentric.hpp>
#include <GeographicLib/SphericalHarmonic.hpp>
#include <algorithm>
#include <cmath>
#include <exception>
#include <vector>

#include "wmm2025.hpp"

namespace keyhour::site {
namespace {

// Where GeographicLib's packed triangle of coefficients holds degree n and order m.
std::size_t packed_index(int n, int m) {
    return static_cast<std::size_t>(m * wmm_degree - m * (m - 1) / 2 + n);
}

struct Coefficients {
    std::vector<double> cosine = std::vector<double>(packed_index(wmm_degree, wmm_degree) + 1);
    std::vector<double> sine = std::vector<double>(cosine.size() - (wmm_degree + 1));
};

Coefficients coefficients_of(double decimal_year) {
    Coefficients c;
    const double years = decimal_year - wmm_epoch;
    for (const GaussCoefficient& row : wmm2025) {
        const std::size_t i = packed_index(row.n, row.m);
        c.cosine[i] = row.g + years * row.g_dot;
        if (row.m > 0) c.sine[i - (wmm_degree + 1)] = row.h + years * row.h_dot;  // no order 0
    }
    return c;
}

MagneticField field_from(double east, double north, double up) {
    MagneticField f;
    f.north_nt = north;
    f.east_nt = east;
    f.down_nt = -up;
    f.horizontal_nt = std::hypot(north, east);
    f.declination = Angle::radians(std::atan2(east, north));
    // WMM2025 technical report, equation 43, as quoted in public repositories; H in nT
    f.uncertainty = Angle::degrees(std::hypot(0.26, 5417 / f.horizontal_nt));
    return f;
}

tl::expected<MagneticField, std::string> usable_field(const Observer& observer,
                                                      double decimal_year) {
    auto field = magnetic_field(observer, decimal_year);
    if (field && field->compass_useless())
        return tl::unexpected{
            fmt::format("a compass is useless here: the field is {:.0f} nT level, below {:.0f} nT; "
                        "give the bearing from true north",
                        field->horizontal_nt, compass_useless_below_nt)};
    return field;
}

}  // namespace

tl::expected<MagneticField, std::string> magnetic_field(const Observer& observer,
                                                        double decimal_year) {
    if (!(decimal_year >= magnetic_first_year && decimal_year < magnetic_last_year))
        return tl::unexpected{fmt::format(
            "the magnetic model holds from {:.0f} up to {:.0f}, not for {:.1f}: give the bearing "
            "from true north",
            magnetic_first_year, magnetic_last_year, decimal_year)};
    try {
        const Coefficients c = coefficients_of(decimal_year);
        const GeographicLib::SphericalHarmonic potential(c.cosine, c.sine, wmm_degree, wmm_radius_m,
                                                         GeographicLib::SphericalHarmonic::SCHMIDT);
        double x = 0, y = 0, z = 0, dx = 0, dy = 0, dz = 0;
        std::vector<double> axes(9);  // columns: east, north, up in geocentric axes
        GeographicLib::Geocentric::WGS84().Forward(observer.latitude.in_degrees(),
                                                   observer.longitude.in_degrees(),
                                                   observer.elevation_m, x, y, z, axes);
        potential(x, y, z, dx, dy, dz);
        const auto along = [&](std::size_t column) {
            return -wmm_radius_m *
                   (axes[column] * dx + axes[3 + column] * dy + axes[6 + column] * dz);
        };
        return field_from(along(0), along(1), along(2));
    } catch (const std::exception& e) {
        return tl::unexpected{std::string{"the magnetic model gives no answer: "} + e.what()};
    }
}

tl::expected<Angle, std::string> declination(const Observer& observer, double decimal_year) {
    const auto field = usable_field(observer, decimal_year);
    if (!field) return tl::unexpected{field.error()};
    return field->declination;
}

tl::expected<CompassCorrection, std::string> compass_correction(const Observer& observer,
                                                                double decimal_year) {
    // The last instant that the model serves.
    const double nearest =
        std::clamp(decimal_year, magnetic_first_year, std::nextafter(magnetic_last_year, 0.0));
    const double beyond = std::abs(decimal_year - nearest);
    const bool is_near = beyond <= magnetic_years_beyond;
    const auto field = usable_field(observer, is_near ? nearest : decimal_year);
    if (!field) return tl::unexpected{field.error()};
    CompassCorrection correction{field->declination,
                                 Angle::degrees(std::hypot(field->uncertainty.in_degrees(),
                                                           beyond * drift_a_year.in_degrees())),
                                 std::nullopt};
    if (beyond > 0.01)
        correction.warning = fmt::format(
            "the magnetic model holds from {:.0f} up to {:.0f}, not for {:.1f}: its nearest year "
            "was taken, {:.1f} degrees {}, good to {:.1f}",
            magnetic_first_year, magnetic_last_year, decimal_year,
            std::abs(field->declination.in_degrees()),
            field->declination < Angle{} ? "WEST" : "EAST", correction.uncertainty.in_degrees());
    else if (field->compass_needs_care())
        correction.warning =
            fmt::format("a compass needs care here: the field is {:.0f} nT level, below {:.0f} nT",
                        field->horizontal_nt, compass_careful_below_nt);
    return correction;
}

}  // namespace keyhour::site
