#include "region_spans.hpp"

#include <algorithm>
#include <cmath>

#include "radians.hpp"

namespace keyhour::study {
namespace {

using Part = DirectionCut::Part;
using Bearing = DirectionCut::Bearing;

/// The directions over the ground that the skyline and the limits of altitude leave.
room::DirectionRing open_sky(const site::Horizon& horizon, double low, double high) {
    room::DirectionRing ring;
    const auto add = [&](double azimuth, double skyline) {
        ring.push_back({azimuth, std::max(low, skyline)});
    };
    if (horizon.is_level()) {
        ring = {{0, low}, {2 * pi, low}};
    } else {
        const auto at = [&](double azimuth) {
            return horizon.altitude_at({wrapped_turn(Angle::radians(azimuth))})
                .above_horizon.in_radians();
        };
        std::vector<double> bearings{0};
        for (const auto& p : horizon.points())
            if (p.bearing > Angle{}) bearings.push_back(p.bearing.in_radians());
        bearings.push_back(2 * pi);
        for (std::size_t i = 0; i + 1 < bearings.size(); ++i) {
            const double a = bearings[i], b = bearings[i + 1];
            const double ya = at(a), yb = at(b);
            add(a, ya);
            if ((ya < low) != (yb < low)) add(a + (low - ya) / (yb - ya) * (b - a), low);
        }
        add(2 * pi, at(0));
    }
    ring.push_back({2 * pi, high});
    ring.push_back({0, high});
    return ring;
}

std::vector<Part> common(const std::vector<Part>& one, const std::vector<Part>& other) {
    std::vector<Part> out;
    for (std::size_t i = 0, k = 0; i < one.size() && k < other.size();) {
        const Span &a = one[i].span, &b = other[k].span;
        const Instant from = std::max(a.from, b.from), to = std::min(a.to, b.to);
        if (from < to)
            out.push_back(
                {{from, to, a.runs_at_start && b.runs_at_start, a.runs_at_end && b.runs_at_end},
                 a.from < b.from ? other[k].begins : one[i].begins,
                 b.to < a.to ? other[k].ends : one[i].ends});
        if (a.to < b.to)
            ++i;
        else
            ++k;
    }
    return out;
}

/// What of one list lies in the other, or (both) in either.
std::vector<Span> in_both(const std::vector<Span>& one, const std::vector<Span>& other) {
    std::vector<Span> out;
    for (const Span& a : one)
        for (const Span& b : other) {
            const Instant from = std::max(a.from, b.from), to = std::min(a.to, b.to);
            if (from < to)
                out.push_back(
                    {from, to, a.runs_at_start && from == a.from, a.runs_at_end && to == a.to});
        }
    return out;
}
std::vector<Span> in_either(std::vector<Span> one, const std::vector<Span>& other) {
    one.insert(one.end(), other.begin(), other.end());
    std::sort(one.begin(), one.end(), [](const Span& a, const Span& b) { return a.from < b.from; });
    std::vector<Span> out;
    for (const Span& s : one) {
        if (out.empty() || out.back().to < s.from) {
            out.push_back(s);
        } else if (out.back().to < s.to) {
            out.back().to = s.to;
            out.back().runs_at_end = s.runs_at_end;
        }
    }
    return out;
}

}  // namespace

Span run_with(const std::vector<Span>& spans, const Span& inside) {
    const Instant middle = inside.from + 0.5 * inside.length();
    for (auto s = std::lower_bound(spans.begin(), spans.end(), middle,
                                   [](const Span&a, Instant t) { return a.to < t; });
         s != spans.end() && s->from <= middle; ++s)
        return {std::min(s->from, inside.from), std::max(s->to, inside.to)};
    return {inside.from, inside.to};
}

/// Which directions over the plan the sun may come from, on these days and at these bearings. Asked
/// of every cell: no trigonometry.
class RegionSpans::Reach {
public:
    /// @pre there are turns
    Reach(const SkyFrame& frame, const std::vector<SunTurn>& turns, double bearing, double doubt)
        : frame_{frame},
          sine_of_bearing_{std::sin(bearing)},
          cosine_of_bearing_{std::cos(bearing)},
          sine_of_doubt_{std::sin(std::min(doubt, pi))},
          cosine_of_doubt_{std::cos(std::min(doubt, pi))} {
        double lowest = 10, highest = -10;
        for (const SunTurn& turn : turns) {
            lowest = std::min(lowest, turn.lowest);
            highest = std::max(highest, turn.highest);
        }
        sine_of_lowest_ = std::sin(lowest);
        sine_of_highest_ = std::sin(highest);
    }
    /// Of a short time the sun passes through a part of its way alone.
    void stay_near(const RoomStudy& study, Instant first, Instant last) {
        constexpr Seconds half_a_day{12 * 3600.0};
        if (last - first > half_a_day) return;
        const auto over_plan = [&](Instant t) { return study.sun(study.path().at(t)); };
        middle_ = over_plan(first + 0.5 * (last - first));
        const double from = distance(over_plan(first)), to = distance(over_plan(last));
        // The farthest from the middle is one of the ends; chord and angle differ by a half at
        // most.
        radius_ = std::max(from, to) * 1.02 + 2 * sine_of_doubt_ + 0.01;
    }
    [[nodiscard]] bool operator()(room::Point3 d, double slack) const {
        if (distance(d) > radius_ + slack) return false;
        // The part along the ground, towards north; by the doubt nearer to it and farther from it.
        const double level = std::sqrt(d.x * d.x + d.y * d.y);
        const double north = d.y * cosine_of_bearing_ - d.x * sine_of_bearing_;
        const double aside = std::abs(d.x * cosine_of_bearing_ + d.y * sine_of_bearing_);
        const double near = north * cosine_of_doubt_, turned = aside * sine_of_doubt_;
        const double nearest = north >= cosine_of_doubt_ * level ? level : near + turned;
        const double farthest = north <= -cosine_of_doubt_ * level ? -level : near - turned;
        const double a = frame_.sine_of_declination(nearest, {d.z, 1});
        const double b = frame_.sine_of_declination(farthest, {d.z, 1});
        constexpr double air_and_parallax = 0.01;
        // A sine changes by no more than its angle.
        const double wide = slack + air_and_parallax;
        return std::max(a, b) > sine_of_lowest_ - wide && std::min(a, b) < sine_of_highest_ + wide;
    }

private:
    [[nodiscard]] double distance(room::Point3 d) const {
        const room::Point3 off = d - middle_;
        return std::sqrt(dot(off, off));
    }

