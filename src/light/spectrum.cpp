#include "keyhour/light/spectrum.hpp"

namespace keyhour::light {

Spectrum extraterrestrial_spectrum() noexcept {
    Spectrum out{};
    for (std::size_t i = 0; i < wavelength_count; ++i)
        out[i] = spectral_table[i].sun;
    return out;
}

Tristimulus tristimulus(const Spectrum& spectrum) noexcept {
    constexpr double lumens_per_watt = 683, step_nm = 10;
    Tristimulus sum;
    for (std::size_t i = 0; i < wavelength_count; ++i)
        sum = sum + spectrum[i] * spectral_table[i].observer;
    return lumens_per_watt * step_nm * sum;
}

}  // namespace keyhour::light
