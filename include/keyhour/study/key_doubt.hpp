#pragma once
/// @file
/// How sure is the hold of a clean key, when every input may be off?
///
/// An ensemble: members are the same room with every input moved within its doubt
/// (study/doubtful_inputs.hpp), spread evenly by a seeded quasi-random sequence. Each is asked for
/// its key as the stated room was.

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "keyhour/study/clean_key.hpp"
#include "keyhour/study/doubtful_inputs.hpp"

namespace keyhour::study {

struct EnsembleSettings {
    int members = 64;        ///< 1 or more; powers of two are spread most evenly
    std::uint64_t seed = 1;  ///< of the scrambling: the same seed, the same members
    DoubtScale scale = whole_doubt;
};

/// What the ensemble makes of one interval. A member's run is that which shares most time with the
/// stated interval, so that runs on both sides of a bar are not mixed; else the longest that meets
/// the interval's possible part; its hold is zero if there is none.
struct HoldDoubt {
    Seconds hold_90{0};  ///< reached or exceeded in 90 % of the members
    Seconds hold_50{0};  ///< in half of them
    Seconds spread{0};   ///< standard deviation of the hold over the members
    double share = 0;    ///< of the members in which it holds for KeySettings::shortest
    /// The longest time by the clock that 90 % of the members light from end to end; nothing if no
    /// minute is lit in so many.
    std::optional<Span> lit_90;
    /// Between which times 90 % of the members that have it begin and end, by a clock that may be
    /// off. Spans of zero length if no member has it.
    Span begins, ends;
};

/// @param from,to    as they were given to clean_key
/// @param intervals  what it found, or some of that
/// @return           one for each interval
/// From a week on, and unless covers are out of the question (as_is), a member costs as much as a
/// year of the stated room, however many intervals there are; else each interval costs some dozens
/// of looks at the room a member.
[[nodiscard]] std::vector<HoldDoubt> hold_doubts(const RoomStudy& study, Instant from, Instant to,
                                                 const KeySettings& settings,
                                                 std::span<const KeyInterval> intervals,
                                                 const EnsembleSettings& ensemble = {});

/// The same over other members: what members make of each interval, in seconds. For checks of the
/// ensemble by draws from elsewhere.
/// @return  one list for each interval, with a hold for each draw
[[nodiscard]] std::vector<std::vector<Seconds>> member_holds(const RoomStudy& study, Instant from,
                                                             Instant to,
                                                             const KeySettings& settings,
                                                             std::span<const KeyInterval> intervals,
                                                             std::span<const Draw> draws);

/// The hold that is reached or exceeded in a share of the members.
/// @pre holds is not empty, 0 < share <= 1
[[nodiscard]] Seconds exceeded_in(std::vector<Seconds> holds, double share);

/// What knowing one input exactly would do to the doubt.
struct InputEffect {
    Input input{};
    std::optional<std::size_t> mark, window, camera;  ///< whose it is; none: the location's
    double within = 0;          ///< now: m, degrees (bearing, skyline), else a share; see Input
    std::size_t intervals = 0;  ///< that depend on it
    /// Of what is kept of them: the part of the stated interval, on the clock, in which a member
    /// holds too. It falls when a hold gets shorter and when it comes earlier or later.
    Seconds spread{0}, spread_if_known{0};    ///< standard deviation, on average
    Seconds kept_90{0}, kept_90_if_known{0};  ///< in 90 % of the members, on average
    /// Of the doubt of all intervals together, the share that would go.
    double share = 0;
};

/// A key that was asked for, and what was found: dates over which the room stays as it is.
struct AskedKey {
    const RoomStudy* study = nullptr;
    Instant from, to;
    std::vector<KeyInterval> intervals;
};

/// What to measure better, most useful first: the ensemble is asked again with one input at a time
/// held at its stated value and all others moving as before. Shares do not add up to one: of two
/// doubts of equal size either takes away 29 % when it goes alone.
/// Of more than 24 intervals about 24 are looked at, spread evenly over the dates.
/// @param asked  of one location in one or more seasons
[[nodiscard]] std::vector<InputEffect> why_unsure(std::span<const AskedKey> asked,
                                                  const KeySettings& settings,
                                                  const EnsembleSettings& ensemble = {});

}  // namespace keyhour::study
