#include "sampled_key.hpp"

#include <algorithm>

#include "key_criterion.hpp"
#include "keyhour/study/doubt.hpp"

namespace keyhour::study {
namespace {

constexpr Seconds shaded_step{60};

/// Stretches of samples in which the sun stands where the settings want it, one sample wider on
/// each side.
std::vector<std::span<const Moment>> stretches(std::span<const Moment> samples,
                                               const KeySettings& settings) {
    std::vector<std::span<const Moment>> out;
    const auto fits = [&](const Moment& m) {
        constexpr double slack_deg = 1.5;  // more than the sun climbs in a step
        return m.above_skyline_deg > -slack_deg &&
               m.altitude_deg > settings.altitude_deg[0] - slack_deg &&
               m.altitude_deg < settings.altitude_deg[1] + slack_deg;
    };
    for (std::size_t i = 0; i < samples.size(); ++i) {
        if (!fits(samples[i])) continue;
        std::size_t end = i;
        while (end < samples.size() && fits(samples[end]))
            ++end;
        const std::size_t first = i > 0 ? i - 1 : 0;
        out.push_back(samples.subspan(first, std::min(end + 1, samples.size()) - first));
        i = end;
    }
    return out;
}

/// Spans in which the margin is positive, outside those that are told already.
/// @param told  ascending
template <class Margin>
std::vector<Span> untold_spans(const RoomStudy& study, const std::vector<std::vector<Moment>>& days,
                               const std::vector<Span>& told, const Margin& margin) {
    std::vector<Span> out;
    auto next = told.begin();
    const auto untold = [&](const Moment& m) {
        while (next != told.end() && next->to < m.at)
            ++next;
        const auto inside = [&](const Span& s) { return s.from <= m.at && m.at <= s.to; };
        // A solver looks back by a sample or two, so the span before may still matter.
        if ((next != told.end() && inside(*next)) ||
            (next != told.begin() && inside(*std::prev(next))))
            return -1.0;
        return margin(m);
    };
    for (const auto& stretch : days) {
        const auto found = find_spans(study.path(), stretch, untold);
        out.insert(out.end(), found.begin(), found.end());
    }
    return out;
}

/// Where something outside may shade the mark, a thin shadow can pass between two samples: there
/// they stand a minute apart.
std::vector<Moment> refined(const RoomStudy& study, const KeyInterval& who,
                            std::span<const Moment> stretch) {
    const auto shaded = [&](const Moment& m) {
        return study.scene().may_be_shaded(who.mark, who.window, study.sun(m));
    };
    std::vector<Moment> out;
    bool before = false;
    for (std::size_t i = 0; i < stretch.size(); ++i) {
        const bool now = shaded(stretch[i]);
        if (i > 0 && (before || now))
            for (int k = 1; k * shaded_step < stretch[i].at - stretch[i - 1].at; ++k)
                out.push_back(study.path().at(stretch[i - 1].at + k * shaded_step));
        out.push_back(stretch[i]);
        before = now;
    }
    return out;
}

/// How far samples must lie apart within a span.
Seconds step_within(const RoomStudy& study, const KeyInterval& who, const Span& span) {
    if (!study.scene().has_outside(who.window)) return sample_step;
    for (const Moment& m : study.path().samples(span.from, span.to, sample_step))
        if (study.scene().may_be_shaded(who.mark, who.window, study.sun(m))) return shaded_step;
    return sample_step;
}

}  // namespace

void add_sampled_intervals(const RoomStudy& study, const KeySettings& settings,
                           const std::vector<std::vector<Moment>>& days, Instant from, Instant to,
                           Instant first, Instant last, const KeyInterval& who,
                           std::vector<KeyInterval>& out) {
    const KeyCriterion criterion{study, study.scene(), settings, who.mark, who.camera, who.window};
    const auto at_turn = [&](const room::PlanTurn& turn) {
        std::vector<Span> spans;
        for (const auto& stretch : days) {
            const auto found = find_spans(study.path(), stretch,
                                          [&](const Moment& m) { return criterion(m, turn); });
            spans.insert(spans.end(), found.begin(), found.end());
        }
        return spans;
    };
    std::vector<Span> told;
    const auto tell = [&](KeyInterval interval, Instant start) {
        told.push_back(interval.possible);
        if (start >= from && start < to) out.push_back(std::move(interval));
    };
    for (const Span& span : at_turn(study.bearings().stated)) {
        if (span.length() < settings.shortest || span.runs_at_start) continue;
        KeyInterval interval = who;
        interval.span = span;
        interval.sure = sure_part(study.path(), study.bearings(), span, criterion,
                                  step_within(study, who, span));
        interval.possible =
            possible_part(study.path(), study.bearings(), span, first, last, criterion);
        // Ends are solved to a tolerance: what holds is possible, to the last fraction of a second.
        interval.possible.from = std::min(interval.possible.from, span.from);
        interval.possible.to = std::max(interval.possible.to, span.to);
        tell(std::move(interval), span.from);
    }
    // What the stated bearing does not give, another one may; told spans are passed over.
    for (const room::PlanTurn& turn : study.bearings().some) {
        std::sort(told.begin(), told.end(),
                  [](const Span& a, const Span& b) { return a.from < b.from; });
        for (const Span& span :
             untold_spans(study, days, told, [&](const Moment& m) { return criterion(m, turn); })) {
            if (span.length() < settings.shortest || span.runs_at_start) continue;
            KeyInterval interval = who;
            interval.possible =
                possible_part(study.path(), study.bearings(), span, first, last, criterion);
            if (std::none_of(told.begin(), told.end(), [&](const Span& s) {
                    return s.from < interval.possible.to && interval.possible.from < s.to;
                }))
                tell(interval, interval.possible.from);
        }
    }
}

std::vector<std::vector<Moment>> lit_stretches(const RoomStudy& study,
                                               std::span<const Moment> samples,
                                               const KeySettings& settings,
                                               const KeyInterval& who) {
    std::vector<std::vector<Moment>> out;
    for (const auto stretch : stretches(samples, settings))
        out.push_back(study.scene().has_outside(who.window)
                          ? refined(study, who, stretch)
                          : std::vector<Moment>(stretch.begin(), stretch.end()));
    return out;
}

}  // namespace keyhour::study
