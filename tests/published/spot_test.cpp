// Sun and moon at exterior spots against ERFA and libnova: the way from a location to the rows that
// the exterior command shows.

#include <libnova/solar.h>
#include <libnova/transform.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "erfa_sun.hpp"
#include "keyhour/study/spot_light.hpp"
#include "keyhour/sun/time_scales.hpp"

using namespace keyhour;

namespace {

constexpr double degree = 0.017453292519943295;

erfa_sun::Direction direction(Azimuth azimuth, Altitude altitude) {
    return {cos(altitude.above_horizon) * sin(azimuth.from_north),
            cos(altitude.above_horizon) * cos(azimuth.from_north), sin(altitude.above_horizon)};
}

double apart_arcsec(const erfa_sun::Direction& a, const erfa_sun::Direction& b) {
    return std::hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]) / degree * 3600;
}

/// libnova 0.16: VSOP87 with all its terms, its own nutation and sidereal time, no parallax.
erfa_sun::Direction nova_sun(Instant t, const Observer& o) {
    const double jd = erfa_sun::unix_epoch_jd + t.unix_s() / 86400;
    ln_equ_posn place;
    ln_get_solar_equ_coords(jd + sun::delta_t(t).count() / 86400, &place);
    ln_lnlat_posn observer{o.longitude.in_degrees(), o.latitude.in_degrees()};
    ln_hrz_posn seen;
    ln_get_hrz_from_equ(&place, &observer, jd, &seen);
    const double azimuth = (seen.az + 180) * degree, altitude = seen.alt * degree;  // from south
    return {std::cos(altitude) * std::sin(azimuth), std::cos(altitude) * std::cos(azimuth),
            std::sin(altitude)};
}

}  // namespace

TEST_CASE("the sun at a spot is ERFA's and libnova's sun there", "[spot][published]") {
    // Limits: 0.2 arcsec promised by the track's series, 0.01 by interpolation; libnova leaves out
    // parallax (8.8 arcsec) and takes aberration from a short formula.
    std::mt19937_64 engine{31};
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>{low, high}(engine);
    };
    double worst_erfa = 0, worst_nova = 0;
    for (int i = 0; i < 200; ++i) {
        site::Location l;
        l.site.observer = {Angle::degrees(between(-80, 80)), Angle::degrees(between(-179, 179)), 0};
        site::Spot spot;
        spot.name = "spot";
        // The spot lies a kilometre or so from the site: its own position counts.
        spot.position = l.site.observer;
        spot.position->latitude = spot.position->latitude + Angle::degrees(between(-0.01, 0.01));
        l.spots = {spot};
        const Instant t = Instant::from_unix_s(between(0, 2.5e9));
        const auto track = study::SharedTrack::make(t - Seconds{3600}, t + Seconds{3600});
        const study::SpotInstant now = study::SpotLight{l, 0, track}.at(t);
        const auto seen = direction(now.sun.azimuth, now.sun.true_altitude);
        worst_erfa = std::max(
            worst_erfa,
            apart_arcsec(seen,
                         erfa_sun::sight(t, sun::delta_t(t).count(), *spot.position).direction));
        worst_nova = std::max(worst_nova, apart_arcsec(seen, nova_sun(t, *spot.position)));
    }
    WARN("worst of 200 spots: ERFA " << worst_erfa << ", libnova " << worst_nova << " arcsec");
    CHECK(worst_erfa < 0.25);
    CHECK(worst_nova < 15);
}
