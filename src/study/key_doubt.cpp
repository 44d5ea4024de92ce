#include "keyhour/study/key_doubt.hpp"

#include <algorithm>
#include <cmath>

#include "key_criterion.hpp"
#include "key_doubt_parts.hpp"
#include "key_regions.hpp"
#include "keyhour/site/doubts.hpp"

namespace keyhour::study {
namespace {

/// Beyond what is possible at any bearing a member's run may go on; it is followed so far.
constexpr Seconds moved_at_most{3 * 3600.0};

Seconds shared(const Span& a, const Span& b) {
    return std::max(Seconds{0}, std::min(a.to, b.to) - std::max(a.from, b.from));
}

/// A member's run of an interval, see HoldDoubt. @param spans  ascending: those near are looked at
std::optional<Span> run_of(const std::vector<Span>& spans, const KeyInterval& interval) {
    const Span& around = interval.possible;
    std::optional<Span> best;
    const auto is_better = [&](const Span& s) {
        if (!best) return true;
        const Seconds here = interval.span ? shared(s, *interval.span) : Seconds{0};
        const Seconds there = interval.span ? shared(*best, *interval.span) : Seconds{0};
        return here != there ? here > there : s.length() > best->length();
    };
    auto s = std::lower_bound(spans.begin(), spans.end(), around.from,
                              [](const Span& a, Instant t) { return a.to < t; });
    for (; s != spans.end() && s->from <= around.to; ++s)
        if (is_better(*s)) best = *s;
    return best;
}

/// The way of the sun in samples that stand closer where an edge of what stands outside may pass
/// the mark between two of them: a thin shadow takes a minute.
class CloseSamples {
public:
    CloseSamples(const RoomStudy& study, const KeySettings& settings, const KeyInterval& who)
        : study_{study}, settings_{settings}, who_{who} {}

    [[nodiscard]] std::vector<Moment> between(Instant from, Instant to) {
        constexpr Seconds step{300};
        std::optional<Looked> before;
        for (const Moment& m : study_.path().samples(from, to, step)) {
            const Looked here = look(m);
            if (before) add_between(*before, here);
            samples_.push_back(m);
            before = here;
        }
        return std::move(samples_);
    }

private:
    struct Looked {
        Instant at;
        room::Touch touch;
    };
    [[nodiscard]] Looked look(const Moment& m) const {
        return {m.at,
                study_.scene().touch(who_.mark, who_.window, study_.sun(m), settings_.coverage)};
    }
    void add_between(const Looked& a, const Looked& b) {
        constexpr Seconds closest{20};
        const room::Touch both = a.touch.and_also(b.touch);
        if (b.at - a.at <= closest || both.is_dark() || !both.nears_outside()) return;
        const Moment m = study_.path().at(a.at + 0.5 * (b.at - a.at));
        const Looked middle = look(m);
        add_between(a, middle);
        samples_.push_back(m);
        add_between(middle, b);
    }

