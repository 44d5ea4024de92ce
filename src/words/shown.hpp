#pragma once
/// @file
/// Text that others wrote (names, keys, file names, arguments), made safe for a terminal, a page, a
/// drawing: nothing in it steers a terminal, ends a line or turns the text around it.

#include <string>
#include <string_view>

namespace keyhour::words {

/// One line of UTF-8. C0 and C1 controls, DEL, line separators, invisible fillers and the
/// characters that override or embed a direction become visible escapes as TOML and JSON write
/// them ("\n", "\u001b", "\u202e"); bytes that are no UTF-8 become "\xff". FSI and PDI stay where
/// they are a pair: a text may be made safe twice.
/// Source: Unicode 15, UAX #9 for the directions; RFC 3629 for UTF-8.
[[nodiscard]] std::string escaped(std::string_view text);

/// The same; and where letters run from right to left, the whole stands between FSI and PDI, so
/// that it turns nothing beside it. For a name in a sentence.
[[nodiscard]] std::string shown(std::string_view text);

/// The same for a sentence that holds such names as they are: each stretch of such letters, with
/// the blanks, figures and hyphens between them, stands between FSI and PDI.
[[nodiscard]] std::string with_turns_isolated(std::string_view sentence);

/// One character of a text, or one byte that is no UTF-8, escaped where need be.
[[nodiscard]] std::string escaped_character(std::string_view character);

/// A JSON document in UTF-8 that says the same with escapes of its own (RFC 8259, section 7) for
/// what a terminal or an editor would obey: DEL, C1, directions, line separators.
[[nodiscard]] std::string json_escaped(std::string document);

/// How many bytes at the start of `text` a terminal may get as they are; `keep_line_ends`: '\n' is
/// one of them, and '\r' before it.
[[nodiscard]] std::size_t harmless_length(std::string_view text, bool keep_line_ends) noexcept;

}  // namespace keyhour::words
