// The example shoot as a problem in whole minutes, in many cases, whole; its light made by hand.

#include <catch2/catch.hpp>

#include "keyhour/study/shoot.hpp"
#include "keyhour/study/shoot_problem.hpp"
#include "read/shoot_file.hpp"
#include "recorded.hpp"
#include "support/dice.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

Shoot taken_apart() {
    auto shoot = read::read_shoot(KEYHOUR_LOCATIONS "/bindery-and-wharf/shoot.toml");
    REQUIRE(shoot);
    return *std::move(shoot);
}

/// Stretches at random on each day, sure or in part, that begin and end beside whole minutes.
ShootLight thrown_light(test::Dice& dice, const Shoot& shoot) {
    ShootLight light;
    for (std::size_t i = 0; i < shoot.scenes.size(); ++i) {
        light.scenes.emplace_back();
        for (const site::LocalDate day : shoot.days) {
            SceneDay of_day;
            Instant t = shoot.zone().start_of(day) + Seconds{3600.0 * dice.whole(6, 10)};
            for (int k = dice.whole(0, 2); k > 0; --k) {
                const Instant to = t + Seconds{60.0 * dice.whole(0, 300) + dice.whole(-1, 1)};
                SceneLight one{{t, to}, std::nullopt};
                if (dice.chance(0.6)) one.sure = Span{t + Seconds{59}, to - Seconds{31}};
                of_day.push_back(one);
                t = to + Seconds{dice.between(100, 4000)};
            }
            light.scenes.back().push_back(of_day);
        }
    }
    return light;
}

void add_problem(Record& record, const std::string& label, const ShootProblem& p) {
    record.add(label, std::pair{p.origin, std::pair{p.first_day, p.cover_pairs_from}});
    record.add("done", p.done);
    record.add("days", p.problem.days);
    record.add("under-way", p.problem.under_way);
    record.add("scenes", p.problem.scenes);
    record.add("at", p.at(75));
}

}  // namespace

TEST_CASE("a shoot in its cases is the problem that was recorded", "[recorded][shoot]") {
    Record record{"shoot_cases"};
    test::Dice dice{20269};
    Shoot shoot = taken_apart();
    const ShootLight light = thrown_light(dice, shoot);
    const ShootProblem plain = problem_of(shoot, light);
    add_problem(record, "plain", plain);
    record.add("moves", plain.problem.moves);
    record.add("limits", plain.problem.limits);
    record.add("order", std::pair{plain.problem.order, plain.problem.same_day});
    for (std::size_t d = 0; d < 2; ++d) {
        ShootCase overcast;
        overcast.overcast = d;
        const ShootProblem p = problem_of(shoot, light, overcast);
        add_problem(record, "overcast", p);
        record.add("order", p.problem.order);
    }
    ShootCase held;
    for (std::size_t i = 0; i < shoot.scenes.size(); ++i)
        held.only_day.push_back(i % 2);
    add_problem(record, "held", problem_of(shoot, light, held));
    record.check();
}

TEST_CASE("a shoot under way is the problem that was recorded", "[recorded][shoot]") {
    Record record{"shoot_under_way"};
    test::Dice dice{20270};
    const Shoot shoot = taken_apart();
    const ShootLight light = thrown_light(dice, shoot);
    for (const std::size_t day : {std::size_t{0}, std::size_t{1}})
        for (const double hour : {0.0, 7.0, 11.51, 20.0, 22.3, 24.0}) {
            ShootCase now;
            const Instant midnight = shoot.zone().start_of(shoot.days[day]);
            ShootUnderWay at;
            at.day = day;
            at.free_from = midnight + Seconds{3600 * hour};
            at.work_since =
                midnight + Seconds{3600 * hour - 5401 + 3601 * static_cast<double>(day)};
            at.place = day;
            at.done = {0, 3};
            if (day == 1) at.done = {};
            now.under_way = at;
            if (hour == 20.0) now.overcast = 1;
            add_problem(record, fmt::format("day-{}-hour-{}", day, hour),
                        problem_of(shoot, light, now));
        }
    record.check();
}

