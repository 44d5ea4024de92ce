#include "keyhour/light/clear_spectrum.hpp"

#include <algorithm>
#include <cmath>

#include "keyhour/light/air_mass.hpp"

namespace keyhour::light {
namespace {

constexpr double ozone_atm_cm = 0.30;
constexpr double sky_mass = 1.8;  ///< mean air mass of light from the ground up and back

/// Leckner (1978), as in Bird & Riordan, equation 2-4; at sea level, wavelength in um.
double rayleigh_depth(double um) {
    const double um2 = um * um;
    return 1 / (um2 * um2 * (115.6406 - 1.335 / um2));
}

/// Share of what the haze takes out that it scatters (rural aerosol).
double single_scattering_albedo(double um) {
    const double l = std::log(um / 0.4);
    return 0.945 * std::exp(-0.095 * l * l);
}

/// Share of the haze's scattered light that goes on downward, at the sine c of the altitude; the
/// asymmetry is 0.65.
double downward_share(double c) {
    static constexpr double A = -1.0498221244986778;  // ln(1 - 0.65)
    static constexpr double F1 = A * (1.459 + A * (0.1595 + 0.4129 * A));
    static constexpr double F2 = A * (0.0783 + A * (-0.3824 - 0.5874 * A));
    return 1 - 0.5 * std::exp((F1 + F2 * c) * c);
}

}  // namespace

ClearSpectra::ClearSpectra(Air air, double elevation_m, double ground) noexcept
    : ground_{std::clamp(ground, 0.0, 1.0)} {
    const double pressure = pressure_ratio(elevation_m);
    const double beta = std::clamp(air.beta, 0.0, 0.5);
    for (std::size_t i = 0; i < wavelength_count; ++i) {
        const double um = spectral_table[i].wavelength_nm / 1000;
        const double rayleigh = pressure * rayleigh_depth(um);
        const double aerosol = beta * std::pow(um, -1.3);
        const double w = single_scattering_albedo(um);
        const double TR = std::exp(-rayleigh * sky_mass);
        const double TS = std::exp(-w * aerosol * sky_mass);
        const double TA = std::exp(-(1 - w) * aerosol * sky_mass);
        depths_[i] = {.rayleigh = rayleigh,
                      .aerosol = aerosol,
                      .absorption = (1 - w) * aerosol,
                      .ozone = ozone_atm_cm * spectral_table[i].ozone,
                      .sky_albedo = TA * (0.5 * (1 - TR) +
                                          (1 - downward_share(1 / sky_mass)) * TR * (1 - TS)),
                      .blue_excess = um <= 0.45 ? std::pow(um + 0.55, 1.8) : 1};
    }
}

Spectrum ClearSpectra::direct(Altitude apparent) const noexcept {
    const double m = relative_air_mass(apparent), mo = relative_ozone_mass(apparent);
    Spectrum out{};
    for (std::size_t i = 0; i < wavelength_count; ++i) {
        const Depths& d = depths_[i];
        out[i] = spectral_table[i].sun * std::exp(-(d.rayleigh + d.aerosol) * m - d.ozone * mo);
    }
    return out;
}

Spectrum ClearSpectra::diffuse(Altitude apparent) const noexcept {
    // Symbols as in the paper: D the beam, Q what the air scatters down, G what comes by way of
    // the ground.
    const double c = std::max(sin(apparent.above_horizon), 0.0);
    const double m = relative_air_mass(apparent), mo = relative_ozone_mass(apparent);
    const double Fs = downward_share(c);
    Spectrum out{};
    for (std::size_t i = 0; i < wavelength_count; ++i) {
        const Depths& d = depths_[i];
        const double TR = std::exp(-d.rayleigh * m);
        const double TS = std::exp(-(d.aerosol - d.absorption) * m);
        const double unabsorbed =
            spectral_table[i].sun * std::exp(-d.absorption * m - d.ozone * mo);
        const double D = unabsorbed * TR * TS;
        const double Q =
            c * unabsorbed *
            (0.5 * (1 - std::exp(-0.95 * d.rayleigh * m)) + Fs * TR * std::sqrt(TR) * (1 - TS));
        const double rg = d.sky_albedo * ground_;
        const double G = (D * c + Q) * rg / (1 - rg);
        out[i] = (Q + G) * d.blue_excess;
    }
    return out;
}

}  // namespace keyhour::light
