#pragma once
/// @file
/// A patch on its way, in words and cells: what each window's sun crosses, from when to when, how
/// fast.

#include <vector>

#include "keyhour/ask/patch.hpp"
#include "tell/document.hpp"
#include "tell/opening.hpp"
#include "tell/paragraph.hpp"

namespace keyhour::tell {

using ask::WayAnswer;

/// A block a window; one line for all times at which it crosses a thing, minutes outward.
[[nodiscard]] Paragraphs way_page(const WayAnswer& answer);

/// What words of it mean, and its caution.
[[nodiscard]] Paragraphs way_foot(const std::vector<WayAnswer>& answers);

/// A list of objects.
[[nodiscard]] Json json_of(const WayAnswer& answer);

}  // namespace keyhour::tell
