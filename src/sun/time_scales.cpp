#include "keyhour/sun/time_scales.hpp"

#include <algorithm>
#include <span>

namespace keyhour::sun {

constexpr std::array<LeapSecondStep, 28> leap_second_steps{
    LeapSecondStep{63072000, 10},   // 1972-01-01
    LeapSecondStep{78796800, 11},   // 1972-07-01
    LeapSecondStep{94694400, 12},   // 1973-01-01
    LeapSecondStep{126230400, 13},  // 1974-01-01
    LeapSecondStep{157766400, 14},  // 1975-01-01
    LeapSecondStep{189302400, 15},  // 1976-01-01
    LeapSecondStep{220924800, 16},  // 1977-01-01
    LeapSecondStep{252460800, 17},  // 1978-01-01
    LeapSecondStep{283996800, 18},  // 1979-01-01
    LeapSecondStep{315532800, 19},  // 1980-01-01

    LeapSecondStep{362793600, 20},  // 1981-07-01
    LeapSecondStep{394329600, 21},  // 1982-07-01
    LeapSecondStep{425865600, 22},  // 1983-07-01
    LeapSecondStep{489024000, 23},  // 1985-07-01
    LeapSecondStep{567993600, 24},  // 1988-01-01
    LeapSecondStep{631152000, 25},  // 1990-01-01
    LeapSecondStep{662688000, 26},  // 1991-01-01
    LeapSecondStep{709948800, 27},  // 1992-07-01
    LeapSecondStep{741484800, 28},  // 1993-07-01
    LeapSecondStep{773020800, 29},  // 1994-07-01

    LeapSecondStep{820454400, 30},   // 1996-01-01
    LeapSecondStep{867715200, 31},   // 1997-07-01
    LeapSecondStep{915148800, 32},   // 1999-01-01
    LeapSecondStep{1136073600, 33},  // 2006-01-01
    LeapSecondStep{1230768000, 34},  // 2009-01-01
    LeapSecondStep{1341100800, 35},  // 2012-07-01
    LeapSecondStep{1435708800, 36},  // 2015-07-01
    LeapSecondStep{1483228800, 37},  // 2017-01-01
};

namespace {

/// One fit: delta T in seconds is a polynomial in (year - origin), for years before `until`.
struct DeltaTFit {
    double until;
    double origin;
    double coefficient[8];
};

/// Espenak & Meeus (2006), "Polynomial expressions for delta T", years 1800 to 1986.
constexpr DeltaTFit fits[] = {
    {1860,
     1800,
     {13.72, -0.332447, 0.0068612, 0.0041116, -0.00037436, 0.0000121272, -0.0000001699,
      0.000000000875}},
    {1900, 1860, {7.62, 0.5737, -0.251754, 0.01680668, -0.0004473624, 1 / 233174.0}},
    {1920, 1900, {-2.79, 1.494119, -0.0598939, 0.0061966, -0.000197}},
    {1941, 1920, {21.20, 0.84493, -0.076100, 0.0020936}},
    {1961, 1950, {29.07, 0.407, -1 / 233.0, 1 / 2547.0}},
    {1986, 1975, {45.45, 1.067, -1 / 260.0, -1 / 718.0}},
};

static_assert(std::ranges::is_sorted(leap_second_steps, {}, &LeapSecondStep::from_unix_s));

double polynomial(std::span<const double> coefficient, double x) {
    double sum = 0;
    for (std::size_t i = coefficient.size(); i-- > 0;)
        sum = sum * x + coefficient[i];
    return sum;
}

}  // namespace

Seconds delta_t_before_leap_seconds(Instant t) noexcept {
    constexpr double start_of_2000 = 946684800, mean_year_s = 31556952;
    const double year = 2000 + (t.unix_s() - start_of_2000) / mean_year_s;
    const DeltaTFit* fit = std::begin(fits);
    while (fit + 1 != std::end(fits) && year >= fit->until)
        ++fit;
    return Seconds{polynomial(fit->coefficient, year - fit->origin)};
}

}  // namespace keyhour::sun
