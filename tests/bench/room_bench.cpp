// The room's speed on the example with four windows: what one instant costs.

#include <benchmark/benchmark.h>

#include <cstdlib>
#include <iostream>
#include <vector>

#include "keyhour/room/scene.hpp"
#include "keyhour/sun/position.hpp"
#include "read/location_file.hpp"

using namespace keyhour;
using room::Point3;
using room::Scene;

namespace {

/// The hat works and its suns above the horizon, every five minutes of a midsummer's day.
struct Day {
    Scene scene;
    std::vector<Point3> suns;
};

Day midsummer_at_the_hat_works() {
    const auto location = read::read_location(KEYHOUR_LOCATIONS "/flax-road.toml");
    if (!location || !location->room) {
        std::cerr << "flax-road.toml does not read as a location with a room\n";
        std::exit(1);
    }
    Day day{Scene{*location->room}, {}};
    const room::PlanTurn turn{room::plan_bearing(*location->room)};
    const sun::Place place{location->site.observer, location->site.weather};
    const Instant start = Instant::from_unix_s(1797937200);  // 2026-12-22T11:00Z, local midnight
    for (int i = 0; i < 288; ++i) {
        const LevelVector v = place.direction(sun::geocentric_sun(start + Seconds{300.0 * i}));
        if (v.up > 0) day.suns.push_back(turn.to_plan(v));
    }
    return day;
}

const Day& day() {
    static const Day one = midsummer_at_the_hat_works();
    return one;
}

/// Runs `work(scene, sun)` for every sun of the day; time per item is time per instant.
template <class Work>
void for_each_instant(benchmark::State& state, const Work& work) {
    const Day& d = day();
    for (auto _ : state)
        for (const Point3 sun : d.suns)
            work(d.scene, sun);
    state.SetItemsProcessed(static_cast<std::int64_t>(state.iterations() * d.suns.size()));
}

void BM_PatchesOfFourWindows(benchmark::State& state) {
    for_each_instant(state, [](const Scene& scene, Point3 sun) {
        for (std::size_t w = 0; w < scene.room().windows.size(); ++w)
            benchmark::DoNotOptimize(scene.patches(w, sun));
    });
}
BENCHMARK(BM_PatchesOfFourWindows)->Unit(benchmark::kMicrosecond);

void BM_CoverageOfEveryMarkByFourWindows(benchmark::State& state) {
    for_each_instant(state, [](const Scene& scene, Point3 sun) {
        for (std::size_t w = 0; w < scene.room().windows.size(); ++w)
            for (std::size_t m = 0; m < scene.room().marks.size(); ++m)
                benchmark::DoNotOptimize(scene.coverage(m, w, sun));
    });
}
BENCHMARK(BM_CoverageOfEveryMarkByFourWindows)->Unit(benchmark::kMicrosecond);

void BM_OpenAreaOfFourWindows(benchmark::State& state) {
    for_each_instant(state, [](const Scene& scene, Point3 sun) {
        for (std::size_t w = 0; w < scene.room().windows.size(); ++w)
            benchmark::DoNotOptimize(scene.open_area(w, sun));
    });
}
BENCHMARK(BM_OpenAreaOfFourWindows)->Unit(benchmark::kMicrosecond);

void BM_PrepareScene(benchmark::State& state) {
    const room::Room r = day().scene.room();
    for (auto _ : state)
        benchmark::DoNotOptimize(Scene{r});
}
BENCHMARK(BM_PrepareScene)->Unit(benchmark::kMicrosecond);

/// Buildings in a row, each before the next: the cost must not grow with the ways to overlap.
void BM_OpenAreaBehindARowOfBuildings(benchmark::State& state) {
    room::Room r;
    r.floor = {{0, 0}, {6, 0}, {6, 4}, {0, 4}};
    r.walls = {"a", "b", "c", "d"};
    r.height_m = 3;
    room::Window w;
    w.left_m = 1;
    w.width_m = 3;
    w.sill_m = 0.5;
    w.height_m = 2;
    r.windows.push_back(w);
    for (int i = 0; i < state.range(0); ++i) {
        const double y = -10.0 - 2 * i, x = 3 + 0.01 * i;
        r.buildings.push_back({"block", {{x, y - 1}, {30, y - 1}, {30, y}, {x, y}}, 30});
    }
    const Scene scene{r};
    const Point3 sun{0, -0.8, 0.6};
    for (auto _ : state)
        benchmark::DoNotOptimize(scene.open_area(0, sun));
}
BENCHMARK(BM_OpenAreaBehindARowOfBuildings)->Arg(1)->Arg(4)->Arg(20)->Arg(100);

}  // namespace
