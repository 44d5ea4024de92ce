#pragma once
/// @file
/// Rooms against dates in one grid: the best hold, its hour, how sure it is; in words, as JSON and
/// as CSV.

#include <string>
#include <vector>

#include "document.hpp"
#include "keyhour/ask/compare.hpp"
#include "paragraph.hpp"

namespace keyhour::tell {

/// What is compared.
enum class Compared { keys, locks };

/// What the figures of the grid are.
[[nodiscard]] Paragraph compare_head(Compared what);

/// Lines of at most 80 columns, never to be broken: under each other lie a place and its dates, as
/// many as the columns hold, then the next dates. @pre a place with a date
[[nodiscard]] std::vector<std::string> compare_lines(const ask::Comparison& comparison);

/// The surest of all, and what the words mean.
[[nodiscard]] Paragraphs compare_foot(const ask::Comparison& comparison, Compared what);

[[nodiscard]] Json compare_json(const ask::Comparison& comparison);

/// Records, with the record of names above them if `with_head`. @pre a place with a date
[[nodiscard]] std::string compare_csv(const ask::Comparison& comparison, bool with_head);

}  // namespace keyhour::tell
