#pragma once
/// @file
/// The cloudless sky's luminance for its given level, in the form that sums over many directions
/// want: the part that knows no sun apart, the part about the sun from a table.

#include <array>
#include <cstddef>

#include "keyhour/light/sky_luminance.hpp"

namespace keyhour::study {

/// Relative luminance = gradation(altitude) x about_sun(angle from the sun): ISO 15469.
class SkyShape {
public:
    explicit SkyShape(int cie_type);

    /// Of an element, from the sine of its altitude, 0..1; 1 at the horizon.
    [[nodiscard]] double gradation(double sine_altitude) const noexcept;

    /// Of an element, from the cosine of its angle from the sun; within 0.1 % (linear table).
    [[nodiscard]] double about_sun(double cosine) const noexcept;

    /// What the dome's relative luminance amounts to on a level plane: luminance = relative
    /// luminance x diffuse horizontal illuminance / dome().
    /// @param sine_altitude  of the sun; below the horizon the horizon's value is returned
    [[nodiscard]] double dome(double sine_altitude) const noexcept;

private:
    static constexpr std::size_t sun_steps = 512;

    int number_;
    light::SkyType type_;
    std::array<double, sun_steps + 2> about_sun_{};  ///< against sin(angle / 2)
};

}  // namespace keyhour::study
