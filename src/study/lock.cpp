#include "keyhour/study/lock.hpp"

#include <algorithm>
#include <span>
#include <utility>

#include "opening_sun.hpp"
#include "search_times.hpp"

namespace keyhour::study {
namespace {

/// Where leaks land is looked at so often: in this time the sun moves half a degree, and the light
/// by 9 mm a metre from the window. A surface or a frame that no more than a strip of that width
/// reaches for a moment may be passed over; when sun comes in and which marks it reaches may not:
/// regions say that.
constexpr Seconds landing_step{120};
template <class T>
bool holds(const std::vector<T>& list, const T& value) {
    return std::find(list.begin(), list.end(), value) != list.end();
}

/// The surfaces and frames that the light lands on at one instant.
void note_landing(const RoomStudy& study, const Moment& m, const room::PlanTurn& turn, Leak& leak) {
    const room::Room& room = study.room();
    const room::Point3 sun = turn.to_plan(m.toward);
    for (const room::Patch& patch : study.scene().patches(leak.window, sun)) {
        if (!holds(leak.surfaces, patch.surface)) leak.surfaces.push_back(patch.surface);
        for (std::size_t c = 0; c < room.cameras.size(); ++c)
            if (!holds(leak.cameras, c) && room::in_frame(room, room.cameras[c], patch))
                leak.cameras.push_back(c);
    }
}

/// Landing over a span, at its ends and between.
void note_landings(const RoomStudy& study, const Span& span, const room::PlanTurn& turn,
                   Seconds step, Leak& leak) {
    const double steps = std::max(2.0, std::ceil(span.length() / step));
    for (const Moment& m : study.path().samples(span.from, span.to, span.length() / steps))
        note_landing(study, m, turn, leak);
}

/// The same at bearings within the doubt. What no outermost one shows lies between two of them,
/// and is larger than they leave room for: there half as often is enough.
/// @param turns  both outermost first
void note_landings(const RoomStudy& study, std::span<const room::PlanTurn> turns, Leak& leak) {
    for (std::size_t i = 0; i < turns.size(); ++i)
        note_landings(study, leak.possible, turns[i], i < 2 ? landing_step : 2 * landing_step,
                      leak);
}

bool overlap(const Span& a, const Span& b) {
    return a.from < b.to && b.from < a.to;
}

void note_marks(const OpeningSun& sun, Leak& leak) {
    for (std::size_t mark = 0; mark < sun.on_mark.size(); ++mark)
        if (std::any_of(sun.on_mark[mark].begin(), sun.on_mark[mark].end(),
                        [&](const Span& lit) { return overlap(lit, leak.possible); }))
            leak.marks.push_back(mark);
}

std::vector<Leak> leaks_of_window(const RoomStudy& study, const OpeningSun& sun) {
    std::vector<Leak> out;
    const auto tell = [&](Leak leak, std::span<const room::PlanTurn> turns) {
        note_landings(study, turns, leak);
        note_marks(sun, leak);
        out.push_back(std::move(leak));
    };
    for (const Span& span : sun.stated) {
        Leak leak;
        leak.window = sun.window;
        leak.span = span;
        leak.possible = run_with(sun.some, span);
        if (!span.runs_at_start)
            leak.begins_by = sun_in_edge(study, sun.window, span.from - beside_change,
                                         span.from + beside_change);
        if (!span.runs_at_end)
            leak.ends_by =
                sun_in_edge(study, sun.window, span.to + beside_change, span.to - beside_change);
        note_landings(study, span, study.bearings().stated, landing_step, leak);
        tell(std::move(leak), study.bearings().some);
    }
    // Leaks that only another bearing within the doubt would bring.
    const std::size_t stated = out.size();
    for (const Span& run : sun.some) {
        if (std::any_of(out.begin(), out.begin() + static_cast<std::ptrdiff_t>(stated),
                        [&](const Leak& leak) { return overlap(leak.possible, run); }))
            continue;
        Leak leak;
        leak.window = sun.window;
        leak.possible = run;
        tell(std::move(leak), study.bearings().all);
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
Seconds shared(const Span& span, Instant from, Instant to) {
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
            sun_s += shared(span, from, to).count();
        (o.is_key ? b.key_s : b.sun_s) += sun_s;
        if (!o.is_key && sun_s > 0) b.cover_m2 += o.area_m2;
    }
    return b;
}

}  // namespace

double LockAnswer::cover_area_m2(double overlap_m) const noexcept {
    double sum = 0;
    for (const CoverToHang& cover : covers) {
        const ClothSize cloth = cloth_of(cover, overlap_m);
        sum += cloth.width_m * cloth.height_m;
    }
    return sum;
}

LockAnswer leaks_of_lock(const RoomStudy& study, Instant from, Instant to,
                         std::optional<std::size_t> key_window) {
    LockAnswer answer;
    answer.lock = {from, to, false, false};
    answer.key_window = key_window;
    for (const OpeningSun& sun : opening_sun(study, from, to, true, lets_sun_in)) {
        const auto leaks = leaks_of_window(study, sun);
        if (sun.window != key_window) add_cover(study, leaks, answer);
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
    for (OpeningSun& sun : opening_sun(study, from, to, false, lets_sun_in)) {
        const room::Window& window = study.room().windows[sun.window];
        openings.push_back(
            {sun.window == key_window, window.width_m * window.height_m, std::move(sun.some)});
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
