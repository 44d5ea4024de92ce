#include "keyhour/study/circle_fit.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include "least_squares.hpp"

namespace keyhour::study {
namespace {

using Indices = std::vector<std::size_t>;
/// A residual beyond so many standard deviations counts no further while a start is looked for.
constexpr double robust_limit = 3;
/// Costs (squares of normalised residuals) closer than this fit equally well.
constexpr double equal_cost = 2;
/// Of a residual; what rounding leaves of none is not divided by.
constexpr double least_variance = 1e-12;

Matrix covariance(const std::vector<Sighting>& sightings, const Indices& which) {
    Matrix c(which.size(), std::vector<double>(which.size()));
    for (std::size_t i = 0; i < which.size(); ++i)
        for (std::size_t j = 0; j < which.size(); ++j)
            c[i][j] = shared_variance(sightings[which[i]].contributions,
                                      sightings[which[j]].contributions) +
                      (i == j ? least_own_variance : 0);
    return c;
}

/// Generalised least squares of one direction: x = (1'M p) / (1'M 1), M the inverse covariance.
struct Weighed {
    PlainFit fit;
    Matrix weights;
    std::vector<double> rows;  ///< M 1
    std::vector<double> residuals;
};

Weighed weigh(const std::vector<Sighting>& sightings, const Indices& which, double start_deg) {
    Weighed w;
    w.weights = inverse(covariance(sightings, which));
    for (const std::vector<double>& row : w.weights)
        w.rows.push_back(std::accumulate(row.begin(), row.end(), 0.0));
    const double total = std::accumulate(w.rows.begin(), w.rows.end(), 0.0);
    const auto residuals_at = [&](double value_deg) {
        std::vector<double> out;
        for (const std::size_t i : which)
            out.push_back(half_turn_deg(nearest_reading(sightings[i], value_deg) - value_deg));
        return out;
    };
    w.fit.value_deg = settled(start_deg, [&](double value_deg) {
        return product(w.rows, residuals_at(value_deg)) / total;
    });
    w.fit.sigma_deg = 1 / std::sqrt(total);
    w.residuals = residuals_at(w.fit.value_deg);
    return w;
}

/// Baarda's w: residual against the variance that it has by itself, covariances included.
std::vector<double> normalised_residuals(const Weighed& w) {
    std::vector<double> out;
    for (std::size_t i = 0; i < w.residuals.size(); ++i) {
        const double row = w.rows[i] * w.fit.sigma_deg;
        const double variance = w.weights[i][i] - row * row;
        out.push_back(product(w.weights[i], w.residuals) /
                      std::sqrt(std::max(variance, least_variance)));
    }
    return out;
}

struct Start {
    double value_deg, cost;
};

double robust_cost(const std::vector<Sighting>& sightings, double value_deg) {
    double cost = 0;
    for (const Sighting& s : sightings) {
        const double r = half_turn_deg(nearest_reading(s, value_deg) - value_deg) / s.sigma_deg();
        cost += std::min(r * r, robust_limit * robust_limit);
    }
    return cost;
}

/// Every reading is a start; those that agree best come first, of equals the one near the hint.
std::vector<Start> starts(const std::vector<Sighting>& sightings, double hint_deg) {
    std::vector<Start> out;
    for (const Sighting& s : sightings)
        for (const double reading : s.readings_deg)
            out.push_back({reading, robust_cost(sightings, reading)});
    const double least = std::ranges::min_element(out, {}, &Start::cost)->cost;
    const auto from_hint = [&](const Start& s) {
        return std::abs(half_turn_deg(s.value_deg - hint_deg));
    };
    std::ranges::stable_sort(out, [&](const Start& a, const Start& b) {
        const bool a_best = a.cost <= least + equal_cost, b_best = b.cost <= least + equal_cost;
        if (a_best != b_best) return a_best;
        const bool apart = std::abs(half_turn_deg(a.value_deg - b.value_deg)) > 30;
        return a_best && apart ? from_hint(a) < from_hint(b) : a.cost < b.cost;
    });
    return out;
}

/// Has some observation among those used another reading, and is there no one that excludes it?
std::optional<double> other_value(const std::vector<Sighting>& sightings, const Indices& used,
                                  double value_deg, double cost) {
    std::optional<double> other;
    double least = cost + equal_cost;
    std::vector<Sighting> of_used;
    for (const std::size_t i : used)
        of_used.push_back(sightings[i]);
    for (const Sighting& s : of_used)
        for (const double reading : s.readings_deg) {
            if (std::abs(half_turn_deg(reading - value_deg)) < 30) continue;
            const double there = weigh(sightings, used, reading).fit.value_deg;
            const double there_cost = robust_cost(of_used, there);
            if (there_cost > least || std::abs(half_turn_deg(there - value_deg)) < 30) continue;
            other = there;
            least = there_cost;
        }
    return other;
}

/// Observations, the largest normalised residual first, that are about as likely to be the wrong
/// one: the likelihoods differ by less than e^2.
Indices likely_wrong(const Indices& used, const std::vector<double>& normalised) {
    Indices order(used.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::ranges::stable_sort(order, [&](std::size_t a, std::size_t b) {
        return std::abs(normalised[a]) > std::abs(normalised[b]);
    });
    Indices out;
    for (const std::size_t i : order) {
        const double first = normalised[order[0]];
        if (first * first - normalised[i] * normalised[i] > 4) break;
        out.push_back(used[i]);
    }
    return out;
}

}  // namespace

double nearest_reading(const Sighting& sighting, double to_deg) {
    return *std::ranges::min_element(sighting.readings_deg, {}, [&](double reading) {
        return std::abs(half_turn_deg(reading - to_deg));
    });
}

double Sighting::sigma_deg() const noexcept {
    return std::sqrt(shared_variance(contributions, contributions) + least_own_variance);
}

bool CircleFit::contradicts() const noexcept {
    return chance < contradiction_chance;
}

double turn_deg(double degrees) noexcept {
    const double r = std::fmod(degrees, 360);
    const double wrapped = r < 0 ? r + 360 : r;
    return wrapped >= 360 ? 0 : wrapped;
}

double half_turn_deg(double degrees) noexcept {
    return turn_deg(degrees + 180) - 180;
}

double chi_square_chance(double chi_square, int freedom) noexcept {
    // Regularised upper gamma function Q(k/2, x): Q(a + 1, x) = Q(a, x) + x^a e^-x / gamma(a + 1),
    // Q(1/2, x) = erfc(sqrt x), Q(1, x) = e^-x. Source: DLMF 8.8.2.
    const double x = chi_square / 2;
    double a = freedom % 2 == 0 ? 1 : 0.5;
    double q = freedom % 2 == 0 ? std::exp(-x) : std::erfc(std::sqrt(x));
    for (; a < freedom / 2.0 - 0.25; a += 1)
        q += std::exp(a * std::log(x) - x - std::lgamma(a + 1));
    return std::min(1.0, q);
}

PlainFit plain_fit(const std::vector<Sighting>& sightings, const std::vector<std::size_t>& which,
                   double near_deg) {
    return weigh(sightings, which, near_deg).fit;
}

namespace {

/// What is left after the wild ones are set aside, and how it fits.
struct Kept {
    Indices used;
    Weighed weighed;
    std::vector<double> normalised;
};

/// Sets aside one sighting after the other (Baarda's test), into the fit's left_out and suspects.
Kept without_wild(const std::vector<Sighting>& sightings, double start_deg, CircleFit& fit) {
    Indices used(sightings.size());
    std::iota(used.begin(), used.end(), std::size_t{0});
    Weighed w = weigh(sightings, used, start_deg);
    std::vector<double> normalised = normalised_residuals(w);
    while (used.size() > 2) {
        const Indices likely = likely_wrong(used, normalised);
        const auto at = std::ranges::find(used, likely[0]);
        const double largest = std::abs(normalised[static_cast<std::size_t>(at - used.begin())]);
        // Two-sided chance of a standard normal variable as large or larger.
        const double chance = std::erfc(largest / std::numbers::sqrt2);
        if (chance >= false_alarm / static_cast<double>(used.size())) break;
        // A majority must speak against it, and against it alone.
        if (likely.size() > 1 || 2 * (fit.left_out.size() + 1) >= sightings.size()) {
            fit.suspects = likely;
            break;
        }
        fit.left_out.push_back(likely[0]);
        used.erase(at);
        w = weigh(sightings, used, w.fit.value_deg);
        normalised = normalised_residuals(w);
    }
    return {std::move(used), std::move(w), std::move(normalised)};
}

/// Fills the fit's residuals. @return the robust sum of squares of those used
double add_residuals(const std::vector<Sighting>& sightings, const Kept& kept, CircleFit& fit) {
    double cost = 0;
    for (std::size_t i = 0; i < sightings.size(); ++i) {
        Residual r;
        r.reading_deg = turn_deg(nearest_reading(sightings[i], fit.value_deg));
        r.sigma_deg = sightings[i].sigma_deg();
        r.residual_deg = half_turn_deg(r.reading_deg - fit.value_deg);
        const auto at = std::ranges::find(kept.used, i);
        r.used = at != kept.used.end();
        r.normalised = r.used
                           ? kept.normalised[static_cast<std::size_t>(at - kept.used.begin())]
                           : r.residual_deg / std::hypot(r.sigma_deg, kept.weighed.fit.sigma_deg);
        if (r.used) {
            const double z = r.residual_deg / r.sigma_deg;
            cost += std::min(z * z, robust_limit * robust_limit);
        }
        fit.residuals.push_back(r);
    }
    return cost;
}

}  // namespace

CircleFit fit_on_circle(const std::vector<Sighting>& sightings, double hint_deg) {
    CircleFit fit;
    const Kept kept = without_wild(sightings, starts(sightings, hint_deg).front().value_deg, fit);
    fit.value_deg = kept.weighed.fit.value_deg;
    fit.chi_square = square_sum(kept.weighed.weights, kept.weighed.residuals);
    fit.freedom = static_cast<int>(kept.used.size()) - 1;
    fit.chance = chi_square_chance(fit.chi_square, fit.freedom);
    // So rare a chi-square is above its mean, which is the freedom.
    if (fit.chance < false_alarm) fit.widened = std::sqrt(fit.chi_square / fit.freedom);
    if (kept.used.size() == 2 && fit.chance < false_alarm) fit.suspects = kept.used;
    fit.sigma_deg = kept.weighed.fit.sigma_deg * fit.widened;
    const double cost = add_residuals(sightings, kept, fit);
    fit.other_deg = other_value(sightings, kept.used, fit.value_deg, cost);
    return fit;
}

}  // namespace keyhour::study
