#include "keyhour/study/bearing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "observation_model.hpp"
#include "radians.hpp"

namespace keyhour::study {
namespace {

constexpr double normal_95 = 1.959964;  // two-sided 95 % of a standard normal variable
constexpr double fits_within = 2.5758;  // 99 %
constexpr double day_s = 86400;

/// Where a wall looks that stands so far clockwise from the plan's +y axis.
Azimuth facing(double plan_deg, double wall_from_y_deg) {
    return {Angle::degrees(turn_deg(plan_deg + wall_from_y_deg))};
}

struct AltitudeGap {
    SeenAltitude seen;
    double gap_deg, sigma_deg;
};

/// How far the sun that a corner shows stands above the sun at the time stated.
std::optional<AltitudeGap> altitude_gap(const ObservationModel& model, const Observation& o) {
    Inputs inputs{owner_of(0)};
    const auto seen = model.see(o, inputs).altitude;
    if (!seen) return std::nullopt;
    const Sighting gap = *model.height(o, owner_of(0));
    return AltitudeGap{*seen, gap.readings_deg.front(), gap.sigma_deg()};
}

/// The shift of the time, the smallest one up to two hours, at which the sun stands at an altitude.
std::optional<double> shift_to_altitude(const SunPath& path, Instant t, double altitude_deg) {
    constexpr double step_s = 60, most_s = 2 * 3600;
    const auto above = [&](double shift) {
        return path.at(t + Seconds{shift}).altitude_deg - altitude_deg;
    };
    std::optional<double> best;
    for (const double sense : {1.0, -1.0}) {
        for (double s = 0; s < most_s; s += step_s) {
            double low = sense * s, high = sense * (s + step_s);
            if ((above(low) > 0) == (above(high) > 0)) continue;
            const bool low_is_above = above(low) > 0;
            for (int i = 0; i < 40; ++i) {
                const double middle = (low + high) / 2;
                ((above(middle) > 0) == low_is_above ? low : high) = middle;
            }
            if (!best || std::abs(low) < std::abs(*best)) best = low;
            break;
        }
    }
    return best;
}

class Weighing {
public:
    Weighing(const ObservationModel& model, const BearingQuestion& question,
             const BearingAnswer& answer)
        : model_{model}, question_{question}, answer_{answer} {}

    /// One observation beside the answer.
    [[nodiscard]] ObservationResult result(std::size_t i) const {
        const Observation& o = question_.observations[i];
        const double from_y = model_.wall_from_y_deg(question_.wall);
        ObservationResult r;
        r.residual = answer_.fit.residuals[i];
        r.faces = facing(r.residual.reading_deg, from_y);
        for (const double reading : answer_.sightings[i].readings_deg)
            if (std::abs(half_turn_deg(reading - r.residual.reading_deg)) > 1e-6)
                r.or_faces = facing(reading, from_y);
        if (answer_.clock && time_of(o)) {
            const ClockTrial& trial = answer_.clock->trial;
            const auto moved = with_clock_fast({o}, trial.fast_s);
            r.if_clock =
                facing(nearest_reading(model_.sighting(moved.front(), owner_of(i)), trial.plan_deg),
                       from_y);
        }
        r.altitude = check(i);
        r.sun_behind_deg = sun_behind(i, answer_.plan);
        r.sun_behind_in_file_deg = sun_behind(i, room::plan_bearing(model_.room()));
        if (r.sun_behind_in_file_deg &&
            *r.sun_behind_in_file_deg <= model_.room().bearing.within.in_degrees())
            r.sun_behind_in_file_deg.reset();
        if (const auto time = time_of(o))
            r.behind_skyline = model_.path().at(time->at).above_skyline_deg < -0.3;
        return r;
    }

private:
    /// What a corner's height says, and what would mend it.
    [[nodiscard]] std::optional<AltitudeCheck> check(std::size_t i) const {
        const Observation& o = question_.observations[i];
        const auto gap = altitude_gap(model_, o);
        if (!gap) return std::nullopt;
        AltitudeCheck check;
        check.measured_deg = gap->seen.measured_deg;
        check.sun_deg = gap->seen.sun_deg;
        check.sigma_deg = gap->sigma_deg;
        check.edge_m = gap->seen.edge_m;
        check.edge_would_be_m =
            gap->seen.edge_m + gap->seen.run_m * (std::tan(gap->seen.sun_deg * degree) -
                                                  std::tan(gap->seen.measured_deg * degree));
        const bool height_fits = std::abs(gap->gap_deg) <= fits_within * gap->sigma_deg;
        const bool suspected =
            !answer_.fit.residuals[i].used || std::ranges::count(answer_.fit.suspects, i) > 0;
        if (height_fits) {
            if (suspected) check.culprit = Culprit::bearing_or_left;
            return check;
        }
        check.clock_off_s =
            shift_to_altitude(model_.path(), time_of(o)->at, gap->seen.measured_deg);
        const bool by_clock = check.clock_off_s && fits_others(i, *check.clock_off_s);
        const bool by_heights = fits_others(i, 0);
        check.culprit = by_clock && by_heights ? Culprit::clock_or_heights
                        : by_clock             ? Culprit::clock
                        : by_heights           ? Culprit::heights
                                               : Culprit::more_than_one;
        return check;
    }

