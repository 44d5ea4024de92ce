// The questions about a room, asked of the largest example: a year of the clean key, a day of
// patches.

#include <benchmark/benchmark.h>

#include "bench_location.hpp"
#include "keyhour/study/clean_key.hpp"
#include "keyhour/study/patch_day.hpp"

namespace {

using namespace keyhour;
using bench::example;
using bench::new_year;

constexpr Seconds day{86400};

std::shared_ptr<const study::SharedTrack> track(int years) {
    return study::SharedTrack::make(new_year(2026) - 2 * day, new_year(2026 + years) + 3 * day);
}

/// Four windows, three marks; the file is read anew each time. One track serves all places.
void key_of_a_location_year(benchmark::State& state) {
    const auto shared = track(1);
    std::size_t found = 0;
    for (auto _ : state) {
        const auto read = read::read_location(KEYHOUR_BENCH_FOLDER "/three-marks.toml");
        const study::RoomStudy study{*read, shared};
        const auto intervals = study::clean_key(study, new_year(2026), new_year(2027));
        found = intervals.size();
        benchmark::DoNotOptimize(
            study::nearest_misses(study, new_year(2026), new_year(2027), {}, intervals));
    }
    state.counters["intervals"] = static_cast<double>(found);
}
BENCHMARK(key_of_a_location_year)->Unit(benchmark::kMillisecond);

void key_of_a_location_date(benchmark::State& state) {
    const auto shared = track(1);
    const Instant from = new_year(2026) + 200 * day;
    for (auto _ : state) {
        const auto read = read::read_location(KEYHOUR_BENCH_FOLDER "/three-marks.toml");
        const study::RoomStudy study{*read, shared};
        benchmark::DoNotOptimize(study::clean_key(study, from, from + day));
    }
}
BENCHMARK(key_of_a_location_date)->Unit(benchmark::kMillisecond);

/// With the years: a region is found once.
void key_of_years(benchmark::State& state) {
    const int years = static_cast<int>(state.range(0));
    const study::RoomStudy study{example(), track(years)};
    for (auto _ : state)
        benchmark::DoNotOptimize(study::clean_key(study, new_year(2026), new_year(2026 + years)));
}
BENCHMARK(key_of_years)->Arg(1)->Arg(2)->Arg(5)->Arg(10)->Unit(benchmark::kMillisecond);

/// With the windows: that of the example which lights most, side by side.
void key_of_windows(benchmark::State& state) {
    site::Location location = example();
    room::Window window = location.room->windows[1];
    location.room->windows.clear();
    for (int i = 0; i < state.range(0); ++i) {
        window.name = std::to_string(i);
        location.room->windows.push_back(window);
    }
    const study::RoomStudy study{location, track(1)};
    for (auto _ : state)
        benchmark::DoNotOptimize(study::clean_key(study, new_year(2026), new_year(2027)));
}
BENCHMARK(key_of_windows)->Arg(1)->Arg(2)->Arg(4)->Arg(8)->Unit(benchmark::kMillisecond);

/// Covers may not be hung: other windows' sun is cut out of the regions.
void key_of_a_year_as_is(benchmark::State& state) {
    const study::RoomStudy study{example(), track(1)};
    study::KeySettings settings;
    settings.as_is = true;
    for (auto _ : state)
        benchmark::DoNotOptimize(study::clean_key(study, new_year(2026), new_year(2027), settings));
}
BENCHMARK(key_of_a_year_as_is)->Unit(benchmark::kMillisecond);

/// The same year date by date: what finding a region once saves.
void key_of_a_year_by_dates(benchmark::State& state) {
    const study::RoomStudy study{example(), track(1)};
    for (auto _ : state)
        for (int i = 0; i < 365; ++i)
            benchmark::DoNotOptimize(
                study::clean_key(study, new_year(2026) + i * day, new_year(2026) + (i + 1) * day));
}
BENCHMARK(key_of_a_year_by_dates)->Unit(benchmark::kMillisecond);

void patches_of_a_day(benchmark::State& state) {
    const auto shared = study::SharedTrack::make(new_year(2026) - day, new_year(2027) + 2 * day);
    const study::RoomStudy study{example(), shared};
    for (auto _ : state)
        for (int i = 0; i < 288; ++i)
            benchmark::DoNotOptimize(
                study::patches_at(study, new_year(2026) + (80 * day + i * Seconds{300})));
}
BENCHMARK(patches_of_a_day)->Unit(benchmark::kMillisecond);

}  // namespace
