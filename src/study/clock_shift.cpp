#include "keyhour/study/clock_shift.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "joint_fit.hpp"
#include "observation_model.hpp"

namespace keyhour::study {
namespace {

using TrialKind = ClockTrial::Kind;

constexpr double one_hour_s = 3600, one_day_s = 86400, half_year_s = 182 * one_day_s;
/// Differences smaller than this are a clock's own doubt, no slip of a hand.
constexpr double least_slip_s = 600;
/// By so much an error of the clock must explain the observations better than a clock that is
/// right. Small, because all that follows from it is a question.
constexpr double clearly_better = 1;
/// A trial that itself fits no better than one in a thousand explains nothing.
constexpr double least_chance = 1e-3;
/// An error of no common size is looked for up to three hours, ten minutes apart.
constexpr double farthest_found_s = 3 * one_hour_s, found_step_s = 600;

/// Minus twice the logarithm of how often it happens. Common practice, no source: a clock an hour
/// off or in another zone's time on one recce of three that a clock spoils, the rest rarer.
double price_of(TrialKind kind) {
    switch (kind) {
        case TrialKind::right:
            return 0;
        case TrialKind::other_offset:
            return 0.5;
        case TrialKind::hour:
        case TrialKind::utc_for_local:
        case TrialKind::local_for_utc:
            return 1;
        case TrialKind::half_hour:
        case TrialKind::half_day:
            return 2;
        case TrialKind::found:
            break;
    }
    return 7;
}

struct Shift {
    TrialKind kind;
    double fast_s;
};

/// The errors that people make with a clock in this zone, each size once, the likelier kind of it.
std::vector<Shift> usual_shifts(const site::Zone& zone, Instant at, double clock_within_s) {
    const double offset = static_cast<double>(zone.at(at).utc_offset.count());
    std::vector<Shift> all;
    for (const double away : {-half_year_s, half_year_s})
        all.push_back(
            {TrialKind::other_offset,
             static_cast<double>(zone.at(at + Seconds{away}).utc_offset.count()) - offset});
    for (const double sense : {1.0, -1.0}) {
        all.push_back({TrialKind::hour, sense * one_hour_s});
        all.push_back({TrialKind::half_hour, sense * one_hour_s / 2});
        all.push_back({TrialKind::half_day, sense * one_day_s / 2});
    }
    // A clock on UTC read as local time shows `offset` too little; local time taken for UTC too
    // much.
    all.push_back({TrialKind::utc_for_local, -offset});
    all.push_back({TrialKind::local_for_utc, offset});
    std::vector<Shift> out;
    for (const Shift& s : all) {
        if (std::abs(s.fast_s) < std::max(least_slip_s, clock_within_s)) continue;
        if (std::ranges::count(out, s.fast_s, &Shift::fast_s) == 0) out.push_back(s);
    }
    return out;
}

class Trials {
public:
    Trials(const ObservationModel& model, const std::vector<Observation>& observations)
        : model_{model}, observations_{observations} {
        for (std::size_t i = 0; i < observations.size(); ++i)
            if (!time_of(observations[i])) add(observations[i], i, untimed_);
    }

    /// None where the sun can't have been seen.
    [[nodiscard]] std::optional<ClockTrial> at(Shift shift) const {
        std::vector<JointElement> elements = untimed_;
        const auto moved = with_clock_fast(observations_, shift.fast_s);
        for (std::size_t i = 0; i < moved.size(); ++i) {
            if (!time_of(moved[i])) continue;
            if (model_.fault(moved[i])) return std::nullopt;
            add(moved[i], i, elements);
        }
        const JointFit fit = joint_fit(elements);
        ClockTrial trial;
        trial.kind = shift.kind;
        trial.fast_s = shift.fast_s;
        trial.cost = fit.cost + price_of(shift.kind);
        trial.plan_deg = fit.value_deg;
        trial.sigma_deg = fit.sigma_deg;
        trial.chance = chi_square_chance(fit.chi_square, fit.freedom);
        trial.set_aside = fit.set_aside;
        return trial;
    }

private:
    void add(const Observation& o, std::size_t i, std::vector<JointElement>& elements) const {
        const std::string owner = owner_of(i);
        Sighting s = model_.sighting(o, owner);
        elements.push_back({i, false, std::move(s.readings_deg), std::move(s.contributions)});
        if (auto h = model_.height(o, owner))
            elements.push_back({i, true, std::move(h->readings_deg), std::move(h->contributions)});
    }

