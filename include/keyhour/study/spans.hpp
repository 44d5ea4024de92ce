#pragma once
/// @file
/// When is a condition true? Bracket on coarse samples, then solve.

#include <algorithm>
#include <cmath>
#include <span>
#include <vector>

#include "keyhour/study/sun_path.hpp"

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
    double fb = std::max(at_bad, -1.0), fg = std::min(at_good, 1.0);
    for (int i = 0; i < 60 && std::abs((good - bad).count()) > tolerance.count(); ++i) {
        double share = fg - fb > 0 ? -fb / (fg - fb) : 0.5;  // of the way from bad to good
        if (i % 3 == 2 || (fb <= -1 && fg >= 1)) share = 0.5;
        share = std::clamp(share, 0.02, 0.98);
        const Instant t = bad + share * (good - bad);
        const double f = std::clamp(margin(t), -1.0, 1.0);
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
/// @param samples    of `path`, ascending; between two of them at most one run or gap is found
/// @param margin     Moment -> double; continuous where it can be
/// @param tolerance  of each boundary
/// @return           ascending, apart from each other; those cut by the samples' ends say so
template <class Margin>
[[nodiscard]] std::vector<Span> find_spans(const SunPath& path, std::span<const Moment> samples,
                                           Margin&& margin,
                                           Seconds tolerance = boundary_tolerance) {
    std::vector<Span> out;
    if (samples.size() < 2) return out;
    const auto at = [&](Instant t) { return margin(path.at(t)); };
    const auto open = [&](Instant t, bool at_start) { out.push_back({t, t, at_start, false}); };
    double before = margin(samples[0]), now = before, next = margin(samples[1]);
    bool running = now > 0;
    if (running) open(samples[0].at, true);
    for (std::size_t i = 0; i + 1 < samples.size(); ++i) {
        // An extremum near sample i, between its neighbours, that hides a change of sign?
        if (i > 0 && now <= 0 && before <= 0 && next <= 0 && now > hopeless && now >= before &&
            now >= next && (now > before || now > next) &&
            now + 1.5 * std::max(now - before, now - next) > 0) {
            const Instant top = peak(samples[i - 1].at, samples[i + 1].at, at);
            const double height = at(top);
            if (height > 0) {
                open(solve(samples[i - 1].at, before, top, height, at, tolerance), false);
                out.back().to = solve(samples[i + 1].at, next, top, height, at, tolerance);
            }
        } else if (i > 0 && now > 0 && before > 0 && next > 0 && now <= before && now <= next &&
                   now - 1.5 * std::max(before - now, next - now) < 0) {
            const auto negative = [&](Instant t) { return -at(t); };
            const Instant low = peak(samples[i - 1].at, samples[i + 1].at, negative);
            const double depth = at(low);
            if (depth <= 0) {
                out.back().to = solve(low, depth, samples[i - 1].at, before, at, tolerance);
                open(solve(low, depth, samples[i + 1].at, next, at, tolerance), false);
            }
        }
        if (now <= 0 && next > 0) {
            open(solve(samples[i].at, now, samples[i + 1].at, next, at, tolerance), false);
            running = true;
        } else if (now > 0 && next <= 0) {
            out.back().to = solve(samples[i + 1].at, next, samples[i].at, now, at, tolerance);
            running = false;
        }
        before = now;
        now = next;
        if (i + 2 < samples.size()) next = margin(samples[i + 2]);
    }
    if (running) {
        out.back().to = samples.back().at;
        out.back().runs_at_end = true;
    }
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