    const RoomStudy& study_;
    const KeySettings& settings_;
    const KeyInterval& who_;
    std::vector<Moment> samples_;
};

/// A member's run of a few dates is sampled: tracing its regions would cost ten times as much, and
/// of 64 rooms moved at random a second more or less tells nothing.
std::optional<Span> run_near(const RoomStudy& member, const KeySettings& settings,
                             const KeyInterval& interval, const Span& within) {
    const KeyCriterion criterion{member,        member.scene(),  settings,
                                 interval.mark, interval.camera, interval.window};
    const SunPath& path = member.path();
    const auto samples = CloseSamples{member, settings, interval}.between(
        std::max(path.from(), within.from), std::min(path.to(), within.to));
    const auto margin = [&](const Moment& m) { return criterion(m, member.bearings().stated); };
    return run_of(find_spans(path, samples, margin), interval);
}

const Span& stated_of(const KeyInterval& interval) {
    return interval.span ? *interval.span : interval.possible;
}

Span followed(const KeyInterval& interval, std::optional<Seconds> beyond_stated) {
    const Span& of = beyond_stated ? stated_of(interval) : interval.possible;
    const Seconds beyond = beyond_stated.value_or(moved_at_most);
    return {of.from - beyond, of.to + beyond};
}

bool same_subject(const KeyInterval& a, const KeyInterval& b) {
    return a.mark == b.mark && a.camera == b.camera && a.window == b.window;
}

}  // namespace

MemberRuns member_runs(const RoomStudy& study, Instant from, Instant to,
                       const KeySettings& settings, std::span<const KeyInterval> intervals,
                       const Draw& draw, std::optional<Seconds> beyond_stated) {
    MemberRuns runs(intervals.size());
    if (intervals.empty()) return runs;
    const site::Location location = moved(study.location(), draw);
    const RoomStudy member{location, study.path().shared()};
    constexpr Seconds few{7 * 86400.0};
    if (to - from < few) {
        for (std::size_t i = 0; i < intervals.size(); ++i)
            runs[i] =
                run_near(member, settings, intervals[i], followed(intervals[i], beyond_stated));
        return runs;
    }
    const Instant first = std::max(study.path().from(), from - moved_at_most);
    const Instant last = std::min(study.path().to(), to + Seconds{86400});
    const auto has_interval = [&](const KeyInterval& who) {
        return std::any_of(intervals.begin(), intervals.end(),
                           [&](const KeyInterval& k) { return same_subject(who, k); });
    };
    for (const KeySpans& spans : key_spans(member, first, last, settings, has_interval))
        for (std::size_t i = 0; i < intervals.size(); ++i)
            if (same_subject(spans.who, intervals[i]))
                runs[i] = run_of(spans.at.stated, intervals[i]);
    return runs;
}

std::vector<Draw> draws(const EnsembleSettings& ensemble) {
    const ScrambledSobol point{ensemble.seed};
    std::vector<Draw> out;
    for (int i = 0; i < ensemble.members; ++i)
        out.emplace_back(point(static_cast<std::uint32_t>(i)), ensemble.scale);
    return out;
}

Seconds spread(std::span<const Seconds> holds) {
    double sum = 0, squares = 0;
    for (const Seconds h : holds)
        sum += h.count();
    const double mean = sum / static_cast<double>(holds.size());
    for (const Seconds h : holds)
        squares += (h.count() - mean) * (h.count() - mean);
    return Seconds{std::sqrt(squares / static_cast<double>(holds.size()))};
}

Span middle_90(std::vector<Instant> times) {
    if (times.empty()) return {};
    std::sort(times.begin(), times.end());
    const std::size_t cut = times.size() / 20;
    return {times[cut], times[times.size() - 1 - cut]};
}

std::optional<Span> lit_in(std::span<const Span> runs, std::size_t members, double share) {
    constexpr double rounding = 1e-9;
    const auto wanted =
        static_cast<std::size_t>(std::ceil(share * static_cast<double>(members) - rounding));
    if (wanted == 0) return std::nullopt;
    std::optional<Span> best;
    std::vector<Instant> ends;
    for (const Span& first : runs) {
        // From this member's beginning on: all that have begun, to when enough of them still last.
        ends.clear();
        for (const Span& run : runs)
            if (run.from <= first.from) ends.push_back(run.to);
        if (ends.size() < wanted) continue;
        const auto at = ends.begin() + static_cast<std::ptrdiff_t>(wanted) - 1;
        std::nth_element(ends.begin(), at, ends.end(), std::greater<>{});
        if (*at - first.from >= Seconds{60} && (!best || *at - first.from > best->length()))
            best = Span{first.from, *at};
    }
    return best;
}

Seconds exceeded_in(std::vector<Seconds> holds, double share) {
    constexpr double rounding = 1e-9;
    const auto wanted =
        static_cast<std::size_t>(std::ceil(share * static_cast<double>(holds.size()) - rounding));
    const auto at =
        holds.begin() + static_cast<std::ptrdiff_t>(std::max<std::size_t>(wanted, 1)) - 1;
    std::nth_element(holds.begin(), at, holds.end(), std::greater<>{});
    return *at;
}

std::vector<HoldDoubt> hold_doubts(const RoomStudy& study, Instant from, Instant to,
                                   const KeySettings& settings,
                                   std::span<const KeyInterval> intervals,
                                   const EnsembleSettings& ensemble) {
    const std::size_t n = intervals.size();
    std::vector<std::vector<Seconds>> holds(n);
    std::vector<std::vector<Instant>> begin(n), end(n);
    std::vector<std::vector<Span>> by_clock(n);
    for (const Draw& draw : draws(ensemble)) {
        const Seconds off = clock_off(study.location(), draw);
        const MemberRuns runs = member_runs(study, from, to, settings, intervals, draw);
        for (std::size_t i = 0; i < n; ++i) {
            holds[i].push_back(runs[i] ? runs[i]->length() : Seconds{0});
            if (!runs[i]) continue;
            begin[i].push_back(runs[i]->from + off);
            end[i].push_back(runs[i]->to + off);
            by_clock[i].push_back({runs[i]->from + off, runs[i]->to + off});
        }
    }
    std::vector<HoldDoubt> out(n);
    for (std::size_t i = 0; i < n; ++i) {
        HoldDoubt& d = out[i];
        d.spread = spread(holds[i]);
        d.share =
            static_cast<double>(std::count_if(holds[i].begin(), holds[i].end(),
                                              [&](Seconds h) { return h >= settings.shortest; })) /
            static_cast<double>(holds[i].size());
        d.lit_90 = lit_in(by_clock[i], holds[i].size(), 0.9);
        d.begins = middle_90(std::move(begin[i]));
        d.ends = middle_90(std::move(end[i]));
        d.hold_50 = exceeded_in(holds[i], 0.5);
        d.hold_90 = exceeded_in(std::move(holds[i]), 0.9);
    }
    return out;
}

std::vector<std::vector<Seconds>> kept_parts(const RoomStudy& study, Instant from, Instant to,
                                             const KeySettings& settings,
                                             std::span<const KeyInterval> intervals,
                                             std::span<const Draw> draws) {
    std::vector<std::vector<Seconds>> kept(intervals.size());
    // No run counts beyond the stated interval, by a clock that is off.
    const Seconds beyond{site::clock_within_s(study.location()) + 60};
    for (const Draw& draw : draws) {
        const Seconds off = clock_off(study.location(), draw);
        const MemberRuns runs = member_runs(study, from, to, settings, intervals, draw, beyond);
        for (std::size_t i = 0; i < intervals.size(); ++i) {
            const Span& stated = stated_of(intervals[i]);
            Seconds part{0};
            if (runs[i])
                part = std::min(stated.to, runs[i]->to + off) -
                       std::max(stated.from, runs[i]->from + off);
            kept[i].push_back(std::max(Seconds{0}, part));
        }
    }
    return kept;
}

std::vector<std::vector<Seconds>> member_holds(const RoomStudy& study, Instant from, Instant to,
                                               const KeySettings& settings,
                                               std::span<const KeyInterval> intervals,
                                               std::span<const Draw> draws) {
    std::vector<std::vector<Seconds>> holds(intervals.size());
    for (const Draw& draw : draws) {
        const MemberRuns runs = member_runs(study, from, to, settings, intervals, draw);
        for (std::size_t i = 0; i < intervals.size(); ++i)
            holds[i].push_back(runs[i] ? runs[i]->length() : Seconds{0});
    }
    return holds;
}

}  // namespace keyhour::study
