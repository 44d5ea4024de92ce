#include "keyhour/study/timetable.hpp"

#include <algorithm>

namespace keyhour::study {

std::optional<Seconds> length_of(const site::Task& task, int crew) noexcept {
    std::optional<Seconds> length;
    for (const site::TaskMinutes& m : task.by_crew)
        if (m.crew <= crew) length = Seconds{60 * m.minutes};
    return length;
}

Timetable count_back(const site::Rigging& rigging, int crew, Instant ready_by) {
    Timetable out{crew, {}, ready_by, ready_by, {}};
    for (std::size_t i = rigging.tasks.size(); i-- > 0;) {
        const auto length = length_of(rigging.tasks[i], crew);
        if (!length) {
            out.needs_more = i;
            continue;
        }
        out.tasks.push_back({i, out.start - *length, out.start});
        out.start = out.tasks.back().from;
    }
    if (out.needs_more) {
        out.tasks.clear();
        out.start = ready_by;
    }
    std::ranges::reverse(out.tasks);
    return out;
}

std::vector<int> crew_sizes(const site::Rigging& rigging) {
    std::vector<int> out;
    if (rigging.crew) out.push_back(*rigging.crew);
    for (const site::Task& task : rigging.tasks)
        for (const site::TaskMinutes& m : task.by_crew)
            out.push_back(m.crew);
    std::ranges::sort(out);
    const auto rest = std::ranges::unique(out);
    out.erase(rest.begin(), rest.end());
    return out;
}

}  // namespace keyhour::study
