#include "keyhour/study/spot_doubt.hpp"

#include <algorithm>

#include "key_doubt_parts.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/site/doubts.hpp"
#include "keyhour/sun/refraction.hpp"
#include "spot_parts.hpp"

namespace keyhour::study {
namespace {

constexpr Seconds reach{2 * 3600.0};

/// How far the sun may stand higher or lower for the air's sake, degrees.
double refraction_doubt_deg(double apparent_deg, const Weather& weather) {
    const Angle apparent = Angle::degrees(apparent_deg);
    const Angle airless = apparent - sun::refraction({apparent}, weather);
    return site::refraction_within(apparent_deg) * sun::refraction({airless}, weather).in_degrees();
}

/// An end of the light whose spread is sought, and where the members have it.
struct Bound {
    Instant at;
    bool is_end;
    std::vector<Moment> samples;
    std::vector<Instant> found;

    [[nodiscard]] std::optional<Span> spread() {
        if (found.empty()) return std::nullopt;
        return middle_90(std::move(found));
    }
};

/// The end of a member's light nearest to the stated one.
template <class Margin>
std::optional<Instant> nearest_end(const SunPath& path, const Bound& bound, const Margin& margin) {
    std::optional<Instant> nearest;
    for (const Span& s : find_spans(path, bound.samples, margin)) {
        if (bound.is_end ? s.runs_at_end : s.runs_at_start) continue;
        const Instant t = bound.is_end ? s.to : s.from;
        const auto apart = [&](Instant a) { return std::abs((a - bound.at).count()); };
        if (!nearest || apart(t) < apart(*nearest)) nearest = t;
    }
    return nearest;
}

site::Location alone(const site::Location& location, std::size_t spot) {
    site::Location out;
    out.site = location.site;
    out.room = location.room;
    out.spots = {location.spots[spot]};
    out.buildings_without_room = location.buildings_without_room;
    out.trees = location.trees;
    out.clock_within_s = location.clock_within_s;
    return out;
}

}  // namespace

SpotEnsemble::SpotEnsemble(const site::Location& location, std::size_t spot,
                           std::shared_ptr<const SharedTrack> shared,
                           const EnsembleSettings& ensemble)
    : location_{alone(location, spot)},
      draws_{draws(ensemble)},
      path_{level_site_at(location.site, location.spots[spot]), std::move(shared)} {}

SpotEnsemble::Ends SpotEnsemble::ends(const DirectSpan& direct, site::LocalDate date) const {
    return ends(std::span{&direct, 1}, date).front();
}

std::vector<Moment> SpotEnsemble::samples_about(Instant t, Seconds step) const {
    return path_.samples(std::max(path_.from(), t - reach), std::min(path_.to(), t + reach), step);
}

std::vector<SpotEnsemble::Ends> SpotEnsemble::ends(std::span<const DirectSpan> direct,
                                                   site::LocalDate date) const {
    if (direct.empty()) return {};
    const Seconds step = step_over({location_, location_.spots.front(), date});
    std::vector<Bound> bounds;
    for (const DirectSpan& d : direct) {
        bounds.push_back({d.span.from, false, samples_about(d.span.from, step), {}});
        bounds.push_back({d.span.to, true, samples_about(d.span.to, step), {}});
    }
    for (const Draw& draw : draws_) {
        const site::Location member = moved(location_, draw);
        const site::Outlook outlook{member, member.spots.front(), date};
        const auto margin = [&](const Moment& m) {
            return clearance_deg(m, outlook) +
                   draw[Input::refraction] *
                       refraction_doubt_deg(m.altitude_deg, location_.site.weather);
        };
        for (Bound& b : bounds)
            if (const auto end = nearest_end(path_, b, margin))
                b.found.push_back(*end + clock_off(location_, draw));
    }
    std::vector<Ends> out(direct.size());
    for (std::size_t i = 0; i < direct.size(); ++i) {
        if (!direct[i].begins_at_midnight) out[i].begins = bounds[2 * i].spread();
        if (!direct[i].ends_at_midnight) out[i].ends = bounds[2 * i + 1].spread();
    }
    return out;
}

}  // namespace keyhour::study
