#pragma once
/// @file
/// A lamp as the crew owns or finds it: how its light is known, what it stands on, how long it
/// burns.

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "keyhour/light/candela_grid.hpp"
#include "keyhour/light/lamp.hpp"
#include "keyhour/room/plan.hpp"

namespace keyhour::site {

/// Intensities as measured (an LM-63 file): what light::CandelaGrid looks at.
struct MeasuredIntensity {
    std::vector<double> vertical_deg, horizontal_deg;  ///< ascending, as measured
    std::vector<double> candela;                       ///< by horizontal angle, then by vertical
    double multiplier = 1;                             ///< of all candela values, above 0
    std::string file;                                  ///< as named in the location
    [[nodiscard]] light::CandelaGrid::Data view() const {
        return {vertical_deg, horizontal_deg, candela, multiplier};
    }
};

/// A street or yard lamp of which only this is known; hung to shine down.
struct Lumens {
    double lm = 0;  ///< of the lamp, above 0
};

/// A lamp of the crew, or one that hangs there.
struct Lamp {
    enum class Place { outside, inside };
    std::string name;  ///< each lamp's own
    Place place = Place::outside;
    std::variant<light::DataSheet, MeasuredIntensity, Lumens> photometry;
    double face_diameter_m = 0;                 ///< of the bright face; 0: a point
    double kelvin = 5600;                       ///< correlated colour temperature
    std::optional<light::Diffusion> diffusion;  ///< a frame of cloth before it
    /// Of the lamp's middle: above the ground outside, above the floor inside.
    std::optional<double> stand_max_m;
    std::optional<double> watts, battery_h;  ///< drawn; hours on its battery at full power
    /// Where it stands or hangs, if that is settled (a fill lamp, a street lamp).
    std::optional<room::Point2> at;
    std::optional<double> height_m;  ///< measured as stand_max_m is
    std::optional<double> within_m;  ///< of its place, each way and in height; none: the usual
};

}  // namespace keyhour::site