    const ObservationModel& model_;
    const std::vector<Observation>& observations_;
    std::vector<JointElement> untimed_;
};

/// The best of no common size.
std::optional<ClockTrial> found_shift(const Trials& trials, double clock_within_s) {
    std::optional<ClockTrial> best;
    const auto consider = [&](double fast_s) {
        if (std::abs(fast_s) < std::max(least_slip_s, clock_within_s)) return;
        auto trial = trials.at({TrialKind::found, fast_s});
        if (trial && (!best || trial->cost < best->cost)) best = std::move(trial);
    };
    for (double s = -farthest_found_s; s <= farthest_found_s; s += found_step_s)
        consider(s);
    if (!best) return best;
    const double middle = best->fast_s;
    for (double s = middle - found_step_s; s <= middle + found_step_s; s += 60)
        consider(s);
    return best;
}

bool explains(const ClockTrial& trial, double cost_if_right) {
    return trial.cost < cost_if_right - clearly_better && trial.chance >= least_chance;
}

}  // namespace

std::vector<Observation> with_clock_fast(std::vector<Observation> observations, double fast_s) {
    for (Observation& o : observations)
        std::visit(
            [&](auto& what) {
                if constexpr (requires { what.time; })
                    what.time.at = what.time.at - Seconds{fast_s};
            },
            o.what);
    return observations;
}

ClockVerdict try_clock(const site::Location& location, const SunPath& path,
                       const std::vector<Observation>& observations, double clock_within_s) {
    ClockVerdict verdict;
    const auto first = std::ranges::find_if(
        observations, [](const Observation& o) { return time_of(o).has_value(); });
    if (first == observations.end()) return verdict;
    const ObservationModel model{*location.room, path, clock_within_s};
    if (std::ranges::any_of(observations, [&](const Observation& o) {
            return !time_of(o) && model.fault(o).has_value();
        }))
        return verdict;
    const Trials trials{model, observations};
    const auto right = trials.at({TrialKind::right, 0});
    for (const Shift& shift : usual_shifts(location.site.zone, time_of(*first)->at, clock_within_s))
        if (auto trial = trials.at(shift)) verdict.trials.push_back(*std::move(trial));
    std::ranges::stable_sort(verdict.trials, {}, &ClockTrial::cost);
    // With no cost to speak of nothing can explain them better; without a sun that was up,
    // anything.
    const double cost = right ? right->cost : price_of(TrialKind::found) + 2 * price_of_one;
    if (!verdict.trials.empty() && explains(verdict.trials.front(), cost))
        verdict.suspected = verdict.trials.front();
    else if (right && cost > price_of(TrialKind::found) + clearly_better)
        if (auto found = found_shift(trials, clock_within_s); found && explains(*found, cost)) {
            verdict.suspected = found;
            verdict.trials.insert(verdict.trials.begin(), *std::move(found));
        }
    if (right) verdict.trials.push_back(*right);
    std::ranges::stable_sort(verdict.trials, {}, &ClockTrial::cost);
    return verdict;
}

std::string clock_in_words(double fast_s) {
    const long minutes = std::lround(std::abs(fast_s) / 60);
    if (minutes == 0) return "right";
    std::string text;
    if (minutes >= 60) text = fmt::format("{} h", minutes / 60);
    if (minutes % 60 != 0) text += fmt::format("{}{} min", text.empty() ? "" : " ", minutes % 60);
    return text + (fast_s > 0 ? " fast" : " slow");
}

}  // namespace keyhour::study
