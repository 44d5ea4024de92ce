// The light at an exterior spot: the cheap part of a date, and one instant with its levels.

#include <benchmark/benchmark.h>

#include "keyhour/site/dates.hpp"
#include "keyhour/study/spot_light.hpp"
#include "read/location_file.hpp"

using namespace keyhour;

namespace {

const site::Location& location() {
    static const site::Location l =
        *read::read_location(KEYHOUR_LOCATIONS "/" KEYHOUR_BENCH_LOCATION);
    return l;
}

std::shared_ptr<const study::SharedTrack> year() {
    return study::SharedTrack::make(*site::read_utc("2025-12-30T00:00Z"),
                                    *site::read_utc("2027-01-03T00:00Z"));
}

void spot_date(benchmark::State& state) {
    const study::SpotLight spot{location(), 0, year()};
    site::LocalDate date = *site::read_date("2026-01-01");
    for (auto _ : state) {
        benchmark::DoNotOptimize(spot.on(date));
        date = site::next_day(date);
        if (date > *site::read_date("2026-12-31")) date = *site::read_date("2026-01-01");
    }
}
BENCHMARK(spot_date)->Unit(benchmark::kMicrosecond);

void spot_instant(benchmark::State& state) {
    const study::SpotLight spot{location(), 0, year()};
    const Instant t = *site::read_utc("2026-03-10T03:00Z");
    for (auto _ : state)
        benchmark::DoNotOptimize(spot.at(t));
}
BENCHMARK(spot_instant)->Unit(benchmark::kMicrosecond);

}  // namespace
