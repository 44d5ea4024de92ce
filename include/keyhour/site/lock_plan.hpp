#pragma once
/// @file
/// A lock as the crew plans it for a day keyed by a lamp outside: what is the key, for how long may
/// no light move, in which hours is that work done?

#include <chrono>
#include <cstddef>
#include <optional>

namespace keyhour::site {

/// Local times of the day, since midnight; 24:00 is 86400 s.
struct WorkingHours {
    std::chrono::seconds from{0}, to{0};  ///< from < to
    [[nodiscard]] constexpr std::chrono::seconds length() const noexcept { return to - from; }
};

/// Where nobody says otherwise. Common practice, no source.
inline constexpr WorkingHours usual_working_hours{std::chrono::hours{8}, std::chrono::hours{20}};
inline constexpr std::chrono::minutes usual_lock{120};

/// What of it is settled; indices into the location's lists. What is not: the first that fits.
struct LockPlan {
    std::optional<std::size_t> window;  ///< that the lamp stands at: open, and faces the mark
    std::optional<std::size_t> lamp;    ///< outside, can be aimed
    std::optional<std::size_t> mark;
    std::optional<std::size_t> camera;           ///< aims at the mark
    std::optional<std::chrono::seconds> length;  ///< 1 minute to 24 hours, and within the hours
    std::optional<WorkingHours> hours;
};

}  // namespace keyhour::site
