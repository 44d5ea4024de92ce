#include "keyhour/site/nearest.hpp"

#include <algorithm>
#include <vector>

namespace keyhour::site {
namespace {

char lower(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

}  // namespace

std::size_t edit_distance(std::string_view a, std::string_view b) {
    // Rows of the usual table; before_last allows the exchange of two neighbours.
    std::vector<std::size_t> before_last(b.size() + 1), last(b.size() + 1), row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j)
        last[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t changed = lower(a[i - 1]) == lower(b[j - 1]) ? 0 : 1;
            row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + changed});
            if (i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) &&
                lower(a[i - 2]) == lower(b[j - 1]))
                row[j] = std::min(row[j], before_last[j - 2] + 1);
        }
        before_last.swap(last);
        last.swap(row);
    }
    return last[b.size()];
}

std::optional<std::string> nearest(std::string_view word, std::span<const std::string> known) {
    constexpr std::size_t longest = 64;  // nothing known is longer; spares time on pasted pages
    if (word.empty() || word.size() > longest) return std::nullopt;
    const std::size_t allowed = std::max<std::size_t>(2, word.size() / 3);
    std::optional<std::string> best;
    std::size_t best_distance = allowed + 1;
    for (const std::string& candidate : known) {
        const std::size_t distance = edit_distance(word, candidate);
        if (distance >= best_distance || distance >= candidate.size()) continue;
        best_distance = distance;
        best = candidate;
    }
    return best;
}

}  // namespace keyhour::site
