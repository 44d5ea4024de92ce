#include "key_regions.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "key_criterion.hpp"
#include "key_parts.hpp"
#include "keyhour/study/direction_cut.hpp"

namespace keyhour::study {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double degree = pi / 180;

/// Which directions over the plan the sun may come from, on these days and at these bearings. Asked
/// of every cell: no trigonometry.
class Reach {
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
    [[nodiscard]] bool operator()(room::Point3 d, double slack) const {
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
    const SkyFrame& frame_;
    double sine_of_bearing_, cosine_of_bearing_, sine_of_doubt_, cosine_of_doubt_;
    double sine_of_lowest_ = 0, sine_of_highest_ = 0;
};

/// The directions over the ground that the skyline and the limits of altitude leave.
room::DirectionRing open_sky(const site::Horizon& horizon, const KeySettings& settings) {
    const double low = std::max(0.0, settings.altitude_deg[0]) * degree;
    const double high = settings.altitude_deg[1] * degree;
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
            const double ya = at(a), yb = i + 2 == bearings.size() ? at(0) : at(b);
            add(a, ya);
            if ((ya < low) != (yb < low)) add(a + (low - ya) / (yb - ya) * (b - a), low);
        }
        add(2 * pi, at(0));
    }
    ring.push_back({2 * pi, high});
    ring.push_back({0, high});
    return ring;
}

std::vector<Span> common(const std::vector<Span>& one, const std::vector<Span>& other) {
    std::vector<Span> out;
    for (std::size_t i = 0, k = 0; i < one.size() && k < other.size();) {
        const Instant from = std::max(one[i].from, other[k].from);
        const Instant to = std::min(one[i].to, other[k].to);
        if (from < to)
            out.push_back({from, to, one[i].runs_at_start && other[k].runs_at_start,
                           one[i].runs_at_end && other[k].runs_at_end});
        if (one[i].to < other[k].to)
            ++i;
        else
            ++k;
    }
    return out;
}

/// Where a boundary that is known to a chord's error may be moved to.
enum class Move { inward, outward, both };

/// A boundary held to the margin itself. Where the way grazes the region a chord's error is
/// seconds, and the boundary is solved anew.
/// @param inward  +1 at a beginning, -1 at an end
template <class Margin>
Instant settled(const SunPath& path, Instant boundary, int inward, Move move,
                const Margin& margin) {
    constexpr Seconds near{0.25}, far{200};
    const auto at = [&](Instant t) { return margin(path.at(t)); };
    const auto step = [&](Seconds s) { return boundary + inward * s; };
    Seconds in = near, out = near;
    // A margin is dear: that of the one side is asked for only where that of the other leaves a
    // doubt.
    double at_in = 0, at_out = 0;
    if (move == Move::outward) {
        at_out = at(step(-out));
        if (at_out <= 0) return boundary;
        at_in = at(step(in));
        if (at_in <= 0) return boundary;
    } else {
        at_in = at(step(in));
        if (at_in > 0 && move == Move::inward) return boundary;
        at_out = at(step(-out));
        if (at_in > 0 && at_out <= 0) return boundary;
    }
    Instant good = step(in), bad = step(-out);
    while (at_in <= 0) {
        bad = step(in);
        at_out = at_in;
        in = 2 * in;
        if (in > far) return boundary;
        good = step(in);
        at_in = at(good);
    }
    while (at_out > 0) {
        good = step(-out);
        at_in = at_out;
        out = 2 * out;
        if (out > far) return boundary;
        bad = step(-out);
        at_out = at(bad);
    }
    return solve(bad, at_out, good, at_in, at);
}

template <class Margin>
void settle(const SunPath& path, std::vector<Span>& spans, Move move, const Margin& margin) {
    for (Span& span : spans) {
        if (!span.runs_at_start) span.from = settled(path, span.from, 1, move, margin);
        if (!span.runs_at_end) span.to = settled(path, span.to, -1, move, margin);
    }
    std::erase_if(spans, [](const Span& s) { return !(s.from < s.to); });
}

void settle(const RoomStudy& study, const KeySettings& settings, KeySpans& spans) {
    KeySettings covered = settings;
    covered.as_is = false;
    const KeyCriterion criterion{study,          study.scene(),    covered,
                                 spans.who.mark, spans.who.camera, spans.who.window};
    settle(study.path(), spans.stated, Move::both,
           [&](const Moment& m) { return criterion(m, study.bearings().stated); });
    if (study.bearings().all.size() < 3) return;
    // What ends at a bearing between the two outermost, they do not see: they can only take from
    // what is sure and add to what is possible.
    const room::PlanTurn &one = study.bearings().all[0], &other = study.bearings().all[1];
    settle(study.path(), spans.every, Move::inward,
           [&](const Moment& m) { return std::min(criterion(m, one), criterion(m, other)); });
    settle(study.path(), spans.some, Move::outward,
           [&](const Moment& m) { return std::max(criterion(m, one), criterion(m, other)); });
}

}  // namespace

std::vector<KeySpans> key_spans(const RoomStudy& study, Instant first, Instant last,
                                const KeySettings& settings,
                                const std::function<bool(const KeyInterval& who)>& only) {
    const auto turns = sun_turns(study.path(), first, last);
    const SkyFrame frame{study.path()};
    const double bearing = room::plan_bearing(study.room()).from_north.in_radians();
    const double doubt = study.room().bearing.within.in_radians();
    const Reach reach{frame, turns, bearing, doubt};

    DirectionCut cut{study.path(), frame, turns};
    const std::size_t sky = cut.add_region();
    cut.add(sky, open_sky(study.location().site.horizon, settings));

    struct Found {
        KeyInterval who;
        std::size_t stated, every, some;
    };
    std::vector<Found> found;
    for_each_wanted(study, settings, [&](std::size_t mark, auto camera, std::size_t window) {
        if (!lets_sun_in(study.room().windows[window])) return;
        Found f;
        f.who.mark = mark;
        f.who.camera = camera;
        f.who.window = window;
        if (only && !only(f.who)) return;
        constexpr double margin = 0.3 * degree;  // the limits of altitude are the sky's
        room::RegionRequest request;
        request.mark = mark;
        request.window = window;
        request.coverage = settings.coverage;
        if (camera) request.camera = &study.room().cameras[*camera];
        request.key_angle_deg[0] = settings.key_angle_deg[0];
        request.key_angle_deg[1] = settings.key_angle_deg[1];
        request.lowest = std::max(1e-5, settings.altitude_deg[0] * degree - margin);
        request.highest = std::min(pi / 2, settings.altitude_deg[1] * degree + margin);
        request.may_come = std::cref(reach);
        const auto rings = room::covered_region(study.scene(), request);
        if (rings.empty()) return;
        f.stated = f.every = f.some = cut.add_region();
        if (doubt > 0) {
            f.every = cut.add_region();
            f.some = cut.add_region();
        }
        for (const auto& ring : rings)
            cut.add_turned(f.stated, f.every, f.some, ring, bearing, doubt);
        found.push_back(f);
    });

    const auto ways = cut.cut();
    const auto open = ways[sky].spans(first, last);
    std::vector<KeySpans> out;
    for (const Found& f : found) {
        const auto within = [&](std::size_t region) {
            return common(ways[region].spans(first, last), open);
        };
        KeySpans spans{f.who, within(f.stated), within(f.every), within(f.some)};
        settle(study, settings, spans);
        out.push_back(std::move(spans));
    }
    return out;
}

}  // namespace keyhour::study
