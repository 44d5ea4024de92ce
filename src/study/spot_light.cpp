#include "keyhour/study/spot_light.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "keyhour/light/twilight.hpp"
#include "keyhour/site/dates.hpp"
#include "spot_parts.hpp"

namespace keyhour::study {
namespace {

constexpr Seconds ten_minutes{600};
constexpr Seconds longest_dusk{6 * 3600};

/// Below this (airless) no skyline lets the sun through: a dip of 2 degrees is that of a view from
/// 3 km above the plain.
constexpr Altitude lowest_sun{Angle::degrees(-3)};

using Outlook = site::Outlook;

/// Within the sides' limits: degrees of key angle that are left, negative outside.
double side_margin(double key_angle_deg, site::Side side, const SpotSettings& s) {
    const double a = std::abs(key_angle_deg);
    switch (side) {
        case site::Side::front:
            return s.front_below_deg - a;
        case site::Side::side:
            return std::min(a - s.front_below_deg, s.back_above_deg - a);
        case site::Side::back:
            return a - s.back_above_deg;
        case site::Side::any:
            break;
    }
    return 180;
}

site::Side side_of(double key_angle_deg, const SpotSettings& s) {
    const double a = std::abs(key_angle_deg);
    if (a < s.front_below_deg) return site::Side::front;
    return a > s.back_above_deg ? site::Side::back : site::Side::side;
}

/// Axes of a lens: level turned to the bearing, then tilted.
struct Lens {
    LevelVector right, up, forward;

    Lens(Angle bearing, Angle tilt) {
        const double sb = sin(bearing), cb = cos(bearing), st = sin(tilt), ct = cos(tilt);
        right = {cb, -sb, 0};
        up = {-sb * st, -cb * st, ct};
        forward = {sb * ct, cb * ct, st};
    }
};

double dot(const LevelVector& a, const LevelVector& b) {
    return a.east * b.east + a.north * b.north + a.up * b.up;
}

/// How far within the frame a direction lies, radians of the nearer limit; negative outside.
double frame_margin(const site::Spot& spot, const LevelVector& toward, bool upright) {
    const Lens lens{spot.camera_bearing, spot.tilt};
    const double long_half = spot.view.in_radians() / 2;
    const double short_half = std::atan(std::tan(long_half) * 9 / 16);
    const double forward = dot(toward, lens.forward);
    const double across = std::atan2(std::abs(dot(toward, lens.right)), forward);
    const double above = std::atan2(std::abs(dot(toward, lens.up)), forward);
    return std::min((upright ? short_half : long_half) - across,
                    (upright ? long_half : short_half) - above);
}

/// From a sunset on: the first crossing of what lies below it leads down.
std::optional<Instant> dusk_after(const sun::Track& track, const sun::Place& place,
                                  Altitude altitude, Instant set) {
    std::array<sun::Crossing, 8> found{};
    const Instant to = std::min(set + longest_dusk, track.to());
    const auto c = sun::crossings(track, place, altitude, set, to, found);
    return c.count > 0 ? std::optional{found[0].at} : std::nullopt;
}

SafeStart safe_start(const Span& light, const SpotSettings& s) {
    const Seconds slack = light.length() - s.shot;
    if (slack < Seconds{0}) return {light, std::nullopt, slack};
    return {light, light.to - s.shot - s.set_up, slack};
}

/// log2(now / later), nothing where one of them is too dark to speak of.
std::optional<double> stops_between(double now_lx, double later_lx) {
    constexpr double no_light_lx = 1e-3;
    if (now_lx < no_light_lx || later_lx < no_light_lx) return std::nullopt;
    return std::log2(now_lx / later_lx);
}

std::optional<Fall> ordered(const std::array<std::optional<double>, 3>& stops_of_airs) {
    for (const auto& s : stops_of_airs)
        if (!s) return std::nullopt;
    const auto [low, high] = std::minmax({*stops_of_airs[0], *stops_of_airs[1], *stops_of_airs[2]});
    return Fall{low, *stops_of_airs[1], high};
}

}  // namespace

Angle key_angle(Angle camera_bearing, Azimuth azimuth) noexcept {
    // Seen along the lens axis the sun at a smaller azimuth is on the left; from behind the camera
    // the light stands at camera_bearing + 180.
    return wrapped_half_turn(azimuth.from_north - camera_bearing - Angle::degrees(180));
}

Angle incidence_on_wall(Angle wall_faces, const LevelVector& toward) noexcept {
    const double c = toward.east * sin(wall_faces) + toward.north * cos(wall_faces);
    return Angle::radians(std::acos(std::clamp(c, -1.0, 1.0)));
}

double shadow_length(double height_m, Altitude altitude) noexcept {
    return height_m / tan(altitude.above_horizon);
}

/// One date at one spot.
class SpotLight::DateWork {
public:
    DateWork(const SpotLight& of, site::LocalDate date)
        : of_{of},
          set_{of.settings_},
          track_{of.shared_->track()},
          outlook_{of.location_, of.spot_, date},
          from_{of.location_.site.zone.start_of(date)},
          to_{of.location_.site.zone.start_of(site::next_day(date))} {
        day_.date = date;
        day_.exists = from_ < to_;
    }