    room::Point3 middle_;
    double radius_ = 4;
    const SkyFrame& frame_;
    double sine_of_bearing_, cosine_of_bearing_, sine_of_doubt_, cosine_of_doubt_;
    double sine_of_lowest_ = 0, sine_of_highest_ = 0;
};

/// Holds spans to the margin itself.
class RegionSpans::Settler {
public:
    Settler(const RegionSpans& of, const TurnedMargin& margin) : of_{of}, margin_{margin} {}

    [[nodiscard]] std::vector<Span> settled(const std::vector<Part>& parts, Kind kind) const {
        std::vector<Span> out;
        for (Part part : parts) {
            Span& s = part.span;
            if (!s.runs_at_start) s.from = settled(s.from, 1, part.begins, kind);
            if (!s.runs_at_end) s.to = settled(s.to, -1, part.ends, kind);
            if (!(s.from < s.to)) continue;
            // Two that met at a corner which the chords had cut off.
            if (!out.empty() && s.from - out.back().to < boundary_tolerance) {
                out.back().to = std::max(out.back().to, s.to);
                out.back().runs_at_end = s.runs_at_end;
            } else {
                out.push_back(s);
            }
        }
        return out;
    }

    /// Where the way passes an outline's corner closely, the margin decides.
    [[nodiscard]] std::vector<Span> with_close(
        std::vector<Span> spans, Kind kind, const std::vector<DirectionCut::Event>& close) const {
        constexpr Seconds around{150};
        constexpr Seconds step{10};
        const SunPath& path = of_.study_.path();
        for (const DirectionCut::Event& event : close) {
            const Instant a = std::max(of_.first_, event.at - around);
            const Instant b = std::min(of_.last_, event.at + around);
            if (!(a < b)) continue;
            const auto here = find_spans(path, path.samples(a, b, step), [&](const Moment& m) {
                return at_bearing(m, kind, event.bearing);
            });
            if (kind != Kind::some) {
                std::vector<Span> outside{{of_.first_, a}, {b, of_.last_}};
                spans = in_both(spans, in_either(std::move(outside), here));
            }
            if (kind != Kind::every) spans = in_either(std::move(spans), here);
        }
        return spans;
    }

private:
    /// The margin at the bearing that bounds a span. Where none is known, the sky does: it does not
    /// turn.
    [[nodiscard]] double at_bearing(const Moment& m, const Bearing& bearing) const {
        if (!bearing.is_known)
            return std::min({m.above_skyline_deg, m.altitude_deg - of_.lowest_ / degree,
                             of_.highest_ / degree - m.altitude_deg});
        double turned = bearing.azimuth;
        if (bearing.follows)
            turned = std::clamp(
                std::remainder(std::atan2(m.toward.east, m.toward.north) - bearing.azimuth, 2 * pi),
                -of_.doubt_, of_.doubt_);
        return margin_(m, room::PlanTurn{{wrapped_turn(Angle::radians(of_.bearing_ + turned))}});
    }
    [[nodiscard]] double at_bearing(const Moment& m, Kind kind, const Bearing& bearing) const {
        if (kind == Kind::stated) return margin_(m, of_.study_.bearings().stated);
        if (bearing.is_known) return at_bearing(m, bearing);
        // At a corner of the sky any bearing may be the one.
        std::vector<double> margins;
        for (const room::PlanTurn& turn : of_.study_.bearings().all)
            margins.push_back(margin_(m, turn));
        const auto [least, most] = std::ranges::minmax(margins);
        return kind == Kind::some ? most : least;
    }

