#pragma once
/// @file
/// What is left of a day's light outside: the shots that still fit, and the stop as it falls.

#include <optional>
#include <span>
#include <vector>

#include "keyhour/study/spot_light.hpp"

namespace keyhour::study {

/// Spans of a date in which the spot's shot has the light that it wants: direct light from its
/// side; where any will do, from the morning's late light to the end of the evening's.
[[nodiscard]] std::vector<Span> light_wanted(const SpotDay& day, site::Side wants);

/// One shot to be had.
struct ShotWish {
    std::vector<Span> light;  ///< ascending; the shot runs within one of them
    Seconds set_up{}, shot{};
};

/// When its set-up must begin at the latest, over all its light that is long enough.
struct LastStart {
    Instant start;
    Span light;  ///< in which the shot then runs
};
[[nodiscard]] std::optional<LastStart> last_start(const ShotWish& wish);

/// A shot in the order of one crew.
struct TimedShot {
    std::size_t wish = 0;
    Instant set_up, roll, done;  ///< the set-up ends as the shot begins
};

/// The most shots that one crew can have from `from` on, one set-up after another, ways between
/// them not counted; of equally many those that are done first. Exact for up to 12 wishes, beyond
/// that by their last starts.
[[nodiscard]] std::vector<TimedShot> still_fit(std::span<const ShotWish> wishes, Instant from);

struct CountdownStep {
    Instant at;
    bool in_sun = false;
    /// A flat receptor turned to the sun: the beam, as thin trees let it through, and what it sees
    /// of the sky, (1 + sin altitude) / 2 of a sky of one brightness (Liu & Jordan 1963). Without
    /// the sun level, under an open sky. Clear air.
    double level_lx = 0;
};

/// At every whole ten minutes of from..to.
/// @pre the spot's track covers from..to and ten minutes after it
[[nodiscard]] std::vector<CountdownStep> countdown(const SpotLight& spot, Instant from, Instant to);

}  // namespace keyhour::study
