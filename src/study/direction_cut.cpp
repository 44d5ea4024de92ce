#include "keyhour/study/direction_cut.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "radians.hpp"

namespace keyhour::study {
namespace {

/// Chords are straight in hour angle and declination; at this length they leave a circle of
/// altitude or azimuth by half a thousandth of a degree.
constexpr double longest_chord = 0.0087;
/// The sun stays within it.
constexpr double most_declination = 0.4105;
constexpr double bucket_size = 0.0087;
constexpr int buckets = 96;
/// More than an outline's chords leave it, and a day's way the cubic.
constexpr double close_by = 3e-5;

bool may_meet_sun(const SkyFrame::Point& a, const SkyFrame::Point& b) {
    return std::max(a.declination, b.declination) >= -most_declination &&
           std::min(a.declination, b.declination) <= most_declination;
}

int bucket_of(double declination) {
    return std::clamp(static_cast<int>((declination + most_declination) / bucket_size), 0,
                      buckets - 1);
}

/// Calls each(direction) for the chord's points but its first, so close that nothing bends.
template <class Each>
void along(const room::PlanDirection& from, const room::PlanDirection& to, const Each& each) {
    const double dx = to.azimuth - from.azimuth, dy = to.altitude - from.altitude;
    const double level = std::cos(std::min(std::abs(from.altitude), std::abs(to.altitude)));
    const int n =
        std::max(1, static_cast<int>(std::ceil(std::hypot(dx * level, dy) / longest_chord)));
    for (int i = 1; i <= n; ++i)
        each(room::PlanDirection{from.azimuth + dx * i / n, from.altitude + dy * i / n});
}

}  // namespace

DirectionCut::DirectionCut(const SunPath& path, const SkyFrame& frame,
                           const std::vector<SunTurn>& turns)
    : frame_{frame}, turns_{turns} {
    // The shared track may begin later.
    const LevelVector v = path.place().direction(path.vector(turns.front().begins));
    start_ = {std::atan2(v.east, v.north), std::atan2(v.up, std::hypot(v.east, v.north))};
}

std::size_t DirectionCut::add_region() {
    at_start_.push_back(0);
    return at_start_.size() - 1;
}

void DirectionCut::add_turned(std::size_t stated, std::size_t every, std::size_t some,
                              const room::DirectionRing& ring, double bearing, double doubt) {
    std::vector<Point> ground;
    for (std::size_t i = 0; i < ring.size(); ++i)
        along(ring[i], ring[(i + 1) % ring.size()], [&](const room::PlanDirection& d) {
            ground.push_back({d.azimuth + bearing, d.altitude, frame_.height(d.altitude),
                              Bearing{0, false, true}});
        });
    add_outline(stated, ground);
    if (some == stated) return;  // without doubt all three are one

    // Of each chord: does it rise? A level one goes with the chord before it.
    const std::size_t n = ground.size();
    std::vector<bool> rises(n);
    bool last = true;
    for (std::size_t k = 0; k < 2 * n; ++k) {
        const double dy = ground[(k + 1) % n].altitude - ground[k % n].altitude;
        if (dy != 0) last = dy > 0;
        rises[k % n] = last;
    }
    // A rising chord has the region on its left: it is a right edge.
    std::vector<Point> shifted;
    for (const auto& [region, of_rising] : {std::pair{every, -doubt}, std::pair{some, doubt}}) {
        shifted.clear();
        for (std::size_t k = 0; k < n; ++k) {
            const bool before = rises[(k + n - 1) % n];
            const double shift = before ? of_rising : -of_rising;
            const Point& g = ground[k];
            const Bearing side{rises[k] ? of_rising : -of_rising, false, true};
            shifted.push_back({g.azimuth + shift, g.altitude, g.height, side});
            if (before == rises[k]) continue;
            const Bearing corner{g.azimuth, true, true};
            shifted.back().bearing = corner;
            along({g.azimuth + shift, g.altitude}, {g.azimuth - shift, g.altitude},
                  [&](const room::PlanDirection& d) {
                      shifted.push_back({d.azimuth, d.altitude, g.height, corner});
                  });
            shifted.back().bearing = side;
        }
        add_outline(region, shifted);
    }
}

void DirectionCut::add(std::size_t region, const room::DirectionRing& ring) {
    std::vector<Point> ground;
    for (std::size_t i = 0; i < ring.size(); ++i)
        along(ring[i], ring[(i + 1) % ring.size()], [&](const room::PlanDirection& d) {
            const bool is_level = !ground.empty() && ground.back().altitude == d.altitude;
            ground.push_back({d.azimuth,
                              d.altitude,
                              is_level ? ground.back().height : frame_.height(d.altitude),
                              {}});
        });
    add_outline(region, ground);
}

void DirectionCut::add_outline(std::size_t region, const std::vector<Point>& outline) {
    // How often the start, at its azimuth plus any number of turns, is ringed round: chords that
    // pass it on its right going up, less those going down. As many go up as down, so only
    // differences in the number of turns count.
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Point &a = outline[i], &b = outline[(i + 1) % outline.size()];
        const bool from_above = a.altitude > start_.altitude,
                   to_above = b.altitude > start_.altitude;
        if (from_above == to_above) continue;
        const double azimuth = a.azimuth + (b.azimuth - a.azimuth) *
                                               (start_.altitude - a.altitude) /
                                               (b.altitude - a.altitude);
        const int passed = static_cast<int>(std::floor((azimuth - start_.azimuth) / (2 * pi)));
        at_start_[region] += to_above ? passed : -passed;
    }
    if (outline.empty()) return;
    const auto point = [&](const Point& p) { return frame_.point(p.azimuth, p.height); };
    const SkyFrame::Point first = point(outline[0]);
    SkyFrame::Point a = first;
    const auto begin = static_cast<std::uint32_t>(chords_.size());
    bool is_first_kept = false, is_kept = false;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const SkyFrame::Point b = i + 1 < outline.size() ? point(outline[i + 1]) : first;
        const auto own = static_cast<std::uint32_t>(chords_.size());
        // No corner beyond the sun's reach is brushed, so what lies before that one is not asked.
        const std::uint32_t before = is_kept ? own - 1 : own;
        is_kept = may_meet_sun(a, b);
        if (is_kept)
            chords_.push_back({a.hour_angle, std::remainder(b.hour_angle - a.hour_angle, 2 * pi),
                               a.declination, b.declination, static_cast<std::uint32_t>(region),
                               before, outline[i].bearing});
        if (i == 0) is_first_kept = is_kept;
        a = b;
    }
    if (is_first_kept && is_kept)
        chords_[begin].before = static_cast<std::uint32_t>(chords_.size()) - 1;
}

