#pragma once
/// @file
/// Keys that hold on several marks at once: seated and standing, two people at one bench.

#include <optional>
#include <vector>

#include "keyhour/study/clean_key.hpp"

namespace keyhour::study {

struct Together {
    std::vector<std::size_t> marks;  ///< two or more, ascending
    Span span;                       ///< on each of them some window's key holds throughout
    std::optional<Span> sure;        ///< longest part in which each holds at every bearing
};

/// The overlaps of intervals on different marks, whichever window and camera: for each set of marks
/// that is lit at once, the runs in which all of it is. Intervals without a span (possible at some
/// bearing only) are passed over, and so are overlaps shorter than a minute.
/// @return most marks first, then longest sure, longest, earliest
[[nodiscard]] std::vector<Together> keys_together(const std::vector<KeyInterval>& intervals);

}  // namespace keyhour::study
