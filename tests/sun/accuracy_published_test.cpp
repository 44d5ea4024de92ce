// The sun's place against ERFA's full models at random instants and places.

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "../../src/sun/nutation.hpp"
#include "keyhour/sun/position.hpp"
#include "published/equal_delta_t.hpp"
#include "published/erfa_sun.hpp"

using namespace keyhour;
using namespace keyhour::sun;

namespace {

constexpr double arcsec_per_radian = 206264.80624709636;

Instant start_of_year(double year) {
    return Instant::from_unix_s((year - 1970) * 365.2425 * 86400);
}

class Draw {
public:
    explicit Draw(unsigned seed) : engine_{seed} {}
    double between(double low, double high) {
        return std::uniform_real_distribution<double>{low, high}(engine_);
    }
    Instant instant(double first_year, double last_year) {
        return start_of_year(between(first_year, last_year));
    }
    Observer observer() {
        return {Angle::degrees(between(-90, 90)), Angle::degrees(between(-180, 180)),
                between(-400, 5000)};
    }

private:
    std::mt19937_64 engine_;
};

/// Angle on the sky between the project's airless direction and ERFA's.
double apart_arcsec(const LevelVector& ours, const erfa_sun::Direction& theirs) {
    return arcsec_per_radian *
           std::hypot(ours.east - theirs[0], ours.north - theirs[1], ours.up - theirs[2]);
}

}  // namespace

TEST_CASE("20,000 random suns 1950-2050 stand within 1 arcsec of ERFA's", "[sun][published]") {
    // ERFA 2.0.0 with its own UTC to TT. Limit: the requirement. Expected 0.25: 0.12 from the
    // shortened series, the rest from delta T before 1972 (ERFA takes TAI = UTC before 1960, which
    // is up to 3 s off; a second moves the sun by 0.04 arcsec).
    Draw draw{1950};
    double worst = 0;
    for (int i = 0; i < 20000; ++i) {
        const Instant t = draw.instant(1950, 2050);
        Observer o = draw.observer();
        if (i % 500 == 0) o.latitude = Angle::degrees(i % 1000 == 0 ? 90 : -90);
        const auto theirs = erfa_sun::sight(t, erfa_sun::delta_t_s(t), o);
        const LevelVector ours = Place{o}.direction(geocentric_sun(t), false);
        worst = std::max(worst, apart_arcsec(ours, theirs.direction));
    }
    WARN("worst of 20,000, 1950-2050: " << worst << " arcsec");
    CHECK(worst < 1.0);
    CHECK(worst < 0.4);  // what is promised in geocentric.hpp, delta T's 3 s added
}

TEST_CASE("random suns 1900-2100 stand within 0.2 arcsec of ERFA's at equal delta T",
          "[sun][published]") {
    // The requirement is 2 arcsec; 0.2 is what the header promises. 1800-1900 and 2100-2200 lie
    // outside the range for which epv00 states its accuracy; 0.12 is seen there.
    Draw draw{1900};
    const auto worst_of = [&](double first_year, double last_year) {
        double worst = 0;
        for (int i = 0; i < 5000; ++i) {
            const Instant t = draw.instant(first_year, last_year);
            const Observer o = draw.observer();
            const double delta_t_s = draw.between(0, 200);
            const auto theirs = erfa_sun::sight(t, delta_t_s, o);
            const LevelVector ours = Place{o}.direction(sun_with_delta_t(t, delta_t_s), false);
            worst = std::max(worst, apart_arcsec(ours, theirs.direction));
        }
        WARN("worst of 5,000, " << first_year << "-" << last_year << ": " << worst << " arcsec");
        return worst;
    };
    CHECK(worst_of(1900, 2100) < 0.2);
    CHECK(worst_of(1801, 1900) < 0.15);
    CHECK(worst_of(2100, 2199) < 0.15);
}

TEST_CASE("right ascension, declination, distance and sidereal time agree with ERFA",
          "[sun][published]") {
    // ERFA 2.0.0: epv00, pnm06a (true equator and equinox), gst06a; aberration by ab for an
    // observer at the Earth's centre (apcg). Margins: the shortened series (0.12 arcsec seen);
    // 1e-6 au promised for the distance; nutation's 0.01 arcsec for sidereal time.
    Draw draw{2000};
    double worst_place = 0, worst_distance = 0, worst_time = 0;
    for (int i = 0; i < 3000; ++i) {
        const Instant t = draw.instant(1900, 2100);
        const double ut_day = t.unix_s() / ERFA_DAYSEC;
        const double tt_day = ut_day + delta_t(t).count() / ERFA_DAYSEC;
        double helio[2][3], bary[2][3], rnpb[3][3], aberrated[3], of_date[3], ascension,
            declination;
        eraEpv00(erfa_sun::unix_epoch_jd, tt_day, helio, bary);
        eraASTROM astrom;
        eraApcg(erfa_sun::unix_epoch_jd, tt_day, bary, helio[0], &astrom);
        const double sunward[3] = {-astrom.eh[0], -astrom.eh[1], -astrom.eh[2]};
        double unit[3] = {sunward[0], sunward[1], sunward[2]};
        eraAb(unit, astrom.v, astrom.em, astrom.bm1, aberrated);
        eraPnm06a(erfa_sun::unix_epoch_jd, tt_day, rnpb);
        eraRxp(rnpb, aberrated, of_date);
        eraC2s(of_date, &ascension, &declination);
        const double gst =
            eraGst06a(erfa_sun::unix_epoch_jd, ut_day, erfa_sun::unix_epoch_jd, tt_day);

        const GeocentricSun sun = geocentric_sun(t);
        const double right =
            std::remainder(sun.right_ascension.in_radians() - ascension, ERFA_D2PI);
        worst_place = std::max(worst_place, std::hypot(right * std::cos(declination),
                                                       sun.declination.in_radians() - declination));
        worst_distance = std::max(worst_distance, std::fabs(sun.distance_au - astrom.em));
        worst_time = std::max(
            worst_time, std::fabs(std::remainder(sun.sidereal_time.in_radians() - gst, ERFA_D2PI)));
    }
    CHECK(worst_place * arcsec_per_radian < 0.2);
    CHECK(worst_distance < 1e-6);
    CHECK(worst_time * arcsec_per_radian < 0.01);
}

TEST_CASE("nutation stays within 0.01 arcsec of IAU 2000A", "[sun][published]") {
    // ERFA 2.0.0: nut06a. Finer than the sun's place can show: an error in one coefficient counts.
    double worst = 0;
    for (int i = 0; i < 4000; ++i) {
        const double centuries = -1 + i * 0.0005;
        double longitude, obliquity;
        eraNut06a(ERFA_DJ00, centuries * ERFA_DJC, &longitude, &obliquity);
        const Nutation ours = nutation(centuries);
        worst = std::max(
            {worst, std::fabs(ours.longitude - longitude), std::fabs(ours.obliquity - obliquity)});
    }
    WARN("worst of 4,000: " << worst * arcsec_per_radian << " arcsec");
    CHECK(worst * arcsec_per_radian < 0.01);
}
