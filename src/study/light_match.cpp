#include "keyhour/study/light_match.hpp"

#include <algorithm>
#include <cmath>

#include "key_criterion.hpp"
#include "keyhour/room/direction_region.hpp"
#include "keyhour/site/dates.hpp"
#include "radians.hpp"
#include "region_spans.hpp"
#include "room/vectors.hpp"

namespace keyhour::study {
namespace {

constexpr Seconds between_samples{150};
constexpr double least_match_coverage = 0.05;

/// East, north, up as the axes of the plan's space.
room::Point3 in_axes(const LevelVector& v) noexcept {
    return {v.east, v.north, v.up};
}

/// Spans in which direct sun through the shot's window covers the mark, at any hour.
std::vector<Span> covered_spans(const RoomStudy& study, Instant from, Instant to,
                                const ShotLight& shot, double coverage) {
    if (!lets_sun_in(study.room().windows[shot.window])) return {};
    KeySettings settings;
    settings.coverage = coverage;
    settings.altitude_deg[0] = 0;
    settings.altitude_deg[1] = 90;
    RegionSpans regions{study, from, to, 0, settings.altitude_deg[1] * degree};
    room::RegionRequest request;
    request.mark = shot.mark;
    request.window = shot.window;
    request.coverage = coverage;
    request.bounds = regions.bounds();
    const std::size_t region = regions.add(room::covered_region(study.scene(), request));
    regions.cut();
    // No camera: the angle and the frame were the shot's own affair.
    const KeyCriterion criterion{study,     study.scene(), settings,
                                 shot.mark, std::nullopt,  shot.window};
    return regions.stated(region, std::cref(criterion));
}

/// The hours of a date as instants. On a day on which the clocks change, a time that is skipped
/// counts as the instant at which the clocks before the change would show it, one that comes twice
/// as its first coming.
Span hours_on(const site::Zone& zone, site::LocalDate date, const site::WorkingHours& hours) {
    const auto at = [&](std::chrono::seconds time) {
        const site::LocalTime local = date::local_days{date} + time;
        if (const auto t = zone.instant(local)) return *t;
        const auto before = zone.at(zone.start_of(date) - Seconds{1}).utc_offset;
        return Instant::from_unix_s(
            static_cast<double>((local.time_since_epoch() - before).count()));
    };
    return {at(hours.from), at(hours.to)};
}

std::vector<Span> parts_within(const std::vector<Span>& spans, const Span& bounds) {
    std::vector<Span> out;
    for (const Span& s : spans) {
        const Span part{std::max(s.from, bounds.from), std::min(s.to, bounds.to)};
        if (part.from < part.to) out.push_back(part);
    }
    return out;
}

/// Looks at spans of covered light, one after the other.
class Matcher {
public:
    Matcher(const RoomStudy& study, const ShotLight& shot, double within_deg)
        : study_{study}, shot_{shot}, within_deg_{within_deg} {}

    std::vector<Span> agreeing(const std::vector<Span>& spans) const {
        std::vector<Span> out;
        for (const Span& s : spans) {
            const auto samples = study_.path().samples(s.from, s.to, between_samples);
            const auto margin = [&](const Moment& m) {
                return within_deg_ - degrees_between(m.toward, shot_.toward);
            };
            for (Span found : find_spans(study_.path(), samples, margin))
                out.push_back({found.from, found.to});
        }
        return out;
    }

    std::optional<MatchMoment> nearest(const std::vector<Span>& spans) const {
        std::optional<Instant> best;
        const auto consider = [&](Instant t) {
            if (!best || off_at(t) < off_at(*best)) best = t;
        };
        for (const Span& s : spans) {
            const auto samples = study_.path().samples(s.from, s.to, between_samples);
            std::size_t low = 0;
            for (std::size_t i = 1; i < samples.size(); ++i)
                if (off_at(samples[i].at) < off_at(samples[low].at)) low = i;
            consider(samples[low].at);
            // Between its neighbours the angle has one lowest point.
            const Instant a = samples[low > 0 ? low - 1 : 0].at;
            const Instant b = samples[std::min(low + 1, samples.size() - 1)].at;
            consider(peak(a, b, [&](Instant t) { return -off_at(t); }));
        }
        if (!best) return std::nullopt;
        return match_moment(study_, shot_, *best);
    }

private:
    double off_at(Instant t) const {
        return degrees_between(study_.path().at(t).toward, shot_.toward);
    }

