#pragma once
/// @file
/// The number that lengths, shares and directions of a room are kept in.

namespace keyhour::room {

#ifdef KEYHOUR_SINGLE
/// For a board whose processor knows no other: a room's figures within 0.1 mm and 0.01 degree.
/// Instants, angles and the sun's place stay double. All that shares it is compiled alike.
using Real = float;
#else
using Real = double;
#endif

/// Nearer than this, m, things touch: the rounding of a room's lengths, and more.
inline constexpr Real hair = sizeof(Real) == sizeof(double) ? Real(1e-9) : Real(1e-5);
/// Less than this, m2, is no area.
inline constexpr Real crumb = sizeof(Real) == sizeof(double) ? Real(1e-12) : Real(1e-8);

}  // namespace keyhour::room
