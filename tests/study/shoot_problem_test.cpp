#include <algorithm>
#include <catch2/catch.hpp>

#include "keyhour/ask/plan.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/plan_judge.hpp"
#include "read/shoot_file.hpp"

namespace {

using namespace keyhour;
using study::LightWanted;

const std::string shoot_path = KEYHOUR_LOCATIONS "/bindery-and-wharf/shoot.toml";

study::Shoot example_shoot() {
    auto shoot = read::read_shoot(shoot_path);
    if (!shoot) FAIL(read::text(shoot.error()));
    return *std::move(shoot);
}

/// One scene at the wharf on one day, in such light.
study::Shoot one_scene(LightWanted light, const std::string& day) {
    study::Shoot shoot = example_shoot();
    shoot.days = {*site::read_date(day)};
    study::ShootScene scene;
    scene.name = "alone";
    scene.place = 1;
    scene.light = light;
    scene.length = std::chrono::minutes{10};
    shoot.scenes = {scene};
    return shoot;
}

std::string clock(const study::Shoot& shoot, Instant t) {
    return site::whole_minutes(t, shoot.zone());
}

}  // namespace

TEST_CASE("dusk and night lie between the almanac's events", "[shoot]") {
    // HM Nautical Almanac Office's tables for 53 N at 1.2 W give sunset 18:00 and the end of civil
    // twilight 18:33 on 10 March (from memory, to two minutes).
    const study::Shoot dusk = one_scene(LightWanted::dusk, "2026-03-10");
    const auto evening = study::light_of(dusk)->of(0, 0);
    REQUIRE(evening.size() == 1);
    const auto off = [&](Instant t, std::chrono::minutes time) {
        return std::abs((t - dusk.zone().start_of(dusk.days[0])).count() / 60 -
                        static_cast<double>(time.count()));
    };
    CHECK(off(evening[0].stated.from, std::chrono::minutes{18 * 60}) < 2);
    CHECK(off(evening[0].stated.to, std::chrono::minutes{18 * 60 + 33}) < 2);
    const study::Shoot night = one_scene(LightWanted::night, "2026-03-10");
    const auto dark = study::light_of(night)->of(0, 0);
    REQUIRE(dark.size() == 2);  // before the morning's twilight, and after the evening's
    CHECK(clock(night, dark[0].stated.from) == "00:00");
    CHECK(dark[0].stated.to < dark[1].stated.from);
    CHECK(dark[1].stated.from > evening[0].stated.to);
    const study::Shoot day = one_scene(LightWanted::daylight, "2026-03-10");
    const auto light = study::light_of(day)->of(0, 0);
    REQUIRE(light.size() == 1);
    CHECK(light[0].stated.to == evening[0].stated.from);
}

TEST_CASE("a day that the clocks shorten has an hour less", "[shoot]") {
    for (const auto& [date, minutes] :
         {std::pair{"2026-03-28", 1440}, {"2026-03-29", 1380}, {"2026-10-25", 1500}}) {
        study::Shoot shoot = one_scene(LightWanted::any, date);
        shoot.rules.hours = {std::chrono::hours{0}, std::chrono::hours{24}};
        const auto light = study::light_of(shoot);
        const study::PlanDay day = study::problem_of(shoot, *light).problem.days[0];
        CAPTURE(date);
        CHECK(day.hours.to - day.hours.from == minutes);
    }
}

TEST_CASE("the rest between days is counted in real minutes, over a change of clocks too",
          "[shoot]") {
    // 20:00 to 07:00 is eleven hours by the clock, ten on the night of 2026-03-29.
    study::Shoot shoot = one_scene(LightWanted::any, "2026-03-28");
    shoot.days.push_back(*site::read_date("2026-03-29"));
    shoot.rules.hours = {std::chrono::hours{7}, std::chrono::hours{20}};
    shoot.scenes.push_back(shoot.scenes[0]);
    shoot.scenes[0].length = shoot.scenes[1].length = std::chrono::minutes{13 * 60};
    shoot.scenes[1].name = "second";
    shoot.rules.break_after = std::chrono::minutes{1440};
    CHECK_FALSE(ask::plan(shoot, {})->exists);
    shoot.rules.rest = std::chrono::minutes{600};
    CHECK(ask::plan(shoot, {})->exists);
    shoot.rules.rest = std::chrono::minutes{601};
    const auto answer = ask::plan(shoot, {});
    REQUIRE(answer->conflict);
    const auto& enough = answer->conflict->enough;
    CHECK(std::any_of(enough.begin(), enough.end(), [](const study::Giving& g) {
        return g.rule.kind == study::PlanRule::Kind::rest && g.minutes == 1;
    }));
}

