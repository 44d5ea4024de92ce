// What the doubt of a key costs beside the key itself: one date, and a year.

#include <benchmark/benchmark.h>

#include "bench_location.hpp"
#include "keyhour/study/key_doubt.hpp"

namespace {

using namespace keyhour;
using bench::new_year;

constexpr Seconds day{86400};

const site::Location& three_marks() {
    static const site::Location location =
        bench::location_of(KEYHOUR_BENCH_FOLDER "/three-marks.toml");
    return location;
}

struct Range {
    Instant from, to;
};

Range range(int days) {
    const Instant from = new_year(2026) + (days == 1 ? 60 * day : Seconds{0});
    return {from, from + days * day};
}

const study::RoomStudy& room() {
    static const study::RoomStudy study{
        three_marks(),
        study::SharedTrack::make(new_year(2026) - 2 * day, new_year(2027) + 3 * day)};
    return study;
}

void key_alone(benchmark::State& state) {
    const auto [from, to] = range(static_cast<int>(state.range(0)));
    std::size_t found = 0;
    for (auto _ : state)
        found = study::clean_key(room(), from, to).size();
    state.counters["intervals"] = static_cast<double>(found);
}
BENCHMARK(key_alone)->Arg(1)->Arg(365)->Unit(benchmark::kMillisecond);

void doubt_of_key(benchmark::State& state) {
    const auto [from, to] = range(static_cast<int>(state.range(0)));
    const auto found = study::clean_key(room(), from, to);
    for (auto _ : state)
        benchmark::DoNotOptimize(study::hold_doubts(room(), from, to, {}, found));
}
BENCHMARK(doubt_of_key)->Arg(1)->Arg(365)->Unit(benchmark::kMillisecond);

void why_unsure_of_key(benchmark::State& state) {
    const auto [from, to] = range(static_cast<int>(state.range(0)));
    const auto found = study::clean_key(room(), from, to);
    for (auto _ : state)
        benchmark::DoNotOptimize(
            study::why_unsure(std::vector{study::AskedKey{&room(), from, to, found}}, {}));
}
BENCHMARK(why_unsure_of_key)->Arg(1)->Arg(365)->Unit(benchmark::kMillisecond);

}  // namespace
