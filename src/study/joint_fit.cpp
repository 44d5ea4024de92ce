#include "joint_fit.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "least_squares.hpp"

namespace keyhour::study {
namespace {

constexpr double limit = 3;  // the square of it is the price
constexpr int most_rounds = 12;

using Flags = std::vector<bool>;

double nearest_residual(const JointElement& e, double value_deg) {
    if (e.is_height) return e.readings_deg.front();
    double best = 360;
    for (const double reading : e.readings_deg) {
        const double r = half_turn_deg(reading - value_deg);
        if (std::abs(r) < std::abs(best)) best = r;
    }
    return best;
}

class Joint {
public:
    explicit Joint(const std::vector<JointElement>& elements) : elements_{elements} {
        const std::size_t n = elements.size();
        covariance_.assign(n, std::vector<double>(n));
        for (std::size_t i = 0; i < n; ++i)
            for (std::size_t j = 0; j <= i; ++j)
                covariance_[i][j] = covariance_[j][i] =
                    shared_variance(elements[i].contributions, elements[j].contributions) +
                    (i == j ? least_own_variance : 0);
    }

    /// From those that agree with a start on, until none wants to leave or to come back.
    [[nodiscard]] JointFit from(double start_deg) {
        Flags used(elements_.size());
        for (std::size_t i = 0; i < used.size(); ++i)
            used[i] = std::abs(nearest_residual(elements_[i], start_deg)) <=
                      limit * std::sqrt(covariance_[i][i]);
        solve(used, start_deg);
        for (int round = 0; round < most_rounds; ++round)
            if (!improve(used)) break;
        return told(used);
    }

private:
    void solve(const Flags& used, double start_deg) {
        which_.clear();
        for (std::size_t i = 0; i < used.size(); ++i)
            if (used[i]) which_.push_back(i);
        const std::size_t n = which_.size();
        Matrix c(n, std::vector<double>(n));
        for (std::size_t i = 0; i < n; ++i)
            for (std::size_t j = 0; j < n; ++j)
                c[i][j] = covariance_[which_[i]][which_[j]];
        weights_ = inverse(std::move(c));
        pull_of_value_.assign(n, 0);
        double total = 0;
        for (std::size_t i = 0; i < n; ++i) {
            for (std::size_t j = 0; j < n; ++j)
                if (!elements_[which_[j]].is_height) pull_of_value_[i] += weights_[i][j];
            if (!elements_[which_[i]].is_height) total += pull_of_value_[i];
        }
        variance_ = 1 / total;
        value_deg_ = start_deg;
        residuals_.resize(n);
        for (int round = 0; round < 10; ++round) {
            double shift = 0;
            for (std::size_t i = 0; i < n; ++i) {
                residuals_[i] = nearest_residual(elements_[which_[i]], value_deg_);
                shift += pull_of_value_[i] * residuals_[i] * variance_;
            }
            if (std::abs(shift) < 1e-9) break;
            value_deg_ = turn_deg(value_deg_ + shift);
        }
    }

    [[nodiscard]] double normalised(std::size_t i) const {
        double pull = 0;
        for (std::size_t j = 0; j < which_.size(); ++j)
            pull += weights_[i][j] * residuals_[j];
        const double own = weights_[i][i] - pull_of_value_[i] * pull_of_value_[i] * variance_;
        return own > 1e-12 ? pull / std::sqrt(own) : 0;
    }

    /// The same of one that is not used, by what those that are say of it: what they share with it,
    /// such as the clock's error, shows in their residuals (best linear prediction).
    [[nodiscard]] double normalised_outside(std::size_t out) const {
        const auto design = [&](std::size_t i) { return elements_[i].is_height ? 0.0 : 1.0; };
        double off = nearest_residual(elements_[out], value_deg_);
        double variance = covariance_[out][out], gap = design(out);
        for (std::size_t i = 0; i < which_.size(); ++i) {
            double share = 0;
            for (std::size_t j = 0; j < which_.size(); ++j)
                share += weights_[i][j] * covariance_[which_[j]][out];
            off -= share * residuals_[i];
            variance -= share * covariance_[which_[i]][out];
            gap -= share * design(which_[i]);
        }
        return off / std::sqrt(std::max(variance + gap * gap * variance_, least_own_variance));
    }

    /// Takes the worst out, or the best that is out back in. @return whether anything changed
    bool improve(Flags& used) {
        std::size_t directions = 0, worst = which_.size();
        double most = limit;
        for (const std::size_t i : which_)
            directions += !elements_[i].is_height;
        for (std::size_t k = 0; k < which_.size(); ++k) {
            if (!elements_[which_[k]].is_height && directions < 2) continue;
            if (std::abs(normalised(k)) > most) most = std::abs(normalised(k)), worst = k;
        }
        if (worst < which_.size()) {
            used[which_[worst]] = false;
            solve(used, value_deg_);
            return true;
        }
        for (std::size_t i = 0; i < used.size(); ++i) {
            if (used[i]) continue;
            if (std::abs(normalised_outside(i)) > 0.8 * limit) continue;
            used[i] = true;
            solve(used, value_deg_);
            return true;
        }
        return false;
    }

    [[nodiscard]] JointFit told(const Flags& used) const {
        JointFit fit;
        fit.value_deg = value_deg_;
        fit.sigma_deg = std::sqrt(variance_);
        fit.freedom = static_cast<int>(which_.size()) - 1;
        for (std::size_t i = 0; i < which_.size(); ++i)
            for (std::size_t j = 0; j < which_.size(); ++j)
                fit.chi_square += residuals_[i] * weights_[i][j] * residuals_[j];
        fit.chi_square = std::max(0.0, fit.chi_square);
        fit.cost = fit.chi_square;
        std::set<std::size_t> out;
        for (std::size_t i = 0; i < used.size(); ++i) {
            if (used[i]) continue;
            fit.cost += price_of_one;
            out.insert(elements_[i].observation);
        }
        fit.set_aside.assign(out.begin(), out.end());
        return fit;
    }

    const std::vector<JointElement>& elements_;
    Matrix covariance_, weights_;
    std::vector<std::size_t> which_;
    std::vector<double> pull_of_value_, residuals_;
    double value_deg_ = 0, variance_ = 1;
};

}  // namespace

JointFit joint_fit(const std::vector<JointElement>& elements) {
    Joint joint{elements};
    JointFit best;
    bool first = true;
    for (const JointElement& e : elements) {
        if (e.is_height) continue;
        for (const double reading : e.readings_deg) {
            JointFit fit = joint.from(reading);
            if (first || fit.cost < best.cost - 1e-9) best = std::move(fit);
            first = false;
        }
    }
    return best;
}

}  // namespace keyhour::study
