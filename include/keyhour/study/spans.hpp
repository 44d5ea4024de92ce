#pragma once
/// @file
/// When is a condition true over a site's sun?

#include <algorithm>
#include <cmath>
#include <span>
#include <vector>

#include "keyhour/study/span_search.hpp"
#include "keyhour/study/sun_path.hpp"

namespace keyhour::study {

/// Spans in which margin > 0, among samples in ascending time. Peaks and dips between samples are
/// looked for where the neighbours leave room for them.
/// @param samples    of `path`, ascending; between two of them at most one run or gap is found
/// @param margin     Moment -> double; continuous where it can be
/// @param tolerance  of each boundary
/// @return           ascending, apart from each other; those cut by the samples' ends say so
template <class Margin>
[[nodiscard]] std::vector<Span> find_spans(const SunPath& path, std::span<const Moment> samples,
                                           Margin&& margin,
                                           Seconds tolerance = boundary_tolerance) {
    std::vector<Span> out;
    search_spans(
        samples.size(), [&](std::size_t i) { return samples[i].at; },
        [&](std::size_t i) { return margin(samples[i]); },
        [&](Instant t) { return margin(path.at(t)); }, tolerance, out);
    return out;
}

/// The run around `inside`, where the margin is positive, cut to earliest..latest. Gaps shorter
/// than a step of 150 s may be passed over.
/// @param margin  Moment -> double, positive at `inside`
/// @pre earliest <= inside <= latest, and the path covers them
template <class Margin>
[[nodiscard]] Span run_around(const SunPath& path, Instant inside, Instant earliest, Instant latest,
                              const Margin& margin) {
    const auto at = [&](Instant t) { return margin(path.at(t)); };
    const auto walk = [&](Seconds stride, Instant limit) {
        Instant good = inside;
        double at_good = at(inside);
        while (good != limit) {
            const Instant t = stride.count() > 0 ? std::min(good + stride, limit)
                                                 : std::max(good + stride, limit);
            const double m = at(t);
            if (m <= 0) return solve(t, m, good, at_good, at);
            good = t;
            at_good = m;
        }
        return limit;
    };
    constexpr Seconds step{150};
    return {walk(-step, earliest), walk(step, latest), false, false};
}

}  // namespace keyhour::study
