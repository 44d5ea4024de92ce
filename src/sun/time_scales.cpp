#include "keyhour/sun/time_scales.hpp"

#include <algorithm>
#include <span>

namespace keyhour::sun {

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
