#include "heliocentric_earth.hpp"

#include "earth_terms.hpp"

namespace keyhour::sun {

namespace {

constexpr auto L0 = columns_of(vsop87::longitude_0);
constexpr auto L1 = columns_of(vsop87::longitude_1);
constexpr auto L2 = columns_of(vsop87::longitude_2);
constexpr auto L3 = columns_of(vsop87::longitude_3);
constexpr auto B0 = columns_of(vsop87::latitude_0);
constexpr auto B1 = columns_of(vsop87::latitude_1);
constexpr auto B2 = columns_of(vsop87::latitude_2);
constexpr auto B3 = columns_of(vsop87::latitude_3);
constexpr auto R0 = columns_of(vsop87::radius_0);
constexpr auto R1 = columns_of(vsop87::radius_1);
constexpr auto R2 = columns_of(vsop87::radius_2);

}  // namespace

double earth_radius_vector(double millennia) noexcept {
    const double t = millennia;
    return R0.at(t) + t * (R1.at(t) + t * R2.at(t));
}

EclipticPlace earth_ecliptic_place(double millennia) noexcept {
    const double t = millennia;
    return {.longitude = L0.at(t) + t * (L1.at(t) + t * (L2.at(t) + t * L3.at(t))),
            .latitude = B0.at(t) + t * (B1.at(t) + t * (B2.at(t) + t * B3.at(t)))};
}

}  // namespace keyhour::sun
