// The questions about a room, asked of the largest example: a year of the clean key, a day of
// patches.

#include <benchmark/benchmark.h>
#include <date/date.h>

#include <cstdlib>
#include <iostream>

#include "keyhour/file/location_file.hpp"
#include "keyhour/study/clean_key.hpp"
#include "keyhour/study/patch_day.hpp"

namespace {

using namespace keyhour;

const site::Location& example() {
    static const site::Location location = [] {
        auto read =
            file::read_location(std::string{KEYHOUR_LOCATIONS} + "/" + KEYHOUR_BENCH_LOCATION);
        if (!read) {
            std::cerr << file::text(read.error());
            std::exit(1);
        }
        return *read;
    }();
    return location;
}

Instant new_year(int year) {
    const date::sys_days d{date::year{year} / 1 / 1};
    return Instant::from_unix_s(
        static_cast<double>(std::chrono::seconds{d.time_since_epoch()}.count()));
}

constexpr Seconds day{86400};

void key_of_a_year(benchmark::State& state) {
    const auto shared = study::SharedTrack::make(new_year(2026) - day, new_year(2027) + 2 * day);
    std::size_t found = 0;
    for (auto _ : state) {
        const study::RoomStudy study{example(), shared};
        found = study::clean_key(study, new_year(2026), new_year(2027)).size();
        benchmark::DoNotOptimize(found);
    }
    state.counters["intervals"] = static_cast<double>(found);
}
BENCHMARK(key_of_a_year)->Unit(benchmark::kMillisecond);

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
