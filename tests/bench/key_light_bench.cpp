// A year of the clean key at the largest example, described as `key --json` does, without and with
// the figures of its light. The second may take three times the first.

#include <benchmark/benchmark.h>

#include "bench_location.hpp"
#include "keyhour/study/key_light.hpp"

namespace {

using namespace keyhour;
using bench::example;
using bench::new_year;

void key_of_a_year(benchmark::State& state, bool with_light) {
    constexpr Seconds day{86400};
    const auto shared =
        study::SharedTrack::make(new_year(2026) - 2 * day, new_year(2027) + 3 * day);
    std::size_t told = 0;
    for (auto _ : state) {
        const study::RoomStudy study{example(), shared};
        const study::KeySettings settings;
        auto found = study::clean_key(study, new_year(2026), new_year(2027), settings);
        for (study::KeyInterval& k : found)
            study::describe(study, settings, k);
        benchmark::DoNotOptimize(
            study::nearest_misses(study, new_year(2026), new_year(2027), settings, found));
        if (!with_light) continue;
        const study::RoomLight light{study};
        told = 0;
        for (const study::KeyInterval& k : found) {
            if (!k.span) continue;
            benchmark::DoNotOptimize(study::key_light(study, light, k));
            ++told;
        }
    }
    state.counters["told"] = static_cast<double>(told);
}

void BM_KeyOfAYear(benchmark::State& state) {
    key_of_a_year(state, false);
}
BENCHMARK(BM_KeyOfAYear)->Unit(benchmark::kMillisecond);

void BM_KeyOfAYearWithLight(benchmark::State& state) {
    key_of_a_year(state, true);
}
BENCHMARK(BM_KeyOfAYearWithLight)->Unit(benchmark::kMillisecond);

}  // namespace