TEST_CASE("people, crews and set-ups make the problem that was recorded", "[recorded][shoot]") {
    Record record{"shoot_people"};
    test::Dice dice{20271};
    Shoot shoot = taken_apart();
    shoot.days = {site::LocalDate{date::year{2026} / 3 / 28},
                  site::LocalDate{date::year{2026} / 3 / 29},
                  site::LocalDate{date::year{2026} / 10 / 25}};
    const ShootLight light = thrown_light(dice, shoot);
    ShootPerson second{"rower", std::nullopt, {1}}, third{"driver", {}, {0, 2}},
        night{"guard", site::WorkingHours{std::chrono::hours{18}, std::chrono::hours{24}}, {}};
    third.hours = site::WorkingHours{std::chrono::minutes{601}, std::chrono::minutes{1050}};
    shoot.people.push_back(second);
    shoot.people.push_back(third);
    shoot.people.push_back(night);
    shoot.scenes[1].people = {1};
    shoot.scenes[2].people = {0, 2};
    shoot.scenes[3].people = {};
    shoot.scenes[4].people = {1, 2};
    shoot.scenes[5].people = {0, 3};
    shoot.scenes[6].people = {3};
    shoot.scenes[7].people = {2, 1, 0};
    // One set-up by a chain of names, one of two that name a third.
    shoot.scenes[2].same_set_up = 1;
    shoot.scenes[5].same_set_up = 9;
    shoot.scenes[6].same_set_up = 9;
    shoot.scenes[8].same_day = {2, 6};
    shoot.scenes[1].same_day = {0};
    shoot.scenes[0].same_day = {3};
    shoot.scenes[0].after = {9, 5};
    shoot.scenes[7].is_cover = true;
    for (const int crew : {0, 1, 2, 5}) {
        shoot.crew = crew;
        const ShootProblem p = problem_of(shoot, light);
        add_problem(record, fmt::format("crew-{}", crew), p);
        record.add("pairs", std::pair{p.problem.order, p.problem.same_day});
    }
    record.check();
}

TEST_CASE("what covers what, in any light, is what was recorded", "[recorded][shoot]") {
    Record record{"shoot_covers"};
    test::Dice dice{20272};
    Shoot shoot = taken_apart();
    const ShootLight light = thrown_light(dice, shoot);
    for (std::size_t turn = 0; turn < 11; ++turn) {
        for (std::size_t i = 0; i < shoot.scenes.size(); ++i) {
            shoot.scenes[i].light = static_cast<LightWanted>((2 * i + turn) % 11);
            shoot.scenes[i].is_cover = (i * i + turn) % 4 == 0;
        }
        const ShootProblem p = problem_of(shoot, light);
        record.add("order", std::pair{p.cover_pairs_from, p.problem.order});
        ShootCase overcast;
        overcast.overcast = turn % 2;
        const ShootProblem o = problem_of(shoot, light, overcast);
        record.add("overcast", std::pair{o.cover_pairs_from, o.problem.order});
        std::vector<std::pair<bool, std::size_t>> dropped;
        for (const PlanScene& s : o.problem.scenes)
            dropped.emplace_back(s.may_be_dropped, s.light.size());
        record.add("dropped", dropped);
    }
    record.check();
}

TEST_CASE("moves between places are those recorded", "[recorded][shoot]") {
    Record record{"shoot_moves"};
    Shoot shoot = taken_apart();
    for (const double speed : {5.0, 30.0, 110.0})
        for (const int load : {0, 15}) {
            shoot.rules.speed_kmh = speed;
            shoot.rules.load = std::chrono::minutes{load};
            shoot.moves.clear();
            record.add("by-road", move_minutes(shoot, 0, 1));
            record.add("back", move_minutes(shoot, 1, 0));
            record.add("within", move_minutes(shoot, 1, 1));
            shoot.moves = {{1, 1, std::chrono::minutes{7}}, {1, 0, std::chrono::minutes{9}}};
            record.add("as-told", move_minutes(shoot, 0, 1));
        }
    record.check();
}
