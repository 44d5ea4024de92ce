// A shoot over each change of ten zones' clocks, against the zone database (zone_dump.hpp).

#include <catch2/catch.hpp>

#include "keyhour/ask/plan.hpp"
#include "keyhour/site/dates.hpp"
#include "published/zone_dump.hpp"
#include "read/shoot_file.hpp"
#include "words/clock.hpp"

using namespace keyhour;
using zone_dump::by_offset, zone_dump::Listed, zone_dump::ten_zones, zone_dump::zdump;

namespace {

/// Two scenes that any light serves, on the day before the change and on the day after it began.
study::Shoot over_the_change(study::Shoot shoot, site::LocalDate day) {
    shoot.days = {site::LocalDate{date::sys_days{day} - date::days{1}}, day,
                  site::LocalDate{date::sys_days{day} + date::days{1}}};
    shoot.rules.hours = {std::chrono::hours{0}, std::chrono::hours{24}};
    shoot.people.clear();
    shoot.moves.clear();
    study::ShootScene scene;
    scene.length = std::chrono::minutes{45};
    shoot.scenes.clear();
    for (const char* name : {"first", "second", "third"}) {
        scene.name = name;
        shoot.scenes.push_back(scene);
        scene.after = {shoot.scenes.size() - 1};
    }
    return shoot;
}

/// Minutes of a date by the list alone: from its midnight to the next, each by the offset then.
double minutes_of(site::LocalDate day, const Listed& change) {
    const auto midnight = [&](date::days more) {
        const double local =
            static_cast<double>((date::sys_days{day} + more).time_since_epoch().count()) * 86400;
        const double before = local - change.before_s, after = local - change.after_s;
        const double at = change.at.unix_s();
        if (before < at) return before;   // the clock shows it before the change
        return after >= at ? after : at;  // or after it; else it is left out
    };
    return (midnight(date::days{1}) - midnight(date::days{0})) / 60;
}

}  // namespace

TEST_CASE(
    "a plan's days and hours over every change of ten zones' clocks are those of the zone "
    "database",
    "[plan][published]") {
    auto example = read::read_shoot(KEYHOUR_LOCATIONS "/bindery-and-wharf/shoot.toml");
    REQUIRE(example);
    std::size_t changes = 0, other_lengths = 0, hours = 0;
    for (const char* name : ten_zones) {
        const auto listed = zdump(name);
        if (listed.empty()) {
            WARN("zdump is not here: " << name << " is not checked");
            continue;
        }
        const site::Zone zone = *site::Zone::named(name);
        for (study::ShootPlace& place : example->places)
            place.location.site.zone = zone;
        for (const Listed& change : listed) {
            ++changes;
            INFO(name << " " << site::iso_utc(change.at));
            const site::LocalDate day = site::local_date(change.at - Seconds{1}, zone);
            const study::Shoot shoot = over_the_change(*example, day);
            const study::ShootLight light = *study::light_of(shoot);
            const study::ShootProblem asked = study::problem_of(shoot, light);
            REQUIRE(asked.problem.days.size() == 3);
            for (std::size_t d = 0; d < 3; ++d) {
                const study::MinuteSpan of_day = asked.problem.days[d].whole;
                CHECK(of_day.to - of_day.from == minutes_of(shoot.days[d], change));
                if (of_day.to - of_day.from != 1440) ++other_lengths;
            }
            ask::PlanRequest request;
            request.variants = false;
            const auto plan = ask::plan(shoot, request);
            REQUIRE(plan);
            REQUIRE(plan->exists);
            for (const ask::PlannedDay& planned : plan->days)
                for (const ask::PlannedScene& scene : planned.scenes)
                    for (const Instant t : {scene.from, scene.to}) {
                        const int offset = t < change.at ? change.before_s : change.after_s;
                        CHECK(words::minute_down(t, zone) == by_offset(t, offset));
                        ++hours;
                    }
        }
    }
    CHECK((changes == 0 || changes > 100));
    CHECK((changes == 0 || other_lengths > 100));
    CHECK((changes == 0 || hours > 600));
}
