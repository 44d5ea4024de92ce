// Sun and moon at exterior spots against ERFA: the way from a location to the rows that
// the exterior command shows.

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "keyhour/study/spot_light.hpp"
#include "keyhour/sun/time_scales.hpp"
#include "published/erfa_sun.hpp"

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

}  // namespace

TEST_CASE("the sun at a spot is ERFA's sun there", "[spot][published]") {
    // Limits: 0.2 arcsec promised by the track's series, 0.01 by interpolation.
    std::mt19937_64 engine{31};
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>{low, high}(engine);
    };
    double worst_erfa = 0;
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
    }
    WARN("worst of 200 spots: ERFA " << worst_erfa << " arcsec");
    CHECK(worst_erfa < 0.25);
}