    /// How far the sun was behind the wall of an observation at a bearing of the plan.
    [[nodiscard]] std::optional<double> sun_behind(std::size_t i, Azimuth plan) const {
        const Observation& o = question_.observations[i];
        const auto time = time_of(o);
        const auto wall = wall_of(o, model_.room());
        if (!time || !wall || std::holds_alternative<Graze>(o.what)) return std::nullopt;
        const double off =
            std::abs(half_turn_deg(model_.azimuth_deg(time->at) - plan.from_north.in_degrees() -
                                   model_.wall_from_y_deg(*wall)));
        if (off <= 90) return std::nullopt;
        return off - 90;
    }

    /// With its clock moved, does this observation agree with the others? True if there is none.
    [[nodiscard]] bool fits_others(std::size_t i, double clock_s) const {
        std::vector<std::size_t> others;
        for (std::size_t k = 0; k < answer_.sightings.size(); ++k)
            if (k != i && answer_.fit.residuals[k].used) others.push_back(k);
        if (others.empty()) return true;
        const PlainFit fit = plain_fit(answer_.sightings, others, answer_.fit.value_deg);
        Inputs inputs{owner_of(i)};
        inputs.move(clock_input, clock_s);
        const double reading =
            model_.see(question_.observations[i], inputs).plan_bearing_deg.front();
        const double sigma = std::hypot(fit.sigma_deg, answer_.sightings[i].sigma_deg());
        return std::abs(half_turn_deg(reading - fit.value_deg)) <= fits_within * sigma;
    }

