#pragma once
/// @file
/// The clean key of one date by brute force: bearings a tenth of a degree apart, minute by minute,
/// looked at more finely about each end that was told. Knows nothing of how it was found.

#include <fmt/format.h>

#include <string>

#include "support/sampled_key.hpp"

namespace keyhour::test {

/// What the judge looked at, and what it found wrong.
struct KeyVerdict {
    std::size_t spans = 0, sure = 0, possible = 0, possible_alone = 0, minutes = 0;
    std::vector<std::string> wrong;
};

class KeyJudge {
public:
    /// Ends may stray so far.
    static constexpr double within_s = 15;

    KeyJudge(const study::RoomStudy& study, const study::KeySettings& settings, KeyVerdict& verdict)
        : study_{study}, settings_{settings}, verdict_{verdict} {}

    /// @param told  of every mark, camera and window, as those of the date alone
    /// @param aside  those that belong to other dates
    /// @param from  of the date: a day long, its ends in the night where there is one
    void judge(const std::vector<study::KeyInterval>& told,
               const std::vector<study::KeyInterval>& aside, Instant from) {
        from_ = from;
        to_ = from + Seconds{86400};
        const room::Room& room = study_.room();
        for (std::size_t mark = 0; mark < room.marks.size(); ++mark)
            for (const auto camera : study_.cameras_of(mark))
                for (std::size_t window = 0; window < room.windows.size(); ++window) {
                    const SampledKey key{study_, settings_, mark, camera, window};
                    const auto of = [&](const std::vector<study::KeyInterval>& all) {
                        std::vector<study::KeyInterval> out;
                        for (const study::KeyInterval& k : all)
                            if (k.mark == mark && k.camera == camera && k.window == window)
                                out.push_back(k);
                        return out;
                    };
                    who_ = fmt::format("mark {} window {}", mark, window);
                    judge_one(key, of(told), of(aside));
                }
    }

private:
    using Span = study::Span;
    using Turns = std::vector<room::PlanTurn>;
    static constexpr Seconds minute{60}, night{2 * 3600.0};

    [[nodiscard]] Turns turns(double apart_deg) const {
        Turns out;
        const double within = study_.room().bearing.within.in_degrees();
        const int n = static_cast<int>(std::ceil(within / apart_deg));
        for (int i = -n; i <= n; ++i)
            out.emplace_back(Azimuth{wrapped_turn(room::plan_bearing(study_.room()).from_north +
                                                  Angle::degrees(n > 0 ? within * i / n : 0))});
        return out;
    }

    [[nodiscard]] bool stated(const SampledKey& key, Instant t) const {
        return key.margin(study_.path().at(t), study_.bearings().stated) > 0;
    }
    [[nodiscard]] bool at_all(const SampledKey& key, Instant t, const Turns& turns) const {
        const study::Moment m = study_.path().at(t);
        return std::ranges::all_of(turns,
                                   [&](const auto& turn) { return key.margin(m, turn) > 0; });
    }
    [[nodiscard]] bool at_one(const SampledKey& key, Instant t, const Turns& turns) const {
        const study::Moment m = study_.path().at(t);
        return std::ranges::any_of(turns,
                                   [&](const auto& turn) { return key.margin(m, turn) > 0; });
    }

    template <class... Args>
    void complain(fmt::format_string<Args...> words, Args&&... args) {
        verdict_.wrong.push_back(who_ + ": " + fmt::format(words, std::forward<Args>(args)...));
    }
    [[nodiscard]] double s(Instant t) const { return (t - from_).count(); }

    /// Is there an instant from `t` on, within the tolerance, at which the condition fails?
    template <class Holds>
    [[nodiscard]] bool fails_soon(Instant t, int way, const Holds& holds) const {
        for (const double step : {1.0, 0.05})
            for (double by = step; by <= within_s; by += step)
                if (!holds(t + Seconds{way * by})) return true;
        return false;
    }

    void judge_one(const SampledKey& key, std::vector<study::KeyInterval> mine,
                   const std::vector<study::KeyInterval>& aside) {
        for (const study::KeyInterval& k : mine)
            judge_told(key, k);
        mine.insert(mine.end(), aside.begin(), aside.end());
        judge_untold(key, mine);
    }

    void judge_told(const SampledKey& key, const study::KeyInterval& k) {
        const Turns coarse = turns(0.1);
        const auto holds = [&](Instant t) { return stated(key, t); };
        const auto every = [&](Instant t) { return at_all(key, t, coarse); };
        const auto some = [&](Instant t) { return at_one(key, t, coarse); };
        if (k.span) {
            ++verdict_.spans;
            inside("span", *k.span, holds);
            ends("span", *k.span, {from_ - night, to_ + night, false, false}, holds);
            if (k.sure) {
                ++verdict_.sure;
                inside("sure", *k.sure, every);
                ends("sure", *k.sure, *k.span, every);
            }
            longer_sure(key, k);
        } else {
            ++verdict_.possible_alone;
        }
        ++verdict_.possible;
        inside("possible", k.possible,
               [&](Instant t) { return some(t) || at_one(key, t, turns(0.005)); });
        ends("possible", k.possible, {from_ - night, to_ + night, false, false}, some);
    }

