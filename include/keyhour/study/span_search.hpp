#pragma once
/// @file
/// When is a condition true? Bracket on coarse samples, then solve. Needs no memory but the list
/// that the spans are put into.

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "keyhour/sun/instant.hpp"

namespace keyhour::study {

/// A stretch of time without a break, from <= to.
struct Span {
    Instant from, to;
    bool runs_at_start = false;  ///< already true at the first sample
    bool runs_at_end = false;    ///< still true at the last sample
    [[nodiscard]] Seconds length() const { return to - from; }
};

/// A boundary is known to this; people are shown whole minutes.
inline constexpr Seconds boundary_tolerance{0.05};

/// The instant between `bad` (margin <= 0) and `good` (margin > 0) where the margin changes sign.
/// False position in its Illinois form (Dowell & Jarratt 1971), with a bisection every third step
/// because margins may jump.
/// @param at_bad,at_good  the margins there; only their size between -1 and 1 counts
/// @param margin  Instant -> double; a plain yes and no is 1 and -1, and is bisected
/// @return        within `tolerance` of the change, after at most 60 calls of the margin
template <class Margin>
[[nodiscard]] Instant solve(Instant bad, double at_bad, Instant good, double at_good,
                            const Margin& margin, Seconds tolerance = boundary_tolerance) {
    double fb = std::max<double>(at_bad, -1), fg = std::min<double>(at_good, 1);
    for (int i = 0; i < 60 && std::abs((good - bad).count()) > tolerance.count(); ++i) {
        double share = fg - fb > 0 ? -fb / (fg - fb) : 0.5;  // of the way from bad to good
        if (i % 3 == 2 || (fb <= -1 && fg >= 1)) share = 0.5;
        share = std::clamp<double>(share, 0.02, 0.98);
        const Instant t = bad + share * (good - bad);
        const double f = std::clamp<double>(margin(t), -1, 1);
        if (f > 0) {
            good = t;
            fg = f;
            if (f < 1) fb /= 2;
        } else {
            bad = t;
            fb = f;
            if (f > -1) fg /= 2;
        }
    }
    return bad + 0.5 * (good - bad);
}

/// Where in a..b is the margin largest (golden section)? Assumes one peak between; stops early at a
/// positive value, else within four seconds of the peak. Each call narrows a..b by 0.618 (Kiefer
/// 1953).
template <class Margin>
[[nodiscard]] Instant peak(Instant a, Instant b, const Margin& margin) {
    constexpr double golden = 0.6180339887498949;
    Instant x1 = b - golden * (b - a), x2 = a + golden * (b - a);
    double f1 = margin(x1), f2 = margin(x2);
    while ((b - a) > Seconds{4}) {
        if (f1 > 0) return x1;
        if (f2 > 0) return x2;
        if (f1 >= f2) {
            b = x2;
            x2 = x1;
            f2 = f1;
            x1 = b - golden * (b - a);
            f1 = margin(x1);
        } else {
            a = x1;
            x1 = x2;
            f1 = f2;
            x2 = a + golden * (b - a);
            f2 = margin(x2);
        }
    }
    return f1 >= f2 ? x1 : x2;
}

/// Below this a margin says "far away", and no peak is looked for.
inline constexpr double hopeless = -100;

/// Spans in which margin > 0, among samples in ascending time. Peaks and dips between samples are
/// looked for where the neighbours leave room for them.
/// @param count      of samples; between two of them at most one run or gap is found
/// @param instant    index -> Instant; @param sampled  index -> margin there, asked once and in
/// order
/// @param at         Instant -> margin; continuous where it can be
/// @param tolerance  of each boundary
/// @param out        with push_back and back: receives the spans, ascending, apart from each other;
///                   those cut by the samples' ends say so
template <class InstantOf, class Sampled, class At, class Spans>
void search_spans(std::size_t count, const InstantOf& instant, Sampled&& sampled, const At& at,
                  Seconds tolerance, Spans& out) {
    if (count < 2) return;
    const auto open = [&](Instant t, bool at_start) { out.push_back({t, t, at_start, false}); };
    double before = sampled(std::size_t{0}), now = before, next = sampled(std::size_t{1});
    bool running = now > 0;
    if (running) open(instant(0), true);
    for (std::size_t i = 0; i + 1 < count; ++i) {
        // An extremum near sample i, between its neighbours, that hides a change of sign?
        if (i > 0 && now <= 0 && before <= 0 && next <= 0 && now > hopeless && now >= before &&
            now >= next && (now > before || now > next) &&
            now + 1.5 * std::max(now - before, now - next) > 0) {
            const Instant top = peak(instant(i - 1), instant(i + 1), at);
            const double height = at(top);
            if (height > 0) {
                open(solve(instant(i - 1), before, top, height, at, tolerance), false);
                out.back().to = solve(instant(i + 1), next, top, height, at, tolerance);
            }
        } else if (i > 0 && now > 0 && before > 0 && next > 0 && now <= before && now <= next &&
                   now - 1.5 * std::max(before - now, next - now) < 0) {
            const auto negative = [&](Instant t) { return -at(t); };
            const Instant low = peak(instant(i - 1), instant(i + 1), negative);
            const double depth = at(low);
            if (depth <= 0) {
                out.back().to = solve(low, depth, instant(i - 1), before, at, tolerance);
                open(solve(low, depth, instant(i + 1), next, at, tolerance), false);
            }
        }
        if (now <= 0 && next > 0) {
            open(solve(instant(i), now, instant(i + 1), next, at, tolerance), false);
            running = true;
        } else if (now > 0 && next <= 0) {
            out.back().to = solve(instant(i + 1), next, instant(i), now, at, tolerance);
            running = false;
        }
        before = now;
        now = next;
        if (i + 2 < count) next = sampled(i + 2);
    }
    if (running) {
        out.back().to = instant(count - 1);
        out.back().runs_at_end = true;
    }
}

}  // namespace keyhour::study
