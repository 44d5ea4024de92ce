#pragma once
/// @file
/// The best of many answers: what they are ranked by, and the ranking.

#include <algorithm>
#include <cstddef>
#include <utility>
#include <vector>

#include "keyhour/study/best_key.hpp"
#include "keyhour/study/spot_light.hpp"

namespace keyhour::ask {

/// By what an answer about one place and date, or one place and many dates, is ranked.
struct Standing {
    bool fits = false;  ///< what does not fit has no rank
    Seconds sure{0};    ///< of the best hold: at every bearing within the doubt, >= 0
    Seconds hold{0};    ///< at the stated bearing, >= 0; outside: of the light wanted
    Instant start;      ///< of the best hold; only of what fits
};

/// The surer; of two as sure the longer.
[[nodiscard]] bool is_surer(const Standing& a, const Standing& b) noexcept;

/// The surer, of two as sure the longer, of two as long the one that starts earlier.
[[nodiscard]] bool is_better(const Standing& a, const Standing& b) noexcept;

/// Of the best of the choice.
[[nodiscard]] Standing standing_of(const study::KeyChoice& choice);

/// Of the longest light that the spot wants: it fits if it lasts at least `least`. Nothing is sure.
[[nodiscard]] Standing standing_of(const study::SpotDay& day, Seconds least);

/// Keeps the best so many of the answers that fit, whatever their number. Those that stand alike
/// keep the order in which they came.
template <class Thing>
class Ranking {
public:
    /// @param most  to keep; 0 keeps none
    explicit Ranking(std::size_t most) : most_{most} {}

    /// Costs O(log most). What does not fit is passed over.
    void add(const Standing& standing, Thing thing) {
        if (!standing.fits || most_ == 0) return;
        kept_.push_back({standing, seen_++, std::move(thing)});
        std::push_heap(kept_.begin(), kept_.end(), comes_before);
        if (kept_.size() <= most_) return;
        std::pop_heap(kept_.begin(), kept_.end(), comes_before);
        kept_.pop_back();
    }

    /// Best first: rank 1 is the first. They live as long as this.
    [[nodiscard]] std::vector<const Thing*> best_first() const {
        std::vector<const Ranked*> sorted;
        for (const Ranked& ranked : kept_)
            sorted.push_back(&ranked);
        std::ranges::sort(sorted,
                          [](const Ranked* a, const Ranked* b) { return comes_before(*a, *b); });
        std::vector<const Thing*> out;
        for (const Ranked* ranked : sorted)
            out.push_back(&ranked->thing);
        return out;
    }

private:
    struct Ranked {
        Standing standing;
        std::size_t number;  // in the order in which they came
        Thing thing;
    };
    static bool comes_before(const Ranked& a, const Ranked& b) {
        if (is_better(a.standing, b.standing)) return true;
        return !is_better(b.standing, a.standing) && a.number < b.number;
    }

    std::size_t most_, seen_ = 0;
    std::vector<Ranked> kept_;  // a heap, the worst on top
};

}  // namespace keyhour::ask
