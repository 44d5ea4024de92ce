#include "keyhour/study/key_doubt.hpp"

#include <algorithm>
#include <cmath>

#include "key_criterion.hpp"
#include "key_doubt_parts.hpp"
#include "key_regions.hpp"
#include "sampled_key.hpp"

namespace keyhour::study {
namespace {

/// Beyond what is possible at any bearing a member's run may go on; it is followed so far.
constexpr Seconds aside{3 * 3600.0};

std::optional<Span> longest_meeting(std::span<const Span> spans, const Span& around) {
    std::optional<Span> best;
    for (const Span& s : spans)
        if (s.from <= around.to && s.to >= around.from && (!best || s.length() > best->length()))
            best = s;
    return best;
}

/// The same, of ascending spans: only those near are looked at.
std::optional<Span> longest_meeting_sorted(std::span<const Span> spans, const Span& around) {
    const auto first = std::lower_bound(spans.begin(), spans.end(), around.from,
                                        [](const Span& s, Instant t) { return s.to < t; });
    const auto last = std::upper_bound(first, spans.end(), around.to,
                                       [](Instant t, const Span& s) { return t < s.from; });
    return longest_meeting({first, last}, around);
}

/// One member's room, asked for its runs.
class Member {
public:
    Member(const RoomStudy& stated, const Draw& draw)
        : location_{moved(stated.location(), draw)}, study_{location_, stated.path().shared()} {}
    Member(const Member&) = delete;
    Member& operator=(const Member&) = delete;
    ~Member() = default;

    [[nodiscard]] const RoomStudy& study() const { return study_; }

    [[nodiscard]] std::optional<Span> run_near(const KeyInterval& interval,
                                               const KeySettings& settings) const {
        const KeyCriterion criterion{study_,        study_.scene(),  settings,
                                     interval.mark, interval.camera, interval.window};
        const auto samples = study_.path().samples(
            std::max(study_.path().from(), interval.possible.from - aside),
            std::min(study_.path().to(), interval.possible.to + aside), sample_step);
        std::optional<Span> best;
        for (const auto& stretch : lit_stretches(study_, samples, settings, interval)) {
            const auto spans = find_spans(study_.path(), stretch, [&](const Moment& m) {
                return criterion(m, study_.bearings().stated);
            });
            const auto run = longest_meeting(spans, interval.possible);
            if (run && (!best || run->length() > best->length())) best = run;
        }
        return best;
    }

private:
    site::Location location_;
    RoomStudy study_;
};

bool same_subject(const KeyInterval& a, const KeyInterval& b) {
    return a.mark == b.mark && a.camera == b.camera && a.window == b.window;
}

}  // namespace

MemberRuns member_runs(const RoomStudy& study, Instant from, Instant to,
                       const KeySettings& settings, std::span<const KeyInterval> intervals,
                       const Draw& draw) {
    MemberRuns runs(intervals.size());
    if (intervals.empty()) return runs;
    const Member member{study, draw};
    if (settings.as_is || !traces_regions(from, to, settings)) {
        for (std::size_t i = 0; i < intervals.size(); ++i)
            runs[i] = member.run_near(intervals[i], settings);
        return runs;
    }
    const Instant first = std::max(study.path().from(), from - aside);
    const Instant last = std::min(study.path().to(), to + Seconds{86400});
    const auto has_interval = [&](const KeyInterval& who) {
        return std::any_of(intervals.begin(), intervals.end(),
                           [&](const KeyInterval& k) { return same_subject(who, k); });
    };
    for (const KeySpans& spans : key_spans(member.study(), first, last, settings, has_interval))
        for (std::size_t i = 0; i < intervals.size(); ++i)
            if (same_subject(spans.who, intervals[i]))
                runs[i] = longest_meeting_sorted(spans.stated, intervals[i].possible);
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
    for (const Draw& draw : draws(ensemble)) {
        const Seconds off = clock_off(study.location(), draw);
        const MemberRuns runs = member_runs(study, from, to, settings, intervals, draw);
        for (std::size_t i = 0; i < n; ++i) {
            holds[i].push_back(runs[i] ? runs[i]->length() : Seconds{0});
            if (!runs[i]) continue;
            begin[i].push_back(runs[i]->from + off);
            end[i].push_back(runs[i]->to + off);
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
    for (const Draw& draw : draws) {
        const Seconds off = clock_off(study.location(), draw);
        const MemberRuns runs = member_runs(study, from, to, settings, intervals, draw);
        for (std::size_t i = 0; i < intervals.size(); ++i) {
            const Span& stated = intervals[i].span ? *intervals[i].span : intervals[i].possible;
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