    const ObservationModel& model_;
    const BearingQuestion& question_;
    const BearingAnswer& answer_;
};

std::string list_of_all(const BearingQuestion& question, const BearingAnswer& answer) {
    std::string text =
        "the observations contradict each other far beyond the doubts stated: no bearing can be "
        "told from them";
    for (std::size_t i = 0; i < question.observations.size(); ++i) {
        const ObservationResult& r = answer.results[i];
        text +=
            fmt::format("\n  {} alone: {:.1f}, give or take {:.1f}", question.observations[i].name,
                        r.faces.from_north.in_degrees(), normal_95 * r.residual.sigma_deg);
        if (r.or_faces) text += fmt::format(", or {:.1f}", r.or_faces->from_north.in_degrees());
        if (r.sun_behind_deg && !r.residual.used)
            text += fmt::format("; the sun was {:.0f} degrees behind that wall then",
                                *r.sun_behind_deg);
    }
    return text + (question.observations.size() == 2 ? "\na third one would tell which is wrong"
                                                     : "\ncheck times, walls and which way is out");
}

/// What a clock that makes all possible would be, beside what is impossible without.
std::string clock_hint(const ClockTrial& trial, const BearingQuestion& question) {
    const auto n = question.observations.size();
    return fmt::format(
        "{} if the clock was {}: compare it with another, then say so (clock = "
        "\"{}\", --clock \"{}\")",
        n == 1 ? "this could be" : "these agree", clock_in_words(trial.fast_s),
        clock_in_words(trial.fast_s), clock_in_words(trial.fast_s));
}

/// Makes the answer the range that holds the bearing whether the clock was right or not.
void doubt_the_clock(BearingAnswer& answer, const ClockTrial& trial, double wall_from_y_deg) {
    const double right_deg = answer.fit.value_deg, right_half = normal_95 * answer.fit.sigma_deg;
    const double half = normal_95 * trial.sigma_deg;
    const double apart = half_turn_deg(trial.plan_deg - right_deg);
    const double low = std::min(-right_half, apart - half);
    const double high = std::max(right_half, apart + half);
    answer.clock = ClockDoubt{trial, facing(trial.plan_deg, wall_from_y_deg), Angle::degrees(half),
                              facing(right_deg, wall_from_y_deg), Angle::degrees(right_half)};
    const double middle = turn_deg(right_deg + (low + high) / 2);
    answer.plan = {Angle::degrees(middle)};
    answer.faces = facing(middle, wall_from_y_deg);
    answer.within_95 = Angle::degrees((high - low) / 2);
    answer.sigma = (1 / normal_95) * answer.within_95;
}

}  // namespace

std::shared_ptr<const SharedTrack> track_over(const std::vector<Observation>& observations) {
    std::optional<Instant> first, last;
    for (const Observation& o : observations)
        if (const auto time = time_of(o)) {
            first = std::min(first.value_or(time->at), time->at);
            last = std::max(last.value_or(time->at), time->at);
        }
    // Without any time any day will do. Half a day is the most that a clock is thought to be off.
    const Instant from = first.value_or(Instant::from_unix_s(1767225600));  // 2026-01-01
    return SharedTrack::make(from - Seconds{2 * day_s}, last.value_or(from) + Seconds{2 * day_s});
}

tl::expected<BearingAnswer, std::vector<std::string>> bearing_of_wall(
    const site::Location& location, const SunPath& path, const BearingQuestion& question) {
    const room::Room& room = *location.room;
    const ObservationModel model{room, path, question.clock_within_s};
    std::vector<std::string> faults;
    for (const Observation& o : question.observations)
        if (const auto fault = model.fault(o))
            faults.push_back((o.place.empty() ? "" : o.place + ": ") + o.name + ": " + *fault);
    if (question.observations.empty()) faults.emplace_back("there is no observation");
    const ClockVerdict clock =
        question.clock_is_checked
            ? ClockVerdict{}
            : try_clock(location, path, question.observations, question.clock_within_s);
    if (!faults.empty()) {
        if (clock.suspected) faults.push_back(clock_hint(*clock.suspected, question));
        return tl::unexpected{std::move(faults)};
    }

    BearingAnswer answer;
    answer.wall = question.wall;
    for (std::size_t i = 0; i < question.observations.size(); ++i)
        answer.sightings.push_back(model.sighting(question.observations[i], owner_of(i)));
    answer.fit = fit_on_circle(answer.sightings, room::plan_bearing(room).from_north.in_degrees());
    const double from_y = model.wall_from_y_deg(question.wall);
    answer.plan = {Angle::degrees(answer.fit.value_deg)};
    answer.faces = facing(answer.fit.value_deg, from_y);
    answer.sigma = Angle::degrees(answer.fit.sigma_deg);
    answer.within_95 = normal_95 * answer.sigma;
    if (answer.fit.other_deg) answer.other = facing(*answer.fit.other_deg, from_y);
    answer.clock_trials = clock.trials;
    if (clock.suspected) doubt_the_clock(answer, *clock.suspected, from_y);
    const Weighing weighing{model, question, answer};
    for (std::size_t i = 0; i < question.observations.size(); ++i)
        answer.results.push_back(weighing.result(i));
    if (answer.fit.contradicts() && !answer.clock)
        return tl::unexpected{std::vector<std::string>{list_of_all(question, answer)}};
    return answer;
}

}  // namespace keyhour::study
