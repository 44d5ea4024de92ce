#pragma once
/// @file
/// What the ensemble of a key and the ranking of its inputs share.

#include <optional>
#include <span>
#include <vector>

#include "keyhour/study/key_doubt.hpp"

namespace keyhour::study {

/// One member's run for each interval; none where it has no key there.
using MemberRuns = std::vector<std::optional<Span>>;

/// @param beyond_stated  of few dates runs are followed no farther than this beyond the stated
/// (else
///                       possible) interval; none: as far as they go
[[nodiscard]] MemberRuns member_runs(const RoomStudy& study, Instant from, Instant to,
                                     const KeySettings& settings,
                                     std::span<const KeyInterval> intervals, const Draw& draw,
                                     std::optional<Seconds> beyond_stated = {});

/// What each member keeps of the stated interval (of the possible one, where it is no more than
/// that): one list for each interval.
[[nodiscard]] std::vector<std::vector<Seconds>> kept_parts(const RoomStudy& study, Instant from,
                                                           Instant to, const KeySettings& settings,
                                                           std::span<const KeyInterval> intervals,
                                                           std::span<const Draw> draws);

/// The members' draws.
[[nodiscard]] std::vector<Draw> draws(const EnsembleSettings& ensemble);

/// From five to ninety-five per cent of the times; no length at all where there are none.
[[nodiscard]] Span middle_90(std::vector<Instant> times);

/// The longest time that so large a share of the members lights from end to end, a minute at least.
/// @param runs     of those members that have one
[[nodiscard]] std::optional<Span> lit_in(std::span<const Span> runs, std::size_t members,
                                         double share);

/// Standard deviation over the members.
[[nodiscard]] Seconds spread(std::span<const Seconds> holds);

}  // namespace keyhour::study
