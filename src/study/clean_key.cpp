#include "keyhour/study/clean_key.hpp"

#include <algorithm>
#include <cmath>

#include "key_criterion.hpp"
#include "keyhour/study/doubt.hpp"
#include "keyhour/study/sun_in_room.hpp"

namespace keyhour::study {
namespace {

constexpr Seconds sample_step{300};
constexpr Seconds shaded_step{60};
constexpr Seconds day{86400};
/// Just inside and just outside a boundary, to see what changes there.
constexpr Seconds aside{1};

bool is_wanted(const std::optional<std::string>& only, const std::string& name) {
    return !only || *only == name;
}

/// Calls each(mark, camera, window) for all that the settings ask for.
template <class Each>
void for_each_wanted(const RoomStudy& study, const KeySettings& settings, const Each& each) {
    const room::Room& room = study.room();
    for (std::size_t mark = 0; mark < room.marks.size(); ++mark) {
        if (!is_wanted(settings.mark, room.marks[mark].name)) continue;
        for (const auto camera : study.cameras_of(mark)) {
            if (settings.camera && !(camera && room.cameras[*camera].name == *settings.camera))
                continue;
            for (std::size_t window = 0; window < room.windows.size(); ++window)
                if (is_wanted(settings.window, room.windows[window].name))
                    each(mark, camera, window);
        }
    }
}

double unsigned_key_angle(const RoomStudy& study, std::size_t camera, const Moment& m) {
    return std::abs(
        room::key_angle(study.room(), study.room().cameras[camera], study.sun(m)).in_degrees());
}

const room::Patch* on_surface(const std::vector<room::Patch>& patches, room::Surface surface) {
    for (const room::Patch& p : patches)
        if (p.surface == surface) return &p;
    return nullptr;
}

/// How fast the patch on the surface behind the mark travels, at mid-span.
void measure_drift(const RoomStudy& study, KeyInterval& interval) {
    const Instant mid = interval.span->from + 0.5 * interval.span->length();
    constexpr Seconds half_minute{30};
    const room::Point3 now = study.sun(study.path().at(mid));
    interval.behind = study.scene().surface_behind(interval.mark, now);
    const auto early =
        study.scene().patches(interval.window, study.sun(study.path().at(mid - half_minute)));
    const auto late =
        study.scene().patches(interval.window, study.sun(study.path().at(mid + half_minute)));
    const room::Patch* a = on_surface(early, interval.behind);
    const room::Patch* b = on_surface(late, interval.behind);
    if (!a || !b) return;
    const room::Point3 d = b->centroid - a->centroid;
    interval.drift_m_per_min = std::sqrt(dot(d, d));
}

/// The run around an instant in which the mark's centre alone has a clean key; nothing if it has
/// none then.
std::optional<Span> centre_run(const RoomStudy& study, const KeySettings& settings,
                               std::size_t mark, std::optional<std::size_t> camera,
                               std::size_t window, Instant at) {
    const KeyCriterion criterion{study, study.centres(), settings, mark, camera, window};
    const auto margin = [&](const Moment& m) { return criterion(m, study.bearings().stated); };
    if (margin(study.path().at(at)) <= 0) return std::nullopt;
    return run_around(study.path(), at, std::max(study.path().from(), at - day),
                      std::min(study.path().to(), at + day), margin);
}

/// Fills in what is told about an interval at the stated bearing.
void describe(const RoomStudy& study, const KeySettings& settings, const KeyCriterion& criterion,
              KeyInterval& interval) {
    const Span& span = *interval.span;
    const Moment first = study.path().at(span.from), last = study.path().at(span.to);
    interval.begins_by = criterion.limiting_edge(study.path().at(span.from - aside),
                                                 study.path().at(span.from + aside));
    interval.ends_by =
        criterion.limiting_edge(study.path().at(span.to + aside), study.path().at(span.to - aside));
    interval.altitude_deg[0] = first.altitude_deg;
    interval.altitude_deg[1] = last.altitude_deg;
    if (interval.camera) {
        interval.key_angle_deg[0] = unsigned_key_angle(study, *interval.camera, first);
        interval.key_angle_deg[1] = unsigned_key_angle(study, *interval.camera, last);
        interval.light_from_right =
            room::key_angle(study.room(), study.room().cameras[*interval.camera],
                            study.sun(first)) > Angle{};
    }
    interval.centre = centre_run(study, settings, interval.mark, interval.camera, interval.window,
                                 span.from + 0.5 * span.length());
    interval.to_cover = cover_spans(study, interval.window, interval.mark, std::nullopt,
                                    settings.near_m, span.from, span.to);
    measure_drift(study, interval);
}

/// Spans in which the margin is positive, outside those that are told already.
/// @param told  ascending
template <class Margin>
std::vector<Span> untold_spans(const RoomStudy& study,
                               std::span<const std::span<const Moment>> days,
                               const std::vector<Span>& told, const Margin& margin) {
    std::vector<Span> out;
    auto next = told.begin();
    const auto untold = [&](const Moment& m) {
        while (next != told.end() && next->to < m.at)
            ++next;
        const auto inside = [&](const Span& s) { return s.from <= m.at && m.at <= s.to; };
        // A solver looks back by a sample or two, so the span before may still matter.
        if ((next != told.end() && inside(*next)) ||
            (next != told.begin() && inside(*std::prev(next))))
            return -1.0;
        return margin(m);
    };
    for (const auto stretch : days) {
        const auto found = find_spans(study.path(), stretch, untold);
        out.insert(out.end(), found.begin(), found.end());
    }
    return out;
}

/// Where something outside may shade the mark, a thin shadow can pass between two samples: there
/// they stand a minute apart.
std::vector<Moment> refined(const RoomStudy& study, const KeyInterval& who,
                            std::span<const Moment> stretch) {
    const auto shaded = [&](const Moment& m) {
        return study.scene().may_be_shaded(who.mark, who.window, study.sun(m));
    };
    std::vector<Moment> out;
    bool before = false;
    for (std::size_t i = 0; i < stretch.size(); ++i) {
        const bool now = shaded(stretch[i]);
        if (i > 0 && (before || now))
            for (int k = 1; k * shaded_step < stretch[i].at - stretch[i - 1].at; ++k)
                out.push_back(study.path().at(stretch[i - 1].at + k * shaded_step));
        out.push_back(stretch[i]);
        before = now;
    }
    return out;
}

/// How far samples must lie apart within a span.
Seconds step_within(const RoomStudy& study, const KeyInterval& who, const Span& span) {
    if (!study.scene().has_outside(who.window)) return sample_step;
    for (const Moment& m : study.path().samples(span.from, span.to, sample_step))
        if (study.scene().may_be_shaded(who.mark, who.window, study.sun(m))) return shaded_step;
    return sample_step;
}

/// Intervals of one mark, camera and window.
void add_intervals(const RoomStudy& study, const KeySettings& settings,
                   std::span<const std::span<const Moment>> days, Instant from, Instant to,
                   Instant first, Instant last, const KeyInterval& who,
                   std::vector<KeyInterval>& out) {
    const KeyCriterion criterion{study, study.scene(), settings, who.mark, who.camera, who.window};
    const auto at_turn = [&](const room::PlanTurn& turn) {
        std::vector<Span> spans;
        for (const auto stretch : days) {
            const auto found = find_spans(study.path(), stretch,
                                          [&](const Moment& m) { return criterion(m, turn); });
            spans.insert(spans.end(), found.begin(), found.end());
        }
        return spans;
    };
    std::vector<Span> told;
    const auto tell = [&](KeyInterval interval, Instant start) {
        told.push_back(interval.possible);
        if (start >= from && start < to) out.push_back(std::move(interval));
    };
    for (const Span& span : at_turn(study.bearings().stated)) {
        if (span.length() < settings.shortest || span.runs_at_start) continue;
        KeyInterval interval = who;
        interval.span = span;
        interval.sure = sure_part(study.path(), study.bearings(), span, criterion,
                                  step_within(study, who, span));
        interval.possible =
            possible_part(study.path(), study.bearings(), span, first, last, criterion);
        if (span.from >= from && span.from < to) describe(study, settings, criterion, interval);
        tell(std::move(interval), span.from);
    }
    // What the stated bearing does not give, another one may; told spans are passed over.
    for (const room::PlanTurn& turn : study.bearings().some) {
        std::sort(told.begin(), told.end(),
                  [](const Span& a, const Span& b) { return a.from < b.from; });
        for (const Span& span :
             untold_spans(study, days, told, [&](const Moment& m) { return criterion(m, turn); })) {
            if (span.length() < settings.shortest || span.runs_at_start) continue;
            KeyInterval interval = who;
            interval.possible =
                possible_part(study.path(), study.bearings(), span, first, last, criterion);
            if (std::none_of(told.begin(), told.end(), [&](const Span& s) {
                    return s.from < interval.possible.to && interval.possible.from < s.to;
                }))
                tell(interval, interval.possible.from);
        }
    }
}

bool is_better(const KeyInterval& a, const KeyInterval& b) {
    if (a.sure_hold() != b.sure_hold()) return a.sure_hold() > b.sure_hold();
    if (a.hold() != b.hold()) return a.hold() > b.hold();
    return a.possible.from < b.possible.from;
}

/// Stretches of samples in which the sun stands where the settings want it, one sample wider on
/// each side.
std::vector<std::span<const Moment>> stretches(std::span<const Moment> samples,
                                               const KeySettings& settings) {
    std::vector<std::span<const Moment>> out;
    const auto fits = [&](const Moment& m) {
        constexpr double slack_deg = 1.5;  // more than the sun climbs in a step
        return m.above_skyline_deg > -slack_deg &&
               m.altitude_deg > settings.altitude_deg[0] - slack_deg &&
               m.altitude_deg < settings.altitude_deg[1] + slack_deg;
    };
    for (std::size_t i = 0; i < samples.size(); ++i) {
        if (!fits(samples[i])) continue;
        std::size_t end = i;
        while (end < samples.size() && fits(samples[end]))
            ++end;
        const std::size_t first = i > 0 ? i - 1 : 0;
        out.push_back(samples.subspan(first, std::min(end + 1, samples.size()) - first));
        i = end;
    }
    return out;
}

std::vector<Moment> day_samples(const RoomStudy& study, Instant from, Instant to) {
    return study.path().samples(std::max(study.path().from(), from - Seconds{7200}),
                                std::min(study.path().to(), to + day), sample_step);
}

}  // namespace

void sort_best_first(std::vector<KeyInterval>& intervals) {
    std::stable_sort(intervals.begin(), intervals.end(), is_better);
}

std::vector<KeyInterval> clean_key(const RoomStudy& study, Instant from, Instant to,
                                   const KeySettings& settings) {
    std::vector<KeyInterval> out;
    const auto samples = day_samples(study, from, to);
    const auto days = stretches(samples, settings);
    for_each_wanted(study, settings, [&](std::size_t mark, auto camera, std::size_t window) {
        if (!lets_sun_in(study.room().windows[window]) || !study.scene().faces(window, mark))
            return;
        KeyInterval who;
        who.mark = mark;
        who.camera = camera;
        who.window = window;
        if (study.scene().has_outside(window)) {
            std::vector<std::vector<Moment>> fine;
            for (const auto stretch : days)
                fine.push_back(refined(study, who, stretch));
            const std::vector<std::span<const Moment>> fine_days(fine.begin(), fine.end());
            add_intervals(study, settings, fine_days, from, to, samples.front().at,
                          samples.back().at, who, out);
            return;
        }
        add_intervals(study, settings, days, from, to, samples.front().at, samples.back().at, who,
                      out);
    });
    sort_best_first(out);
    return out;
}

namespace {

std::string words_for_loss(const room::LimitingEdge& edge, const room::Room& room) {
    using room::Edge;
    switch (edge.kind) {
        case Edge::head:
            return "sun too high: the head cuts it off";
        case Edge::sill:
            return "sun too low: the sill cuts it off";
        case Edge::left_jamb:
            return "sun too far to the left of the window";
        case Edge::right_jamb:
            return "sun too far to the right of the window";
        case Edge::bar:
            return "glazing bars stripe the mark";
        case Edge::object:
        case Edge::building:
            return "behind " + words(edge, room);
        case Edge::own_walls:
            return "behind the building's own wing";
        case Edge::wall:
            return "an inner wall stands between window and mark";
        default:
            return "sun off the mark";
    }
}

/// What a lit mark still lacks, the limit most missed first.
void name_limits(const RoomStudy& study, const KeySettings& settings, NearestMiss& miss) {
    struct Limit {
        double missed_by_deg;
        const char* words;
        room::Edge edge;
    };
    const auto key_angle = miss.key_angle_deg;
    Limit limits[] = {
        {miss.altitude_deg - settings.altitude_deg[1], "sun too high", room::Edge::altitude},
        {settings.altitude_deg[0] - miss.altitude_deg, "sun too low", room::Edge::altitude},
        {key_angle ? *key_angle - settings.key_angle_deg[1] : 0,
         "key angle too wide, towards back light", room::Edge::key_angle},
        {key_angle ? settings.key_angle_deg[0] - *key_angle : 0,
         "key angle too narrow, towards the lens axis", room::Edge::key_angle},
    };
    std::stable_sort(std::begin(limits), std::end(limits), [](const Limit& a, const Limit& b) {
        return a.missed_by_deg > b.missed_by_deg;
    });
    for (const Limit& limit : limits) {
        if (limit.missed_by_deg <= 0) break;
        if (miss.edge.kind == room::Edge::none) miss.edge = {limit.edge, 0};
        miss.reason += (miss.reason.empty() ? "on the mark, but " : "; ");
        miss.reason += limit.words;
    }
    if (!miss.reason.empty()) return;
    const room::Point3 sun = study.sun(study.path().at(*miss.at));
    if (miss.camera && room::in_frame(study.room(), study.room().cameras[*miss.camera], sun)) {
        miss.reason = "on the mark, but the sun stands in the camera's frame";
        miss.edge = {room::Edge::frame, 0};
    } else if (settings.as_is) {
        miss.reason = "on the mark, but sun through another window needs a cover";
        const KeyCriterion criterion{study,     study.scene(), settings,
                                     miss.mark, miss.camera,   miss.window};
        if (const auto w = criterion.troubling(study.path().at(*miss.at), study.bearings().stated))
            miss.edge = {room::Edge::cover, *w};
    } else {
        miss.reason = "clean, but for less than a minute";
    }
}

}  // namespace

namespace {

/// What one mark, camera and window came to, over samples seen one by one.
class MissRecord {
public:
    MissRecord(const RoomStudy& study, const KeySettings& settings, const NearestMiss& who)
        : study_{study}, settings_{settings}, who_{who}, criterion_{study,      study.scene(),
                                                                    settings,   who.mark,
                                                                    who.camera, who.window} {}

