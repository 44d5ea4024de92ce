#include "keyhour/study/mark_light.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

#include "keyhour/light/glass.hpp"
#include "keyhour/light/lighting_ratio.hpp"
#include "keyhour/light/overcast.hpp"
#include "keyhour/study/found_light.hpp"
#include "keyhour/study/spot_light.hpp"
#include "outside_light.hpp"
#include "radians.hpp"
#include "room/vectors.hpp"
#include "room_surfaces.hpp"
#include "sky_shape.hpp"
#include "window_shares.hpp"

namespace keyhour::study {

using room::Point2;
using room::Point3;

namespace {

/// A bright piece of sky, and what a unit of its luminance about the sun is worth.
struct Cell {
    Point3 toward;
    double weight;
};

/// Sums from luminance to light: the sky's by direction, for the rest one number each.
struct Sums {
    std::vector<Cell> sky;    ///< the sky's gradation is in the weights
    double overcast_sky = 0;  ///< with the gradation of the closed cloud
    double ground = 0, building = 0;
    double cloth = 0;
};

/// Of the quarter sphere before a wall and above the level, and of its mirror image below: turned
/// from the wall's normal, radians; sines of altitudes.
struct SpherePart {
    double left, right, low, high;
};

/// What the room gives back, lx, by where it came from.
struct Fill {
    double sun, sky, ground, cloth;
    [[nodiscard]] double total() const { return sun + sky + ground + cloth; }
};

}  // namespace

struct RoomLight::Prepared {
    explicit Prepared(const RoomStudy& s);

    [[nodiscard]] double skyline(Point2 level) const;
    [[nodiscard]] Sums seen_from(std::size_t window, Point3 at, Point3 facing, int parts) const;
    [[nodiscard]] Sums taken_in(std::size_t window) const;
    void add_taken_in(Sums& out, std::size_t window, const SpherePart& part) const;
    [[nodiscard]] double transmittance(std::size_t window, double incidence_cosine) const;
    [[nodiscard]] Shares shares_of(const Sums& sums, const SunNow& sun) const;
    [[nodiscard]] std::vector<WindowShares> shares_of_room(const SunNow& sun) const;
    [[nodiscard]] WindowShares shares_of_room(std::size_t window, const SunNow& sun) const;
    /// @param shares  those of the room, for the same sun
    [[nodiscard]] std::vector<WindowShares> shares_of_mark(std::size_t mark, const SunNow& sun,
                                                           std::vector<WindowShares> shares) const;
    [[nodiscard]] ClearSkies clear_skies(const SunNow& sun) const;
    [[nodiscard]] std::vector<MarkLight> in_cases(std::size_t mark, std::size_t key_window,
                                                  const std::vector<WindowShares>& shares,
                                                  const ClearSkies& skies, const SunNow& sun,
                                                  std::span<const LightCase> cases) const;
    /// With the room's forges, and as the recce's meter corrects it.
    [[nodiscard]] std::vector<MarkLight> as_found(std::size_t mark,
                                                  std::vector<MarkLight> cases) const;
    [[nodiscard]] WindowLight light_on_mark(std::optional<std::size_t> mark, std::size_t window,
                                            const WindowShares& shares, const Outside& outside,
                                            room::Cover cover) const;
    [[nodiscard]] MarkLight light(std::optional<std::size_t> mark, std::size_t key_window,
                                  const std::vector<WindowShares>& shares, const Outsides& outsides,
                                  const std::vector<room::Cover>& covers) const;
    void colour(MarkLight& light, std::size_t key_window, const std::vector<WindowShares>& shares,
                const light::SkyLevels& levels, const Outside& outside, double sine_altitude) const;
    [[nodiscard]] std::vector<room::Cover> covers(std::size_t key_window,
                                                  std::optional<room::Cover> of_key) const;
    [[nodiscard]] Fill fill_from(std::size_t window, const Entering& in) const;

