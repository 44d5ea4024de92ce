#pragma once
// Plain text for people: 80 columns or as many as a narrower terminal has, whole minutes.

#include <iosfwd>
#include <string>
#include <string_view>

#include "tell/paragraph.hpp"
#include "words/clock.hpp"

namespace keyhour::cli {

inline constexpr std::size_t text_width = 80;

/// How many columns the text takes on a terminal; see display_width.hpp.
[[nodiscard]] std::size_t columns(std::string_view text);

/// Breaks at blanks so that no line is longer than the stream's (terminal.hpp); lines after the
/// first are indented. A number stays beside its unit, a day beside its month; a word that is
/// longer than a line is broken anywhere.
void print_wrapped(std::ostream& out, std::string_view text, std::size_t indent,
                   std::size_t indent_after);

/// Each paragraph wrapped as it says.
void print(std::ostream& out, const tell::Paragraphs& paragraphs);

// Minutes and spans are worded in words/clock.hpp.
using words::clock_span;
using words::in_degrees;
using words::in_minutes;
using words::minute_after;
using words::minute_before;
using words::minute_down;
using words::nearest_minute;
using words::offset_at;
using words::offsets_over;
using words::row_date;
using words::short_date;
using words::span_in_words;
using words::span_inward;
using words::span_outward;

}  // namespace keyhour::cli
