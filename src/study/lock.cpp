#include "keyhour/study/lock.hpp"

#include <algorithm>

#include "keyhour/study/doubt.hpp"

namespace keyhour::study {
namespace {

constexpr Seconds landing_step{120};
constexpr Seconds aside{1};

template <class T>
void add_once(std::vector<T>& list, const T& value) {
    if (std::find(list.begin(), list.end(), value) == list.end()) list.push_back(value);
}

/// Where the light lands at one instant.
void note_landing(const RoomStudy& study, const Moment& m, const room::PlanTurn& turn, Leak& leak) {
    const room::Room& room = study.room();
    const room::Point3 sun = turn.to_plan(m.toward);
    for (const room::Patch& patch : study.scene().patches(leak.window, sun)) {
        add_once(leak.surfaces, patch.surface);
        for (std::size_t c = 0; c < room.cameras.size(); ++c)
            if (room::in_frame(room, room.cameras[c], patch)) add_once(leak.cameras, c);
    }
    for (std::size_t mark = 0; mark < room.marks.size(); ++mark)
        if (study.scene().coverage(mark, leak.window, sun) > 0) add_once(leak.marks, mark);
}

/// Landing over a span, looked at every two minutes and at both ends.
void note_landings(const RoomStudy& study, const Span& span, const room::PlanTurn& turn,
                   Leak& leak) {
    const double steps = std::max(2.0, std::ceil(span.length() / landing_step));
    for (const Moment& m : study.path().samples(span.from, span.to, span.length() / steps))
        note_landing(study, m, turn, leak);
}

std::vector<Leak> leaks_of_window(const RoomStudy& study, std::size_t window, const Span& lock) {
    std::vector<Leak> out;
    const auto criterion = [&](const Moment& m, const room::PlanTurn& turn) {
        return sun_in_margin(study, window, m, turn);
    };
    const double steps = std::max(2.0, std::ceil(lock.length() / sun_in_step(study, window)));
    const auto samples = study.path().samples(lock.from, lock.to, lock.length() / steps);
    const room::PlanTurn& stated = study.bearings().stated;
    for (const Span& span :
         find_spans(study.path(), samples, [&](const Moment& m) { return criterion(m, stated); })) {
        Leak leak;
        leak.window = window;
        leak.span = span;
        leak.possible =
            possible_part(study.path(), study.bearings(), span, lock.from, lock.to, criterion);
        if (!span.runs_at_start)
            leak.begins_by = sun_in_edge(study, window, span.from - aside, span.from + aside);
        if (!span.runs_at_end)
            leak.ends_by = sun_in_edge(study, window, span.to + aside, span.to - aside);
        note_landings(study, span, stated, leak);
        for (const room::PlanTurn& turn : study.bearings().some)
            note_landings(study, leak.possible, turn, leak);
        out.push_back(std::move(leak));
    }
    // Leaks that only another bearing within the doubt would bring.
    auto some = at_some(study.bearings(), criterion);
    for (const Span& span : find_spans(study.path(), samples, some)) {
        if (std::any_of(out.begin(), out.end(), [&](const Leak& leak) {
                return leak.possible.from < span.to && span.from < leak.possible.to;
            }))
            continue;
        Leak leak;
        leak.window = window;
        leak.possible = span;
        for (const room::PlanTurn& turn : study.bearings().all)
            note_landings(study, leak.possible, turn, leak);
        out.push_back(std::move(leak));
    }
    std::sort(out.begin(), out.end(),
              [](const Leak& a, const Leak& b) { return a.possible.from < b.possible.from; });
    return out;
}

void add_cover(const RoomStudy& study, const std::vector<Leak>& leaks, LockAnswer& answer) {
    if (leaks.empty()) return;
    const room::Window& window = study.room().windows[leaks.front().window];
    CoverToHang cover;
    cover.window = leaks.front().window;
    cover.width_m = window.width_m;
    cover.height_m = window.height_m;
    cover.sure_by = leaks.front().possible.from;
    for (const Leak& leak : leaks) {
        cover.sure_by = std::min(cover.sure_by, leak.possible.from);
        if (leak.span)
            cover.needed_by = std::min(cover.needed_by.value_or(leak.span->from), leak.span->from);
    }
    answer.covers.push_back(cover);
}

void add_lit_sheers(const RoomStudy& study, LockAnswer& answer) {
    for (std::size_t w = 0; w < study.room().windows.size(); ++w) {
        if (study.room().windows[w].cover != room::Cover::sheer) continue;
        for (const Span& span : sun_spans(study, w, answer.lock.from, answer.lock.to))
            answer.lit_sheers.push_back({w, span});
    }
}

/// Shared time of two spans.
Seconds overlap(const Span& span, Instant from, Instant to) {
    return std::max(Seconds{0}, std::min(span.to, to) - std::max(span.from, from));
}

/// A window's part in choosing the lock's place.
struct Opening {
    bool is_key = false;
    double area_m2 = 0;
    std::vector<Span> spans;  ///< sun at some bearing
};

/// Less is better, the first number first.
struct Burden {
    double key_s = 0, cover_m2 = 0, sun_s = 0;
    friend auto operator<=>(const Burden&, const Burden&) = default;
};

Burden burden(const std::vector<Opening>& openings, Instant from, Instant to) {
    Burden b;
    for (const Opening& o : openings) {
        double sun_s = 0;
        for (const Span& span : o.spans)
            sun_s += overlap(span, from, to).count();
        (o.is_key ? b.key_s : b.sun_s) += sun_s;
        if (!o.is_key && sun_s > 0) b.cover_m2 += o.area_m2;
    }
    return b;
}

}  // namespace

double LockAnswer::cover_area_m2() const noexcept {
    double sum = 0;
    for (const CoverToHang& cover : covers)
        sum += cover.width_m * cover.height_m;
    return sum;
}

LockAnswer leaks_of_lock(const RoomStudy& study, Instant from, Instant to,
                         std::optional<std::size_t> key_window) {
    LockAnswer answer;
    answer.lock = {from, to, false, false};
    answer.key_window = key_window;
    for (std::size_t w = 0; w < study.room().windows.size(); ++w) {
        if (!lets_sun_in(study.room().windows[w])) continue;
        const auto leaks = leaks_of_window(study, w, answer.lock);
        if (w != key_window) add_cover(study, leaks, answer);
        answer.leaks.insert(answer.leaks.end(), leaks.begin(), leaks.end());
    }
    add_lit_sheers(study, answer);
    std::stable_sort(
        answer.covers.begin(), answer.covers.end(),
        [](const CoverToHang& a, const CoverToHang& b) { return a.sure_by < b.sure_by; });
    return answer;
}

std::optional<LockAnswer> best_lock(const RoomStudy& study, Instant from, Instant to,
                                    Seconds length, std::optional<std::size_t> key_window) {
    if (to - from < length) return std::nullopt;
    // The spans of each window once; then every placement is a matter of overlap.
    std::vector<Opening> openings;
    for (std::size_t w = 0; w < study.room().windows.size(); ++w) {
        const room::Window& window = study.room().windows[w];
        if (!lets_sun_in(window)) continue;
        const auto samples = study.path().samples(from, to, sun_in_step(study, w));
        auto some = at_some(study.bearings(), [&](const Moment& m, const room::PlanTurn& turn) {
            return sun_in_margin(study, w, m, turn);
        });
        openings.push_back({w == key_window, window.width_m * window.height_m,
                            find_spans(study.path(), samples, some)});
    }
    constexpr Seconds stride{600};
    Instant best = from;
    Burden least = burden(openings, from, from + length);
    for (Instant start = from; start + length <= to; start = start + stride) {
        const Burden here = burden(openings, start, start + length);
        if (here < least) {
            least = here;
            best = start;
        }
    }
    return leaks_of_lock(study, best, best + length, key_window);
}

}  // namespace keyhour::study