    void see(const Moment& m) {
        if (m.altitude_deg <= 0) return;
        up_ = true;
        const room::Scene& scene = study_.scene();
        const room::Point3 sun = study_.sun(m);
        const double front = scene.in_front(who_.window, sun);
        if (front <= 0) return;
        in_front_ = true;
        if (m.above_skyline_deg <= 0) return;
        over_skyline_ = true;
        const double lit = scene.coverage(who_.mark, who_.window, sun);
        comes_in_ =
            comes_in_ || lit > 0 || scene.open_area(who_.window, sun) > room::smallest_patch_m2;
        if (lit >= settings_.coverage) {
            keep(best_lit_, criterion_(m, study_.bearings().stated), m);
        } else if (lit > 0) {
            keep(most_lit_, lit, m);
        } else {
            // Square to the ray, not in the wall's plane, where a sun aslant looks farther off.
            keep(nearest_beam_, front * scene.centre_margin(who_.mark, who_.window, sun), m);
        }
    }

    /// The reason, and where it came nearest: a lit mark before a partly lit one before none.
    [[nodiscard]] NearestMiss told() const {
        NearestMiss miss = who_;
        if (!up_) {
            miss.reason = "the sun stays below the horizon";
        } else if (!in_front_) {
            miss.reason =
                "the sun never comes round to this wall (was its bearing read looking out?)";
        } else if (!over_skyline_) {
            miss.reason = "the sun stays behind the skyline while it faces this wall";
        } else if (!comes_in_) {
            miss.reason = "no direct sun enters: reveal or buildings keep it out";
        } else if (best_lit_.moment) {
            fill(miss, *best_lit_.moment);
            name_limits(study_, settings_, miss);
        } else {
            const Moment& m = most_lit_.moment ? *most_lit_.moment : *nearest_beam_.moment;
            fill(miss, m);
            const room::Point3 sun = study_.sun(m);
            miss.edge = study_.scene().farthest_edge(miss.mark, miss.window, sun);
            if (miss.edge.kind == room::Edge::none)
                miss.edge = grown_most(study_.scene().losses(miss.mark, miss.window, sun), {});
            miss.reason = words_for_loss(miss.edge, study_.room());
        }
        return miss;
    }

private:
    struct Best {
        double score = 0;
        std::optional<Moment> moment;
    };

