#include "heliocentric_earth.hpp"

#include "earth_terms.hpp"

namespace keyhour::sun {

namespace {

constexpr PeriodicSeries L0{vsop87::longitude_0};
constexpr PeriodicSeries L1{vsop87::longitude_1};
constexpr PeriodicSeries L2{vsop87::longitude_2};
constexpr PeriodicSeries L3{vsop87::longitude_3};
constexpr PeriodicSeries B0{vsop87::latitude_0};
constexpr PeriodicSeries B1{vsop87::latitude_1};
constexpr PeriodicSeries B2{vsop87::latitude_2};
constexpr PeriodicSeries B3{vsop87::latitude_3};
constexpr PeriodicSeries R0{vsop87::radius_0};
constexpr PeriodicSeries R1{vsop87::radius_1};
constexpr PeriodicSeries R2{vsop87::radius_2};

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
