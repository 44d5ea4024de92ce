#include "keyhour/study/next_observation.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include "observation_model.hpp"
#include "radians.hpp"

namespace keyhour::study {
namespace {

using NextKind = NextObservation::Kind;

constexpr Seconds shadow_step{300};     // shadows change slowly; grazings are solved to the second
constexpr double shortest_m = 0.3;      // of shadow worth measuring. Common practice, no source
constexpr double longest_taped_m = 2;   // that a tape and one person manage
constexpr double clear_of_skyline = 1;  // degrees
const std::string new_owner = "#next";

/// Length of the longest straight edge of sun on the floor that lies along the sun's direction:
/// what a jamb or an upright bar casts.
double floor_shadow_m(const room::Scene& scene, std::size_t window, room::Point3 sun) {
    const room::Point2 along{sun.x, sun.y};
    const double level = room::length(along);
    double longest = 0;
    for (const room::Patch& patch : scene.patches(window, sun)) {
        if (patch.surface.kind != room::Surface::Kind::floor) continue;
        for (const auto& ring : patch.outlines)
            for (std::size_t i = 0; i < ring.size(); ++i) {
                const room::Point3 edge = ring[(i + 1) % ring.size()] - ring[i];
                const double edge_m = std::hypot(edge.x, edge.y);
                const bool parallel =
                    std::abs(cross(along, {edge.x, edge.y})) < 1e-3 * level * edge_m;
                if (parallel) longest = std::max(longest, edge_m);
            }
    }
    return std::min(longest, longest_taped_m);
}

class NextSearch {
public:
    NextSearch(const RoomStudy& study, const BearingAnswer& answer, double clock_within_s)
        : study_{study}, answer_{answer}, model_{study.room(), study.path(), clock_within_s} {
        for (std::size_t i = 0; i < answer.sightings.size(); ++i)
            if (answer.fit.residuals[i].used) used_.push_back(answer.sightings[i]);
    }

    /// Puts a figure on it; what helps most goes into the list by `consider`.
    [[nodiscard]] NextObservation judged(NextObservation next, const Observation& as_if) const {
        const Sighting sighting = model_.sighting(as_if, new_owner);
        next.sigma_deg = sighting.sigma_deg();
        std::vector<Sighting> all = used_;
        all.push_back({{answer_.fit.value_deg}, sighting.contributions});
        std::vector<std::size_t> which(all.size());
        std::iota(which.begin(), which.end(), std::size_t{0});
        next.sigma_after_deg =
            plain_fit(all, which, answer_.fit.value_deg).sigma_deg * answer_.fit.widened;
        return next;
    }

    /// The moments at which the sun crosses the plane of a wall.
    void add_grazings(std::size_t wall, Instant from, Instant to,
                      std::vector<NextObservation>& out) const {
        const room::Point2 n = room::wall_frame(study_.room().floor, wall).n;
        const auto before = [&](Instant t) {
            const room::Point3 sun = study_.sun(study_.path().at(t));
            return n.x * sun.x + n.y * sun.y;
        };
        for (Instant t = from; t + shadow_step <= to; t = t + shadow_step) {
            Instant low = t, high = t + shadow_step;
            const bool was_before = before(low) > 0;
            if ((before(high) > 0) == was_before) continue;
            for (int i = 0; i < 20; ++i) {
                const Instant middle = low + 0.5 * (high - low);
                ((before(middle) > 0) == was_before ? low : high) = middle;
            }
            if (study_.path().at(low).above_skyline_deg < clear_of_skyline) continue;
            // Its doubt is the same whether the sun comes or goes.
            const Graze graze{wall, Graze::Sun::unknown, {low, usual_graze_within_s}};
            NextObservation next;
            next.kind = was_before ? NextKind::graze_ends : NextKind::graze_begins;
            next.index = wall;
            next.at = Instant::from_unix_s(std::round(low.unix_s() / 60) * 60);
            out.push_back(judged(next, {"", "", graze}));
        }
    }

    /// A shadow of a length at a moment, whichever edge casts it.
    [[nodiscard]] NextObservation shadow(NextKind kind, std::size_t index, Instant t,
                                         double length_m) const {
        const room::Point3 sun = study_.sun(study_.path().at(t));
        ShadowLine line;
        line.to = (-length_m / std::hypot(sun.x, sun.y)) * room::Point2{sun.x, sun.y};
        line.within_m = usual_shadow_within_m;
        line.time.at = t;
        return judged({kind, index, t, length_m}, {"", "", line});
    }

    void consider(const NextObservation& next, std::optional<NextObservation>& best) const {
        if (!best || next.sigma_after_deg < best->sigma_after_deg) best = next;
    }

    void add_shadows(Instant from, Instant to, std::vector<NextObservation>& out) const {
        std::optional<NextObservation> jamb, plumb;
        const double first_s = std::ceil(from.unix_s() / shadow_step.count()) * shadow_step.count();
        for (Instant t = Instant::from_unix_s(first_s); t <= to; t = t + shadow_step) {
            const Moment m = study_.path().at(t);
            if (m.above_skyline_deg < clear_of_skyline) continue;
            const room::Point3 sun = study_.sun(m);
            for (std::size_t w = 0; w < study_.room().windows.size(); ++w) {
                if (study_.scene().in_front(w, sun) <= 0) continue;
                const double length = floor_shadow_m(study_.scene(), w, sun);
                if (length >= shortest_m)
                    consider(shadow(NextKind::jamb_shadow, w, t, length), jamb);
            }
            // A line 1 m long, hung over level ground.
            const double length = std::min(longest_taped_m, 1 / std::tan(m.altitude_deg * degree));
            if (length >= shortest_m)
                consider(shadow(NextKind::plumb_line, answer_.wall, t, length), plumb);
        }
        if (jamb)
            out.push_back(*jamb);
        else if (plumb)
            out.push_back(*plumb);
    }

private:
    const RoomStudy& study_;
    const BearingAnswer& answer_;
    ObservationModel model_;
    std::vector<Sighting> used_;
};

}  // namespace

std::vector<NextObservation> next_observations(const RoomStudy& study, const BearingAnswer& answer,
                                               double clock_within_s, Instant from, Instant to) {
    const NextSearch search{study, answer, clock_within_s};
    std::vector<NextObservation> out;
    for (std::size_t wall = 0; wall < study.room().walls.size(); ++wall)
        search.add_grazings(wall, from, to, out);
    search.add_shadows(from, to, out);
    std::ranges::stable_sort(out, {}, &NextObservation::sigma_after_deg);
    return out;
}

}  // namespace keyhour::study
