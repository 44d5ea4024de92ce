#include "least_squares.hpp"

#include <algorithm>
#include <numeric>

namespace keyhour::study {

double shared_variance(const Contributions& a, const Contributions& b) {
    double sum = 0;
    for (const auto& [input, degrees] : a)
        if (const auto it = b.find(input); it != b.end()) sum += degrees * it->second;
    return sum;
}

double product(const std::vector<double>& a, const std::vector<double>& b) {
    return std::inner_product(a.begin(), a.end(), b.begin(), 0.0);
}

double square_sum(const Matrix& m, const std::vector<double>& r) {
    std::vector<double> mr;
    for (const std::vector<double>& row : m)
        mr.push_back(product(row, r));
    return std::max(0.0, product(r, mr));
}

Matrix inverse(Matrix a) {
    // Gauss and Jordan; positive definite, so no pivoting.
    const std::size_t n = a.size();
    for (std::size_t k = 0; k < n; ++k) {
        const double pivot = 1 / a[k][k];
        a[k][k] = 1;
        for (double& x : a[k])
            x *= pivot;
        for (std::size_t i = 0; i < n; ++i) {
            if (i == k) continue;
            const double factor = a[i][k];
            a[i][k] = 0;
            for (std::size_t j = 0; j < n; ++j)
                a[i][j] -= factor * a[k][j];
        }
    }
    return a;
}

}  // namespace keyhour::study
