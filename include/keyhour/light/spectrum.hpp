#pragma once
/// @file
/// Light as a spectrum, and what the eye makes of it.

#include <array>
#include <cstddef>

namespace keyhour::light {

/// A spectrum in W/(m2 nm) at 380, 390 ... 780 nm.
inline constexpr std::size_t wavelength_count = 41;
using Spectrum = std::array<double, wavelength_count>;

/// CIE 1931 tristimulus values; Y is the illuminance in lx where the spectrum is an irradiance.
struct Tristimulus {
    double X = 0, Y = 0, Z = 0;
};

[[nodiscard]] constexpr Tristimulus operator+(Tristimulus a, Tristimulus b) noexcept {
    return {a.X + b.X, a.Y + b.Y, a.Z + b.Z};
}
[[nodiscard]] constexpr Tristimulus operator*(double k, Tristimulus t) noexcept {
    return {k * t.X, k * t.Y, k * t.Z};
}

/// One wavelength of what the chain from the sun to the eye needs.
struct SpectralRow {
    double wavelength_nm;
    double sun;            ///< above the air at 1 au, W/(m2 nm)
    double ozone;          ///< absorption of ozone, 1/cm
    Tristimulus observer;  ///< of the CIE 1931 standard observer, 2 degrees
};

/// Sun and ozone: Bird & Riordan, SERI/TR-215-2436 (1984) and J. Climate Appl. Meteor. 25 (1986)
/// 87, straight lines between their points (the sun is that of Neckel & Labs). Observer: ISO/CIE
/// 11664-1, from memory; its sums and the illuminants A and D65 are checked in the tests.
inline constexpr std::array<SpectralRow, wavelength_count> spectral_table{
    SpectralRow{380, 1.1038, 0.0000, {0.001368, 0.000039, 0.00645}},
    SpectralRow{390, 1.0338, 0.0000, {0.004243, 0.00012, 0.02005}},
    SpectralRow{400, 1.4791, 0.0000, {0.01431, 0.000396, 0.06785}},
    SpectralRow{410, 1.7013, 0.0000, {0.04351, 0.00121, 0.2074}},
    SpectralRow{420, 1.7404, 0.0000, {0.13438, 0.004, 0.6456}},
    SpectralRow{430, 1.5872, 0.0000, {0.2839, 0.0116, 1.3856}},
    SpectralRow{440, 1.8370, 0.0000, {0.34828, 0.023, 1.74706}},
    SpectralRow{450, 2.0050, 0.0030, {0.3362, 0.038, 1.77211}},
    SpectralRow{460, 2.0430, 0.0060, {0.2908, 0.06, 1.6692}},
    SpectralRow{470, 1.9870, 0.0090, {0.19536, 0.09098, 1.28764}},

    SpectralRow{480, 2.0270, 0.0140, {0.09564, 0.13902, 0.81295}},
    SpectralRow{490, 1.8960, 0.0210, {0.03201, 0.20802, 0.46518}},
    SpectralRow{500, 1.9090, 0.0300, {0.0049, 0.323, 0.272}},
    SpectralRow{510, 1.9270, 0.0400, {0.0093, 0.503, 0.1582}},
    SpectralRow{520, 1.8310, 0.0480, {0.06327, 0.71, 0.07825}},
    SpectralRow{530, 1.8910, 0.0630, {0.1655, 0.862, 0.04216}},
    SpectralRow{540, 1.8980, 0.0750, {0.2904, 0.954, 0.0203}},
    SpectralRow{550, 1.8920, 0.0850, {0.43345, 0.99495, 0.00875}},
    SpectralRow{560, 1.8660, 0.1025, {0.5945, 0.995, 0.0039}},
    SpectralRow{570, 1.8400, 0.1200, {0.7621, 0.952, 0.0021}},

    SpectralRow{580, 1.8087, 0.1196, {0.9163, 0.87, 0.00165}},
    SpectralRow{590, 1.7774, 0.1191, {1.0263, 0.757, 0.0011}},
    SpectralRow{600, 1.7515, 0.1194, {1.0622, 0.631, 0.0008}},
    SpectralRow{610, 1.7280, 0.1200, {1.0026, 0.503, 0.00034}},
    SpectralRow{620, 1.6930, 0.1050, {0.85445, 0.381, 0.00019}},
    SpectralRow{630, 1.6580, 0.0900, {0.6424, 0.265, 0.00005}},
    SpectralRow{640, 1.6065, 0.0804, {0.4479, 0.175, 0.00002}},
    SpectralRow{650, 1.5549, 0.0708, {0.2835, 0.107, 0}},
    SpectralRow{660, 1.5264, 0.0602, {0.1649, 0.061, 0}},
    SpectralRow{670, 1.5191, 0.0485, {0.0874, 0.032, 0}},

    SpectralRow{680, 1.4696, 0.0383, {0.04677, 0.017, 0}},
    SpectralRow{690, 1.4200, 0.0280, {0.0227, 0.00821, 0}},
    SpectralRow{700, 1.4095, 0.0230, {0.011359, 0.004102, 0}},
    SpectralRow{710, 1.3990, 0.0180, {0.00579, 0.002091, 0}},
    SpectralRow{720, 1.3737, 0.0141, {0.002899, 0.001047, 0}},
    SpectralRow{730, 1.3461, 0.0113, {0.00144, 0.00052, 0}},
    SpectralRow{740, 1.2980, 0.0100, {0.00069, 0.000249, 0}},
    SpectralRow{750, 1.2748, 0.0084, {0.000332, 0.00012, 0}},
    SpectralRow{760, 1.2340, 0.0065, {0.000166, 0.00006, 0}},
    SpectralRow{770, 1.2006, 0.0040, {0.000083, 0.00003, 0}},

    SpectralRow{780, 1.1830, 0.0000, {0.000042, 0.000015, 0}},
};
static_assert(spectral_table.front().wavelength_nm == 380);
static_assert(spectral_table.back().wavelength_nm == 780);

/// The sun above the air, at 1 au. Its illuminance is 133.6 klx.
[[nodiscard]] Spectrum extraterrestrial_spectrum() noexcept;

/// The plain sum over the table, 683 lm/W. Never negative for a spectrum that is not.
/// Source: CIE 15, Colorimetry; SI definition of the candela.
[[nodiscard]] Tristimulus tristimulus(const Spectrum& spectrum) noexcept;

}  // namespace keyhour::light
