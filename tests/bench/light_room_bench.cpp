// Light at a mark of the example with four windows and two buildings.

#include <benchmark/benchmark.h>

#include <cstdlib>
#include <iostream>
#include <vector>

#include "keyhour/study/mark_light.hpp"
#include "read/location_file.hpp"

using namespace keyhour;

namespace {

/// The hat works, and its suns above the horizon, every five minutes of a midsummer's day.
struct Day {
    site::Location location;
    study::RoomStudy study;
    std::vector<study::Moment> moments;

    explicit Day(site::Location l)
        : location{std::move(l)},
          study{location,
                study::SharedTrack::make(start - Seconds{86400}, start + Seconds{2 * 86400})} {
        for (const study::Moment& m :
             study.path().samples(start, start + Seconds{86400}, Seconds{300}))
            if (m.altitude_deg > 0) moments.push_back(m);
    }
    Day(const Day&) = delete;
    Day& operator=(const Day&) = delete;

    // 2026-12-22T11:00Z, local midnight
    static constexpr Instant start = Instant::from_unix_s(1797937200);
};

const Day& day() {
    static const Day one{[] {
        auto location = read::read_location(KEYHOUR_LOCATIONS "/flax-road.toml");
        if (!location || !location->room) {
            std::cerr << "flax-road.toml does not read as a location with a room\n";
            std::exit(1);
        }
        return *std::move(location);
    }()};
    return one;
}

/// Time per item is the time of one full answer: four windows, three airs, fill, ratio, colours.
void BM_LightAtAMark(benchmark::State& state) {
    const study::RoomLight light{day().study};
    for (auto _ : state)
        for (const study::Moment& m : day().moments)
            benchmark::DoNotOptimize(light.at(0, 0, m));
    state.SetItemsProcessed(static_cast<std::int64_t>(state.iterations() * day().moments.size()));
}
BENCHMARK(BM_LightAtAMark)->Unit(benchmark::kMicrosecond);

void BM_PrepareRoomLight(benchmark::State& state) {
    for (auto _ : state)
        benchmark::DoNotOptimize(study::RoomLight{day().study});
}
BENCHMARK(BM_PrepareRoomLight)->Unit(benchmark::kMillisecond);

}  // namespace
