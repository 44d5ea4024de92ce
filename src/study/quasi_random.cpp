#include "keyhour/study/quasi_random.hpp"

namespace keyhour::study {
namespace {

constexpr int bits = 32;

/// A primitive polynomial over the field of two elements, and where its recurrence begins.
struct Generator {
    unsigned degree;
    std::uint32_t coefficients;  ///< of the inner powers, highest first
    std::array<std::uint32_t, 6> first;
};

/// Dimensions 2 to 18; the first is the radical inverse in base 2. Source: see the header.
constexpr std::array<Generator, sobol_dimensions - 1> generators{{{1, 0, {1}},
                                                                  {2, 1, {1, 3}},
                                                                  {3, 1, {1, 3, 1}},
                                                                  {3, 2, {1, 1, 1}},
                                                                  {4, 1, {1, 1, 3, 3}},
                                                                  {4, 4, {1, 3, 5, 13}},
                                                                  {5, 2, {1, 1, 5, 5, 17}},
                                                                  {5, 4, {1, 1, 5, 5, 5}},
                                                                  {5, 7, {1, 1, 7, 11, 19}},
                                                                  {5, 11, {1, 1, 5, 1, 1}},
                                                                  {5, 13, {1, 1, 1, 3, 11}},
                                                                  {5, 14, {1, 3, 5, 5, 31}},
                                                                  {6, 1, {1, 3, 3, 9, 7, 49}},
                                                                  {6, 13, {1, 1, 1, 15, 21, 21}},
                                                                  {6, 16, {1, 3, 1, 13, 27, 49}},
                                                                  {6, 19, {1, 1, 1, 15, 7, 5}},
                                                                  {6, 22, {1, 3, 1, 15, 13, 25}}}};

using Directions = std::array<std::uint32_t, bits>;

consteval Directions directions_of(const Generator& g) {
    Directions v{};
    for (unsigned i = 0; i < bits; ++i) {
        if (i < g.degree) {
            v[i] = g.first[i] << (bits - 1 - i);
            continue;
        }
        v[i] = v[i - g.degree] ^ (v[i - g.degree] >> g.degree);
        for (unsigned k = 1; k < g.degree; ++k)
            if ((g.coefficients >> (g.degree - 1 - k)) & 1U) v[i] ^= v[i - k];
    }
    return v;
}

consteval std::array<Directions, sobol_dimensions> all_directions() {
    std::array<Directions, sobol_dimensions> all{};
    for (unsigned i = 0; i < bits; ++i)
        all[0][i] = 1U << (bits - 1 - i);
    for (std::size_t d = 1; d < sobol_dimensions; ++d)
        all[d] = directions_of(generators[d - 1]);
    return all;
}

constexpr std::array<Directions, sobol_dimensions> directions = all_directions();

/// A number that looks random, of every number another. Source: the finaliser of SplitMix64, in
/// Steele, Lea & Flood, Fast splittable pseudorandom number generators, OOPSLA 2014.
std::uint64_t mixed(std::uint64_t z) noexcept {
    z += 0x9e3779b97f4a7c15U;
    z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9U;
    z = (z ^ (z >> 27U)) * 0x94d049bb133111ebU;
    return z ^ (z >> 31U);
}

std::uint32_t scrambled(std::uint32_t x, std::uint64_t coin) noexcept {
    std::uint32_t out = x;
    for (unsigned place = 0; place < bits; ++place) {
        // The digits before this one, with a one in front that tells their number.
        const std::uint64_t before =
            (std::uint64_t{1} << place) | (std::uint64_t{x} >> (bits - place));
        const auto turn = static_cast<std::uint32_t>(mixed(coin ^ before) & 1U);
        out ^= turn << (bits - 1 - place);
    }
    return out;
}

std::uint32_t coordinate(std::uint32_t index, std::size_t dimension) noexcept {
    // In the order of Gray's code neighbours differ by one direction; any 2^k points are the same.
    const std::uint32_t gray = index ^ (index >> 1U);
    std::uint32_t x = 0;
    for (unsigned i = 0; i < bits; ++i)
        if ((gray >> i) & 1U) x ^= directions[dimension][i];
    return x;
}

}  // namespace

CubePoint sobol(std::uint32_t index) noexcept {
    CubePoint p{};
    for (std::size_t d = 0; d < sobol_dimensions; ++d)
        p[d] = coordinate(index, d) * 0x1p-32;
    return p;
}

CubePoint ScrambledSobol::operator()(std::uint32_t index) const noexcept {
    CubePoint p{};
    for (std::size_t d = 0; d < sobol_dimensions; ++d)
        p[d] = scrambled(coordinate(index, d), mixed(mixed(seed_) + d)) * 0x1p-32;
    return p;
}

}  // namespace keyhour::study
