#pragma once
/// @file
/// Two doubles side by side: what processors compute at the price of one. Arithmetic and
/// comparison work lane by lane; where a processor has no pairs, the compiler takes turns. (An
/// extension that GCC and Clang share.)

#include <bit>
#include <cmath>
#include <cstdint>
#include <cstring>

namespace keyhour::sun {

/// Two doubles in one register, by a vector type of GCC and Clang; lanes are [0] and [1].
using Pair = double __attribute__((vector_size(16)));

/// The value without its sign, lane by lane.
[[nodiscard]] inline Pair magnitude(Pair x) noexcept {
    using Bits = std::int64_t __attribute__((vector_size(16)));
    constexpr std::int64_t all_but_sign = INT64_MAX;
    return std::bit_cast<Pair>(std::bit_cast<Bits>(x) & Bits{all_but_sign, all_but_sign});
}
[[nodiscard]] inline double magnitude(double x) noexcept {
    return std::fabs(x);
}

/// The square root, lane by lane.
[[nodiscard]] inline Pair square_root(Pair x) noexcept {
    return Pair{std::sqrt(x[0]), std::sqrt(x[1])};
}
[[nodiscard]] inline double square_root(double x) noexcept {
    return std::sqrt(x);
}

/// The two doubles that stand at p.
[[nodiscard]] inline Pair pair_at(const double* p) noexcept {
    Pair pair;
    std::memcpy(&pair, p, sizeof pair);
    return pair;
}

}  // namespace keyhour::sun
