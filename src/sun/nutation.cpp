#include "nutation.hpp"

#include <array>
#include <cstddef>

#include "keyhour/sun/angle.hpp"
#include "keyhour/sun/trigonometry.hpp"

namespace keyhour::sun {

namespace {

/// One term: the angle is the sum of multiple[i] times the i-th of l (the Moon's mean anomaly), l'
/// (the Sun's), F (the Moon's argument of latitude), D (its elongation), Om (its node).
/// Coefficients in 0.1 microarcsecond, and the same a Julian century.
struct NutationTerm {
    int multiple[5];
    double psi_sin, psi_sin_t, psi_cos;
    double eps_cos, eps_cos_t, eps_sin;
};

// clang-format off

/// The 40 largest of the 77 terms of IAU 2000B; the rest adds up to less than 0.01 arcsec.
/// Source: McCarthy & Luzum (2003), "An abridged model of the precession-nutation of the celestial
/// pole", Cel. Mech. Dyn. Astron. 85, 37; numbers as carried by ERFA 2.0.0 (nut00b.c).
constexpr std::array terms{
    NutationTerm{{0, 0, 0, 0, 1}, -172064161, -174666, 33386, 92052331, 9086, 15377},
    NutationTerm{{0, 0, 2, -2, 2}, -13170906, -1675, -13696, 5730336, -3015, -4587},
    NutationTerm{{0, 0, 2, 0, 2}, -2276413, -234, 2796, 978459, -485, 1374},
    NutationTerm{{0, 0, 0, 0, 2}, 2074554, 207, -698, -897492, 470, -291},
    NutationTerm{{0, 1, 0, 0, 0}, 1475877, -3633, 11817, 73871, -184, -1924},
    NutationTerm{{0, 1, 2, -2, 2}, -516821, 1226, -524, 224386, -677, -174},
    NutationTerm{{1, 0, 0, 0, 0}, 711159, 73, -872, -6750, 0, 358},
    NutationTerm{{0, 0, 2, 0, 1}, -387298, -367, 380, 200728, 18, 318},
    NutationTerm{{1, 0, 2, 0, 2}, -301461, -36, 816, 129025, -63, 367},
    NutationTerm{{0, -1, 2, -2, 2}, 215829, -494, 111, -95929, 299, 132},

    NutationTerm{{0, 0, 2, -2, 1}, 128227, 137, 181, -68982, -9, 39},
    NutationTerm{{-1, 0, 2, 0, 2}, 123457, 11, 19, -53311, 32, -4},
    NutationTerm{{-1, 0, 0, 2, 0}, 156994, 10, -168, -1235, 0, 82},
    NutationTerm{{1, 0, 0, 0, 1}, 63110, 63, 27, -33228, 0, -9},
    NutationTerm{{-1, 0, 0, 0, 1}, -57976, -63, -189, 31429, 0, -75},
    NutationTerm{{-1, 0, 2, 2, 2}, -59641, -11, 149, 25543, -11, 66},
    NutationTerm{{1, 0, 2, 0, 1}, -51613, -42, 129, 26366, 0, 78},
    NutationTerm{{-2, 0, 2, 0, 1}, 45893, 50, 31, -24236, -10, 20},
    NutationTerm{{0, 0, 0, 2, 0}, 63384, 11, -150, -1220, 0, 29},
    NutationTerm{{0, 0, 2, 2, 2}, -38571, -1, 158, 16452, -11, 68},

    NutationTerm{{0, -2, 2, -2, 2}, 32481, 0, 0, -13870, 0, 0},
    NutationTerm{{-2, 0, 0, 2, 0}, -47722, 0, -18, 477, 0, -25},
    NutationTerm{{2, 0, 2, 0, 2}, -31046, -1, 131, 13238, -11, 59},
    NutationTerm{{1, 0, 2, -2, 2}, 28593, 0, -1, -12338, 10, -3},
    NutationTerm{{-1, 0, 2, 0, 1}, 20441, 21, 10, -10758, 0, -3},
    NutationTerm{{2, 0, 0, 0, 0}, 29243, 0, -74, -609, 0, 13},
    NutationTerm{{0, 0, 2, 0, 0}, 25887, 0, -66, -550, 0, 11},
    NutationTerm{{0, 1, 0, 0, 1}, -14053, -25, 79, 8551, -2, -45},
    NutationTerm{{-1, 0, 0, 2, 1}, 15164, 10, 11, -8001, 0, -1},
    NutationTerm{{0, 2, 2, -2, 2}, -15794, 72, -16, 6850, -42, -5},

    NutationTerm{{0, 0, -2, 2, 0}, 21783, 0, 13, -167, 0, 13},
    NutationTerm{{1, 0, 0, -2, 1}, -12873, -10, -37, 6953, 0, -14},
    NutationTerm{{0, -1, 0, 0, 1}, -12654, 11, 63, 6415, 0, 26},
    NutationTerm{{-1, 0, 2, 2, 1}, -10204, 0, 25, 5222, 0, 15},
    NutationTerm{{0, 2, 0, 0, 0}, 16707, -85, -10, 168, -1, 10},
    NutationTerm{{1, 0, 2, 2, 2}, -7691, 0, 44, 3268, 0, 19},
    NutationTerm{{-2, 0, 2, 0, 0}, -11024, 0, -14, 104, 0, 2},
    NutationTerm{{0, 1, 2, 0, 2}, 7566, -21, -11, -3250, 0, -5},
    NutationTerm{{0, 0, 2, 2, 1}, -6637, -11, 25, 3353, 0, 14},
    NutationTerm{{0, -1, 2, 0, 2}, -7141, 21, 8, 3070, 0, 4},
};

// clang-format on

/// An angle that grows evenly: arcseconds at J2000.0, arcseconds a Julian century.
struct EvenAngle {
    double at_j2000, rate;
};

/// l, l', F, D, Om. Source: Simon et al. (1994), A&A 282, 663, linear parts, as in IAU 2000B. (The
/// quadratic part left out of Om, 7.5 arcsec a century squared, turns the largest term by 0.002
/// arcsec in 1800 and 2200.)
constexpr EvenAngle fundamental_argument[5] = {
    {485868.249036, 1717915923.2178}, {1287104.79305, 129596581.0481},
    {335779.526232, 1739527262.8478}, {1072260.70369, 1602961601.2090},
    {450160.398036, -6962890.5431},
};

/// What stands for the planets' share in IAU 2000B, arcseconds.
constexpr double planetary_psi = -0.000135, planetary_eps = 0.000388;

/// The terms column by column, their angles summed up beforehand, in turns.
struct Columns {
    static constexpr std::size_t count = terms.size();
    double phase[count]{}, rate[count]{};
    double psi_sin[count]{}, psi_sin_t[count]{}, psi_cos[count]{};
    double eps_cos[count]{}, eps_cos_t[count]{}, eps_sin[count]{};

