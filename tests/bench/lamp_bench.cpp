// A lamp outside a window of the example with four windows and two buildings.

#include <benchmark/benchmark.h>

#include <cstdlib>
#include <iostream>

#include "keyhour/study/lamp_report.hpp"
#include "read/location_file.hpp"

using namespace keyhour;

namespace {

// 2026-05-01T23:10Z, twelve past eleven of the hat works' morning of 2 May
constexpr Instant morning = Instant::from_unix_s(1777677000);

struct HatWorks {
    site::Location location;
    study::RoomStudy study;

    explicit HatWorks(site::Location l)
        : location{std::move(l)},
          study{location,
                study::SharedTrack::make(morning - Seconds{86400}, morning + Seconds{86400})} {}
    HatWorks(const HatWorks&) = delete;
    HatWorks& operator=(const HatWorks&) = delete;
};

/// @param stand_max_m  low: the sun's direction is out of reach, and the nearest is searched for
site::Location with_lamp(double stand_max_m) {
    auto read = read::read_location(KEYHOUR_LOCATIONS "/flax-road.toml");
    if (!read) {
        std::cerr << "flax-road.toml does not read as a location\n";
        std::exit(1);
    }
    site::Lamp lamp;
    lamp.name = "key";
    lamp.photometry = light::DataSheet{.reading = {12000, 5},
                                       .beam = Angle::degrees(24),
                                       .field = {},
                                       .second_reading = {},
                                       .face_diameter_m = 0.3};
    lamp.face_diameter_m = 0.3;
    lamp.stand_max_m = stand_max_m;
    read->lamps = {lamp};
    return *std::move(read);
}

void answer(benchmark::State& state, double stand_max_m) {
    const HatWorks hat_works{with_lamp(stand_max_m)};
    study::LampQuestion question;
    question.mark = 1;
    question.window = 1;
    question.like = morning;
    for (auto _ : state)
        benchmark::DoNotOptimize(study::report_lamp(hat_works.study, nullptr, question));
}

void BM_LampLikeTheSun(benchmark::State& state) {
    answer(state, 6);
}
BENCHMARK(BM_LampLikeTheSun)->Unit(benchmark::kMicrosecond);

void BM_LampNotFromThere(benchmark::State& state) {
    answer(state, 2);
}
BENCHMARK(BM_LampNotFromThere)->Unit(benchmark::kMillisecond);

void BM_LampCoverage(benchmark::State& state) {
    const HatWorks hat_works{with_lamp(3)};
    const room::Scene& scene = hat_works.study.scene();
    const room::Point3 out = scene.middle(1);
    for (auto _ : state)
        benchmark::DoNotOptimize(
            room::LampThrow{scene, 1, {out.x, out.y - 4, out.z + 0.8}}.coverage(1));
}
BENCHMARK(BM_LampCoverage)->Unit(benchmark::kMicrosecond);

}  // namespace
