#include <algorithm>
#include <cmath>

#include "key_criterion.hpp"
#include "key_parts.hpp"
#include "search_times.hpp"

namespace keyhour::study {
namespace {

constexpr Seconds sample_step{300};
constexpr double equal_share = 1e-9;  // 95 % is enough, and so is the whole where that is asked
/// What the sun in the camera's frame counts as: no setting mends it.
constexpr double in_frame_deg = 180;

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

/// The limit that a value outside of low..high misses; nothing if it lies within.
std::optional<Shortfall> outside(Shortfall::Of of, double value, const double (&limits)[2]) {
    if (value < limits[0]) return Shortfall{of, value, limits[0]};
    if (value > limits[1]) return Shortfall{of, value, limits[1]};
    return std::nullopt;
}

/// The settings that an instant misses, the greatest change first.
std::vector<Shortfall> shortfalls(const KeySettings& settings, const NearestMiss& miss) {
    using Of = Shortfall::Of;
    std::vector<Shortfall> out;
    if (miss.coverage + equal_share < settings.coverage)
        out.push_back({Of::coverage, miss.coverage, settings.coverage});
    if (const auto s = outside(Of::altitude, miss.altitude_deg, settings.altitude_deg))
        out.push_back(*s);
    if (miss.key_angle_deg)
        if (const auto s = outside(Of::key_angle, *miss.key_angle_deg, settings.key_angle_deg))
            out.push_back(*s);
    std::stable_sort(out.begin(), out.end(), [](const Shortfall& a, const Shortfall& b) {
        return a.change() > b.change();
    });
    return out;
}

bool is_of_coverage(const Shortfall& s) {
    return s.of == Shortfall::Of::coverage;
}

/// What a lit mark still lacks, the limit most missed first.
void name_limits(const RoomStudy& study, const KeySettings& settings, NearestMiss& miss) {
    for (const Shortfall& s : miss.shortfalls) {
        if (is_of_coverage(s)) continue;
        const bool is_over = s.is > s.wanted, is_angle = s.of == Shortfall::Of::key_angle;
        if (miss.edge.kind == room::Edge::none)
            miss.edge = {is_angle ? room::Edge::key_angle : room::Edge::altitude, 0};
        miss.reason += !miss.reason.empty() ? "; "
                       : std::ranges::any_of(miss.shortfalls, is_of_coverage)
                           ? "partly on the mark, but "
                           : "on the mark, but ";
        if (is_angle)
            miss.reason += is_over ? "key angle too wide, towards back light"
                                   : "key angle too narrow, towards the lens axis";
        else
            miss.reason += is_over ? "sun too high" : "sun too low";
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
        if (const auto w = criterion.troubling(sun)) miss.edge = {room::Edge::cover, *w};
    } else {
        miss.reason = "clean, but for less than a minute";
    }
}

/// What one mark, camera and window came to, over samples seen one by one.
class MissRecord {
public:
    MissRecord(const RoomStudy& study, const KeySettings& settings, const NearestMiss& who)
        : study_{study}, settings_{settings}, who_{who} {}

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
        const double missed = limits_missed(m);
        if (nearest_lit_.moment && -missed <= nearest_lit_.score) return;  // however much is lit
        // Square to the ray, not in the wall's plane, where a sun aslant looks farther off.
        const double beam = front * scene.centre_margin(who_.mark, who_.window, sun);
        const double reach = room::half_size(study_.room().marks[who_.mark]);
        const double lit = beam > -reach ? scene.coverage(who_.mark, who_.window, sun) : 0;
        comes_in_ =
            comes_in_ || lit > 0 || scene.open_area(who_.window, sun) > room::smallest_patch_m2;
        if (lit > 0)
            keep(nearest_lit_, -missed - coverage_missed(lit), m);
        else
            keep(nearest_beam_, beam, m);
    }

    /// Did any sun come in through the window?
    [[nodiscard]] bool comes_in() const { return comes_in_; }

    /// Calls each(instant) for where it came nearest, of every kind.
    template <class Each>
    void for_each_nearest(const Each& each) const {
        for (const Best* best : {&nearest_lit_, &nearest_beam_})
            if (best->moment) each(best->moment->at);
    }

    /// Goes from the nearest sample to where less is missing, between its neighbours in from..to.
    void refine(Instant from, Instant to) {
        if (!nearest_lit_.moment) return;
        for (Seconds step = sample_step / 5; step > Seconds{1}; step = step / 5) {
            const Instant middle = nearest_lit_.moment->at;
            for (int i = -5; i <= 5; ++i) {
                const Instant t = middle + i * step;
                if (t >= from && t < to) see(study_.path().at(t));
            }
        }
    }

    /// The reason, and where it came nearest: some of the mark lit before none of it.
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
        } else {
            const Moment& m = nearest_lit_.moment ? *nearest_lit_.moment : *nearest_beam_.moment;
            fill(miss, m);
            const auto& lacks = miss.shortfalls;
            if (miss.coverage <= 0 || (!lacks.empty() && is_of_coverage(lacks.front())))
                name_loss(study_.sun(m), miss);
            else
                name_limits(study_, settings_, miss);
        }
        return miss;
    }

