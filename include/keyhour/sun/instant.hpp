#pragma once
/// @file
/// An instant is UTC, counted in seconds since 1970-01-01T00:00 without leap seconds (POSIX time).

#include <chrono>
#include <compare>

namespace keyhour {

/// A length of time; 86400 of them are a day, leap seconds left aside.
using Seconds = std::chrono::duration<double>;

/// A moment on the UTC scale; before 1972 on UT1. A double holds microseconds over the centuries
/// served (1800-2200). A leap second repeats the second before it, as POSIX has it.
class Instant {
public:
    constexpr Instant() = default;
    /// @param since_1970  seconds since 1970-01-01T00:00:00Z, as POSIX counts them
    static constexpr Instant from_unix(Seconds since_1970) { return Instant{since_1970.count()}; }
    static constexpr Instant from_unix_s(double s) { return Instant{s}; }
    [[nodiscard]] constexpr double unix_s() const { return s_; }

    friend constexpr Instant operator+(Instant t, Seconds d) { return Instant{t.s_ + d.count()}; }
    friend constexpr Instant operator-(Instant t, Seconds d) { return Instant{t.s_ - d.count()}; }
    friend constexpr Seconds operator-(Instant a, Instant b) { return Seconds{a.s_ - b.s_}; }
    friend constexpr auto operator<=>(Instant, Instant) = default;

private:
    explicit constexpr Instant(double s) : s_{s} {}
    double s_ = 0;  // since 1970-01-01T00:00:00Z
};

}  // namespace keyhour
