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

}  // namespace

SpotEnsemble::SpotEnsemble(const site::Location& location, std::size_t spot,
                           std::shared_ptr<const SharedTrack> shared,
                           const EnsembleSettings& ensemble)
    : spot_{spot},
      path_{level_site_at(location.site, location.spots[spot]), std::move(shared)},
      weather_{location.site.weather} {
    for (const Draw& draw : draws(ensemble))
        members_.push_back(
            {moved(location, draw), draw[Input::refraction], clock_off(location, draw)});
}

SpotEnsemble::Ends SpotEnsemble::ends(const DirectSpan& direct, site::LocalDate date) const {
    std::vector<site::Outlook> outlooks;
    outlooks.reserve(members_.size());
    for (const Member& member : members_)
        outlooks.emplace_back(member.location, member.location.spots[spot_], date);
    Ends out;
    if (direct.begins_by != "midnight") out.begins = around(direct.span.from, false, outlooks);
    if (direct.ends_by != "midnight") out.ends = around(direct.span.to, true, outlooks);
    return out;
}

std::optional<Span> SpotEnsemble::around(Instant bound, bool is_end,
                                         const std::vector<site::Outlook>& outlooks) const {
    const auto samples =
        path_.samples(std::max(path_.from(), bound - reach), std::min(path_.to(), bound + reach),
                      step_over(outlooks.front()));
    std::vector<Instant> found;
    for (std::size_t i = 0; i < members_.size(); ++i) {
        const auto margin = [&](const Moment& m) {
            return clearance_deg(m, outlooks[i]) +
                   members_[i].refraction * refraction_doubt_deg(m.altitude_deg, weather_);
        };
        std::optional<Instant> nearest;
        for (const Span& s : find_spans(path_, samples, margin)) {
            if (is_end ? s.runs_at_end : s.runs_at_start) continue;
            const Instant t = is_end ? s.to : s.from;
            const auto apart = [&](Instant a) { return std::abs((a - bound).count()); };
            if (!nearest || apart(t) < apart(*nearest)) nearest = t;
        }
        if (nearest) found.push_back(*nearest + members_[i].clock_off);
    }
    if (found.empty()) return std::nullopt;
    return middle_90(std::move(found));
}

}  // namespace keyhour::study
