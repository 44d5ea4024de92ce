#pragma once
/// @file
/// `patch` in words: where the sun falls in the room at one instant, how large, how bright.

#include "keyhour/ask/patch.hpp"
#include "tell/detail.hpp"
#include "tell/opening.hpp"
#include "tell/paragraph.hpp"

namespace keyhour::tell {

/// What was asked about every instant.
struct PatchQuestion {
    const site::Location& location;
    site::Recce recce;
    Dates dates;
    Details show;
};

using ask::PatchAnswer;

/// A compact block: a line a patch and a mark.
[[nodiscard]] Paragraphs patch_block(const PatchAnswer& answer, const PatchQuestion& q);

/// One line, for one of many steps of a day.
[[nodiscard]] Paragraph patch_row(const PatchAnswer& answer, const PatchQuestion& q);

/// The wall that matters, what words mean, cautions. @param wall  index of it
[[nodiscard]] Paragraphs patch_foot(const PatchQuestion& q, std::size_t wall);

}  // namespace keyhour::tell
