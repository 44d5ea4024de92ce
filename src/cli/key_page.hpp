#pragma once
/// @file
/// The tables of `key`: what people read of the sun's answer and of the lamp's.

#include <iosfwd>
#include <optional>
#include <string>

#include "key_answer.hpp"
#include "keyhour/study/sun_free.hpp"

namespace keyhour::cli {

/// "press window on type case, camera A"
std::string who(const study::RoomStudy& study, std::size_t window, std::size_t mark,
                const std::optional<std::size_t>& camera);

/// @param dark   what was left out for the wanted stop
/// @param shown  so many of the intervals, best first
void print_sun(const RoomQuestion& q, const SunAnswer& answer, const std::vector<DarkHold>& dark,
               std::size_t shown, IntervalLight& light, std::ostream& out);

/// One sun-free span of the lamp's answer.
void print_span(std::size_t number, const study::SunFreeSpan& s, Seconds lock,
                const study::RoomStudy& study, std::ostream& out);

/// Windows that no straight line joins to a mark.
void print_blind(const study::RoomStudy& study, std::ostream& out);

/// What sure and possible mean, and the caution of the sun.
void print_meaning(const RoomQuestion& q, std::ostream& out);

}  // namespace keyhour::cli
