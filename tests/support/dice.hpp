#pragma once
/// @file
/// Random numbers that are the same on every machine: a seeded Mersenne twister, read by our own
/// arithmetic (the standard's distributions may differ from one library to the next).

#include <cstdint>
#include <random>

namespace keyhour::test {

class Dice {
public:
    explicit Dice(std::uint64_t seed) : engine_{seed} {}
    /// Uniform in [0, 1).
    double unit() { return static_cast<double>(engine_() >> 11) * 0x1.0p-53; }
    /// Uniform in [low, high).
    double between(double low, double high) { return low + (high - low) * unit(); }
    /// Uniform whole number, low..high inclusive.
    int whole(int low, int high) { return low + static_cast<int>(unit() * (high - low + 1)); }
    /// Uniform index below count.
    std::size_t index(std::size_t count) {
        return static_cast<std::size_t>(unit() * static_cast<double>(count));
    }
    bool chance(double probability) { return unit() < probability; }

private:
    std::mt19937_64 engine_;
};

}  // namespace keyhour::test
