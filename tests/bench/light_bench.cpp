// The light's speed.
//
// Requirement: a question to the table of the clear sky below 1 us; one to the band of three airs
// below 2 us; a direction of the sky below 60 ns; a sky's patches below 40 us and a plane under
// them below 1.5 us.

#include <benchmark/benchmark.h>

#include "keyhour/light/clear_sky.hpp"
#include "keyhour/light/glass.hpp"
#include "keyhour/light/sky_luminance.hpp"

using namespace keyhour;
using namespace keyhour::light;

namespace {

/// The sun climbs by a hundredth of a degree a question, -18 to 70 degrees, over and over.
class Climb {
public:
    SkyState next() {
        altitude_deg_ = altitude_deg_ > 70 ? -18 : altitude_deg_ + 0.01;
        const Altitude altitude{Angle::degrees(altitude_deg_)};
        return {.apparent = altitude, .true_altitude = altitude, .elevation_m = 100};
    }

private:
    double altitude_deg_ = -18;
};

void BM_ClearSkyChain(benchmark::State& state) {
    Climb climb;
    for (auto _ : state)
        benchmark::DoNotOptimize(clear_sky(climb.next()));
}
BENCHMARK(BM_ClearSkyChain);

void BM_BuildClearSkyTable(benchmark::State& state) {
    for (auto _ : state)
        benchmark::DoNotOptimize(ClearSkyTable{});
}
BENCHMARK(BM_BuildClearSkyTable);

void BM_ClearSkyTable(benchmark::State& state) {
    const ClearSkyTable table;
    Climb climb;
    for (auto _ : state)
        benchmark::DoNotOptimize(table.levels(climb.next()));
}
BENCHMARK(BM_ClearSkyTable);

void BM_SkyBandTable(benchmark::State& state) {
    const SkyBandTable table;
    Climb climb;
    for (auto _ : state)
        benchmark::DoNotOptimize(table.band(climb.next()));
}
BENCHMARK(BM_SkyBandTable);

const Sky clear_noon{clear_type, {Angle::degrees(40)}, {Angle::degrees(180)}, 20000};

void BM_SkyLuminance(benchmark::State& state) {
    Climb climb;
    for (auto _ : state) {
        const Altitude altitude = climb.next().apparent;
        benchmark::DoNotOptimize(
            clear_noon.luminance_cd_m2({0.6, 0.8, altitude.above_horizon.in_radians()}));
    }
}
BENCHMARK(BM_SkyLuminance);

void BM_SkyPatches(benchmark::State& state) {
    for (auto _ : state)
        benchmark::DoNotOptimize(SkyPatches{clear_noon});
}
BENCHMARK(BM_SkyPatches);

void BM_PlaneUnderPatches(benchmark::State& state) {
    const SkyPatches patches{clear_noon};
    Direction wall{0, 1, 0};
    for (auto _ : state) {
        benchmark::DoNotOptimize(wall);
        benchmark::DoNotOptimize(patches.plane_lx(wall));
    }
}
BENCHMARK(BM_PlaneUnderPatches);

void BM_Glass(benchmark::State& state) {
    double cosine = 0.7;
    for (auto _ : state) {
        benchmark::DoNotOptimize(cosine);
        benchmark::DoNotOptimize(transmittance_at_cosine(Panes::two, cosine));
    }
}
BENCHMARK(BM_Glass);

}  // namespace