    static void keep(Best& best, double score, const Moment& m) {
        if (best.moment && best.score >= score) return;
        best = {score, m};
    }

    void fill(NearestMiss& miss, const Moment& m) const {
        miss.at = m.at;
        miss.coverage = study_.scene().coverage(miss.mark, miss.window, study_.sun(m));
        miss.altitude_deg = m.altitude_deg;
        if (miss.camera) miss.key_angle_deg = unsigned_key_angle(study_, *miss.camera, m);
        miss.centre = centre_run(study_, settings_, miss.mark, miss.camera, miss.window, m.at);
    }

    const RoomStudy& study_;
    const KeySettings& settings_;
    NearestMiss who_;
    KeyCriterion criterion_;
    bool up_ = false, in_front_ = false, over_skyline_ = false, comes_in_ = false;
    Best best_lit_, most_lit_, nearest_beam_;
};

/// Why no sun of any date can do it; nothing if some might.
std::optional<std::string> reason_without_sun(const RoomStudy& study, const NearestMiss& who) {
    const room::Window& window = study.room().windows[who.window];
    if (window.cover == room::Cover::sheer)
        return "its cover is a sheer, which lets no direct sun in";
    if (window.cover == room::Cover::blackout) return "its cover is a blackout";
    if (!study.scene().faces(who.window, who.mark))
        return "no straight line from this window to the mark: it lies behind the window's wall or "
               "round a corner";
    return std::nullopt;
}

}  // namespace

std::vector<NearestMiss> nearest_misses(const RoomStudy& study, Instant from, Instant to,
                                        const KeySettings& settings,
                                        const std::vector<KeyInterval>& found) {
    std::vector<NearestMiss> out;
    std::vector<MissRecord> records;
    for_each_wanted(study, settings, [&](std::size_t mark, auto camera, std::size_t window) {
        if (std::any_of(found.begin(), found.end(), [&](const KeyInterval& k) {
                return k.span && k.mark == mark && k.camera == camera && k.window == window;
            }))
            return;
        NearestMiss miss;
        miss.mark = mark;
        miss.camera = camera;
        miss.window = window;
        if (const auto reason = reason_without_sun(study, miss)) {
            miss.reason = *reason;
            out.push_back(miss);
        } else {
            records.emplace_back(study, settings, miss);
        }
    });
    // Sample by sample: nothing grows with the range.
    for (Instant t = from; t < to && !records.empty(); t = t + sample_step) {
        const Moment m = study.path().at(t);
        for (MissRecord& record : records)
            record.see(m);
    }
    for (const MissRecord& record : records)
        out.push_back(record.told());
    std::stable_sort(out.begin(), out.end(),
                     [](const NearestMiss& a, const NearestMiss& b) { return a.mark < b.mark; });
    return out;
}

}  // namespace keyhour::study
