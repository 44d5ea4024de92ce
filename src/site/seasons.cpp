#include "keyhour/site/seasons.hpp"

#include <algorithm>

#include "keyhour/site/dates.hpp"

namespace keyhour::site {
namespace {

bool same_state(const Location& location, LocalDate a, LocalDate b) {
    return std::all_of(location.trees.begin(), location.trees.end(),
                       [&](const Tree& tree) { return is_closed(tree, a) == is_closed(tree, b); });
}

/// Leaves come and go with a month.
LocalDate end_of_month(LocalDate day) {
    return LocalDate{day.year() / day.month() / date::last};
}

}  // namespace

std::vector<Season> seasons(const Location& location, LocalDate first, LocalDate last) {
    std::vector<Season> out;
    for (LocalDate from = first; from <= last;) {
        const LocalDate to = std::min(end_of_month(from), last);
        if (!out.empty() && same_state(location, out.back().first, from))
            out.back().last = to;
        else
            out.push_back({from, to});
        from = next_day(to);
    }
    return out;
}

Location in_season(const Location& location, LocalDate date) {
    Location out = location;
    for (const Tree& tree : location.trees) {
        room::Building standing;
        standing.name = tree.name;
        standing.height_m = tree.height_m;
        standing.kind = room::Building::Kind::tree;
        if (is_closed(tree, date)) standing.footprint = tree.footprint;
        buildings(out).push_back(std::move(standing));
    }
    return out;
}

}  // namespace keyhour::site
