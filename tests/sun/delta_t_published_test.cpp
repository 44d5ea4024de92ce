// Delta T against observed values.

#include <catch2/catch.hpp>

#include "keyhour/sun/time_scales.hpp"

using namespace keyhour;
using namespace keyhour::sun;

TEST_CASE("delta T agrees with what was observed, 1800-2020", "[sun][published]") {
    // Historical values of delta T as printed in the Astronomical Almanac (Stephenson & Morrison
    // 1984; Bureau International de l'Heure, IERS). From memory. Margin: the fits' own error before
    // 1972 (0.5 s); UTC's distance from UT1 (0.9 s) afterwards.
    struct Observed {
        double year, delta_t_s, margin_s;
    };
    for (const Observed& o :
         {Observed{1800, 13.7, 0.5}, Observed{1900, -2.7, 0.5}, Observed{1920, 21.2, 0.5},
          Observed{1950, 29.15, 0.5}, Observed{1960, 33.15, 0.5}, Observed{1970, 40.18, 0.5},
          Observed{1980, 50.54, 0.9}, Observed{1990, 56.86, 0.9}, Observed{2000, 63.83, 0.9},
          Observed{2010, 66.07, 0.9}, Observed{2020, 69.36, 0.9}}) {
        CAPTURE(o.year);
        const Instant t = Instant::from_unix_s((o.year - 1970) * 365.2425 * 86400);
        CHECK(delta_t(t).count() == Approx(o.delta_t_s).margin(o.margin_s));
    }
}
