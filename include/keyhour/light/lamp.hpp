#pragma once
/// @file
/// A lamp as its data sheet tells it, and the level it gives.

#include <optional>

#include "keyhour/sun/angle.hpp"

namespace keyhour::light {

/// Inverse square and cosine laws: lx at distance_m (> 0), cos_incidence to the plane's normal.
/// A plane that looks away gets nothing.
[[nodiscard]] constexpr double point_source_lx(double candela, double distance_m,
                                               double cos_incidence = 1) noexcept {
    return cos_incidence > 0 ? candela * cos_incidence / (distance_m * distance_m) : 0;
}

/// How a uniform disc that obeys Lambert falls short of the point law near by, on its axis, square
/// to it: 1 / (1 + (D/2r)2). 0.990 at five diameters: the five-times rule (IES handbook, from
/// memory).
[[nodiscard]] constexpr double disc_factor(double face_diameter_m, double distance_m) noexcept {
    const double t = face_diameter_m / (2 * distance_m);
    return 1 / (1 + t * t);
}

/// Whether the distance is under five times the face: the point law then gives too much.
[[nodiscard]] constexpr bool too_near(double face_diameter_m, double distance_m) noexcept {
    return distance_m < 5 * face_diameter_m;
}

/// A level on the axis, square to it, as a sheet states it.
struct SheetReading {
    double level_lx;
    double distance_m;  ///< from the lamp's face
};

/// What a data sheet gives. Widths are full angles (NEMA and IES usage).
struct DataSheet {
    SheetReading reading;
    Angle beam;                  ///< at 50 % of the peak intensity
    std::optional<Angle> field;  ///< at 10 %
    /// At another distance: tells where the light seems to come from. Lens and mirror lamps obey
    /// the inverse square from a point behind the face.
    std::optional<SheetReading> second_reading;
    double face_diameter_m = 0;
};

enum class SheetFault {
    none,
    level_not_positive,
    distance_not_positive,
    beam_out_of_range,    ///< 0 < beam <= 170 degrees
    field_not_over_beam,  ///< beam < field <= 180 degrees
    face_negative,
    readings_at_one_distance,
    readings_not_of_a_beam,  ///< the level rises, or falls faster than from a point at the face
};
[[nodiscard]] SheetFault fault_of(const DataSheet& sheet) noexcept;

/// A round beam: a peak, a fall to the sides, and a point from which it comes.
class LampBeam {
public:
    /// @param sheet  one for which fault_of says none
    explicit LampBeam(const DataSheet& sheet) noexcept;

    /// cd at an angle off the axis, either sign; nothing from 90 degrees.
    /// A stand-in for a measured curve: peak x 0.5^((2 angle/beam)^k), through 50 % and, where the
    /// sheet gives the field angle, 10 %; without it k = 2 (this project's choice).
    [[nodiscard]] double candela(Angle off_axis) const noexcept;

    /// lx at a distance from the face, > 0.
    [[nodiscard]] double level_lx(double distance_m, Angle off_axis = {},
                                  double cos_incidence = 1) const noexcept;

    /// The distance on the axis for a level > 0, square to it; negative: brighter than at the face.
    [[nodiscard]] double distance_for_m(double level_lx) const noexcept;

    [[nodiscard]] double peak_candela() const noexcept { return peak_; }
    [[nodiscard]] double virtual_source_m() const noexcept { return behind_; }  ///< behind the face
    [[nodiscard]] double face_diameter_m() const noexcept { return face_; }
    /// All the light of the beam, lm, by a sum over half-degree rings (within 0.1 %).
    [[nodiscard]] double lumens() const noexcept;

private:
    double peak_, half_beam_rad_, exponent_, behind_, face_;
};

/// A frame of diffusion in front of a lamp, square to the axis.
struct Diffusion {
    double transmittance;  ///< 0..1: light 0.75, half 0.5, full 0.25 to 0.35 (common practice, no
                           ///< source)
    double diameter_m;     ///< of a round frame; of any other, of a circle of its area
    double distance_m;     ///< from the lamp's face, > 0
};

/// A face that shines alike in all directions (Lambert).
struct SoftFace {
    double candela;  ///< square to the face, from afar
    double diameter_m;

    /// On the axis and, near enough beyond five diameters, off it. cos_emission from the face's
    /// normal, cos_incidence to the plane's.
    [[nodiscard]] constexpr double level_lx(double distance_m, double cos_emission = 1,
                                            double cos_incidence = 1) const noexcept {
        if (cos_emission <= 0) return 0;
        return point_source_lx(candela * cos_emission, distance_m, cos_incidence) *
               disc_factor(diameter_m, distance_m);
    }
};

/// What becomes of the lamp: the light that meets the frame, less its loss, spread alike to all
/// sides. What passes a light diffusion straight on is not told apart (this project's choice).
[[nodiscard]] SoftFace diffused(const LampBeam& lamp, const Diffusion& frame) noexcept;

/// A lamp of which only the lumens are known, hung to shine down (street, yard): cosine law,
/// lumens/pi straight down (this project's choice; real street lamps throw more to the sides).
[[nodiscard]] constexpr SoftFace downlight(double lumens, double diameter_m = 0) noexcept {
    return {lumens * 0.31830988618379067, diameter_m};
}

/// Width of the soft edge of a shadow, m: face of a lamp, its distance to the edge that casts the
/// shadow, from there to the surface. Similar triangles.
[[nodiscard]] constexpr double soft_edge_m(double face_diameter_m, double lamp_to_edge_m,
                                           double throw_m) noexcept {
    return face_diameter_m * throw_m / lamp_to_edge_m;
}

/// How much larger than the opening the patch of a lamp is; the sun's is 1.
[[nodiscard]] constexpr double patch_growth(double lamp_to_window_m, double throw_m) noexcept {
    return 1 + throw_m / lamp_to_window_m;
}

/// How far off a lamp must stand for the patch to grow by no more than a share (0.1: a tenth).
[[nodiscard]] constexpr double stand_off_m(double throw_m, double growth) noexcept {
    return throw_m / growth;
}

/// Stops lost from the nearer distance to the farther; the sun loses none.
[[nodiscard]] double fall_off_stops(double near_m, double far_m) noexcept;

}  // namespace keyhour::light
