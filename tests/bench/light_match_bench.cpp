// A shot matched over a year at the largest example, whole: rooms prepared, light computed, a lamp
// placed. To be below 200 ms as a process.

#include <benchmark/benchmark.h>

#include "bench_location.hpp"
#include "keyhour/ask/match.hpp"

namespace {

using namespace keyhour;
using bench::example;
using bench::new_year;
using namespace date::literals;

const ask::DateRange year{2026_y / 1 / 1, 2026_y / 12 / 31, true, false};

/// Where of a year's quarter hours a window lights most of the first mark.
ask::MatchRequest lit_shot() {
    ask::MatchRequest request;
    const auto track = study::SharedTrack::make(new_year(2026), new_year(2027));
    const study::RoomStudy study{example(), track};
    double most = 0;
    for (int i = 0; i < 364 * 96; ++i) {
        const Instant t = new_year(2026) + Seconds{900.0 * i};
        const study::Moment m = study.path().at(t);
        const auto window = study::lighting_window(study, 0, m);
        const double share = window ? study::sunlit_share(study, 0, *window, m) : 0;
        if (share <= most) continue;
        most = share;
        request.shot_at = t;
        request.window = window;
    }
    return request;
}

void BM_MatchOverAYear(benchmark::State& state) {
    const ask::MatchRequest request = lit_shot();
    std::size_t agreeing = 0;
    for (auto _ : state) {
        const auto found = ask::match(example(), year, {}, request);
        if (!found) {
            state.SkipWithError("no such shot");
            break;
        }
        agreeing = 0;
        for (const ask::MatchedDate& date : found->dates)
            agreeing += date.match.agrees() ? 1 : 0;
    }
    state.counters["agreeing"] = static_cast<double>(agreeing);
}
BENCHMARK(BM_MatchOverAYear)->Unit(benchmark::kMillisecond);

/// The search alone.
void BM_MatchingDates(benchmark::State& state) {
    const ask::MatchRequest request = lit_shot();
    const auto found = ask::match(example(), year, {}, request);
    const auto& stretch = found->dates_asked->seasons->stretches().front();
    for (auto _ : state)
        benchmark::DoNotOptimize(study::light_matches(stretch->study, stretch->season.first,
                                                      stretch->season.last, found->shot.light, {}));
}
BENCHMARK(BM_MatchingDates)->Unit(benchmark::kMillisecond);

}  // namespace
