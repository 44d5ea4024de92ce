#include "keyhour/sun/position.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "keyhour/sun/time_scales.hpp"

using namespace keyhour;
using namespace keyhour::sun;

namespace {

constexpr Instant start_of_2026 = Instant::from_unix_s(1767225600);

Instant hour_of_2026(double hour) {
    return start_of_2026 + Seconds{3600 * hour};
}

Observer at(double latitude_deg, double longitude_deg) {
    return {Angle::degrees(latitude_deg), Angle::degrees(longitude_deg), 0};
}

double length(const LevelVector& v) {
    return std::hypot(v.east, v.north, v.up);
}

/// The moment near t when the sun is on the meridian of the longitude, and the sun then.
GeocentricSun on_meridian(Instant t, double longitude_deg) {
    for (int i = 0; i < 4; ++i) {
        const GeocentricSun sun = geocentric_sun(t);
        const Angle hour_angle = wrapped_half_turn(
            sun.sidereal_time + Angle::degrees(longitude_deg) - sun.right_ascension);
        t = t - Seconds{hour_angle.in_degrees() * 240};
    }
    return geocentric_sun(t);
}

}  // namespace

TEST_CASE("at noon the altitude is 90 degrees less latitude from declination", "[sun]") {
    // Less the parallax, 8.794 arcsec times the cosine of the altitude (over the distance): a
    // sphere's parallax, the ellipsoid's differs by 0.03 arcsec; and geodetic latitude tilts the
    // zenith by up to 0.19 degree from the centre's: parallax again by 0.03 arcsec.
    for (int day = 3; day < 365; day += 13) {
        for (const double latitude : {-77.0, -33.5, 0.0, 12.0, 52.95, 66.0}) {
            const double longitude = 137.0 - day;
            const GeocentricSun sun = on_meridian(hour_of_2026(24 * day), longitude);
            const Position p = Place{at(latitude, longitude)}.position(sun);
            const double expected = 90 - std::fabs(latitude - sun.declination.in_degrees());
            const double parallax_deg = 8.794 / 3600 / sun.distance_au *
                                        std::sin(Angle::degrees(90 - expected).in_radians());
            CAPTURE(day, latitude);
            CHECK(p.true_altitude.above_horizon.in_arcseconds() ==
                  Approx((expected - parallax_deg) * 3600).margin(0.1));
            const bool sun_south = sun.declination.in_degrees() < latitude;
            const double from_meridian =
                std::remainder(p.azimuth.from_north.in_degrees() - (sun_south ? 180 : 0), 360.0);
            CHECK(std::fabs(from_meridian) < 0.01);  // diurnal aberration: 0.3 arcsec / cos(alt)
        }
    }
}

TEST_CASE("the sun rises in the east and sets in the west", "[sun]") {
    const Place place{at(52.95, 0)};
    const double morning =
        place.position(geocentric_sun(hour_of_2026(24 * 90 + 8))).azimuth.from_north.in_degrees();
    const double evening =
        place.position(geocentric_sun(hour_of_2026(24 * 90 + 17))).azimuth.from_north.in_degrees();
    CHECK(morning > 90);
    CHECK(morning < 140);
    CHECK(evening > 220);
    CHECK(evening < 280);
}

TEST_CASE("east of Greenwich the sun stands later in its day", "[sun]") {
    const GeocentricSun sun = geocentric_sun(hour_of_2026(24 * 90 + 8));
    CHECK(Place{at(50, 30)}.position(sun).true_altitude >
          Place{at(50, 0)}.position(sun).true_altitude);
}

TEST_CASE("the direction is the unit vector of azimuth and altitude", "[sun]") {
    for (int hour = 0; hour < 24 * 365; hour += 37) {
        const Place place{at(90.0 - hour % 181, hour % 360 - 180.0), {980, 25}};
        const GeocentricSun sun = geocentric_sun(hour_of_2026(hour));
        const Position p = place.position(sun);
        for (const bool lifted : {false, true}) {
            const LevelVector d = place.direction(sun, lifted);
            const Angle h = (lifted ? p.apparent_altitude : p.true_altitude).above_horizon;
            const Angle a = p.azimuth.from_north;
            CHECK(length(d) == Approx(1).epsilon(1e-12));
            CHECK(d.up == Approx(sin(h)).margin(1e-11));
            CHECK(d.east == Approx(cos(h) * sin(a)).margin(1e-11));
            CHECK(d.north == Approx(cos(h) * cos(a)).margin(1e-11));
        }
    }
}