private:
    struct Best {
        double score = 0;
        std::optional<Moment> moment;
    };

    /// The part of NearestMiss::change that does not depend on how much of the mark is lit.
    [[nodiscard]] double limits_missed(const Moment& m) const {
        const auto off = [](double value, const double(&limits)[2]) {
            return std::max({0.0, limits[0] - value, value - limits[1]});
        };
        double missed = off(m.altitude_deg, settings_.altitude_deg);
        if (!who_.camera) return missed;
        missed += off(unsigned_key_angle(study_, *who_.camera, m), settings_.key_angle_deg);
        const room::Room& room = study_.room();
        if (room::in_frame(room, room.cameras[*who_.camera], study_.sun(m))) missed += in_frame_deg;
        return missed;
    }

    [[nodiscard]] double coverage_missed(double lit) const {
        return lit + equal_share < settings_.coverage ? 100 * (settings_.coverage - lit) : 0;
    }

    void name_loss(room::Point3 sun, NearestMiss& miss) const {
        miss.edge = study_.scene().farthest_edge(miss.mark, miss.window, sun);
        if (miss.edge.kind == room::Edge::none)
            miss.edge = grown_most(study_.scene().losses(miss.mark, miss.window, sun), {});
        miss.reason = words_for_loss(miss.edge, study_.room());
    }

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
        miss.shortfalls = shortfalls(settings_, miss);
        miss.change = limits_missed(m) + coverage_missed(miss.coverage);
    }

    const RoomStudy& study_;
    const KeySettings& settings_;
    NearestMiss who_;
    bool up_ = false, in_front_ = false, over_skyline_ = false, comes_in_ = false;
    Best nearest_lit_, nearest_beam_;  // the greater score is the nearer
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

/// The sun can't be up sooner: it gains less than 15.1 degrees of altitude an hour, and a degree is
/// more than the air can lift it.
Seconds soonest_rise(const Moment& m) {
    return Seconds{std::max(0.0, -m.altitude_deg - 1) / 15.1 * 3600};
}

/// Looks at every sample_step of the range. Nothing grows with it.
void look_closely(const RoomStudy& study, Instant from, Instant to,
                  std::span<MissRecord* const> records) {
    for (Instant t = from; t < to && !records.empty(); t = t + sample_step) {
        const Moment m = study.path().at(t);
        for (MissRecord* record : records)
            record->see(m);
        t = t + std::floor(soonest_rise(m) / sample_step) * sample_step;
    }
}

/// Over a long range the sun comes by the same way again and again: it is sampled coarsely, and
/// closely about what came nearest. A window that no coarse sample saw lit is looked at closely on
/// every fourth date: the sun then passes within a degree of every way it takes.
void search(const RoomStudy& study, Instant from, Instant to, std::vector<MissRecord>& records) {
    constexpr Seconds short_range = 14 * one_day;
    constexpr Seconds coarse{1200};
    constexpr int coarse_days = 7, close_days = 4;
    std::vector<MissRecord*> all, dark;
    for (MissRecord& record : records)
        all.push_back(&record);
    if (to - from <= short_range || records.empty()) return look_closely(study, from, to, all);

    for (Instant date = from; date < to; date = date + coarse_days * one_day)
        for (Instant t = date; t < std::min(date + one_day, to); t = t + coarse) {
            const Moment m = study.path().at(t);
            for (MissRecord* record : all)
                record->see(m);
            t = t + std::floor(soonest_rise(m) / coarse) * coarse;
        }
    for (MissRecord& record : records) {
        if (!record.comes_in()) {
            dark.push_back(&record);
            continue;
        }
        std::vector<Instant> nearest;
        record.for_each_nearest([&](Instant t) {
            if (std::find(nearest.begin(), nearest.end(), t) == nearest.end()) nearest.push_back(t);
        });
        MissRecord* const one[] = {&record};
        for (const Instant t : nearest)
            for (int days = -coarse_days; days <= coarse_days; ++days) {
                const Instant middle = t + days * one_day;
                look_closely(study, std::max(from, middle - coarse),
                             std::min(to, middle + coarse + Seconds{1}), one);
            }
    }
    for (Instant date = from; date < to && !dark.empty(); date = date + close_days * one_day)
        look_closely(study, date, std::min(date + one_day, to), dark);
}

}  // namespace

double Shortfall::change() const noexcept {
    return std::abs(is - wanted) * (of == Of::coverage ? 100 : 1);
}

bool is_nearer(const NearestMiss& a, const NearestMiss& b) noexcept {
    if (a.at.has_value() != b.at.has_value()) return a.at.has_value();
    if (a.change != b.change) return a.change < b.change;
    return a.coverage > b.coverage;
}

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
    search(study, from, to, records);
    for (MissRecord& record : records) {
        record.refine(from, to);
        out.push_back(record.told());
    }
    std::stable_sort(out.begin(), out.end(),
                     [](const NearestMiss& a, const NearestMiss& b) { return a.mark < b.mark; });
    return out;
}

}  // namespace keyhour::study
