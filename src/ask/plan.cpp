#include "keyhour/ask/plan.hpp"

#include <algorithm>
#include <cmath>

#include "keyhour/study/plan_judge.hpp"

namespace keyhour::ask {
namespace {

using study::Plan;
using study::PlanFound;
using study::PlanItem;
using study::Shoot;
using study::ShootProblem;

Instant minute_before(Instant t) {
    return Instant::from_unix_s(60 * std::floor(t.unix_s() / 60 + 1e-6));
}

/// Turns the search's minutes into a timetable.
class Planner {
public:
    Planner(const Shoot& shoot, const PlanRequest& request, study::ShootLight light)
        : shoot_{shoot}, request_{request}, light_{std::move(light)} {}

    PlanAnswer answer() {
        PlanAnswer out;
        out.asked = study::problem_of(shoot_, light_, usual());
        const PlanFound found =
            study::best_plan(out.asked.problem, request_.under_way ? in_haste() : request_.effort);
        out.is_proven = found.is_proven;
        if (found.plan && holds(out.asked, *found.plan)) {
            out.exists = true;
            out.days = days_of(out.asked, *found.plan);
            out.dropped = dropped_of(out.asked, *found.plan);
            if (request_.variants) add_variants(*found.plan, out);
        } else if (!found.plan) {
            out.conflict = study::conflict_of(out.asked.problem, found.is_proven, request_.effort);
            out.is_proven = out.conflict.has_value();
        }
        out.light = std::move(light_);
        return out;
    }

private:
    study::ShootCase usual() const {
        study::ShootCase out;
        out.under_way = request_.under_way;
        return out;
    }

    /// In the field, and for what is only a comparison, an answer at once is worth more than the
    /// last of the search.
    study::PlanEffort in_haste() const {
        study::PlanEffort out = request_.effort;
        out.nodes /= 3;
        out.polish /= 3;
        return out;
    }

    /// What the search gives out is believed only when the judge has looked through it.
    static bool holds(const ShootProblem& asked, const Plan& plan) {
        return study::broken_rules(asked.problem, plan).empty();
    }

    static std::vector<std::size_t> dropped_of(const ShootProblem& asked, const Plan& plan) {
        std::vector<std::size_t> out = plan.dropped;
        std::erase_if(out, [&](std::size_t s) { return asked.done[s]; });
        return out;
    }

    void add_variants(const Plan& plan, PlanAnswer& out) {
        for (std::size_t d = 0; d < shoot_.days.size(); ++d) {
            out.overcast.emplace_back();
            const bool has_sun = std::ranges::any_of(plan.items, [&](const PlanItem& item) {
                return item.day + out.asked.first_day == d &&
                       study::needs_sun(shoot_.scenes[item.scene].light);
            });
            study::ShootCase cloud = usual();
            cloud.overcast = d;
            if (has_sun) out.overcast.back() = variant(cloud);
        }
        if (shoot_.days.size() != 2 || request_.under_way || out.days.size() != 2) return;
        study::ShootCase swapped;
        swapped.only_day.assign(shoot_.scenes.size(), 0);
        for (const PlanItem& item : plan.items)
            swapped.only_day[item.scene] = 1 - item.day;
        out.swapped = variant(swapped);
    }

    PlanVariant variant(const study::ShootCase& otherwise) {
        const ShootProblem asked = study::problem_of(shoot_, light_, otherwise);
        const PlanFound found = study::best_plan(asked.problem, in_haste());
        PlanVariant out;
        out.is_proven = found.is_proven;
        if (!found.plan || !holds(asked, *found.plan)) return out;
        out.exists = true;
        out.days = days_of(asked, *found.plan);
        out.dropped = dropped_of(asked, *found.plan);
        return out;
    }

    std::vector<PlannedDay> days_of(const ShootProblem& asked, const Plan& plan) {
        std::vector<PlannedDay> out;
        for (std::size_t i = 0; i < plan.items.size(); ++i) {
            const PlanItem& item = plan.items[i];
            const bool begins = i == 0 || plan.items[i - 1].day != item.day;
            if (begins) {
                out.emplace_back();
                out.back().day = item.day + asked.first_day;
                add_lateness(asked, plan, item.day, out.back());
            }
            const int way = way_before(asked, plan, i);
            std::optional<int> free;  // from when nothing is done
            if (!begins)
                free = plan.items[i - 1].to;
            else if (item.day == 0 && asked.problem.under_way)
                free = asked.problem.days[0].hours.from;
            if (free && item.set_up_from - way - *free >= asked.problem.limits.break_length)
                out.back().breaks.push_back(
                    {asked.at(*free), asked.at(item.set_up_from - way), false, false});
            out.back().scenes.push_back(planned(asked, item, way, out.back().day));
        }
        return out;
    }

