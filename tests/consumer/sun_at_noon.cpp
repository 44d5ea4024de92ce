// Asks the installed core alone where the sun stands: 2026-06-21, 12:00 UTC, at 52.5 N 1.5 W.
#include <cstdio>
#include <keyhour/sun/position.hpp>

int main() {
    using namespace keyhour;
    const sun::Place place{{Angle::degrees(52.5), Angle::degrees(-1.5), 90}};
    const auto sun = place.position(sun::geocentric_sun(Instant::from_unix_s(1782043200)));
    std::printf("%.5f %.5f\n", sun.azimuth.from_north.in_degrees(),
                sun.true_altitude.above_horizon.in_degrees());
}
