// The example shoot four times over: 40 scenes on 5 days at 6 places. To be planned within 2 s with
// all its variants, for the first time within 0.3 s, the rest of a day within 0.5 s; light and
// search together.

#include <benchmark/benchmark.h>
#include <date/date.h>
#include <fmt/format.h>

#include <cstdlib>
#include <iostream>

#include "keyhour/ask/plan.hpp"
#include "read/shoot_file.hpp"

namespace {

using namespace keyhour;

constexpr std::size_t times = 4, pairs = 3;

study::ShootScene copied(study::ShootScene scene, std::size_t copy, std::size_t scenes) {
    const std::size_t shift = copy * scenes;
    scene.name += fmt::format(" {}", copy + 1);
    scene.place += 2 * (copy % pairs);
    for (std::size_t& s : scene.after)
        s += shift;
    for (std::size_t& s : scene.same_day)
        s += shift;
    if (scene.same_set_up) *scene.same_set_up += shift;
    return scene;
}

study::Shoot forty_scenes() {
    auto read = read::read_shoot(KEYHOUR_LOCATIONS "/bindery-and-wharf/shoot.toml");
    if (!read) {
        std::cerr << read::text(read.error());
        std::exit(1);
    }
    study::Shoot shoot = *read;
    for (std::size_t pair = 1; pair < pairs; ++pair)
        for (study::ShootPlace place : {read->places[0], read->places[1]}) {
            place.name += fmt::format(" {}", pair + 1);
            place.location.site.observer.latitude =
                Angle::degrees(place.location.site.observer.latitude.in_degrees() +
                               0.03 * static_cast<double>(pair));
            shoot.places.push_back(place);
        }
    while (shoot.days.size() < 5)
        shoot.days.push_back(date::sys_days{shoot.days.back()} + date::days{1});
    for (std::size_t copy = 0; copy < times; ++copy)
        for (std::size_t s = 0; s < read->scenes.size(); ++s) {
            const auto scene = copied(read->scenes[s], copy, read->scenes.size());
            if (copy == 0)
                shoot.scenes[s] = scene;
            else
                shoot.scenes.push_back(scene);
        }
    return shoot;
}

/// A plan that keeps no scene would be quick.
void count(benchmark::State& state, const std::optional<ask::PlanAnswer>& answer,
           std::size_t least) {
    std::size_t scenes = 0;
    for (const ask::PlannedDay& day : answer->days)
        scenes += day.scenes.size();
    if (!answer->exists || scenes < least) state.SkipWithError("no plan of enough scenes");
    state.counters["scenes"] = static_cast<double>(scenes);
}

void BM_PlanFortyScenes(benchmark::State& state) {
    const study::Shoot shoot = forty_scenes();
    std::optional<ask::PlanAnswer> answer;
    for (auto _ : state)
        answer = ask::plan(shoot, {});
    count(state, answer, 30);
}
BENCHMARK(BM_PlanFortyScenes)->Unit(benchmark::kMillisecond);

void BM_FirstPlanOfFortyScenes(benchmark::State& state) {
    const study::Shoot shoot = forty_scenes();
    std::optional<ask::PlanAnswer> answer;
    for (auto _ : state) {
        const auto light = study::light_of(shoot);
        const auto asked = study::problem_of(shoot, *light);
        const auto found = study::any_plan(asked.problem);
        if (!found.plan) state.SkipWithError("no plan");
    }
}
BENCHMARK(BM_FirstPlanOfFortyScenes)->Unit(benchmark::kMillisecond);

/// From the beginning of a day on, all of the days before done.
void BM_RestOfAShoot(benchmark::State& state) {
    const study::Shoot shoot = forty_scenes();
    ask::PlanRequest rest;
    rest.variants = false;
    const auto whole = ask::plan(shoot, rest);
    const ask::PlannedDay& now = whole->days.at(static_cast<std::size_t>(state.range(0)));
    rest.under_way = study::ShootUnderWay{now.day, now.call(), now.call(), 0, {}};
    for (const ask::PlannedDay& day : whole->days)
        if (day.day < now.day)
            for (const ask::PlannedScene& scene : day.scenes)
                rest.under_way->done.push_back(scene.scene);
    std::optional<ask::PlanAnswer> answer;
    for (auto _ : state)
        answer = ask::plan(shoot, rest);
    count(state, answer, 3);
}
BENCHMARK(BM_RestOfAShoot)->Arg(1)->Arg(4)->Unit(benchmark::kMillisecond);

}  // namespace
