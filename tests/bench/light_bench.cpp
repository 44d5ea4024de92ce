// The light's speed.
//
// Requirement: a question to the table of the clear sky below 1 us; one to the band of three airs
// below 2 us.

#include <benchmark/benchmark.h>

#include "keyhour/light/clear_sky.hpp"

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

}  // namespace