    const RoomStudy& study;
    Angle bearing_of_y;
    SkyShape clear, cloud;
    light::NeighbouringAir airs;
    light::ClearSkyTable clearer, likely, hazier;
    std::vector<light::RoomReflectances> reflectances;  ///< by window
    std::vector<Sums> windows;                          ///< taken in, lm
    std::vector<std::vector<Sums>> marks;               ///< by mark, then window
};

RoomLight::Prepared::Prepared(const RoomStudy& s)
    : study{s},
      bearing_of_y{room::plan_bearing(s.room()).from_north},
      clear{light::clear_sky_type(air_of(s.location().site.air))},
      cloud{light::overcast_type},
      airs{light::neighbouring_air(air_of(s.location().site.air))},
      clearer{airs.clearer, s.location().site.observer.elevation_m},
      likely{airs.likely, s.location().site.observer.elevation_m},
      hazier{airs.hazier, s.location().site.observer.elevation_m} {
    constexpr int parts = 10;
    const room::Room& room = study.room();
    for (std::size_t w = 0; w < room.windows.size(); ++w) {
        reflectances.push_back(reflectances_for(room, room.windows[w]));
        windows.push_back(taken_in(w));
    }
    for (const room::Mark& mark : room.marks) {
        const Point3 at{mark.at.x, mark.at.y, mark.height_m};
        marks.emplace_back();
        for (std::size_t w = 0; w < room.windows.size(); ++w)
            marks.back().push_back(seen_from(w, at, unit(study.scene().middle(w) - at), parts));
    }
}

double RoomLight::Prepared::skyline(Point2 level) const {
    const Angle azimuth = wrapped_turn(bearing_of_y + Angle::radians(std::atan2(level.x, level.y)));
    return std::max(0.0, tan(study.location().site.horizon.altitude_at({azimuth}).above_horizon));
}

double RoomLight::Prepared::transmittance(std::size_t window, double incidence_cosine) const {
    return light::transmittance_at_cosine(panes_of(study.room().windows[window]), incidence_cosine);
}

/// What a small plane sees through an opening.
Sums RoomLight::Prepared::seen_from(std::size_t window, Point3 at, Point3 facing, int parts) const {
    const auto horizon = [this](Point2 level) { return skyline(level); };
    Sums out;
    for (const room::ViewPart& part : study.scene().view_out(window, at, horizon, parts, parts)) {
        const double slope = std::max(0.0, dot(part.toward, facing));
        const double weight = part.solid_angle_sr * slope;
        const double through = weight * transmittance(window, part.incidence_cosine);
        out.cloth += weight * part.cloth;
        out.ground += through * part.ground;
        out.building += through * part.building;
        if (part.sky <= 0) continue;
        out.overcast_sky += through * part.sky * cloud.gradation(part.to_sky.z);
        out.sky.push_back({part.to_sky, through * part.sky * clear.gradation(part.to_sky.z)});
    }
    return out;
}

/// What an opening takes in: each direction's luminance comes through the area that reveal, bars
/// and what stands outside leave open to it.
Sums RoomLight::Prepared::taken_in(std::size_t window) const {
    constexpr int rings = 9, columns = 18;  // of the quarter sphere before the wall
    Sums out;
    for (int i = 0; i < columns; ++i)
        for (int k = 0; k < rings; ++k)
            add_taken_in(out, window,
                         {pi * (i / double{columns} - 0.5), pi * ((i + 1) / double{columns} - 0.5),
                          std::sin(pi / 2 * k / rings), std::sin(pi / 2 * (k + 1) / rings)});
    return out;
}

/// One part of the quarter sphere: by a few directions, as edges outside cut through it.
void RoomLight::Prepared::add_taken_in(Sums& out, std::size_t window,
                                       const SpherePart& part) const {
    constexpr int each_way = 2;
    const room::WallFrame& frame = study.scene().frame(window);
    const bool has_outside = study.scene().has_outside(window);
    const double turn = (part.right - part.left) / each_way;
    const double step = (part.high - part.low) / each_way;
    double sky = 0, overcast = 0;
    Point3 middle;
    for (int i = 0; i < each_way; ++i) {
        const double turned = part.left + (i + 0.5) * turn;
        const Point2 level = std::cos(turned) * frame.n + std::sin(turned) * frame.u;
        const double skyline_sine = std::sin(std::atan(skyline(level)));
        for (int k = 0; k < each_way; ++k) {
            const double low = part.low + k * step, high = low + step;
            const double sine = (low + high) / 2, cosine = std::sqrt(1 - sine * sine);
            const Point3 toward{cosine * level.x, cosine * level.y, sine};
            const double incidence = cosine * std::cos(turned);
            const double weight = step * turn * incidence * transmittance(window, incidence);
            const room::OpenAreas above = study.scene().open_areas(window, toward);
            const room::OpenAreas below =
                has_outside ? study.scene().open_areas(window, {toward.x, toward.y, -toward.z})
                            : above;  // the opening's mirror image
            const double over = std::clamp((high - skyline_sine) / step, 0.0, 1.0);
            out.ground += weight * (below.free_m2 + (1 - over) * above.free_m2);
            out.building += weight * (above.panes_m2 - above.free_m2);
            out.building += weight * (below.panes_m2 - below.free_m2);
            const double here = weight * over * above.free_m2;
            sky += here * clear.gradation(sine);
            overcast += here * cloud.gradation(sine);
            middle = middle + here * toward;
        }
    }
    if (sky <= 0) return;
    out.overcast_sky += overcast;
    out.sky.push_back({unit(middle), sky});
}

/// Light for one lx of sky on a level plane, and for one of the others.
Shares RoomLight::Prepared::shares_of(const Sums& sums, const SunNow& sun) const {
    double blue = 0;
    for (const Cell& cell : sums.sky)
        blue += cell.weight * clear.about_sun(dot(cell.toward, sun.toward));
    return {0, blue / clear.dome(sun.toward.z), sums.overcast_sky / cloud.dome(0), sums.ground,
            sums.building};
}

WindowShares RoomLight::Prepared::shares_of_room(std::size_t window, const SunNow& sun) const {
    const room::Scene& scene = study.scene();
    WindowShares out{{}, shares_of(windows[window], sun)};
    const double incidence = scene.in_front(window, sun.toward);
    if (!sun.over_skyline) return out;
    const double through = transmittance(window, incidence);
    out.entering.direct = scene.open_area(window, sun.toward) * incidence * through;
    if (out.entering.direct <= 0) return out;
    out.mark.direct = through;
    out.landing = landing_reflectance(scene, window, sun.toward);
    return out;
}

std::vector<WindowShares> RoomLight::Prepared::shares_of_room(const SunNow& sun) const {
    std::vector<WindowShares> out;
    out.reserve(windows.size());
    for (std::size_t w = 0; w < windows.size(); ++w)
        out.push_back(shares_of_room(w, sun));
    return out;
}

std::vector<WindowShares> RoomLight::Prepared::shares_of_mark(
    std::size_t mark, const SunNow& sun, std::vector<WindowShares> shares) const {
    for (std::size_t w = 0; w < shares.size(); ++w) {
        const double direct = shares[w].mark.direct;
        shares[w].mark = shares_of(marks[mark][w], sun);
        shares[w].mark.direct = direct;
        if (direct > 0) shares[w].coverage = study.scene().coverage(mark, w, sun.toward);
    }
    return shares;
}

ClearSkies RoomLight::Prepared::clear_skies(const SunNow& sun) const {
    return {clearer.levels(sun.state), likely.levels(sun.state), hazier.levels(sun.state)};
}

WindowLight RoomLight::Prepared::light_on_mark(std::optional<std::size_t> mark, std::size_t window,
                                               const WindowShares& shares, const Outside& outside,
                                               room::Cover cover) const {
    const room::Window& w = study.room().windows[window];
    switch (cover) {
        case room::Cover::blackout:
            return {};
        case room::Cover::sheer: {
            // A Lambert source as large as the opening: luminance = exitance / pi.
            const double exitance =
                entering(shares, outside, cover).cloth_lm / (w.width_m * w.height_m);
            return {.cloth_lx = mark ? exitance / pi * marks[*mark][window].cloth : 0};
        }
        case room::Cover::open:
            break;
    }
    const double beam_lx = shares.mark.direct_lx(outside);
    const double coverage = beam_lx > 0 ? shares.coverage : 0;
    return {.coverage = coverage,
            .beam_lx = beam_lx,
            .direct_lx = coverage * beam_lx,
            .sky_lx = shares.mark.sky_lx(outside),
            .ground_lx = shares.mark.ground_lx(outside)};
}

/// What the room gives back of one window's light: split flux for sky and ground, the integrating
/// sphere for the sunbeam; a sheer's light goes up and down alike.
Fill RoomLight::Prepared::fill_from(std::size_t window, const Entering& in) const {
    const light::RoomReflectances& room = reflectances[window];
    const double cloth = in.cloth_lm / 2;
    return {light::sphere_lx(in.sun_lm, in.landing, room),
            light::split_flux_lx(1, 1, in.sky_lm, 0, room),
            light::split_flux_lx(1, 1, 0, in.ground_lm, room),
            light::split_flux_lx(1, 1, cloth, cloth, room)};
}

namespace {

/// A sheer's light has the colours of what fell on it.
void add_cloth(Mix& mix, const Colours& colours, double cloth, const Entering& arriving) {
    if (cloth <= 0) return;  // nor may anything have fallen on it
    const double share = cloth / arriving.total_lm();
    mix.add(share * arriving.sun_lm, colours.direct);
    mix.add(share * arriving.sky_lm, colours.sky);
    mix.add(share * arriving.ground_lm, colours.both);
}

/// What a window gives the mark beside direct sun.
void add_diffuse(Mix& mix, const Colours& colours, const WindowLight& of,
                 const Entering& arriving) {
    mix.add(of.sky_lx, colours.sky);
    mix.add(of.ground_lx, colours.both);
    add_cloth(mix, colours, of.cloth_lx, arriving);
}

void add_fill(Mix& mix, const Colours& colours, const Fill& fill, const Entering& arriving) {
    mix.add(fill.sun, colours.direct);
    mix.add(fill.sky, colours.sky);
    mix.add(fill.ground, colours.both);
    add_cloth(mix, colours, fill.cloth, arriving);
}

}  // namespace

RoomLight::RoomLight(const RoomStudy& study) : prepared_{std::make_shared<Prepared>(study)} {}

SunNow RoomLight::sun(const Moment& m) const {
    const RoomStudy& study = prepared_->study;
    const sun::Position p = study.path().position(m.at);
    return {study.sun(m),
            {p.apparent_altitude, p.true_altitude, study.location().site.observer.elevation_m,
             p.distance_au},
            m.above_skyline_deg > 0};
}

namespace {

light::Band band_of(std::span<const double> values) {
    const auto [low, high] = std::minmax_element(values.begin(), values.end());
    return {*low, values[Outsides::likely], *high};
}

/// Key to fill over the airs, which change both at once.
std::optional<light::Band> stops_of(std::span<const double> key, std::span<const double> fill) {
    std::array<double, Outsides::most> stops{};
    for (std::size_t i = 0; i < key.size(); ++i) {
        if (key[i] <= 0 || fill[i] <= 0) return {};
        stops[i] = light::KeyAndFill{key[i], fill[i]}.stops(light::RatioConvention::key_to_fill);
    }
    return band_of(std::span{stops}.first(key.size()));
}

}  // namespace

std::vector<room::Cover> RoomLight::Prepared::covers(std::size_t key_window,
                                                     std::optional<room::Cover> of_key) const {
    std::vector<room::Cover> out;
    out.reserve(windows.size());
    for (const room::Window& window : study.room().windows)
        out.push_back(window.cover);
    if (of_key) out[key_window] = *of_key;
    return out;
}

MarkLight RoomLight::Prepared::light(std::optional<std::size_t> mark, std::size_t key_window,
                                     const std::vector<WindowShares>& shares,
                                     const Outsides& outsides,
                                     const std::vector<room::Cover>& covers) const {
    MarkLight out;
    std::array<double, Outsides::most> key{}, given_back{}, beside{}, fill{};
    for (std::size_t i = 0; i < outsides.count; ++i) {
        const Outside& outside = outsides.all[i];
        for (std::size_t w = 0; w < shares.size(); ++w) {
            const WindowLight here = light_on_mark(mark, w, shares[w], outside, covers[w]);
            if (w == key_window)
                key[i] = here.total_lx();
            else
                beside[i] += here.diffuse_lx();
            given_back[i] += fill_from(w, entering(shares[w], outside, covers[w])).total();
        }
        fill[i] = given_back[i] + beside[i];
    }
    const std::size_t n = outsides.count;
    out.key_lx = band_of(std::span{key}.first(n));
    out.given_back_lx = band_of(std::span{given_back}.first(n));
    out.other_windows_lx = band_of(std::span{beside}.first(n));
    out.fill_lx = band_of(std::span{fill}.first(n));
    out.key_to_fill_stops = stops_of(std::span{key}.first(n), std::span{fill}.first(n));
    out.windows.reserve(shares.size());
    out.entering.reserve(shares.size());
    const Outside& as_likely = outsides.all[Outsides::likely];
    for (std::size_t w = 0; w < shares.size(); ++w) {
        out.windows.push_back(light_on_mark(mark, w, shares[w], as_likely, covers[w]));
        out.entering.push_back(entering(shares[w], as_likely, covers[w]));
    }
    return out;
}

void RoomLight::Prepared::colour(MarkLight& light, std::size_t key_window,
                                 const std::vector<WindowShares>& shares,
                                 const light::SkyLevels& levels, const Outside& outside,
                                 double sine_altitude) const {
    if (!levels.sky_kelvin) return;  // the sun is down: no model of the sky's colour
    const Colours colours{levels, sine_altitude};
    Mix key, fill;
    key.add(light.windows[key_window].direct_lx, colours.direct);
    for (std::size_t w = 0; w < shares.size(); ++w) {
        const Entering in = arriving(shares[w], outside);
        add_diffuse(w == key_window ? key : fill, colours, light.windows[w], in);
        add_fill(fill, colours, fill_from(w, light.entering[w]), in);
    }
    light.key_kelvin = key.kelvin();
    light.fill_kelvin = fill.kelvin();
    light.mix_kelvin = Mix{key.sum + fill.sum}.kelvin();
}

std::vector<MarkLight> RoomLight::Prepared::in_cases(std::size_t mark, std::size_t key_window,
                                                     const std::vector<WindowShares>& shares,
                                                     const ClearSkies& skies, const SunNow& sun,
                                                     std::span<const LightCase> cases) const {
    std::vector<MarkLight> out;
    out.reserve(cases.size());
    for (const LightCase& c : cases) {
        const Outsides outsides = outsides_of(skies, sun.state, c.cloud);
        out.push_back(light(mark, key_window, shares, outsides, covers(key_window, c.key_cover)));
        colour(out.back(), key_window, shares, light::under_cloud(skies.likely, sun.state, c.cloud),
               outsides.all[Outsides::likely], sun.toward.z);
    }
    return out;
}

std::vector<MarkLight> RoomLight::Prepared::as_found(std::size_t mark,
                                                     std::vector<MarkLight> cases) const {
    if (const FoundInRoom* found = study.found())
        for (MarkLight& light : cases)
            found->apply(mark, light);
    return cases;
}

std::vector<MarkLight> RoomLight::in_cases(std::size_t mark, std::size_t key_window,
                                           const SunNow& sun,
                                           std::span<const LightCase> cases) const {
    const Prepared& p = *prepared_;
    const auto shares = p.shares_of_mark(mark, sun, p.shares_of_room(sun));
    return p.as_found(mark, p.in_cases(mark, key_window, shares, p.clear_skies(sun), sun, cases));
}

std::vector<RoomLight::BestLit> RoomLight::at_marks(const SunNow& sun,
                                                    std::span<const LightCase> cases) const {
    const Prepared& p = *prepared_;
    const auto of_room = p.shares_of_room(sun);
    const ClearSkies skies = p.clear_skies(sun);
    const Outside outside = clear_outside(skies.likely);
    std::vector<BestLit> out;
    for (std::size_t mark = 0; mark < p.marks.size(); ++mark) {
        const auto shares = p.shares_of_mark(mark, sun, of_room);
        std::size_t key = 0;
        double most = 0;
        for (std::size_t w = 0; w < shares.size(); ++w) {
            const double lx =
                p.light_on_mark(mark, w, shares[w], outside, p.study.room().windows[w].cover)
                    .total_lx();
            if (lx > most) {
                most = lx;
                key = w;
            }
        }
        out.push_back({key, p.as_found(mark, p.in_cases(mark, key, shares, skies, sun, cases))});
    }
    return out;
}

MarkLight RoomLight::at(std::size_t mark, std::size_t key_window, const SunNow& sun) const {
    const LightCase as_it_stands;
    return in_cases(mark, key_window, sun, {&as_it_stands, 1}).front();
}

MarkLight RoomLight::in_room(const SunNow& sun) const {
    const Prepared& p = *prepared_;
    MarkLight out = p.light(std::nullopt, 0, p.shares_of_room(sun),
                            outsides_of(p.clear_skies(sun), sun.state, light::Cloud::none),
                            p.covers(0, std::nullopt));
    if (const FoundInRoom* found = p.study.found()) found->apply(out);
    return out;
}

MarkLight RoomLight::overcast(std::size_t mark, std::size_t key_window, const SunNow& sun) const {
    const LightCase closed{light::Cloud::overcast};
    return in_cases(mark, key_window, sun, {&closed, 1}).front();
}

namespace {

/// What the recce's meter makes of the panes.
double glass_of(const RoomStudy& study) {
    const FoundInRoom* found = study.found();
    return found ? found->correction().glass : 1;
}

}  // namespace

double RoomLight::view_lx(std::size_t window, Point3 at, Point3 facing, const SunNow& sun) const {
    const Prepared& p = *prepared_;
    constexpr int parts = 16;
    const Sums sums = p.seen_from(window, at, facing, parts);
    const Shares shares = p.shares_of(sums, sun);
    const Outside outside = clear_outside(p.likely.levels(sun.state));
    return glass_of(p.study) * (shares.sky_lx(outside) + shares.ground_lx(outside));
}

double direct_lx(const RoomStudy& study, std::size_t window, const Moment& m) {
    const double incidence = study.scene().in_front(window, study.sun(m));
    if (m.above_skyline_deg <= 0) return 0;
    const site::Site& site = study.location().site;
    const sun::Position p = study.path().position(m.at);
    const light::SkyLevels sky = light::clear_sky(
        {p.apparent_altitude, p.true_altitude, site.observer.elevation_m, p.distance_au},
        air_of(site.air));
    return glass_of(study) * sky.direct_normal_lx *
           light::transmittance_at_cosine(panes_of(study.room().windows[window]), incidence);
}

}  // namespace keyhour::study