    SpotDay run() {
        if (!day_.exists) return std::move(day_);
        find_direct();
        for (const DirectSpan& direct : day_.direct)
            look_into(direct.span);
        find_twilight();
        for (const Span& span : day_.wanted)
            day_.for_wanted.push_back(safe_start(span, set_));
        for (const LateLight& light : day_.late_light)
            if (light.evening) start_in(light);
        find_floor();
        find_moon();
        return std::move(day_);
    }

private:
    /// The stretches in which the sun may be seen at all.
    std::vector<Span> sun_up() const {
        std::array<sun::Crossing, 8> found{};
        const auto c = sun::crossings(track_, of_.place_, lowest_sun, from_, to_, found);
        std::vector<Span> out;
        bool up = c.count == 0 ? c.side == sun::Side::always_above : !found[0].upward;
        Instant since = from_;
        for (std::size_t i = 0; i < c.count; ++i) {
            if (up) out.push_back({since, found[i].at});
            up = found[i].upward;
            since = found[i].at;
        }
        if (up) out.push_back({since, to_});
        return out;
    }

    void find_direct() {
        const auto margin = [&](const Moment& m) { return clearance_deg(m, outlook_); };
        bool over_horizon = false;
        for (const Span& up : sun_up()) {
            const auto samples = of_.path_.samples(up.from, up.to, step_over(outlook_));
            for (const Moment& m : samples)
                over_horizon = over_horizon || m.altitude_deg > 0;
            for (const Span& span : find_spans(of_.path_, samples, margin)) {
                const bool begins = span.from == from_, ends = span.to == to_;
                const Hider before = begins ? midnight() : what_hides(span.from - Seconds{1}),
                            after = ends ? midnight() : what_hides(span.to + Seconds{1});
                day_.direct.push_back(
                    {span, before.words, after.words, begins, ends, before.turns, after.turns});
            }
        }
        if (day_.direct.empty())
            day_.no_direct = over_horizon ? NoDirect::stays_in_shade : NoDirect::sun_stays_down;
    }

    struct Hider {
        std::string words;
        bool turns = false;  ///< with the plan, as no profile does
    };

    static Hider midnight() { return {"midnight"}; }

    /// What stands before the sun.
    Hider what_hides(Instant t) const {
        using enum site::Outlook::Kind;
        const Moment m = of_.path_.at(t);
        const site::Outlook::Top top = outlook_.top_at(azimuth_of(m.toward));
        return {outlook_.words(top),
                top.kind == building || top.kind == tree || top.kind == own_walls};
    }

    void look_into(const Span& direct) {
        const auto samples = of_.path_.samples(direct.from, direct.to, spot_step);
        const auto note = [&](std::vector<Span>& into, const auto& margin) {
            for (const Span& span : find_spans(of_.path_, samples, margin))
                into.push_back(span);
        };
        const auto of_side = [&](site::Side side) {
            return [this, side](const Moment& m) {
                return side_margin(
                    key_angle(of_.spot_.camera_bearing, azimuth_of(m.toward)).in_degrees(), side,
                    set_);
            };
        };
        const std::size_t first = day_.sides.size();
        for (const site::Side side : {site::Side::front, site::Side::side, site::Side::back}) {
            std::vector<Span> spans;
            note(spans, of_side(side));
            for (const Span& span : spans)
                day_.sides.push_back({span, side});
        }
        std::sort(day_.sides.begin() + static_cast<std::ptrdiff_t>(first), day_.sides.end(),
                  [](const SideSpan& a, const SideSpan& b) { return a.span.from < b.span.from; });
        note(day_.wanted, of_side(of_.spot_.wants));
        for (const bool upright : {false, true})
            note(upright ? day_.in_frame_upright : day_.in_frame,
                 [&](const Moment& m) { return frame_margin(of_.spot_, m.toward, upright); });
        if (!of_.spot_.facade_faces) return;
        const auto incidence = [&](const Moment& m) {
            return incidence_on_wall(*of_.spot_.facade_faces, m.toward).in_degrees();
        };
        note(day_.on_facade, [&](const Moment& m) { return 90 - incidence(m); });
        note(day_.raking, [&](const Moment& m) {
            return std::min(incidence(m) - set_.raking_from_deg, set_.raking_to_deg - incidence(m));
        });
    }