/// The chords by the declinations that they span.
DirectionCut::Sorted DirectionCut::sorted() const {
    Sorted out;
    out.first.assign(buckets + 1, 0);
    const auto each_bucket = [](const Chord& c, const auto& visit) {
        for (int b = bucket_of(std::min(c.d0, c.d1)); b <= bucket_of(std::max(c.d0, c.d1)); ++b)
            visit(static_cast<std::size_t>(b));
    };
    for (const Chord& c : chords_)
        each_bucket(c, [&](std::size_t b) { ++out.first[b + 1]; });
    for (std::size_t b = 0; b < buckets; ++b)
        out.first[b + 1] += out.first[b];
    out.order.resize(out.first[buckets]);
    std::vector<std::uint32_t> next(out.first.begin(), out.first.end() - 1);
    for (std::uint32_t i = 0; i < chords_.size(); ++i)
        each_bucket(chords_[i], [&](std::size_t b) { out.order[next[b]++] = i; });
    return out;
}

/// Where the turn's way crosses a chord, or brushes the corner at which it begins.
void DirectionCut::meet(const SunTurn& turn, std::uint32_t chord, std::vector<Way>& ways) const {
    const Chord& c = chords_[chord];
    const double f0 = turn.declination_at(c.h) - c.d0;
    const double f1 = turn.declination_at(c.h + c.dh) - c.d1;
    if ((f0 > 0) != (f1 > 0)) {
        const Instant t = turn.time_at(c.h + c.dh * f0 / (f0 - f1));
        ways[c.region].events.push_back({t, f1 > 0 ? 1 : -1, c.bearing});
        return;
    }
    if (std::abs(f0) >= close_by) return;
    // A corner that stands out towards the way?
    const Chord& before = chords_[c.before];
    const double fb = turn.declination_at(before.h) - before.d0;
    if ((fb > 0) == (f0 > 0) && std::abs(f0) <= std::abs(f1) && std::abs(f0) <= std::abs(fb))
        ways[c.region].brushes.push_back({turn.time_at(c.h), 0, c.bearing});
}

std::vector<DirectionCut::Way> DirectionCut::cut() const {
    std::vector<Way> ways(at_start_.size());
    for (std::size_t i = 0; i < ways.size(); ++i)
        ways[i].at_start = at_start_[i];
    const Sorted sorted = this->sorted();
    for (const SunTurn& turn : turns_) {
        const int from = bucket_of(turn.lowest), to = bucket_of(turn.highest);
        for (int b = from; b <= to; ++b)
            for (std::uint32_t k = sorted.first[static_cast<std::size_t>(b)];
                 k < sorted.first[static_cast<std::size_t>(b) + 1]; ++k) {
                const Chord& c = chords_[sorted.order[k]];
                // A chord that lies in two of the turn's buckets is met in the first.
                if (b > from && bucket_of(std::min(c.d0, c.d1)) < b) continue;
                meet(turn, sorted.order[k], ways);
            }
    }
    for (Way& way : ways)
        std::sort(way.events.begin(), way.events.end(), [](const Event& a, const Event& b) {
            return a.at < b.at || (a.at == b.at && a.change > b.change);
        });
    return ways;
}

std::vector<DirectionCut::Part> DirectionCut::Way::parts(Instant from, Instant to) const {
    std::vector<Part> out;
    int ringed = at_start;
    Instant began = from;
    Bearing begins;
    const auto close = [&](Instant end, const Bearing& ends) {
        const Instant a = std::max(began, from), b = std::min(end, to);
        if (!(a < b)) return;
        if (!out.empty() && !(out.back().span.to < a)) {
            out.back().span.to = b;
            out.back().ends = ends;
        } else {
            out.push_back({{a, b, a == from, false}, begins, ends});
        }
        out.back().span.runs_at_end = b == to;
    };
    for (const Event& e : events) {
        const bool was = ringed > 0;
        ringed += e.change;
        const bool is = ringed > 0;
        if (is == was) continue;
        if (is) {
            began = e.at;
            begins = e.bearing;
        } else {
            close(e.at, e.bearing);
        }
    }
    if (ringed > 0) close(to, {});
    return out;
}

}  // namespace keyhour::study
