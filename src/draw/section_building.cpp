#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "section_sheet.hpp"

namespace keyhour::draw {
namespace {

/// Of what stands outside.
const Hatch kSolid{-45, 2.6, 0.2};

}  // namespace

void SectionSheet::draw_outside() {
    // Ground, with strokes of earth below.
    const Point2 from = at(thick_, ground_), to = at(outer_, ground_);
    svg_.line(from, to, {pen::wall});
    for (double x = from.x + 2; x < to.x; x += 4)
        svg_.line({x, from.y}, {x - 1.6, from.y + 2.2}, {pen::fine});
    for (std::size_t i = 0; i < blocks_.size(); ++i) {
        const std::string side = side_of(blocks_[i]);
        if (blocks_[i].near < outer_ - 0.3)
            draw_block(blocks_[i], side);
        else if (i == 0)
            draw_far_block(blocks_[i], side);
    }
}

void SectionSheet::draw_block(const Block& b, const std::string& side) {
    const Point2 a = at(b.near, b.top), c = at(std::min(b.far, outer_ + 1), ground_);
    svg_.rect(a.x, std::max(a.y, 0.0), c.x - a.x, c.y - std::max(a.y, 0.0),
              {pen::opening, "", kSolid});
    std::vector<std::string> lines{b.name, outside_length(b.top - ground_, frame_.units) + " high"};
    if (!side.empty()) lines.push_back(side);
    labels_.put(svg_, lines,
                {{std::min((a.x + c.x) / 2, frame_.width_mm - 12), (std::max(a.y, 8.0) + c.y) / 2},
                 0.5,
                 {letters::small, Anchor::start, false, true},
                 true});
}

/// Too far off to draw: a piece of it at the paper's edge, broken off on both sides.
void SectionSheet::draw_far_block(const Block& b, const std::string& side) {
    const Point2 edge = at(outer_, ground_);
    const double x = edge.x - 6, up = edge.y - 24;
    const std::vector<Point2> broken{{x, edge.y},         {x, up + 9}, {x - 1.5, up + 7.5},
                                     {x + 1.5, up + 4.5}, {x, up + 3}, {x, up}};
    std::vector<Point2> ring = broken;
    ring.push_back({edge.x + 1, up});
    ring.push_back({edge.x + 1, edge.y});
    svg_.shape({ring}, {pen::thin, "", kSolid, false});
    svg_.polyline(broken, {pen::opening});
    labels_.keep_free({x - 1.6, up, edge.x, edge.y});
    const double rise = std::atan2(b.top - head(), b.near - thick_) * 180 / std::numbers::pi;
    const std::string size =
        fmt::format("{} high, {} off", outside_length(b.top - ground_, frame_.units),
                    outside_length(b.near - thick_, frame_.units));
    const std::string top = fmt::format("its top {:.0f} degrees above the head", rise);
    std::vector<std::string> lines{"beyond: " + b.name, size, top};
    if (!side.empty()) lines.push_back(side);
    double widest = 0;
    for (const std::string& line : lines)
        widest = std::max(widest, text_width(line, letters::small));
    if (x - 3 - widest > at(thick_, 0).x)
        wanted_.push_back({lines, {{x - 1, edge.y - 12}, 1.5, {letters::small}}});
    else  // too little ground before the wall
        far_block_ = fmt::format("Beyond: {}, {}, {}{}{}.", b.name, size, top,
                                 side.empty() ? "" : "; ", side);
}

/// Wall, floor and ceiling as cut: heavy lines, hatched between.
void SectionSheet::draw_shell() {
    const Stroke solid{pen::wall, "", Hatch{45, 1.5, 0.22}};
    const double back = is_broken_ ? -depth_ : -depth_ - kBackWall;
    const double top = room_.height_m + kCeiling;
    const auto box = [&](double w0, double z0, double w1, double z1) {
        const Point2 a = at(w0, z1), b = at(w1, z0);
        svg_.rect(a.x, a.y, b.x - a.x, b.y - a.y, {pen::thin, "", "#fff", false});
        svg_.rect(a.x, a.y, b.x - a.x, b.y - a.y, solid);
    };
    box(back, room_.height_m, thick_, top);
    box(back, std::min(ground_, -0.15), 0, 0);
    box(0, std::min(ground_, -0.15), thick_, window_.sill_m);
    box(0, head(), thick_, top);
    if (is_broken_) {
        const Point2 a = at(-depth_, top), b = at(-depth_, std::min(ground_, -0.15));
        const double middle = (a.y + b.y) / 2;
        svg_.polyline({a - Point2{0, 2},
                       {a.x, middle - 3},
                       {a.x - 1.5, middle - 1.5},
                       {a.x + 1.5, middle + 1.5},
                       {a.x, middle + 3},
                       b + Point2{0, 2}},
                      {pen::object});
    } else {
        box(back, 0, -depth_, room_.height_m);
    }
    draw_opening();
    keep_shell_free(back, top);
}

/// The jamb beyond, and the glass.
void SectionSheet::draw_opening() {
    for (const double w : {0.0, thick_})
        svg_.line(at(w, window_.sill_m), at(w, head()), {pen::fine});
    if (window_.glass != room::Glass::none) {
        const double glass = reveal() - window_.bars.set_back_m;
        for (const double side : {-0.25, 0.25})
            svg_.line(at(glass, window_.sill_m) + Point2{side, 0},
                      at(glass, head()) + Point2{side, 0}, {pen::thin});
        for (int i = 1; i <= window_.bars.level; ++i) {
            const double pane = (window_.height_m - window_.bars.level * window_.bars.width_m) /
                                (window_.bars.level + 1);
            const double z = window_.sill_m + i * pane + (i - 0.5) * window_.bars.width_m;
            svg_.line(at(glass, z) - Point2{0.9, 0}, at(glass, z) + Point2{0.9, 0},
                      {std::max(pen::opening, window_.bars.width_m * k_)});
        }
    }
}

/// Of words.
void SectionSheet::keep_shell_free(double back, double top) {
    const Point2 from = at(thick_, ground_), to = at(outer_, ground_);
    for (const Point2 p : {at(0, window_.sill_m), at(0, head())})
        labels_.keep_free({p.x - 1, p.y - 1, p.x + 1, p.y + 1});
    const Point2 wall_top = at(0, top), wall_foot = at(thick_, ground_);
    labels_.keep_free({wall_top.x - 0.5, wall_top.y, wall_foot.x + 0.5, wall_foot.y});
    for (const double z : {0.0, std::min(ground_, -0.15), room_.height_m, top})
        labels_.forbid(at(back, z), at(0, z));
    labels_.forbid(at(back, 0), at(back, top));
    labels_.forbid(at(-depth_, 0), at(-depth_, top));
    labels_.forbid(from, to);
}

}  // namespace keyhour::draw
