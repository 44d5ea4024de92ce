// Late light behind horizons in closed form, with the sun by ERFA.
//
// The sun's place: ERFA 2.0 (erfa_sun.hpp). Refraction: G. G. Bennett, "The calculation of
// astronomical refraction in marine navigation", Journal of Navigation 35 (1982), p. 255: R =
// cot(h + 7.31 / (h + 4.4)) arcminutes at an apparent altitude of h degrees (from memory); the
// project has Saemundsson's formula, which goes the other way. A straight ridge is a line of
// altitude over bearing; a wall's top stands at atan(rise cos(off square) / distance); the outline
// of a cone is two straight lines in space, each seen as a great circle: tan(altitude) = a cos +
// b sin of the bearing.

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <numbers>

#include "keyhour/site/dates.hpp"
#include "keyhour/study/spot_light.hpp"
#include "keyhour/sun/time_scales.hpp"
#include "published/erfa_sun.hpp"
#include "support/dice.hpp"

using namespace keyhour;
using test::Dice;

namespace {

constexpr double degree = std::numbers::pi / 180;

/// Apparent altitude of what stands in a bearing; both in degrees.
using Profile = std::function<double(double)>;

struct Made {
    site::Location location;
    Profile profile;
    std::string by;
};

double bennett_deg(double apparent_deg) {
    return 1 / std::tan((apparent_deg + 7.31 / (apparent_deg + 4.4)) * degree) / 60;
}

struct Seen {
    double bearing_deg, altitude_deg;  ///< airless
};

Seen erfa(const Observer& o, Instant t) {
    const auto d = erfa_sun::sight(t, sun::delta_t(t).count(), o).direction;
    double bearing = std::atan2(d[0], d[1]) / degree;
    if (bearing < 0) bearing += 360;
    return {bearing, std::asin(d[2]) / degree};
}

/// Airless degrees of the sun over the profile.
double over(const Made& made, Instant t) {
    const Seen s = erfa(made.location.site.observer, t);
    const double top = made.profile(s.bearing_deg);
    return s.altitude_deg - (top - bennett_deg(top));
}

/// Where f changes its sign between a and b.
template <class F>
Instant root(Instant a, Instant b, const F& f) {
    const bool at_a = f(a) > 0;
    while (b - a > Seconds{0.02}) {
        const Instant t = a + 0.5 * (b - a);
        ((f(t) > 0) == at_a ? a : b) = t;
    }
    return a;
}

site::Location open_ground(Dice& dice) {
    site::Location l;
    l.site.observer = {Angle::degrees(dice.between(-56, 56)), Angle::degrees(dice.between(-9, 9)),
                       0};
    site::Spot spot;
    spot.name = "spot";
    spot.on_plan = true;
    spot.wants = dice.chance(0.5) ? site::Side::any : site::Side::back;
    l.spots = {spot};
    return l;
}

Made ridge(Dice& dice) {
    Made m{open_ground(dice), {}, "skyline"};
    const double low = dice.between(0.3, 3), high = dice.between(0.3, 7);
    m.location.site.horizon = site::Horizon{{{Angle::degrees(180), Angle::degrees(low)},
                                             {Angle::degrees(359), Angle::degrees(high)},
                                             {Angle::degrees(359.5), Angle::degrees(low)}}};
    m.profile = [=](double bearing) { return low + (high - low) * (bearing - 180) / 179; };
    return m;
}

/// The plan's +y is true north where there is no room.
Made wall(Dice& dice) {
    Made m{open_ground(dice), {}, "building long wall"};
    const double faces = dice.between(230, 310), far = dice.between(20, 90),
                 rise = far * std::tan(dice.between(1, 5) * degree);
    const double sx = std::sin(faces * degree), cy = std::cos(faces * degree);
    const auto at = [&](double away, double along) {
        return room::Point2{away * sx + along * cy, away * cy - along * sx};
    };
    room::Building b;
    b.name = "long wall";
    b.footprint = {at(far, -9000), at(far, 9000), at(far + 1, 9000), at(far + 1, -9000)};
    b.height_m = rise + site::usual_eye_m;
    m.location.buildings_without_room = {b};
    m.profile = [=](double bearing) {
        return std::max(0.0, std::atan(rise * std::cos((bearing - faces) * degree) / far) / degree);
    };
    return m;
}

/// A cone with its top `up` degrees high in the bearing `middle`, its outline falling to the level
/// `half` degrees to either side.
Made cone(Dice& dice) {
    Made m{open_ground(dice), {}, "skyline"};
    const double middle = dice.between(235, 305), up = dice.between(2, 7),
                 half = dice.between(15, 50);
    m.profile = [=](double bearing) {
        const double off = std::abs(bearing - middle);
        if (off >= half) return 0.0;
        return std::atan(std::tan(up * degree) * std::sin((half - off) * degree) /
                         std::sin(half * degree)) /
               degree;
    };
    std::vector<site::HorizonPoint> points;
    for (double b = 150; b < 360; b += 0.05)
        points.push_back({Angle::degrees(b), Angle::degrees(m.profile(b))});
    points.push_back({Angle::degrees(0), Angle{}});
    points.push_back({Angle::degrees(middle), Angle::degrees(up)});
    m.location.site.horizon = site::Horizon{points};
    return m;
}

struct Worst {
    double band_s = 0, sun_s = 0;
    int ends = 0, split = 0;
};

/// The evening's band and the sun that goes in it or before it.
void judge(const Made& made, site::LocalDate date, Worst& worst) {
    const site::Location& l = made.location;
    const Instant from = l.site.zone.start_of(date),
                  to = l.site.zone.start_of(site::next_day(date));
    const auto track = study::SharedTrack::make(from - Seconds{9 * 3600}, to + Seconds{9 * 3600});
    const study::SpotDay day = study::SpotLight{l, 0, track}.on(date);
    const auto evening = std::ranges::find_if(day.late_light, &study::LateLight::evening);
    REQUIRE(evening != day.late_light.end());
    for (const auto& [t, altitude] : {std::pair{evening->start, 6.0}, {evening->end, -4.0}}) {
        const auto above = [&, altitude = altitude](Instant i) {
            return erfa(l.site.observer, i).altitude_deg - altitude;
        };
        const Instant there = root(t - Seconds{300}, t + Seconds{300}, above);
        worst.band_s = std::max(worst.band_s, std::abs((there - t).count()));
    }
    // The last change from sun to none before the band's end, by steps of two minutes.
    const auto margin = [&](Instant t) { return over(made, t); };
    std::optional<Instant> gone;
    for (Instant t = evening->end; t > evening->start - Seconds{3 * 3600} && !gone;
         t = t - Seconds{120})
        if (margin(t - Seconds{120}) > 0) gone = root(t - Seconds{120}, t, margin);
    if (!gone) return;
    REQUIRE(evening->sun_at);
    ++worst.ends;
    worst.sun_s = std::max(worst.sun_s, std::abs((*gone - *evening->sun_at).count()));
    const bool at_level = made.profile(erfa(l.site.observer, *gone).bearing_deg) <= 0;
    CHECK(evening->behind == (at_level && made.by != "skyline" ? "horizon" : made.by));
    CHECK(evening->stretches.front().span.from == evening->start);
    CHECK(evening->stretches.back().span.to == evening->end);
    CHECK_FALSE(evening->stretches.back().in_sun);
    worst.split += evening->stretches.size() > 1;
    for (const study::LateStretch& s : evening->stretches)
        if (s.span.length() > Seconds{10})
            CHECK((margin(s.span.from + 0.5 * s.span.length()) > 0) == s.in_sun);
    // What is promised ends with the light that the shot wants.
    if (l.spots[0].wants == site::Side::any) {
        REQUIRE(day.for_late_light.size() == 1);
        CHECK(day.for_late_light[0].light.to == evening->end);
    }
    for (const study::SafeStart& s : day.for_late_light)
        if (l.spots[0].wants != site::Side::any) CHECK(s.light.to <= *evening->sun_at);
}

}  // namespace

TEST_CASE("late light ends where a ridge, a wall or a cone in closed form takes ERFA's sun",
          "[late][published]") {
    Dice dice{1907};
    Worst worst;
    for (int i = 0; i < 200; ++i) {
        const Made made = i % 3 == 0 ? ridge(dice) : i % 3 == 1 ? wall(dice) : cone(dice);
        const site::LocalDate date{date::sys_days{*site::read_date("2026-01-01")} +
                                   date::days{dice.whole(0, 364)}};
        CAPTURE(i, made.by, site::iso_date(date),
                made.location.site.observer.latitude.in_degrees());
        judge(made, date, worst);
    }
    WARN("worst of " << worst.ends << " ends (" << worst.split << " within the band): the sun's "
                     << worst.sun_s << " s, the band's " << worst.band_s << " s");
    CHECK(worst.ends > 190);
    CHECK(worst.split > 100);
    CHECK(worst.sun_s < 2);
    CHECK(worst.band_s < 2);
}