    /// Holds at every minute within?
    template <class Holds>
    void inside(const char* what, const Span& span, const Holds& holds) {
        const Seconds length = span.length() - Seconds{2 * within_s};
        const int n = static_cast<int>(std::ceil(std::max(0.0, length / minute)));
        for (int i = 0; i <= n && length > Seconds{0}; ++i) {
            const Instant t = span.from + Seconds{within_s} + (n > 0 ? length * i / n : Seconds{0});
            ++verdict_.minutes;
            if (holds(t)) continue;
            complain("{} {:.1f} to {:.1f} does not hold at {:.1f}", what, s(span.from), s(span.to),
                     s(t));
            return;
        }
    }

    /// Does it end soon after each end? @param limits  beyond which it may go on
    template <class Holds>
    void ends(const char* what, const Span& span, const Span& limits, const Holds& holds) {
        if (span.from - limits.from > Seconds{within_s} && !fails_soon(span.from, -1, holds))
            complain("{} {:.1f} to {:.1f} holds before it", what, s(span.from), s(span.to));
        if (limits.to - span.to > Seconds{within_s} && !fails_soon(span.to, 1, holds))
            complain("{} {:.1f} to {:.1f} holds after it", what, s(span.from), s(span.to));
    }

    /// Runs of a condition on the minutes of a span, from the first to the last that holds.
    template <class Holds>
    [[nodiscard]] std::vector<Span> runs(Instant from, Instant to, Seconds step,
                                         const Holds& holds) {
        std::vector<Span> out;
        bool running = false;
        for (Instant t = from; t < to; t = t + step) {
            ++verdict_.minutes;
            const bool now = holds(t);
            if (now && !running) out.push_back({t, t, t == from, false});
            if (now) out.back().to = t;
            if (now) out.back().runs_at_end = t + step >= to;
            running = now;
        }
        return out;
    }

    void longer_sure(const SampledKey& key, const study::KeyInterval& k) {
        const Turns coarse = turns(0.1);
        const auto every = [&](Instant t) { return at_all(key, t, coarse); };
        const Seconds told = k.sure_hold() + Seconds{2 * within_s};
        for (const Span& run : runs(k.span->from + Seconds{1}, k.span->to, minute, every)) {
            if (run.length() < told) continue;
            for (const Span& fine : runs(std::max(k.span->from, run.from - minute),
                                         std::min(k.span->to, run.to + minute), Seconds{1}, every))
                if (fine.length() > told)
                    complain("sure for {:.1f} s from {:.1f}, told {:.1f} s", fine.length().count(),
                             s(fine.from), k.sure_hold().count());
        }
    }

    /// Whatever holds for a minute at some bearing must have been told.
    void judge_untold(const SampledKey& key, const std::vector<study::KeyInterval>& mine) {
        const auto is_told = [&](const Span& run, bool at_stated) {
            return std::ranges::any_of(mine, [&](const study::KeyInterval& k) {
                if (at_stated && !k.span) return false;
                const Span& told = at_stated ? *k.span : k.possible;
                return told.from <= run.from + Seconds{within_s} &&
                       told.to >= run.to - Seconds{within_s};
            });
        };
        std::size_t index = 0;
        const Turns all = turns(0.1);
        std::vector<study::Moment> moments;
        for (Instant t = from_ + Seconds{30}; t < to_; t = t + minute) {
            study::Moment m = study_.path().at(t);
            if (m.above_skyline_deg > 0) moments.push_back(m);
        }
        for (const room::PlanTurn& turn : all) {
            const bool at_stated = 2 * index++ + 1 == all.size();
            std::optional<Span> run;
            const auto close = [&] {
                if (!run) return;
                const Span r = *run;
                run.reset();
                // Of another date, or cut by its ends.
                if (r.from - from_ < minute || to_ - r.to < minute) return;
                if (r.length() < minute || is_told(r, at_stated) || broken(key, r, turn)) return;
                complain("{} for {:.0f} s from {:.0f} is not told, bearing {} of {}",
                         at_stated ? "stated" : "possible", r.length().count(), s(r.from),
                         index - 1, all.size());
            };
            Instant last = from_;
            for (const study::Moment& m : moments) {
                if (m.at - last > 1.5 * minute) close();
                last = m.at;
                ++verdict_.minutes;
                if (key.margin(m, turn) <= 0) {
                    close();
                } else {
                    if (!run) run = Span{m.at, m.at, false, false};
                    run->to = m.at;
                }
            }
            close();
        }
    }

    /// Does it fail between two minutes?
    [[nodiscard]] bool broken(const SampledKey& key, const Span& run,
                              const room::PlanTurn& turn) const {
        for (Instant t = run.from; t <= run.to; t = t + Seconds{0.25})
            if (key.margin(study_.path().at(t), turn) <= 0) return true;
        return false;
    }

    const study::RoomStudy& study_;
    const study::KeySettings& settings_;
    KeyVerdict& verdict_;
    Instant from_, to_;
    std::string who_;
};

}  // namespace keyhour::test
