// What many places cost: by places, windows and years; as the command is run, from lines of JSON to
// lines of JSON. tests/bench/growth.sh plots these.

#include <benchmark/benchmark.h>

#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "cli/app.hpp"

namespace {

/// A long room with its windows side by side in one wall and three marks before them; every place
/// faces another way.
std::string place(int number, int windows) {
    const double length_m = 2.0 * std::max(windows, 4);
    nlohmann::json j{
        {"format", 1},
        {"site",
         {{"name", "Room " + std::to_string(number)},
          {"position", std::to_string(35 + number * 7 % 25) + ".25N " +
                           std::to_string(number * 11 % 12) + ".5E"},
          {"time_zone", "Europe/Paris"},
          {"horizon", {{0, 3}, {90, 6}, {180, 2}, {270, 5}}}}},
        {"room",
         {{"floor", {{0, 0}, {length_m, 0}, {length_m, 5}, {0, 5}}},
          {"walls", {"street", "yard", "back", "party"}},
          {"height_m", 3.1},
          {"bearing", {{"wall", "street"}, {"faces", number * 37 % 360}, {"north", "true"}}}}}};
    for (int w = 0; w < windows; ++w)
        j["window"].push_back({{"name", "window " + std::to_string(w)},
                               {"wall", "street"},
                               {"left_m", 2.0 * w + 0.4},
                               {"width_m", 1.2},
                               {"sill_m", 0.85},
                               {"height_m", 1.6},
                               {"reveal_m", 0.28}});
    for (int m = 0; m < 3; ++m)
        j["mark"].push_back({{"name", "mark " + std::to_string(m)},
                             {"at", {2.0 + 2 * m, 1.6 + 0.4 * m}},
                             {"height_m", 1.25}});
    j["camera"] = {{{"name", "A"},
                    {"at", {6.5, 3.5}},
                    {"height_m", 1.4},
                    {"aims_at", "mark 0"},
                    {"view_deg", 40}}};
    return j.dump() + '\n';
}

std::string places(int n, int windows) {
    std::string text;
    for (int i = 0; i < n; ++i)
        text += place(i, windows);
    return text;
}

void run_batch(benchmark::State& state, const std::string& input,
               const std::vector<std::string>& dates, int threads) {
    std::vector<std::string> words{"keyhour", "batch",     "-",
                                   "--json",  "--threads", std::to_string(threads)};
    words.insert(words.end(), dates.begin(), dates.end());
    std::vector<const char*> argv;
    for (const std::string& word : words)
        argv.push_back(word.c_str());
    for (auto _ : state) {
        std::istringstream in{input};
        std::ostringstream out, err;
        const int code =
            keyhour::cli::run(static_cast<int>(argv.size()), argv.data(), in, out, err);
        if (code != 0) state.SkipWithError(err.str().c_str());
        benchmark::DoNotOptimize(out);
    }
}

const std::vector<std::string> one_date{"--date", "2026-03-10"};
const std::vector<std::string> one_year{"--from", "2026-01-01", "--to", "2026-12-31"};

// --- growth: one thing grows, one core ----------------------------------------------------------

void growth_places(benchmark::State& state) {
    run_batch(state, places(static_cast<int>(state.range(0)), 4), one_date, 1);
}
BENCHMARK(growth_places)
    ->RangeMultiplier(2)
    ->Range(250, 16'000)
    ->Unit(benchmark::kMillisecond)
    ->MeasureProcessCPUTime();

void growth_windows(benchmark::State& state) {
    run_batch(state, places(2, static_cast<int>(state.range(0))), one_year, 1);
}
BENCHMARK(growth_windows)
    ->DenseRange(2, 16, 2)
    ->Unit(benchmark::kMillisecond)
    ->MeasureProcessCPUTime();

void growth_years(benchmark::State& state) {
    const std::string last = std::to_string(2000 + state.range(0)) + "-12-31";
    run_batch(state, places(2, 4), {"--from", "2001-01-01", "--to", last}, 1);
}
BENCHMARK(growth_years)
    ->DenseRange(2, 16, 2)
    ->Unit(benchmark::kMillisecond)
    ->MeasureProcessCPUTime();

// --- targets
// --------------------------------------------------------------------------------------

void batch_location_years(benchmark::State& state) {
    run_batch(state, places(100, 4), one_year, static_cast<int>(state.range(0)));
    state.counters["location_years"] = 100;
}
BENCHMARK(batch_location_years)
    ->Arg(1)
    ->Arg(2)
    ->Unit(benchmark::kMillisecond)
    ->MeasureProcessCPUTime()
    ->UseRealTime();

void batch_places_one_date(benchmark::State& state) {
    run_batch(state, places(10'000, 4), one_date, static_cast<int>(state.range(0)));
}
BENCHMARK(batch_places_one_date)
    ->Arg(1)
    ->Arg(2)
    ->Unit(benchmark::kMillisecond)
    ->MeasureProcessCPUTime()
    ->UseRealTime();

}  // namespace