    /// A boundary that is known to a chord's error; where the way grazes the region that is
    /// seconds, and it is solved anew.
    /// @param inward  +1 at a beginning, -1 at an end
    [[nodiscard]] Instant settled(Instant boundary, int inward, const Bearing& bearing,
                                  Kind kind) const {
        // Another bearing than the one that was cut may hold where that one fails: it takes from
        // what is possible, and adds to what is sure, no more than a chord's error.
        constexpr Seconds near{0.15};
        constexpr Seconds far{200};
        constexpr Seconds little{10};
        const Seconds most_in = kind == Kind::some ? little : far;
        const Seconds most_out = kind == Kind::every ? little : far;
        const auto at = [&](Instant t) { return at_bearing(of_.study_.path().at(t), bearing); };
        const auto step = [&](Seconds s) { return boundary + inward * s; };
        Seconds in = near, out = near;
        double at_in = at(step(in)), at_out = at(step(-out));
        if (at_in > 0 && at_out <= 0) return boundary;
        Instant good = step(in), bad = step(-out);
        while (at_in <= 0) {
            bad = step(in);
            at_out = at_in;
            in = 2 * in;
            if (in > most_in) return boundary;
            good = step(in);
            at_in = at(good);
        }
        while (at_out > 0) {
            good = step(-out);
            at_in = at_out;
            out = 2 * out;
            if (out > most_out) return boundary;
            bad = step(-out);
            at_out = at(bad);
        }
        return solve(bad, at_out, good, at_in, at);
    }

    const RegionSpans& of_;
    const TurnedMargin& margin_;
};

RegionSpans::RegionSpans(const RoomStudy& study, Instant first, Instant last, double lowest,
                         double highest)
    : study_{study},
      first_{first},
      last_{last},
      lowest_{lowest},
      highest_{highest},
      turns_{sun_turns(study.path(), first, last)},
      frame_{study.path()},
      bearing_{room::plan_bearing(study.room()).from_north.in_radians()},
      doubt_{study.room().bearing.within.in_radians()},
      reach_{std::make_unique<Reach>(frame_, turns_, bearing_, doubt_)},
      cut_{study.path(), frame_, turns_},
      sky_{cut_.add_region()} {
    reach_->stay_near(study, first, last);
    cut_.add(sky_, open_sky(study.location().site.horizon, lowest, highest));
}

RegionSpans::~RegionSpans() = default;

room::RegionBounds RegionSpans::bounds() const {
    constexpr double margin = 0.3 * pi / 180;  // the limits of altitude are the sky's
    return {std::max(1e-5, lowest_ - margin), std::min(pi / 2, highest_ + margin),
            std::cref(*reach_)};
}

std::size_t RegionSpans::add(const std::vector<room::DirectionRing>& rings) {
    Added a{};
    a.stated = a.every = a.some = cut_.add_region();
    if (doubt_ > 0) {
        a.every = cut_.add_region();
        a.some = cut_.add_region();
    }
    for (const auto& ring : rings)
        cut_.add_turned(a.stated, a.every, a.some, ring, bearing_, doubt_);
    added_.push_back(a);
    return added_.size() - 1;
}

void RegionSpans::cut() {
    ways_ = cut_.cut();
    open_ = ways_[sky_].parts(first_, last_);
}

std::vector<Span> RegionSpans::spans(std::size_t way, Kind kind, const TurnedMargin& margin) const {
    const Settler settler{*this, margin};
    auto spans = settler.settled(common(ways_[way].parts(first_, last_), open_), kind);
    spans = settler.with_close(std::move(spans), kind, ways_[way].brushes);
    return settler.with_close(std::move(spans), kind, ways_[sky_].brushes);
}

BearingSpans RegionSpans::spans(std::size_t region, const TurnedMargin& margin) const {
    const Added& a = added_[region];
    BearingSpans out;
    out.stated = stated(region, margin);
    out.every = a.every == a.stated ? out.stated : spans(a.every, Kind::every, margin);
    out.some = a.some == a.stated ? out.stated : some(region, margin);
    return out;
}

std::vector<Span> RegionSpans::stated(std::size_t region, const TurnedMargin& margin) const {
    return spans(added_[region].stated, Kind::stated, margin);
}

std::vector<Span> RegionSpans::some(std::size_t region, const TurnedMargin& margin) const {
    const Added& a = added_[region];
    return spans(a.some, a.some == a.stated ? Kind::stated : Kind::some, margin);
}

}  // namespace keyhour::study