    void find_twilight() {
        day_.late_light = late_light(track_, of_.place_, from_, to_, set_.late_light);
        day_.low_sun = late_light(track_, of_.place_, from_, to_, set_.low_sun);
        for (auto* lights : {&day_.late_light, &day_.low_sun}) {
            split_by_sun(*lights, day_.direct);
            if (day_.direct.empty())
                for (LateLight& light : *lights)
                    light.behind = what_hides(light.evening ? light.start : light.end).words;
        }
        std::array<sun::Crossing, 8> found{};
        const auto c = sun::crossings(track_, of_.place_, sun::rise_altitude, from_, to_, found);
        for (std::size_t i = 0; i < c.count; ++i)
            if (!found[i].upward) day_.set = found[i].at;
        if (!day_.set) return;
        day_.civil_dusk = dusk_after(track_, of_.place_, sun::civil_altitude, *day_.set);
        day_.nautical_dusk = dusk_after(track_, of_.place_, sun::nautical_altitude, *day_.set);
    }

    void start_in(const LateLight& light) {
        const Span whole{light.start, light.end, false, false};
        if (of_.spot_.wants == site::Side::any)
            return day_.for_late_light.push_back(safe_start(whole, set_));
        for (const Span& sun : day_.wanted) {
            const Span both{std::max(sun.from, whole.from), std::min(sun.to, whole.to), false,
                            false};
            if (both.from < both.to) day_.for_late_light.push_back(safe_start(both, set_));
        }
    }

    /// The evening's minute from which the sky alone gives less than the floor.
    void find_floor() {
        if (!set_.floor_lx) return;
        std::array<Instant, 4> transits{};
        if (sun::transits(track_, of_.place_, from_, to_, transits) == 0) return;
        const light::Air air = air_of(of_.location_.site.air);
        const auto sky_lx = [&](Instant t) {
            const sun::Position p = of_.path_.position(t);
            return light::clear_sky({p.apparent_altitude, p.true_altitude,
                                     of_.location_.site.observer.elevation_m, p.distance_au},
                                    air)
                .diffuse_horizontal_lx;
        };
        Instant bright = transits[0];
        Instant dark = std::min(bright + Seconds{12 * 3600}, track_.to());
        if (sky_lx(bright) < *set_.floor_lx || sky_lx(dark) >= *set_.floor_lx) return;
        while (dark - bright > Seconds{1}) {
            const Instant t = bright + 0.5 * (dark - bright);
            (sky_lx(t) >= *set_.floor_lx ? bright : dark) = t;
        }
        day_.below_floor = dark;
    }

    void find_moon() {
        std::array<sun::Crossing, 6> found{};
        const auto c = sun::moon_crossings(track_, of_.place_, from_, to_, found);
        day_.moon_rise_and_set.assign(found.begin(),
                                      found.begin() + static_cast<std::ptrdiff_t>(c.count));
        day_.moon = c.side;
        for (const auto& t : {day_.civil_dusk, day_.nautical_dusk, std::optional{to_}})
            if (t) day_.moon_sights.push_back(of_.moon(*t, outlook_));
        std::stable_sort(day_.moon_sights.begin(), day_.moon_sights.end(),
                         [](const MoonSight& a, const MoonSight& b) { return a.at < b.at; });
    }

