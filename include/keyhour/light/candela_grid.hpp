#pragma once
/// @file
/// A lamp as it was measured: its intensity over a grid of angles.

#include <span>

#include "keyhour/sun/angle.hpp"

namespace keyhour::light {

/// What is wrong with a grid.
enum class GridFault {
    none,
    too_few_vertical,  ///< at least two
    no_horizontal,     ///< at least one
    wrong_count,       ///< not vertical times horizontal
    vertical_not_ascending,
    horizontal_not_ascending,
    vertical_range,    ///< begins at 0 or 90, ends at 90 or 180 degrees
    horizontal_range,  ///< begins at 0, ends at 0, 90, 180 or 360 degrees
    bad_candela,       ///< negative or not a number
    bad_multiplier,    ///< not above zero
};

/// Intensities of type C: vertical angles from 0 straight down over 90 level to 180 straight up,
/// horizontal angles round the upright axis. A view: the caller keeps the numbers.
/// Source: ANSI/IES LM-63 and LM-75 (goniometer types).
class CandelaGrid {
public:
    /// Angles in degrees, ascending. `candela` has all verticals of the first horizontal angle,
    /// then of the next. `multiplier` goes onto each.
    struct Data {
        std::span<const double> vertical_deg, horizontal_deg, candela;
        double multiplier = 1;
    };
    [[nodiscard]] static GridFault fault_of(const Data& data) noexcept;

    /// @param data  one for which fault_of says none
    explicit CandelaGrid(const Data& data) noexcept : data_{data} {}

    /// cd in a direction, straight between the measured angles both ways.
    /// @param vertical    0..180 degrees; outside the measured range nothing
    /// @param horizontal  any; folded by the grid's symmetry: last angle 0 round, 90 in quarters,
    /// 180
    ///                    in halves, 360 whole
    [[nodiscard]] double candela(Angle vertical, Angle horizontal) const noexcept;

    /// All the light, lm: exact for the interpolated grid in the horizontal, by steps of a degree
    /// at most in the vertical.
    [[nodiscard]] double lumens() const noexcept;

    [[nodiscard]] double peak_candela() const noexcept;

private:
    Data data_;

    [[nodiscard]] double on_plane(std::size_t horizontal, double vertical_deg) const noexcept;
};

}  // namespace keyhour::light
