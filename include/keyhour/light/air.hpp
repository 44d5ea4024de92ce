#pragma once
/// @file
/// How much haze the air holds.

namespace keyhour::light {

/// Clear air, told by how much haze it holds. Cloud is another matter.
/// Three words stand for it (which word has which number is this project's choice; 0.1, 0.2 and 0.4
/// are the textbooks' clear, turbid and very turbid, Iqbal 1983, from memory).
struct Air {
    double beta = 0.08;  ///< Angstrom turbidity: optical depth of the haze at 1 um, 0..0.5
};

inline constexpr Air very_clear_air{0.03};  ///< after a front, in mountains: over 50 km of sight
inline constexpr Air normal_air{0.08};      ///< blue above, pale near the horizon: 20 to 40 km
inline constexpr Air hazy_air{0.20};        ///< white glare round the sun: below 15 km

/// The air that may as well be meant, one class to either side.
struct NeighbouringAir {
    Air clearer, likely, hazier;
};

/// @param air  beta outside 0..0.5 is brought to the nearer end, in `likely` too
/// @return     of the named classes the next ones; between them, and beyond them, a step of the
///             same size in ln beta (a factor 2.5 to 2.7), so that the answer has no jumps
/// This project's choice.
[[nodiscard]] NeighbouringAir neighbouring_air(Air air) noexcept;

}  // namespace keyhour::light