TEST_CASE("a late day breaks first where a gap is too short to take it up", "[shoot]") {
    study::PlanProblem p;
    p.days = {{{480, 1200}, {0, 1440}}};
    p.moves = {{0, 20}, {20, 0}};
    p.limits = {660, 360, 30, 780, 60};
    for (const int place : {0, 1, 1})
        p.scenes.push_back({place, 10, 60, 0, true, false, {{0, 1440}}, {{0, 1440}}, {}});
    // 25 minutes of waiting before the second, which may be 15 late; a break of 40 before the
    // third.
    const study::Plan plan{
        {{0, 0, 480, 490, 550, 900}, {1, 0, 595, 605, 665, 620}, {2, 0, 705, 715, 775, 730}}, {}};
    CHECK_FALSE(study::first_to_break(p, plan, 0, 0));
    CHECK_FALSE(study::first_to_break(p, plan, 0, 40));
    CHECK(study::first_to_break(p, plan, 0, 41) == 1U);
    p.scenes[1].length = 60;
    study::Plan tight = plan;
    tight.items[2].latest = 716;
    CHECK_FALSE(study::first_to_break(p, tight, 0, 36));
    CHECK(study::first_to_break(p, tight, 0, 37) == 2U);  // the break keeps its 30 minutes
    // A gap of the break's length is the break; one a minute shorter is waiting, and gives way.
    study::Plan exact = plan;
    exact.items[2] = {2, 0, 695, 705, 765, 705};
    CHECK(study::first_to_break(p, exact, 0, 26) == 2U);
    exact.items[2] = {2, 0, 694, 704, 764, 704};
    CHECK_FALSE(study::first_to_break(p, exact, 0, 26));
}

TEST_CASE("every plan of the example and its variants goes past the judge", "[shoot]") {
    const study::Shoot shoot = example_shoot();
    const auto answer = ask::plan(shoot, {});
    REQUIRE(answer);
    CHECK(answer->exists);
    REQUIRE(answer->overcast.size() == 2);
    CHECK(answer->overcast[0]->exists);
    CHECK(answer->swapped->exists);
    for (const ask::PlannedDay& day : answer->days)
        for (const ask::PlannedScene& s : day.scenes) {
            CAPTURE(shoot.scenes[s.scene].name);
            CHECK(s.is_sure);
            CHECK(s.slack() >= Seconds{0});
        }
}

TEST_CASE("on an overcast day nothing stands in the sun", "[shoot]") {
    const study::Shoot shoot = example_shoot();
    const auto answer = ask::plan(shoot, {});
    for (std::size_t d = 0; d < 2; ++d)
        for (const ask::PlannedDay& day : answer->overcast[d]->days)
            for (const ask::PlannedScene& s : day.scenes)
                CHECK((day.day != d || !study::needs_sun(shoot.scenes[s.scene].light)));
}

TEST_CASE("a scene that is held to one day has no light and nobody on the other", "[shoot]") {
    study::Shoot shoot = one_scene(LightWanted::daylight, "2026-03-10");
    shoot.days.push_back(*site::read_date("2026-03-11"));
    const auto light = study::light_of(shoot);
    REQUIRE(light);
    CHECK(study::problem_of(shoot, *light).problem.scenes[0].light.size() == 2);
    for (const std::size_t day : {std::size_t{0}, std::size_t{1}}) {
        study::ShootCase held;
        held.only_day = {day};
        const study::PlanProblem problem = study::problem_of(shoot, *light, held).problem;
        const study::PlanScene& scene = problem.scenes[0];
        REQUIRE(scene.light.size() == 1);
        REQUIRE(scene.presence.size() == 1);
        for (const study::MinuteSpan& span : {scene.light[0], scene.presence[0]}) {
            CHECK(span.from >= problem.days[day].whole.from);
            CHECK(span.to <= problem.days[day].whole.to);
        }
    }
}
