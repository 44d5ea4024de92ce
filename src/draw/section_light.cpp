#include <algorithm>
#include <cmath>

#include "section_sheet.hpp"

namespace keyhour::draw {
namespace {

constexpr double kNarrowName = 26;  // mm

}  // namespace

/// From outside through an edge of the opening to where it ends: floor or the far wall.
void SectionSheet::draw_ray(const Ray& ray, Point2 through, bool upper) {
    const auto z = [&](double w) { return through.y + ray.slope * (w - through.x); };
    double in = through.x - through.y / ray.slope;  // on the floor
    in = std::max(in, -depth_);
    double out = outer_;
    const double top = room_.height_m + kCeiling + 6.5 / k_;
    if (z(out) > top) out = through.x + (top - through.y) / ray.slope;
    const Point2 a = at(out, z(out)), b = at(in, z(in));
    svg_.line(a, b, {pen::object, ray.dash});
    labels_.avoid(a, b, 4);
    if (!upper) return;
    const Point2 u = (1 / length(b - a)) * (b - a);
    svg_.arrow(a + 2.0 * u, a + 6.0 * u, {pen::object}, 2.4);
    wanted_.push_back(
        {{ray.clock}, {a + 3.0 * u, 1.2, {letters::small, Anchor::start, true, true}}, false});
}

void SectionSheet::draw_rays() {
    std::size_t lane = 0;
    for (const Ray& ray : rays_) {
        // Going down inward, a ray meets the head at the outer face, the sill at the inner one.
        const Point2 head_edge{reveal(), head()}, sill_edge{0, window_.sill_m};
        const bool passes = head_edge.y - ray.slope * reveal() > sill_edge.y;
        draw_ray(ray, head_edge, true);
        if (passes) draw_ray(ray, sill_edge, false);
        if (ray.on_floor) {
            const Point2 a = at(ray.on_floor->first, 0), b = at(ray.on_floor->second, 0);
            const double y = a.y + 1.6 + kLane * static_cast<double>(lane++);
            svg_.rect(a.x, y - 1, b.x - a.x, 2, {pen::thin, "", "#fff"});
            svg_.line({a.x, y}, {b.x, y}, {1.2, ray.dash});
            labels_.keep_free({a.x, y - 1.4, b.x + 11, y + 1.4});
            svg_.text({b.x + 1, y + 1.1}, ray.clock, {letters::small, Anchor::start, false, true});
        }
    }
}

/// From the lamp past head and sill to the floor or the far wall.
void SectionSheet::draw_lamp_rays() {
    if (!content_.key_lamp) return;
    const Point2 lamp{outward({content_.key_lamp->x, content_.key_lamp->y}), content_.key_lamp->z};
    if (lamp.x <= reveal()) return;
    for (const bool upper : {true, false}) {
        const double z = upper ? head() : window_.sill_m;
        // Of inner and outer edge the one that keeps more of the light out.
        Point2 edge{0, z};
        for (const double w : {0.0, reveal()}) {
            const double slope = (lamp.y - z) / (lamp.x - w);
            const double kept = (lamp.y - edge.y) / (lamp.x - edge.x);
            if (upper ? slope > kept : slope < kept) edge = {w, z};
        }
        const double slope = (lamp.y - edge.y) / (lamp.x - edge.x);
        double in = -depth_;
        const double top = room_.height_m;
        if (slope > 0) in = std::max(in, edge.x - edge.y / slope);
        if (slope < 0) in = std::max(in, edge.x + (top - edge.y) / slope);
        const Point2 a = at(lamp.x, lamp.y), b = at(in, edge.y + slope * (in - edge.x));
        svg_.line(a, b, {pen::object, "3 1"});
        labels_.avoid(a, b, 4);
    }
}

/// Half of what the mark takes up along the section and in height, mm.
Point2 SectionSheet::half_of_mark() const {
    if (!mark_.box_m) return {mark_.radius_m * k_, mark_.radius_m * k_};
    return {0.5 * k_ *
                (std::abs(wall_.n.x) * (*mark_.box_m)[0] + std::abs(wall_.n.y) * (*mark_.box_m)[1]),
            (*mark_.box_m)[2] / 2 * k_};
}

void SectionSheet::draw_mark() {
    const Point2 c = at(outward(mark_.at), mark_.height_m), half = half_of_mark();
    if (mark_.box_m)
        svg_.rect(c.x - half.x, c.y - half.y, 2 * half.x, 2 * half.y, {pen::opening, "", "#fff"});
    else
        svg_.circle(c, half.x, {pen::opening, "", "#fff"});
    svg_.line(c - Point2{1.6, 1.6}, c + Point2{1.6, 1.6}, {pen::wall});
    svg_.line(c - Point2{1.6, -1.6}, c + Point2{1.6, -1.6}, {pen::wall});
    const Point2 reach{std::max(half.x, 2.2), std::max(half.y, 2.2)};
    labels_.keep_free({c.x - reach.x, c.y - reach.y, c.x + reach.x, c.y + reach.y});
}

void SectionSheet::draw_stands() {
    for (const SectionStand& s : stands_) {
        const double w = outward(s.at);
        if (w < inner_ || w > outer_ || s.outside != (w > 0)) continue;
        const Point2 foot = at(w, s.outside ? ground_ : 0), lamp = at(w, s.z_m);
        svg_.line(foot, lamp, {pen::object});
        svg_.line(foot - Point2{3, 0}, foot - Point2{0, 5}, {pen::object});
        svg_.line(foot + Point2{3, 0}, foot - Point2{0, 5}, {pen::object});
        const Point2 aim = at(s.outside ? thick_ / 2 : outward(mark_.at),
                              s.outside ? (window_.sill_m + head()) / 2 : mark_.height_m);
        const Point2 u =
            length(aim - lamp) > 0 ? (1 / length(aim - lamp)) * (aim - lamp) : Point2{-1, 0};
        const Point2 side{-u.y, u.x};
        svg_.shape({{lamp + 2.2 * u + 1.7 * side, lamp + -1.8 * u + 1.1 * side,
                     lamp + -1.8 * u + -1.1 * side, lamp + 2.2 * u + -1.7 * side}},
                   {pen::opening, "", "#fff"});
        labels_.keep_free({lamp.x - 2.5, lamp.y - 2.5, lamp.x + 2.5, lamp.y + 2.5});
        labels_.forbid(foot, lamp);
        wanted_.push_back({{s.name, told(s.z_m - (s.outside ? ground_ : 0)) + " up"},
                           {lamp, 3, {letters::small}}});
    }
}

/// A dimension: a thin line between short ends, its figure beside it.
void SectionSheet::upright(double w, double from, double to, const std::string& text) {
    const Point2 a = at(w, from), b = at(w, to);
    svg_.line(a, b, {pen::fine});
    for (const Point2 p : {a, b})
        svg_.line(p - Point2{1, -0.6}, p + Point2{1, -0.6}, {pen::thin});
    labels_.avoid(a, b, 4);
    wanted_.push_back({{text}, {0.5 * (a + b), 0.8, {letters::small, Anchor::start, false, true}}});
}

void SectionSheet::draw_dimensions() {
    const double beside = -6 / k_;
    upright(beside, 0, window_.sill_m, "sill " + figure(window_.sill_m));
    upright(2.2 * beside, 0, head(), "head " + figure(head()));
    const double mark_w = outward(mark_.at);
    const double half = mark_.box_m ? (*mark_.box_m)[2] / 2 : mark_.radius_m;
    upright(mark_w, 0, mark_.height_m - half, figure(mark_.height_m) + " to its centre");
    if (ground_ < -0.02) upright(thick_ + 5 / k_, ground_, 0, "floor " + figure(-ground_) + " up");
    // Level ones: the reveal over the head, the mark's distance under the ceiling.
    const auto level = [&](double w0, double w1, double z, const std::string& text) {
        const Point2 a = at(w0, z), b = at(w1, z);
        svg_.line(a, b, {pen::fine});
        for (const Point2 p : {a, b})
            svg_.line(p - Point2{0.6, -1}, p + Point2{0.6, -1}, {pen::thin});
        labels_.avoid(a, b, 4);
        wanted_.push_back(
            {{text}, {0.5 * (a + b), 0.8, {letters::small, Anchor::start, false, true}}});
    };
    level(mark_w, 0, room_.height_m - 5 / k_, figure(-mark_w) + " from the wall");
    level(0, reveal(), window_.sill_m + 3 / k_, "reveal " + figure(reveal()));
}

void SectionSheet::label() {
    // The heading says its name as well: left out where neither one line nor several have room.
    Labels::Wish wish{at(outward(mark_.at), mark_.height_m),
                      std::max(3.0, half_of_mark().x + 1.2),
                      {letters::usual, Anchor::start, true, true}};
    wish.must = false;
    if (labels_.put(svg_, {mark_.name}, wish).is_empty())
        labels_.put(svg_, wrapped(mark_.name, letters::usual, kNarrowName, true), wish);
    wanted_.push_back({{window_.name},
                       {at(thick_ + 0.5 / k_, (window_.sill_m + head()) / 2),
                        1.5,
                        {letters::usual, Anchor::start, true, true}},
                       false});
}

}  // namespace keyhour::draw
