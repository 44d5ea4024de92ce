#pragma once
// What one place answers: lines ready to be written, or why there are none.

#include <optional>
#include <string>
#include <vector>

#include "batch_request.hpp"
#include "batch_source.hpp"
#include "keyhour/ask/compare.hpp"
#include "keyhour/ask/ranking.hpp"
#include "tell/paragraph.hpp"

namespace keyhour::cli {

struct BatchLine : ask::Standing {
    std::string text;  // with its newline; of several records where all intervals are asked for
};

using ask::BriefDate;
using ask::BriefHold;
using ask::BriefPlace;

struct BatchOutcome {
    std::vector<BatchLine> lines;
    std::optional<BriefPlace> brief;  // for --compare and --visit, in place of lines
    std::string refusal;              // the place is no sound location: all that is wrong with it
    std::uint64_t digest = 0;         // of what was read
    bool is_new_place = true;         // not a further part of the one before
};

/// @param brief  for --compare and --visit
/// Called from many threads at once; throws nothing but what the heap throws.
[[nodiscard]] BatchOutcome answer_item(const BatchQuestion& question, const BatchItem& item,
                                       bool brief);

/// Only what is needed to pass over an item that an interrupted run has answered.
[[nodiscard]] BatchOutcome pass_over(const BatchItem& item);

/// An answer's paragraphs as lines of 80 columns.
[[nodiscard]] std::string printed(const tell::Paragraphs& paragraphs);

/// The lines above all others, with their newline; empty for JSON.
[[nodiscard]] std::string batch_head(const BatchQuestion& question);

}  // namespace keyhour::cli