TEST_CASE("a sun in the very zenith has a direction", "[sun]") {
    // On the Earth's axis no aberration draws it aside, so that its level part is exactly nothing.
    const Place place{{Angle::degrees(0), Angle::degrees(0), -6378137}};
    for (const bool lifted : {true, false}) {
        const LevelVector v = place.direction(ApparentVector{1, 0, 0, 0}, lifted);
        CHECK(v.east == 0);
        CHECK(v.north == 0);
        CHECK(v.up == 1);
    }
}

TEST_CASE("azimuth is 0 to 360 degrees and altitude -90 to 90, at the poles too", "[sun]") {
    for (int hour = 0; hour < 24 * 365; hour += 5) {
        for (const double latitude : {-90.0, -89.999, 0.0, 23.4, 90.0}) {
            const Position p =
                Place{at(latitude, 180)}.position(geocentric_sun(hour_of_2026(hour)));
            const double azimuth = p.azimuth.from_north.in_degrees();
            CHECK((azimuth >= 0 && azimuth < 360));
            CHECK(std::fabs(p.true_altitude.above_horizon.in_degrees()) <= 90);
            CHECK(p.apparent_altitude >= p.true_altitude);
        }
    }
}

TEST_CASE("at the pole the altitude is the declination, less parallax", "[sun]") {
    const GeocentricSun sun = geocentric_sun(hour_of_2026(24 * 172));
    const Position p = Place{at(90, 0)}.position(sun);
    // The polar radius is 0.9966 of the equatorial, to which 8.794 belongs; 0.01 arcsec spare.
    const double parallax = 0.9966 * 8.794 / sun.distance_au * cos(sun.declination);
    CHECK(p.true_altitude.above_horizon.in_arcseconds() ==
          Approx(sun.declination.in_arcseconds() - parallax).margin(0.01));
}

TEST_CASE("the disc measures 31.46 to 32.53 arcmin over the year", "[sun]") {
    // Almanac values of aphelion and perihelion. From memory. The observer on the near side of the
    // Earth sees it 0.001 arcmin larger.
    double least = 90, most = 0;
    for (int day = 0; day < 365; ++day) {
        const GeocentricSun sun = geocentric_sun(hour_of_2026(24 * day));
        const double arcmin = Place{at(0, 0)}.position(sun).angular_diameter.in_degrees() * 60;
        least = std::min(least, arcmin);
        most = std::max(most, arcmin);
        if (day == 3) CHECK(arcmin == Approx(32.53).margin(0.01));  // 4 January: near
        if (day == 186) CHECK(arcmin == Approx(31.46).margin(0.01));
    }
    CHECK(least == Approx(31.46).margin(0.01));
    CHECK(most == Approx(32.53).margin(0.01));
}

TEST_CASE("two positions at once are the two one by one", "[sun]") {
    const Place place{at(-41, 174)};
    for (int i = 0; i < 500; ++i) {
        const ApparentVector one = apparent_vector(hour_of_2026(i * 17));
        const ApparentVector two = apparent_vector(hour_of_2026(i * 13 + 5));
        const auto both = place.horizontals(one, two);
        const Horizontal a = place.horizontal(one), b = place.horizontal(two);
        CHECK(both[0].azimuth == a.azimuth);
        CHECK(both[0].true_altitude == a.true_altitude);
        CHECK(both[0].apparent_altitude == a.apparent_altitude);
        CHECK(both[1].azimuth == b.azimuth);
        CHECK(both[1].true_altitude == b.true_altitude);
        CHECK(both[1].apparent_altitude == b.apparent_altitude);
    }
}