    const SpotLight& of_;
    const SpotSettings& set_;
    const sun::Track& track_;
    Outlook outlook_;
    Instant from_, to_;
    SpotDay day_;
};

SpotLight::SpotLight(const site::Location& location, std::size_t spot,
                     std::shared_ptr<const SharedTrack> shared, const SpotSettings& settings)
    : location_{location},
      spot_{location.spots[spot]},
      settings_{settings},
      shared_{std::move(shared)},
      path_{level_site_at(location.site, spot_), shared_},
      place_{level_site_at(location.site, spot_).observer, location.site.weather} {}

SpotDay SpotLight::on(site::LocalDate date) const {
    return DateWork{*this, date}.run();
}

void SpotLight::add_sky(SpotDay& day) const {
    study::add_sky(day.late_light, location_.site, path_);
    study::add_sky(day.low_sun, location_.site, path_);
}

SpotInstant SpotLight::at(Instant t) const {
    return at(t, Outlook{location_, spot_, site::local_date(t, location_.site.zone)});
}

SpotInstant SpotLight::at(Instant t, const Outlook& outlook) const {
    SpotInstant now;
    now.at = t;
    now.sun = path_.position(t);
    const Moment m = path_.at(t);
    const Azimuth azimuth = azimuth_of(m.toward);
    const Outlook::Top top = outlook.top_at(azimuth);
    now.lit = m.altitude_deg > top.altitude.above_horizon.in_degrees();
    if (!now.lit) now.shaded_by = outlook.words(top);
    now.through_trees = outlook.passes(azimuth, now.sun.apparent_altitude);
    now.key_angle = key_angle(spot_.camera_bearing, azimuth);
    now.side = side_of(now.key_angle.in_degrees(), settings_);
    now.in_frame = frame_margin(spot_, m.toward, false) > 0;
    now.in_frame_upright = frame_margin(spot_, m.toward, true) > 0;
    if (spot_.facade_faces) now.incidence = incidence_on_wall(*spot_.facade_faces, m.toward);
    constexpr double too_low_deg = 0.5;  // a shadow of over a hundred times the height
    if (m.altitude_deg > too_low_deg)
        now.shadow = Shadow{{wrapped_turn(azimuth.from_north + Angle::degrees(180))},
                            shadow_length(settings_.person_m, now.sun.apparent_altitude),
                            shadow_length(settings_.stand_m, now.sun.apparent_altitude)};

    const double elevation_m = location_.site.observer.elevation_m;
    const sun::Position later = path_.position(t + ten_minutes);
    const auto state = [&](const sun::Position& p) {
        return light::SkyState{p.apparent_altitude, p.true_altitude, elevation_m, p.distance_au};
    };
    const light::Air air = air_of(location_.site.air);
    now.sky = light::sky_band(state(now.sun), air);
    const light::NeighbouringAir airs = light::neighbouring_air(air);
    std::array<std::optional<double>, 3> direct, sky;
    for (std::size_t i = 0; i < 3; ++i) {
        const light::Air one = std::array{airs.clearer, airs.likely, airs.hazier}[i];
        const light::SkyLevels a = light::clear_sky(state(now.sun), one);
        const light::SkyLevels b = light::clear_sky(state(later), one);
        direct[i] = stops_between(a.direct_normal_lx, b.direct_normal_lx);
        sky[i] = stops_between(a.diffuse_horizontal_lx, b.diffuse_horizontal_lx);
    }
    now.moon = moon(t, outlook);
    now.direct_fall = ordered(direct);
    now.sky_fall = ordered(sky);
    return now;
}

MoonSight SpotLight::moon(Instant t, const Outlook& outlook) const {
    const sun::GeocentricMoon moon = sun::geocentric_moon(t, shared_->track().vector(t));
    MoonSight sight;
    sight.at = t;
    sight.position = sun::moon_position(place_, moon);
    sight.illuminated_fraction = moon.illuminated_fraction;
    sight.waxing = moon.is_waxing();
    sight.hidden =
        sight.position.apparent_altitude <= outlook.top_at(sight.position.azimuth).altitude;
    constexpr double mean_distance_km = 384400;
    const double nearer = mean_distance_km / moon.distance_km;
    if (!sight.hidden)
        sight.level_lx =
            nearer * nearer * light::moonlight_lx(sight.position.true_altitude, moon.phase_angle);
    return sight;
}

bool SpotLight::sun_is_up(Instant t) const {
    return path_.position(t).true_altitude > sun::rise_altitude;
}

std::string SpotLight::stands_in() const {
    if (!spot_.on_plan) return {};
    for (const room::Building& b : site::buildings(location_))
        if (room::contains(b.footprint, spot_.at)) return room::words(b);
    if (location_.room && room::contains(location_.room->floor, spot_.at)) return "the room";
    return {};
}

const SafeStart* longest(const std::vector<SafeStart>& starts) noexcept {
    const SafeStart* best = nullptr;
    for (const SafeStart& s : starts)
        if (best == nullptr || s.light.length() > best->light.length()) best = &s;
    return best;
}

}  // namespace keyhour::study