    const RoomStudy& study_;
    const ShotLight& shot_;
    double within_deg_;
};

}  // namespace

double degrees_between(const LevelVector& a, const LevelVector& b) noexcept {
    const room::Point3 p = in_axes(a), q = in_axes(b);
    return std::atan2(room::norm(room::cross3(p, q)), dot(p, q)) / degree;
}

LevelVector over_the_ground(const room::Room& room, room::Point3 toward) noexcept {
    const double bearing = room::plan_bearing(room).from_north.in_radians();
    const double s = std::sin(bearing), c = std::cos(bearing);
    return {toward.x * c + toward.y * s, toward.y * c - toward.x * s, toward.z};
}

double sunlit_share(const RoomStudy& study, std::size_t mark, std::size_t window, const Moment& m) {
    if (m.above_skyline_deg <= 0 || !lets_sun_in(study.room().windows[window])) return 0;
    return study.scene().coverage(mark, window, study.sun(m));
}

std::optional<std::size_t> lighting_window(const RoomStudy& study, std::size_t mark,
                                           const Moment& m) {
    std::optional<std::size_t> best;
    double most = 0;
    for (std::size_t w = 0; w < study.room().windows.size(); ++w) {
        const double share = sunlit_share(study, mark, w, m);
        if (share <= most) continue;
        most = share;
        best = w;
    }
    return best;
}

bool can_be_key(const site::Lamp& lamp) noexcept {
    return lamp.place == site::Lamp::Place::outside &&
           !std::holds_alternative<site::Lumens>(lamp.photometry);
}

MatchMoment match_moment(const RoomStudy& study, const ShotLight& shot, Instant at) {
    const room::Point3 sun = in_axes(study.path().at(at).toward), then = in_axes(shot.toward);
    const auto azimuth = [](room::Point3 v) { return std::atan2(v.x, v.y) / degree; };
    const auto altitude = [](room::Point3 v) {
        return std::atan2(v.z, std::hypot(v.x, v.y)) / degree;
    };
    MatchMoment out;
    out.at = at;
    out.off_deg = degrees_between(study.path().at(at).toward, shot.toward);
    out.azimuth_off_deg = std::remainder(azimuth(sun) - azimuth(then), 360.0);
    out.altitude_off_deg = altitude(sun) - altitude(then);
    const room::Mark& mark = study.room().marks[shot.mark];
    const room::Point3 to_window = in_axes(over_the_ground(
        study.room(),
        study.scene().middle(shot.window) - room::Point3{mark.at.x, mark.at.y, mark.height_m}));
    // From the window's middle down the ray, to the plane square to the shot's key.
    const double depth = dot(to_window, then), slant = dot(sun, then);
    if (slant <= 0) return out;
    const room::Point3 moved = depth * then - (depth / slant) * sun;
    const double level = std::max(std::hypot(then.x, then.y), 1e-9);
    const room::Point3 right{then.y / level, -then.x / level, 0};
    out.shift_m = room::norm(moved);
    out.shift_right_m = dot(moved, right);
    out.shift_up_m = dot(moved, room::cross3(right, then));
    return out;
}

std::vector<DateMatch> light_matches(const RoomStudy& study, site::LocalDate first,
                                     site::LocalDate last, const ShotLight& shot,
                                     const MatchSettings& settings) {
    const site::Zone& zone = study.location().site.zone;
    // A shot that had its mark lit in part is matched by the same part.
    const double coverage = shot.coverage > 0
                                ? std::clamp(shot.coverage, least_match_coverage, settings.coverage)
                                : settings.coverage;
    const auto covered = covered_spans(study, zone.start_of(first),
                                       zone.start_of(site::next_day(last)), shot, coverage);
    const Matcher matcher{study, shot, settings.within_deg};
    std::vector<DateMatch> out;
    for (site::LocalDate day = first; day <= last; day = site::next_day(day)) {
        DateMatch match;
        match.date = day;
        const auto all_day =
            parts_within(covered, {zone.start_of(day), zone.start_of(site::next_day(day))});
        const Span hours = hours_on(zone, day, settings.hours);
        const auto at_work = parts_within(all_day, hours);
        match.spans = matcher.agreeing(at_work);
        match.nearest = matcher.nearest(at_work);
        const auto any = matcher.nearest(all_day);
        if (any && (any->at < hours.from || any->at > hours.to)) match.out_of_hours = any;
        out.push_back(std::move(match));
    }
    return out;
}

}  // namespace keyhour::study
