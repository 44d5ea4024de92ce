#include "keyhour/study/lock.hpp"

#include <algorithm>
#include <cmath>
#include <span>
#include <utility>

#include "keyhour/study/sun_in_room.hpp"
#include "region_spans.hpp"
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

std::vector<Leak> leaks_of_window(const RoomStudy& study, const OpeningSun& sun, Landing landing) {
    std::vector<Leak> out;
    const auto tell = [&](Leak leak, std::span<const room::PlanTurn> turns) {
        if (landing == Landing::looked_at) note_landings(study, turns, leak);
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
        if (landing == Landing::looked_at)
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

/// @param sun  within the lock
void add_cover(const RoomStudy& study, const OpeningSun& sun, std::vector<CoverToHang>& covers) {
    if (sun.stated.empty() && sun.some.empty()) return;
    const room::Window& window = study.room().windows[sun.window];
    CoverToHang cover;
    cover.window = sun.window;
    cover.width_m = window.width_m;
    cover.height_m = window.height_m;
    if (!sun.stated.empty()) cover.needed_by = sun.stated.front().from;
    cover.sure_by = sun.some.empty() ? *cover.needed_by : sun.some.front().from;
    if (cover.needed_by) cover.sure_by = std::min(cover.sure_by, *cover.needed_by);
    covers.push_back(cover);
}

void sort_by_need(std::vector<CoverToHang>& covers) {
    std::stable_sort(covers.begin(), covers.end(), [](const CoverToHang& a, const CoverToHang& b) {
        return a.sure_by < b.sure_by;
    });
}

bool is_open(const RoomStudy& study, const OpeningSun& sun) {
    return lets_sun_in(study.room().windows[sun.window]);
}

/// Shared time of two spans.
Seconds shared(const Span& span, Instant from, Instant to) {
    return std::max(Seconds{0}, std::min(span.to, to) - std::max(span.from, from));
}

/// A window's part in choosing the lock's place.
struct Opening {
    bool is_key = false;
    double area_m2 = 0;
    std::vector<Span> spans;   ///< sun at some bearing
    std::vector<Span> stated;  ///< and at the stated one
};

/// Is a place one of those tried besides the stride: a whole minute, or a leak's very end?
enum class Beside { no, minute, end };

/// Less is better, the first number first.
struct Burden {
    double key_s = 0, possible_key_s = 0, cover_m2 = 0;
    Beside beside = Beside::no;
    double sun_s = 0;
    friend auto operator<=>(const Burden&, const Burden&) = default;
};

double sun_s(const std::vector<Span>& spans, Instant from, Instant to) {
    double sum = 0;
    for (const Span& span : spans)
        sum += shared(span, from, to).count();
    return sum;
}

Burden burden(const std::vector<Opening>& openings, Instant from, Instant to) {
    Burden b;
    for (const Opening& o : openings) {
        const double here = sun_s(o.spans, from, to);
        if (o.is_key) {
            b.key_s += sun_s(o.stated, from, to);
            b.possible_key_s += here;
        } else if (here > 0) {
            b.sun_s += here;
            b.cover_m2 += o.area_m2;
        }
    }
    return b;
}

/// Where a lock may begin.
struct LockStart {
    Instant at;
    Beside beside = Beside::no;
};

/// Ascending: on the stride, at the whole minutes after a leak and before one, and at the very ends
/// of sun through the key window.
std::vector<LockStart> starts(const std::vector<Opening>& openings, Instant from, Instant to,
                              Seconds length) {
    constexpr Seconds stride{600};
    constexpr double minute_s = 60;
    std::vector<LockStart> out;
    for (Instant at = from; at + length <= to; at = at + stride)
        out.push_back({at, Beside::no});
    const auto add = [&](Instant at, Beside beside) {
        if (at >= from && at + length <= to) out.push_back({at, beside});
    };
    const auto minutes = [&](Instant t, double (*round)(double)) {
        return from + Seconds{round((t - from).count() / minute_s) * minute_s};
    };
    const auto up = [](double x) { return std::ceil(x); };
    const auto down = [](double x) { return std::floor(x); };
    for (const Opening& o : openings) {
        for (const auto* spans : {&o.spans, &o.stated})
            for (const Span& span : *spans) {
                add(minutes(span.to, up), Beside::minute);
                add(minutes(span.from - length, down), Beside::minute);
            }
        for (const Span& span : o.stated) {
            add(span.to, Beside::end);
            add(span.from - length, Beside::end);
        }
    }
    std::stable_sort(out.begin(), out.end(),
                     [](const LockStart& a, const LockStart& b) { return a.at < b.at; });
    return out;
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

LockAnswer leaks_of_lock(const RoomSun& sun, Instant from, Instant to,
                         std::optional<std::size_t> key_window, Landing landing) {
    const RoomStudy& study = sun.study();
    LockAnswer answer;
    answer.lock = {from, to, false, false};
    answer.key_window = key_window;
    for (const OpeningSun& whole : sun.windows()) {
        const OpeningSun here = within(whole, from, to);
        if (!is_open(study, here)) {
            for (const Span& span : here.stated)
                answer.lit_sheers.push_back({here.window, span});
            continue;
        }
        if (here.window != key_window) add_cover(study, here, answer.covers);
        const auto leaks = leaks_of_window(study, here, landing);
        answer.leaks.insert(answer.leaks.end(), leaks.begin(), leaks.end());
    }
    sort_by_need(answer.covers);
    return answer;
}

std::vector<CoverToHang> covers_of_lock(const RoomSun& sun, Instant from, Instant to,
                                        std::optional<std::size_t> key_window) {
    std::vector<CoverToHang> covers;
    for (const OpeningSun& whole : sun.windows())
        if (whole.window != key_window && is_open(sun.study(), whole))
            add_cover(sun.study(), within(whole, from, to), covers);
    sort_by_need(covers);
    return covers;
}

std::optional<LockAnswer> best_lock(const RoomSun& sun, Instant from, Instant to, Seconds length,
                                    std::optional<std::size_t> key_window, Landing landing) {
    if (to - from < length) return std::nullopt;
    std::vector<Opening> openings;
    for (const OpeningSun& whole : sun.windows()) {
        if (!is_open(sun.study(), whole)) continue;
        const room::Window& window = sun.study().room().windows[whole.window];
        const bool is_key = whole.window == key_window;
        openings.push_back({is_key, window.width_m * window.height_m, within(whole.some, from, to),
                            is_key ? within(whole.stated, from, to) : std::vector<Span>{}});
    }
    Instant best = from;
    Burden least = burden(openings, from, from + length);
    for (const LockStart& start : starts(openings, from, to, length)) {
        Burden here = burden(openings, start.at, start.at + length);
        here.beside = start.beside;
        if (here < least) {
            least = here;
            best = start.at;
        }
    }
    return leaks_of_lock(sun, best, best + length, key_window, landing);
}

LockAnswer leaks_of_lock(const RoomStudy& study, Instant from, Instant to,
                         std::optional<std::size_t> key_window) {
    return leaks_of_lock(RoomSun{study, from, to, {.marks = true}}, from, to, key_window,
                         Landing::looked_at);
}

std::optional<LockAnswer> best_lock(const RoomStudy& study, Instant from, Instant to,
                                    Seconds length, std::optional<std::size_t> key_window) {
    if (to - from < length) return std::nullopt;
    return best_lock(RoomSun{study, from, to, {.marks = true}}, from, to, length, key_window,
                     Landing::looked_at);
}

}  // namespace keyhour::study