    constexpr Columns() {
        for (std::size_t i = 0; i < count; ++i) {
            const NutationTerm& term = terms[i];
            for (std::size_t k = 0; k < 5; ++k) {
                phase[i] += term.multiple[k] * fundamental_argument[k].at_j2000 / 1296000;
                rate[i] += term.multiple[k] * fundamental_argument[k].rate / 1296000;
            }
            psi_sin[i] = term.psi_sin, psi_sin_t[i] = term.psi_sin_t, psi_cos[i] = term.psi_cos;
            eps_cos[i] = term.eps_cos, eps_cos_t[i] = term.eps_cos_t, eps_sin[i] = term.eps_sin;
        }
    }
};

constexpr Columns columns;
static_assert(Columns::count % 2 == 0);  // whole pairs

}  // namespace

Nutation nutation(double centuries) noexcept {
    const double t = centuries;
    const Columns& c = columns;
    Pair psi = {}, eps = {};
    for (std::size_t i = 0; i < Columns::count; i += 2) {
        const Pair angle = pair_at(&c.phase[i]) + pair_at(&c.rate[i]) * t;
        const Pair cosine = cosine_of_turns(angle), sine = cosine_of_turns(angle - 0.25);
        psi += (pair_at(&c.psi_sin[i]) + pair_at(&c.psi_sin_t[i]) * t) * sine +
               pair_at(&c.psi_cos[i]) * cosine;
        eps += (pair_at(&c.eps_cos[i]) + pair_at(&c.eps_cos_t[i]) * t) * cosine +
               pair_at(&c.eps_sin[i]) * sine;
    }
    constexpr double unit = 1e-7;  // of the table, in arcseconds
    constexpr double arcsecond = Angle::arcseconds(1).in_radians();
    const double node = columns.phase[0] + columns.rate[0] * t;  // turns
    return {
        .longitude = ((psi[0] + psi[1]) * unit + planetary_psi) * arcsecond,
        .obliquity = ((eps[0] + eps[1]) * unit + planetary_eps) * arcsecond,
        // The largest complementary term; the next is 0.00006 arcsec. Source: IERS Conventions
        // (2010), section 5.5.7.
        .equation_of_equinoxes_extra = 0.00264096 * arcsecond * sine_cosine_of_turns(node).sine};
}

}  // namespace keyhour::sun
