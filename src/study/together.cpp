#include "keyhour/study/together.hpp"

#include <algorithm>
#include <set>
#include <tuple>

namespace keyhour::study {
namespace {

constexpr Seconds shortest{60};

/// When every one of these marks has a key.
std::vector<Span> runs_of(const std::vector<Span>& keys) {
    std::vector<Span> sorted = keys, out;
    std::ranges::sort(sorted, {}, [](const Span& s) { return s.from.unix_s(); });
    for (const Span& s : sorted) {
        if (!out.empty() && s.from <= out.back().to)
            out.back().to = std::max(out.back().to, s.to);
        else
            out.push_back({s.from, s.to});
    }
    return out;
}

std::vector<Span> common(const std::vector<Span>& a, const std::vector<Span>& b) {
    std::vector<Span> out;
    for (const Span& x : a)
        for (const Span& y : b) {
            const Instant from = std::max(x.from, y.from), to = std::min(x.to, y.to);
            if (to - from >= shortest) out.push_back({from, to});
        }
    return out;
}

class ByMark {
public:
    explicit ByMark(const std::vector<KeyInterval>& intervals) {
        for (const KeyInterval& k : intervals) {
            if (k.mark >= lit_.size()) {
                lit_.resize(k.mark + 1);
                sure_.resize(lit_.size());
            }
            if (k.span) lit_[k.mark].push_back(*k.span);
            if (k.span && k.sure) sure_[k.mark].push_back(*k.sure);
        }
        for (auto& spans : lit_)
            spans = runs_of(spans);
        for (auto& spans : sure_)
            spans = runs_of(spans);
    }
    [[nodiscard]] const std::vector<std::vector<Span>>& lit() const { return lit_; }

    /// The marks that have a key throughout from..to.
    [[nodiscard]] std::vector<std::size_t> marks_in(Instant from, Instant to) const {
        std::vector<std::size_t> out;
        for (std::size_t m = 0; m < lit_.size(); ++m)
            if (std::ranges::any_of(lit_[m],
                                    [&](const Span& s) { return s.from <= from && s.to >= to; }))
                out.push_back(m);
        return out;
    }

    static std::vector<Span> of_all(const std::vector<std::vector<Span>>& spans,
                                    const std::vector<std::size_t>& marks) {
        std::vector<Span> out = spans[marks.front()];
        for (const std::size_t m : marks)
            out = common(out, spans[m]);
        return out;
    }

    [[nodiscard]] std::optional<Span> sure_in(const std::vector<std::size_t>& marks,
                                              const Span& span) const {
        std::optional<Span> best;
        for (const Span& s : common(of_all(sure_, marks), {span}))
            if (!best || s.length() > best->length()) best = s;
        return best;
    }

private:
    std::vector<std::vector<Span>> lit_, sure_;
};

/// Sets of marks that are lit at once between two neighbouring ends of spans.
std::set<std::vector<std::size_t>> sets_at_once(const ByMark& by_mark) {
    std::vector<Instant> ends;
    for (const auto& spans : by_mark.lit())
        for (const Span& s : spans) {
            ends.push_back(s.from);
            ends.push_back(s.to);
        }
    std::ranges::sort(ends, {}, [](Instant t) { return t.unix_s(); });
    std::set<std::vector<std::size_t>> out;
    for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
        if (ends[i + 1] - ends[i] < shortest) continue;
        auto marks = by_mark.marks_in(ends[i], ends[i + 1]);
        if (marks.size() > 1) out.insert(std::move(marks));
    }
    return out;
}

}  // namespace

std::vector<Together> keys_together(const std::vector<KeyInterval>& intervals) {
    const ByMark by_mark{intervals};
    std::vector<Together> out;
    for (const auto& marks : sets_at_once(by_mark))
        for (const Span& span : ByMark::of_all(by_mark.lit(), marks))
            out.push_back({marks, span, by_mark.sure_in(marks, span)});
    std::ranges::stable_sort(out, {}, [](const Together& t) {
        return std::tuple{-static_cast<double>(t.marks.size()),
                          -(t.sure ? t.sure->length().count() : 0), -t.span.length().count(),
                          t.span.from.unix_s()};
    });
    return out;
}

}  // namespace keyhour::study
