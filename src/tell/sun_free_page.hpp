#pragma once
/// @file
/// `key --by lamp` in words: the spans in which a lamp outside a window can be the key.

#include <vector>

#include "keyhour/study/room_study.hpp"
#include "keyhour/study/sun_free.hpp"
#include "tell/opening.hpp"
#include "tell/paragraph.hpp"

namespace keyhour::tell {

/// What stands above all dates: place and dates, what was asked, what is left out.
[[nodiscard]] Paragraphs sun_free_head(const site::Location& location, const site::Recce& recce,
                                       const Dates& dates, const study::RoomStudy& study,
                                       Seconds lock);

/// One date of it: each span in a compact block, or in a row where there are many dates.
[[nodiscard]] Paragraphs sun_free_date(const std::vector<study::SunFreeSpan>& spans,
                                       const study::RoomStudy& study, Seconds lock, bool is_range);

/// A date without a span that is long enough. @param longest  null: there is none
[[nodiscard]] Paragraph no_sun_free_span(const study::SunFreeSpan* longest,
                                         const study::RoomStudy& study, site::LocalDate date,
                                         bool is_range);

/// The wall that matters, and the caution of a lamp outside.
[[nodiscard]] Paragraphs sun_free_foot(const site::Location& location);

/// At most 140 characters.
[[nodiscard]] std::string sun_free_message(const study::SunFreeSpan& span,
                                           const study::RoomStudy& study);

}  // namespace keyhour::tell
