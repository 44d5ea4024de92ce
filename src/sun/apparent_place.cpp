#include "apparent_place.hpp"

#include <numbers>

#include "heliocentric_earth.hpp"
#include "keyhour/sun/angle.hpp"
#include "keyhour/sun/time_scales.hpp"
#include "keyhour/sun/trigonometry.hpp"
#include "nutation.hpp"

namespace keyhour::sun {

namespace {

constexpr double arcsecond = Angle::arcseconds(1).in_radians();

/// Light time for 1 au, seconds: 149597870700 m / 299792458 m/s (IAU 2012, SI).
constexpr double light_time_of_au_s = 149597870700.0 / 299792458.0;

struct Vector {
    double x, y, z;
};

/// The same vector in axes turned about x (about z) by the angle: R1 and R3 of the textbooks.
Vector in_axes_turned_about_x(SineCosine angle, Vector v) {
    const auto [s, c] = angle;
    return {v.x, c * v.y + s * v.z, c * v.z - s * v.y};
}
Vector in_axes_turned_about_z(SineCosine angle, Vector v) {
    const auto [s, c] = angle;
    return {c * v.x + s * v.y, c * v.y - s * v.x, v.z};
}

/// From the sun to the Earth turned round: from the Earth to the sun, ecliptic of J2000.0, au.
Vector ecliptic_sun(const EclipticPlace& earth, double radius) {
    const auto [sl, cl] = sine_cosine(earth.longitude);
    const auto [sb, cb] = sine_cosine(earth.latitude);
    return {-radius * cb * cl, -radius * cb * sl, -radius * sb};
}

/// From VSOP87's ecliptic to the equator and equinox FK5 J2000.0, within 0.03 arcsec the axes of
/// the ICRS. Source: Bretagnon & Francou (1988), section 3.
Vector equatorial(Vector v) {
    return {v.x + 0.000000440360 * v.y - 0.000000190919 * v.z,
            -0.000000479966 * v.x + 0.917482137087 * v.y - 0.397776982902 * v.z,
            0.397776982902 * v.y + 0.917482137087 * v.z};
}

/// Fukushima-Williams angles of precession and frame bias, radians.
struct PrecessionAngles {
    double gamma, phi, psi, epsilon;
};

/// IAU 2006. Source: Hilton et al. (2006), Cel. Mech. Dyn. Astron. 94, 351, table 1; with the bias
/// of the ICRS: Wallace & Capitaine (2006), A&A 459, 981; obliquity: Capitaine et al. (2003), A&A
/// 412, 567. Powers of t beyond the third are below 0.0005 arcsec, 1800-2200.
PrecessionAngles precession(double centuries) {
    const double t = centuries;
    return {
        .gamma = (-0.052928 + t * (10.556378 + t * (0.4932044 - t * 0.00031238))) * arcsecond,
        .phi = (84381.412819 + t * (-46.811016 + t * (0.0511268 + t * 0.00053289))) * arcsecond,
        .psi = (-0.041775 + t * (5038.481484 + t * (1.5584175 - t * 0.00018522))) * arcsecond,
        .epsilon = (84381.406 + t * (-46.836769 + t * (-0.0001831 + t * 0.00200340))) * arcsecond};
}

/// Greenwich mean sidereal time less the Earth rotation angle, radians: IAU 2006.
/// Source: Capitaine, Wallace & Chapront (2003), A&A 412, 567, eq. 43. Powers of t beyond the
/// second are below 0.0005 arcsec, 1800-2200.
double mean_sidereal_offset(double centuries) {
    const double t = centuries;
    return (0.014506 + t * (4612.156534 + t * 1.3915817)) * arcsecond;
}

}  // namespace

double mean_obliquity(double centuries) noexcept {
    return precession(centuries).epsilon;
}

ApparentPlace apparent_place(double tt_s) noexcept {
    constexpr double per_millennium = 1 / (10 * seconds_per_julian_century);
    const double radius = earth_radius_vector(tt_s * per_millennium);

    // Light left the sun one light time ago. Taking the Earth's place of that moment as well adds
    // the aberration: in the light time the Earth has moved by just what its speed tilts the rays.
    const double left_s = tt_s - radius * light_time_of_au_s;
    const Vector fixed =
        equatorial(ecliptic_sun(earth_ecliptic_place(left_s * per_millennium), radius));

    const double centuries = tt_s / seconds_per_julian_century;
    const PrecessionAngles p = precession(centuries);
    const Nutation n = nutation(centuries);
    const SineCosine true_obliquity = sine_cosine(p.epsilon + n.obliquity);
    const Vector on_ecliptic_of_date = in_axes_turned_about_x(
        sine_cosine(p.phi), in_axes_turned_about_z(sine_cosine(p.gamma), fixed));
    const Vector from_equinox =
        in_axes_turned_about_z(sine_cosine(-(p.psi + n.longitude)), on_ecliptic_of_date);
    const Vector v =
        in_axes_turned_about_x({-true_obliquity.sine, true_obliquity.cosine}, from_equinox);

    const double sidereal_offset = mean_sidereal_offset(centuries) +
                                   n.longitude * true_obliquity.cosine +
                                   n.equation_of_equinoxes_extra;
    return {v.x, v.y, v.z, sidereal_offset * (0.5 / std::numbers::pi)};
}

}  // namespace keyhour::sun