    static int way_before(const ShootProblem& asked, const Plan& plan, std::size_t i) {
        const PlanItem& item = plan.items[i];
        std::optional<int> from;
        if (i > 0 && plan.items[i - 1].day == item.day)
            from = asked.problem.scenes[plan.items[i - 1].scene].place;
        else if (i == 0 && item.day == 0 && asked.problem.under_way)
            from = asked.problem.under_way->place;
        if (!from) return 0;
        return asked.problem.moves[static_cast<std::size_t>(*from)][static_cast<std::size_t>(
            asked.problem.scenes[item.scene].place)];
    }

    PlannedScene planned(const ShootProblem& asked, const PlanItem& item, int way,
                         std::size_t day) {
        const study::ShootScene& scene = shoot_.scenes[item.scene];
        PlannedScene out;
        out.scene = item.scene;
        out.set_up_from = asked.at(item.set_up_from);
        out.from = asked.at(item.from);
        out.to = asked.at(item.to);
        out.latest = asked.at(item.latest);
        out.move = Seconds{60.0 * way};
        const Seconds needed = out.to + Seconds{scene.over_run} - out.from;
        for (const study::SceneLight& light : light_.of(item.scene, day)) {
            if (light.stated.from > out.from || light.stated.to < out.from + needed) continue;
            out.is_sure = out.is_sure || (light.sure && light.sure->from <= out.from &&
                                          out.from + needed <= light.sure->to);
            const Instant last = minute_before(light.stated.to - needed);
            if (last > out.latest && (!out.latest_stated || last > *out.latest_stated))
                out.latest_stated = last;
        }
        if (scene.light == study::LightWanted::lamp_key) out.cloth = cloth_of(scene, out, day);
        return out;
    }

    /// As `lock` has it for the shooting and its over-run.
    std::vector<study::ClothToHang> cloth_of(const study::ShootScene& scene,
                                             const PlannedScene& planned, std::size_t day) {
        const study::ShootPlace& place = shoot_.places[scene.place];
        const study::SeasonalStudy seasons{place.location, light_.track, shoot_.days[day],
                                           shoot_.days[day]};
        const Instant to = planned.to + Seconds{scene.over_run};
        const study::LockAnswer lock =
            study::leaks_of_lock(seasons.on(shoot_.days[day]), planned.from, to, scene.window);
        std::vector<study::ClothToHang> out;
        for (const study::CoverToHang& cover : lock.covers)
            out.push_back({cover.window, study::cloth_of(cover, place.rigging.overlap_m),
                           cover.sure_by, cover.needed_by.has_value()});
        return out;
    }

    void add_lateness(const ShootProblem& asked, const Plan& plan, std::size_t day,
                      PlannedDay& out) const {
        constexpr int longest = 240;
        if (const auto late = study::first_to_break(asked.problem, plan, day, request_.late_min))
            out.breaks_late = plan.items[*late].scene;
        int holds = 0, breaks = longest + 1;
        while (breaks - holds > 1) {
            const int middle = (holds + breaks) / 2;
            (study::first_to_break(asked.problem, plan, day, middle) ? breaks : holds) = middle;
        }
        if (breaks > longest) return;
        const auto first = study::first_to_break(asked.problem, plan, day, breaks);
        out.first = FirstToBreak{plan.items[*first].scene, breaks};
    }

    const Shoot& shoot_;
    const PlanRequest& request_;
    study::ShootLight light_;
};

}  // namespace

std::optional<PlanAnswer> plan(const Shoot& shoot, const PlanRequest& request) {
    const auto& rest = request.under_way;
    auto light = rest ? study::light_of(shoot, rest->day, rest->done) : study::light_of(shoot);
    if (!light) return std::nullopt;
    return Planner{shoot, request, *std::move(light)}.answer();
}

}  // namespace keyhour::ask
