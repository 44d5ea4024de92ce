#pragma once
/// @file
/// The moon's path round the Earth: ELP 2000-82 shortened, mean ecliptic and equinox of date.
///
/// Left out is what adds up to some 10 arcsec in longitude, 4 in latitude.
///
/// Source: Meeus, Astronomical Algorithms, 2nd ed. (1998), ch. 47, from Chapront-Touze & Chapront
/// (1983), A&A 124, 50; numbers as carried by ERFA 2.0.0 (moon98.c).

#include <array>

namespace keyhour::sun::lunar {

/// Multiples of D (elongation), M (the sun's mean anomaly), M' (the moon's), F (its argument of
/// latitude). A term with M is multiplied by E once for each M.
using Multiples = std::array<int, 4>;

struct LongitudeTerm {
    Multiples of;
    double longitude_deg;  ///< of the sine
    double distance_m;     ///< of the cosine
};

struct LatitudeTerm {
    Multiples of;
    double latitude_deg;  ///< of the sine
};

// clang-format off

inline constexpr std::array longitude_and_distance{
    LongitudeTerm{{0, 0, 1, 0}, 6.288774, -20905355},
    LongitudeTerm{{2, 0, -1, 0}, 1.274027, -3699111},
    LongitudeTerm{{2, 0, 0, 0}, 0.658314, -2955968},
    LongitudeTerm{{0, 0, 2, 0}, 0.213618, -569925},
    LongitudeTerm{{0, 1, 0, 0}, -0.185116, 48888},
    LongitudeTerm{{0, 0, 0, 2}, -0.114332, -3149},
    LongitudeTerm{{2, 0, -2, 0}, 0.058793, 246158},
    LongitudeTerm{{2, -1, -1, 0}, 0.057066, -152138},
    LongitudeTerm{{2, 0, 1, 0}, 0.053322, -170733},
    LongitudeTerm{{2, -1, 0, 0}, 0.045758, -204586},

    LongitudeTerm{{0, 1, -1, 0}, -0.040923, -129620},
    LongitudeTerm{{1, 0, 0, 0}, -0.034720, 108743},
    LongitudeTerm{{0, 1, 1, 0}, -0.030383, 104755},
    LongitudeTerm{{2, 0, 0, -2}, 0.015327, 10321},
    LongitudeTerm{{0, 0, 1, 2}, -0.012528, 0},
    LongitudeTerm{{0, 0, 1, -2}, 0.010980, 79661},
    LongitudeTerm{{4, 0, -1, 0}, 0.010675, -34782},
    LongitudeTerm{{0, 0, 3, 0}, 0.010034, -23210},
    LongitudeTerm{{4, 0, -2, 0}, 0.008548, -21636},
    LongitudeTerm{{2, 1, -1, 0}, -0.007888, 24208},

    LongitudeTerm{{2, 1, 0, 0}, -0.006766, 30824},
    LongitudeTerm{{1, 0, -1, 0}, -0.005163, -8379},
    LongitudeTerm{{1, 1, 0, 0}, 0.004987, -16675},
    LongitudeTerm{{2, -1, 1, 0}, 0.004036, -12831},
    LongitudeTerm{{2, 0, 2, 0}, 0.003994, -10445},
    LongitudeTerm{{4, 0, 0, 0}, 0.003861, -11650},
    LongitudeTerm{{2, 0, -3, 0}, 0.003665, 14403},
    LongitudeTerm{{0, 1, -2, 0}, -0.002689, -7003},
    LongitudeTerm{{2, 0, -1, 2}, -0.002602, 0},
    LongitudeTerm{{2, -1, -2, 0}, 0.002390, 10056},

    LongitudeTerm{{1, 0, 1, 0}, -0.002348, 6322},
    LongitudeTerm{{2, -2, 0, 0}, 0.002236, -9884},
    LongitudeTerm{{0, 1, 2, 0}, -0.002120, 5751},
    LongitudeTerm{{0, 2, 0, 0}, -0.002069, 0},
    LongitudeTerm{{2, -2, -1, 0}, 0.002048, -4950},
    LongitudeTerm{{2, 0, 1, -2}, -0.001773, 4130},
    LongitudeTerm{{2, 0, 0, 2}, -0.001595, 0},
    LongitudeTerm{{4, -1, -1, 0}, 0.001215, -3958},
    LongitudeTerm{{0, 0, 2, 2}, -0.001110, 0},
    LongitudeTerm{{3, 0, -1, 0}, -0.000892, 3258},

    LongitudeTerm{{2, 1, 1, 0}, -0.000810, 2616},
    LongitudeTerm{{4, -1, -2, 0}, 0.000759, -1897},
    LongitudeTerm{{0, 2, -1, 0}, -0.000713, -2117},
    LongitudeTerm{{2, 2, -1, 0}, -0.000700, 2354},
    LongitudeTerm{{2, 1, -2, 0}, 0.000691, 0},
    LongitudeTerm{{2, -1, 0, -2}, 0.000596, 0},
    LongitudeTerm{{4, 0, 1, 0}, 0.000549, -1423},
    LongitudeTerm{{0, 0, 4, 0}, 0.000537, -1117},
    LongitudeTerm{{4, -1, 0, 0}, 0.000520, -1571},
    LongitudeTerm{{1, 0, -2, 0}, -0.000487, -1739},

    LongitudeTerm{{2, 1, 0, -2}, -0.000399, 0},
    LongitudeTerm{{0, 0, 2, -2}, -0.000381, -4421},
    LongitudeTerm{{1, 1, 1, 0}, 0.000351, 0},
    LongitudeTerm{{3, 0, -2, 0}, -0.000340, 0},
    LongitudeTerm{{4, 0, -3, 0}, 0.000330, 0},
    LongitudeTerm{{2, -1, 2, 0}, 0.000327, 0},
    LongitudeTerm{{0, 2, 1, 0}, -0.000323, 1165},
    LongitudeTerm{{1, 1, -1, 0}, 0.000299, 0},
    LongitudeTerm{{2, 0, 3, 0}, 0.000294, 0},
    LongitudeTerm{{2, 0, -1, -2}, 0.000000, 8752},
};

inline constexpr std::array latitude{
    LatitudeTerm{{0, 0, 0, 1}, 5.128122},
    LatitudeTerm{{0, 0, 1, 1}, 0.280602},
    LatitudeTerm{{0, 0, 1, -1}, 0.277693},
    LatitudeTerm{{2, 0, 0, -1}, 0.173237},
    LatitudeTerm{{2, 0, -1, 1}, 0.055413},
    LatitudeTerm{{2, 0, -1, -1}, 0.046271},
    LatitudeTerm{{2, 0, 0, 1}, 0.032573},
    LatitudeTerm{{0, 0, 2, 1}, 0.017198},
    LatitudeTerm{{2, 0, 1, -1}, 0.009266},
    LatitudeTerm{{0, 0, 2, -1}, 0.008822},

    LatitudeTerm{{2, -1, 0, -1}, 0.008216},
    LatitudeTerm{{2, 0, -2, -1}, 0.004324},
    LatitudeTerm{{2, 0, 1, 1}, 0.004200},
    LatitudeTerm{{2, 1, 0, -1}, -0.003359},
    LatitudeTerm{{2, -1, -1, 1}, 0.002463},
    LatitudeTerm{{2, -1, 0, 1}, 0.002211},
    LatitudeTerm{{2, -1, -1, -1}, 0.002065},
    LatitudeTerm{{0, 1, -1, -1}, -0.001870},
    LatitudeTerm{{4, 0, -1, -1}, 0.001828},
    LatitudeTerm{{0, 1, 0, 1}, -0.001794},

    LatitudeTerm{{0, 0, 0, 3}, -0.001749},
    LatitudeTerm{{0, 1, -1, 1}, -0.001565},
    LatitudeTerm{{1, 0, 0, 1}, -0.001491},
    LatitudeTerm{{0, 1, 1, 1}, -0.001475},
    LatitudeTerm{{0, 1, 1, -1}, -0.001410},
    LatitudeTerm{{0, 1, 0, -1}, -0.001344},
    LatitudeTerm{{1, 0, 0, -1}, -0.001335},
    LatitudeTerm{{0, 0, 3, 1}, 0.001107},
    LatitudeTerm{{4, 0, 0, -1}, 0.001021},
    LatitudeTerm{{4, 0, -1, 1}, 0.000833},

    LatitudeTerm{{0, 0, 1, -3}, 0.000777},
    LatitudeTerm{{4, 0, -2, 1}, 0.000671},
    LatitudeTerm{{2, 0, 0, -3}, 0.000607},
    LatitudeTerm{{2, 0, 2, -1}, 0.000596},
    LatitudeTerm{{2, -1, 1, -1}, 0.000491},
    LatitudeTerm{{2, 0, -2, 1}, -0.000451},
    LatitudeTerm{{0, 0, 3, -1}, 0.000439},
    LatitudeTerm{{2, 0, 2, 1}, 0.000422},
    LatitudeTerm{{2, 0, -3, -1}, 0.000421},
    LatitudeTerm{{2, 1, -1, 1}, -0.000366},

    LatitudeTerm{{2, 1, 0, 1}, -0.000351},
    LatitudeTerm{{4, 0, 0, 1}, 0.000331},
    LatitudeTerm{{2, -1, 1, 1}, 0.000315},
    LatitudeTerm{{2, -2, 0, -1}, 0.000302},
    LatitudeTerm{{0, 0, 1, 3}, -0.000283},
    LatitudeTerm{{2, 1, 1, -1}, -0.000229},
    LatitudeTerm{{1, 1, 0, -1}, 0.000223},
    LatitudeTerm{{1, 1, 0, 1}, 0.000223},
    LatitudeTerm{{0, 1, -2, -1}, -0.000220},
    LatitudeTerm{{2, 1, -1, -1}, -0.000220},

    LatitudeTerm{{1, 0, 1, 1}, -0.000185},
    LatitudeTerm{{2, -1, -2, -1}, 0.000181},
    LatitudeTerm{{0, 1, 2, 1}, -0.000177},
    LatitudeTerm{{4, 0, -2, -1}, 0.000176},
    LatitudeTerm{{4, -1, -1, -1}, 0.000166},
    LatitudeTerm{{1, 0, 1, -1}, -0.000164},
    LatitudeTerm{{4, 0, 1, -1}, 0.000132},
    LatitudeTerm{{1, 0, -1, -1}, -0.000119},
    LatitudeTerm{{4, -1, 0, -1}, 0.000115},
    LatitudeTerm{{2, -2, 0, 1}, 0.000107},
};

// clang-format on

}  // namespace keyhour::sun::lunar
