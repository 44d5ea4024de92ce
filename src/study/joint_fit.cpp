#include "joint_fit.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>

#include "least_squares.hpp"

namespace keyhour::study {
namespace {

constexpr double limit = 3;  // the square of it is the price
constexpr int most_rounds = 12;

using IndexSet = std::set<std::size_t>;

double nearest_residual(const JointElement& e, double value_deg) {
    if (e.is_height) return e.readings_deg.front();
    const double nearest = *std::ranges::min_element(e.readings_deg, {}, [&](double reading) {
        return std::abs(half_turn_deg(reading - value_deg));
    });
    return half_turn_deg(nearest - value_deg);
}

/// What a degree of the bearing does to it.
double slope(const JointElement& e) {
    return e.is_height ? 0 : 1;
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
        IndexSet used;
        for (std::size_t i = 0; i < elements_.size(); ++i)
            if (std::abs(nearest_residual(elements_[i], start_deg)) <=
                limit * std::sqrt(covariance_[i][i]))
                used.insert(i);
        solve(used, start_deg);
        for (int round = 0; round < most_rounds; ++round)
            if (!improve(used)) break;
        return told(used);
    }

private:
    void solve(const IndexSet& used, double start_deg) {
        which_.assign(used.begin(), used.end());
        const std::size_t n = which_.size();
        Matrix c(n, std::vector<double>(n));
        for (std::size_t i = 0; i < n; ++i)
            for (std::size_t j = 0; j < n; ++j)
                c[i][j] = covariance_[which_[i]][which_[j]];
        weights_ = inverse(std::move(c));
        slopes_ = of_used([&](std::size_t i) { return slope(elements_[i]); });
        pull_of_value_.clear();
        for (const std::vector<double>& row : weights_)
            pull_of_value_.push_back(product(row, slopes_));
        variance_ = 1 / product(pull_of_value_, slopes_);
        value_deg_ = settled(start_deg, [&](double value_deg) {
            return product(pull_of_value_, residuals_at(value_deg)) * variance_;
        });
        residuals_ = residuals_at(value_deg_);
    }

    [[nodiscard]] std::vector<double> residuals_at(double value_deg) const {
        return of_used([&](std::size_t i) { return nearest_residual(elements_[i], value_deg); });
    }

    /// A figure of each that is used.
    template <class Figure>
    [[nodiscard]] std::vector<double> of_used(const Figure& figure) const {
        std::vector<double> out;
        for (const std::size_t i : which_)
            out.push_back(figure(i));
        return out;
    }

    [[nodiscard]] double normalised(std::size_t i) const {
        const double own = weights_[i][i] - pull_of_value_[i] * pull_of_value_[i] * variance_;
        return product(weights_[i], residuals_) / std::sqrt(own);
    }

    /// The same of one that is not used, by what those that are say of it: what they share with it,
    /// such as the clock's error, shows in their residuals (best linear prediction).
    [[nodiscard]] double normalised_outside(std::size_t out) const {
        const auto shared = of_used([&](std::size_t i) { return covariance_[i][out]; });
        std::vector<double> share;
        for (const std::vector<double>& row : weights_)
            share.push_back(product(row, shared));
        const double off =
            nearest_residual(elements_[out], value_deg_) - product(share, residuals_);
        const double variance = covariance_[out][out] - product(share, shared);
        const double gap = slope(elements_[out]) - product(share, slopes_);
        return off / std::sqrt(variance + gap * gap * variance_);
    }

    /// Takes the worst out, or the first that fits after all back in. @return whether anything
    /// changed
    bool improve(IndexSet& used) {
        const bool is_only_one = std::ranges::count(slopes_, 1.0) == 1;
        std::size_t worst = which_.size();
        double most = limit;
        for (std::size_t k = 0; k < which_.size(); ++k) {
            if (is_only_one && slopes_[k] != 0) continue;
            if (std::abs(normalised(k)) > most) most = std::abs(normalised(k)), worst = k;
        }
        if (worst < which_.size()) {
            used.erase(which_[worst]);
            solve(used, value_deg_);
            return true;
        }
        for (std::size_t i = 0; i < elements_.size(); ++i) {
            if (used.contains(i) || std::abs(normalised_outside(i)) > 0.8 * limit) continue;
            used.insert(i);
            solve(used, value_deg_);
            return true;
        }
        return false;
    }

    [[nodiscard]] JointFit told(const IndexSet& used) const {
        const double chi_square = square_sum(weights_, residuals_);
        double cost = chi_square;
        std::set<std::size_t> out;
        for (std::size_t i = 0; i < elements_.size(); ++i) {
            if (used.contains(i)) continue;
            cost += price_of_one;
            out.insert(elements_[i].observation);
        }
        const int freedom = static_cast<int>(which_.size()) - 1;
        const double sigma_deg = std::sqrt(variance_);
        return {value_deg_, sigma_deg, chi_square, freedom, cost, {out.begin(), out.end()}};
    }

    const std::vector<JointElement>& elements_;
    Matrix covariance_, weights_;
    std::vector<std::size_t> which_;  ///< are used; the next lists are of these
    std::vector<double> slopes_, pull_of_value_, residuals_;
    double value_deg_ = 0, variance_ = 1;
};

}  // namespace

JointFit joint_fit(const std::vector<JointElement>& elements) {
    Joint joint{elements};
    std::optional<JointFit> best;
    for (const JointElement& e : elements) {
        if (e.is_height) continue;
        for (const double reading : e.readings_deg) {
            JointFit fit = joint.from(reading);
            if (!best || fit.cost < best->cost - 1e-9) best = std::move(fit);
        }
    }
    return best ? *std::move(best) : JointFit{};  // without a direction nothing is fitted
}

}  // namespace keyhour::study
