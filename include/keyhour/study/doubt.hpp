#pragma once
/// @file
/// What is sure and what is possible, while the wall's bearing is known only within some degrees.
///
/// A criterion is a callable (const Moment&, const room::PlanTurn&) -> double, positive where the
/// condition holds with the plan laid at that turn.

#include <algorithm>
#include <optional>

#include "keyhour/study/bearings.hpp"
#include "keyhour/study/spans.hpp"

namespace keyhour::study {

/// The condition at every bearing: positive where it holds at all of them.
template <class Criterion>
[[nodiscard]] auto at_every(const Bearings& bearings, Criterion criterion) {
    return [&bearings, criterion](const Moment& m) {
        double least = 1e300;
        for (const room::PlanTurn& turn : bearings.all) {
            least = std::min(least, criterion(m, turn));
            if (least <= 0) break;
        }
        return least;
    };
}

/// The condition at some bearing: positive where it holds at one of them at least.
template <class Criterion>
[[nodiscard]] auto at_some(const Bearings& bearings, Criterion criterion) {
    return [&bearings, criterion, last = std::size_t{0}](const Moment& m) mutable {
        double most = criterion(m, bearings.all[last]);
        for (std::size_t i = 0; i < bearings.all.size() && most <= 0; ++i) {
            const double here = criterion(m, bearings.all[i]);
            if (here > most) {
                most = here;
                if (here > 0) last = i;
            }
        }
        return most;
    };
}

/// The longest run inside `span` in which the condition holds at every bearing.
/// @param step  of the samples between which its changes are bracketed
template <class Criterion>
[[nodiscard]] std::optional<Span> sure_part(const SunPath& path, const Bearings& bearings,
                                            const Span& span, const Criterion& criterion,
                                            Seconds step = Seconds{300}) {
    const double steps = std::clamp(span.length() / step, 6.0, 6000.0);
    const auto samples = path.samples(span.from, span.to, span.length() / steps);
    const auto runs = find_spans(path, samples, at_every(bearings, criterion));
    const auto longest =
        std::max_element(runs.begin(), runs.end(),
                         [](const Span& a, const Span& b) { return a.length() < b.length(); });
    if (longest == runs.end() || longest->length() <= boundary_tolerance) return std::nullopt;
    return *longest;
}

/// The edge of what holds at some bearing, between `bad` (at none) and `good` (at one).
/// One bearing is followed at a time: first that which holds at `good`; if another one holds beyond
/// its edge, that one takes over.
template <class Criterion>
[[nodiscard]] Instant edge_of_possible(const SunPath& path, const Bearings& bearings, Instant bad,
                                       Instant good, const Criterion& criterion) {
    const auto holding = [&](const Moment& m) -> const room::PlanTurn* {
        for (const room::PlanTurn& turn : bearings.all)
            if (criterion(m, turn) > 0) return &turn;
        return nullptr;
    };
    const Seconds beyond = bad < good ? -2 * boundary_tolerance : 2 * boundary_tolerance;
    Instant edge = good;
    for (const room::PlanTurn* turn = holding(path.at(good)); turn != nullptr;) {
        const auto at = [&](Instant t) { return criterion(path.at(t), *turn); };
        edge = solve(bad, at(bad), good, at(good), at);
        good = edge + beyond;
        if ((good - bad).count() * (edge - bad).count() <= 0) break;  // came to the bad end
        turn = holding(path.at(good));
    }
    return edge;
}

/// The connected run around `span` in which the condition holds at some bearing.
/// @param earliest,latest  the run is cut there
template <class Criterion>
[[nodiscard]] Span possible_part(const SunPath& path, const Bearings& bearings, const Span& span,
                                 Instant earliest, Instant latest, const Criterion& criterion) {
    constexpr Seconds step{150};
    auto some = at_some(bearings, criterion);
    const auto edge_from = [&](Instant bad, Instant start) {
        // The start is itself an edge, known to the tolerance: step in to where it holds.
        const Seconds inward = bad < start ? 4 * boundary_tolerance : -4 * boundary_tolerance;
        return edge_of_possible(path, bearings, bad, start + inward, criterion);
    };
    const auto walk = [&](Instant from, Seconds stride, Instant limit) {
        Instant good = from;
        while (good != limit) {
            const Instant t = stride.count() > 0 ? std::min(good + stride, limit)
                                                 : std::max(good + stride, limit);
            if (some(path.at(t)) <= 0)
                return good == from ? edge_from(t, from)
                                    : edge_of_possible(path, bearings, t, good, criterion);
            good = t;
        }
        return limit;
    };
    return {walk(span.from, -step, std::min(earliest, span.from)),
            walk(span.to, step, std::max(latest, span.to)), false, false};
}

}  // namespace keyhour::study
