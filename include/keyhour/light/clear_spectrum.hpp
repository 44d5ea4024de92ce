#pragma once
/// @file
/// The spectra of the sun's beam and of the blue sky, through cloudless air.

#include "keyhour/light/air.hpp"
#include "keyhour/light/spectrum.hpp"
#include "keyhour/sun/angle.hpp"

namespace keyhour::light {

/// Cloudless air over one place, made ready; then each altitude of the sun costs some 2 us.
/// Water vapour and oxygen are left out: 1.3 % of the light at 5 degrees, 0.3 % at 60.
class ClearSpectra {
public:
    /// @param air          outside its range the nearer end is taken
    /// @param elevation_m  of the site; outside -500..11 000 m the nearer end is taken
    /// @param ground       reflectance of the land around, 0..1: 0.2, snow 0.8, dark stone 0.1
    explicit ClearSpectra(Air air, double elevation_m = 0, double ground = 0.2) noexcept;

    /// The beam, square to itself, at 1 au from the sun, the whole disc in sight.
    /// @param apparent  of the sun; below the horizon the horizon's spectrum is returned
    /// Source: Bird & Riordan 1984 and 1986; ozone 0.30 atm-cm (this project's choice).
    [[nodiscard]] Spectrum direct(Altitude apparent) const noexcept;

    /// The sky on a level plane, at 1 au, light thrown back and forth with the ground included.
    /// Sound from 8 degrees up; below 4 degrees too dark (at the horizon it tends to nothing).
    /// @param apparent  of the sun; below the horizon black
    /// Source: Bird & Riordan, J. Climate Appl. Meteor. 25 (1986) 87, section 3; rural aerosol.
    [[nodiscard]] Spectrum diffuse(Altitude apparent) const noexcept;

private:
    struct Depths {
        double rayleigh;    ///< the site's pressure included
        double aerosol;     ///< what the haze scatters and absorbs
        double absorption;  ///< what the haze absorbs
        double ozone;
        double sky_albedo;   ///< what the sky sends down again of light from the ground
        double blue_excess;  ///< the paper's correction of the diffuse light below 450 nm
    };
    std::array<Depths, wavelength_count> depths_;
    double ground_;
};

}  // namespace keyhour::light
