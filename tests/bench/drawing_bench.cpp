// The light sheet: each drawing from answers at hand, and the page with all that it asks.

#include <benchmark/benchmark.h>

#include "bench_location.hpp"
#include "draw/plan_drawing.hpp"
#include "draw/section_drawing.hpp"
#include "draw/strip_drawing.hpp"
#include "draw/year_drawing.hpp"
#include "keyhour/study/seasonal_study.hpp"
#include "tell/sheet_page.hpp"

using namespace keyhour;
using namespace date::literals;

namespace {

constexpr site::LocalDate kDate{2026_y / 6 / 21};

/// A location with its answers of one date.
struct Day {
    explicit Day(const std::string& path) : location{bench::location_of(path)} {
        const site::Zone& zone = location.site.zone;
        shared = study::SharedTrack::make(zone.start_of(kDate) - Seconds{86400},
                                          zone.start_of(kDate) + Seconds{4 * 86400.0});
        seasons = std::make_unique<study::SeasonalStudy>(location, shared, kDate, kDate);
        hours = study::hours_of_patches(room(), kDate);
        strip = study::day_strip(location, &room(), shared, kDate);
    }
    [[nodiscard]] const study::RoomStudy& room() const { return seasons->on(kDate); }

    site::Location location;
    std::shared_ptr<const study::SharedTrack> shared;
    std::unique_ptr<study::SeasonalStudy> seasons;
    std::vector<Instant> hours;
    study::DayStrip strip;
};

/// 0: the largest of the examples; 1: a made room with 12 windows, 6 marks and 5 lamps.
const Day& day_of(const benchmark::State& state) {
    static const Day example{std::string{KEYHOUR_LOCATIONS} + "/" + KEYHOUR_BENCH_LOCATION};
    static const Day many{std::string{KEYHOUR_BENCH_FOLDER} + "/../draw/rooms/many.toml"};
    return state.range(0) == 0 ? example : many;
}

void plan_drawing(benchmark::State& state) {
    const Day& d = day_of(state);
    for (auto _ : state)
        benchmark::DoNotOptimize(
            draw::draw_plan(d.room().location(), &d.room(), {kDate, d.hours, d.strip.covers}));
}
BENCHMARK(plan_drawing)->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);

void section_drawing(benchmark::State& state) {
    const Day& d = day_of(state);
    const draw::SectionContent content{kDate, 0, 0, d.hours, draw::stands_of(d.location)};
    for (auto _ : state)
        benchmark::DoNotOptimize(draw::draw_section(d.room(), content));
}
BENCHMARK(section_drawing)->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);

void strip_drawing(benchmark::State& state) {
    const Day& d = day_of(state);
    for (auto _ : state)
        benchmark::DoNotOptimize(draw::draw_strip(d.room().location(), d.strip));
}
BENCHMARK(strip_drawing)->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);

/// The chart alone; the year's keys are measured with the studies.
void year_drawing(benchmark::State& state) {
    const Day& d = day_of(state);
    const auto track = study::track_of_year(d.location.site.zone, 2026_y);
    const study::SeasonalStudy year{d.location, track, 2026_y / 1 / 1, 2026_y / 12 / 31};
    const auto keys = study::key_year(year, 0, 2026_y);
    for (auto _ : state)
        benchmark::DoNotOptimize(draw::draw_year(d.location, keys));
}
BENCHMARK(year_drawing)->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);

/// From a location and its day's track to the page's bytes.
void sheet_page(benchmark::State& state) {
    const Day& d = day_of(state);
    const site::Rigging rigging;
    std::size_t bytes = 0;
    for (auto _ : state) {
        const auto day = study::sheet_day(d.location, &d.room(), d.shared, kDate);
        bytes = tell::sheet_page(
                    {d.location, d.room().location(), &d.room(), day, rigging, d.hours, {}, {}})
                    .size();
    }
    state.counters["bytes"] = static_cast<double>(bytes);
}
BENCHMARK(sheet_page)->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);

}  // namespace
