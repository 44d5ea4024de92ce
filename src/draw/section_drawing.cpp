#include "section_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>

#include "figures.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/patch_day.hpp"
#include "keyhour/study/sun_in_room.hpp"
#include "plan_extent.hpp"
#include "title_block.hpp"
#include "words/length.hpp"

namespace keyhour::draw {
namespace {

constexpr std::size_t kMostRays = 3;
constexpr std::array<const char*, kMostRays> kDashes{"", "4 1.2", "1 0.9"};
/// Shown outside at least, and at most, m.
constexpr double kLeastOutside = 2.2, kMostOutside = 7;
constexpr double kBackWall = 0.3;
constexpr double kCeiling = 0.25;   // drawn thickness of floor and ceiling, m
constexpr double kNarrowName = 26;  // mm
constexpr double kLane = 3.9;       // from patch to patch under the floor, mm
/// A long room is broken off this far behind mark and patches, m, if that spares as much again.
constexpr double kBehind = 1.5;

struct Ray {
    Instant at;
    std::string clock;
    const char* dash;
    double slope;                                       // rise per metre outward
    std::optional<std::pair<double, double>> on_floor;  // metres outward, least and most
    bool enters = false;                                // the sun lands in the room
    bool lights_mark = false;                           // in part at least
};

/// What stands outside, before this window.
struct Block {
    std::string name;
    double near, far, top;  // metres outward from the wall's inner face; z
    bool is_aside;          // no part of it stands before the window
};

class SectionSheet {
public:
    SectionSheet(const study::RoomStudy& study, const SectionContent& content,
                 const DrawingFrame& frame)
        : study_{study},
          room_{study.room()},
          content_{content},
          frame_{frame},
          window_{room_.windows[content.window]},
          mark_{room_.marks[content.mark]},
          wall_{wall_frame(room_.floor, window_.wall)},
          thick_{wall_thickness(room_, window_.wall)},
          ground_{-room_.floor_above_ground_m},
          rays_{rays()},
          stands_{stands()},
          svg_{frame, fmt::format("Section through {} and {}", window_.name, mark_.name),
               description()},
          labels_{{0, 0, frame.width_mm, 400}} {
        fit();
    }

    std::string draw() {
        svg_.begin_clip("paper", 1, 1, frame_.width_mm - 2, paper_bottom_ - 1);
        draw_outside();
        draw_shell();
        draw_rays();
        svg_.end_group();
        draw_mark();
        draw_stands();
        if (!narrow()) draw_dimensions();
        label();
        for (const Wanted& w : wanted_) {
            Labels::Wish wish = w.wish;
            wish.must = false;
            if (labels_.put(svg_, w.lines, wish).is_empty() && w.is_news)
                unplaced_.push_back(fmt::format("{}", fmt::join(w.lines, " ")));
        }
        svg_.rect(0.5, 0.5, frame_.width_mm - 1, paper_bottom_ - 0.5, {pen::opening});
        return svg_.finish(draw_title_block(svg_, paper_bottom_, block()));
    }

private:
    [[nodiscard]] double outward(Point2 p) const { return dot(p - wall_.left_corner, wall_.n); }
    [[nodiscard]] Point2 at(double w, double z) const {
        return {left_ + k_ * (w - inner_), floor_ - k_ * z};
    }
    [[nodiscard]] std::string told(double metres) const {
        return words::length(metres, frame_.units);
    }
    [[nodiscard]] std::string figure(double metres) const {
        return draw::figure(metres, frame_.units);
    }
    [[nodiscard]] double head() const { return window_.sill_m + window_.height_m; }
    [[nodiscard]] double reveal() const { return window_.reveal_m; }
    [[nodiscard]] std::vector<Ray> rays() const;
    [[nodiscard]] std::string description() const;
    [[nodiscard]] std::vector<SectionStand> stands() const;
    [[nodiscard]] bool is_aside(double along, double w) const;
    [[nodiscard]] std::vector<Block> blocks() const;
    [[nodiscard]] double depth_of_room() const;
    [[nodiscard]] double depth_needed() const;
    [[nodiscard]] std::string side_of(const Block& b) const;
    [[nodiscard]] bool narrow() const { return frame_.width_mm < 130; }
    [[nodiscard]] std::string measures() const;
    [[nodiscard]] TitleBlock block() const;
    void fit();
    void draw_outside();
    void draw_shell();
    void draw_rays();
    void draw_ray(const Ray& ray, Point2 through, bool upper);
    [[nodiscard]] Point2 half_of_mark() const;
    void draw_mark();
    void draw_stands();
    void draw_dimensions();
    void upright(double w, double from, double to, const std::string& text);
    void label();

    const study::RoomStudy& study_;
    const room::Room& room_;
    const SectionContent& content_;
    const DrawingFrame& frame_;
    const room::Window& window_;
    const room::Mark& mark_;
    room::WallFrame wall_;
    double thick_, ground_;
    std::vector<Ray> rays_;
    std::vector<SectionStand> stands_;
    Svg svg_;
    Labels labels_;
    /// Put last, when all lines to be avoided are known.
    struct Wanted {
        std::vector<std::string> lines;
        Labels::Wish wish;
        bool is_news = true;  ///< said nowhere else
    };
    std::vector<Wanted> wanted_;
    std::vector<Block> blocks_;
    double inner_ = 0, outer_ = 0;  // ends of what is shown, metres outward
    double left_ = 0, floor_ = 0, k_ = 10, paper_bottom_ = 0;
    double depth_ = 0;                   ///< of the room as drawn, metres
    bool is_broken_ = false;             ///< the room goes on beyond
    std::vector<std::string> unplaced_;  ///< labels for which the drawing has no room
    std::string far_block_;  ///< what stands beyond the paper, where the drawing has no room to say
};

std::vector<Ray> SectionSheet::rays() const {
    std::vector<Ray> out;
    for (const Instant t : content_.instants) {
        if (out.size() == kMostRays) break;
        const room::Point3 sun = study_.sun(study_.path().at(t));
        const double front = dot(Point2{sun.x, sun.y}, wall_.n);
        if (front <= 0 || sun.z <= 0) continue;
        Ray ray{t,
                site::whole_minutes(t, study_.location().site.zone),
                kDashes[out.size()],
                sun.z / front,
                {}};
        if (study::lets_sun_in(window_))
            ray.lights_mark = study_.scene().coverage(content_.mark, content_.window, sun) > 0;
        for (const room::Patch& p : study_.scene().patches(content_.window, sun)) {
            ray.enters = true;
            if (p.surface.kind == room::Surface::Kind::floor)
                for (const auto& ring : p.outlines)
                    for (const room::Point3& q : ring) {
                        const double w = outward({q.x, q.y});
                        if (!ray.on_floor) ray.on_floor = {w, w};
                        ray.on_floor->first = std::min(ray.on_floor->first, w);
                        ray.on_floor->second = std::max(ray.on_floor->second, w);
                    }
        }
        out.push_back(ray);
    }
    return out;
}

double profile_deg(const Ray& ray) {
    return std::atan(ray.slope) * 180 / std::numbers::pi;
}

/// "1 degree", "58 degrees".
std::string degrees_in_words(double degrees) {
    const double whole = std::round(degrees);
    return fmt::format("{:.0f} degree{}", whole, whole == 1 ? "" : "s");
}

std::string SectionSheet::description() const {
    std::string text = fmt::format(
        "Sill {}, head {}, reveal {}; {} at {}, {} from the wall; floor {} above the ground.",
        told(window_.sill_m), told(head()), told(reveal()), mark_.name, told(mark_.height_m),
        told(-outward(mark_.at)), told(-ground_));
    for (const Ray& ray : rays_) {
        text += fmt::format(" {}: rays fall at {}", ray.clock, degrees_in_words(profile_deg(ray)));
        if (ray.on_floor)
            text += fmt::format(", patch on the floor {} to {} from the wall",
                                told(-ray.on_floor->second), told(-ray.on_floor->first));
        text += '.';
    }
    return text;
}

/// How far the room reaches behind the mark, square to the wall.
double SectionSheet::depth_of_room() const {
    double least = 1e9;
    for (std::size_t i = 0; i < room_.floor.size(); ++i) {
        const Point2 a = room_.floor[i], d = room_.floor[(i + 1) % room_.floor.size()] - a;
        const Point2 u = -1.0 * wall_.n;
        const double det = cross(u, d);
        if (std::abs(det) < 1e-9) continue;
        const double t = cross(a - mark_.at, d) / det, s = cross(a - mark_.at, u) / det;
        if (t > 0 && s >= 0 && s <= 1) least = std::min(least, t);
    }
    return least < 1e9 ? least - outward(mark_.at) : 5;
}

/// To behind the mark, the patches on the floor and the lamps inside.
double SectionSheet::depth_needed() const {
    double reach = -outward(mark_.at);
    for (const Ray& ray : rays_)
        if (ray.on_floor) reach = std::max(reach, -ray.on_floor->first);
    for (const SectionStand& s : stands_)
        if (!s.outside) reach = std::max(reach, -outward(s.at));
    return reach + kBehind;
}

/// Where a block stands to the section's plane, where that does not show: empty if it does.
/// Sun that enters on a ray through a block passes it on one side.
std::string SectionSheet::side_of(const Block& b) const {
    if (b.is_aside) return "stands to the side";
    const bool is_passed = std::ranges::any_of(rays_, [&](const Ray& ray) {
        return ray.enters && head() + ray.slope * (b.near - reveal()) < b.top;
    });
    return is_passed ? "the sun stands to its side" : "";
}

/// Is what stands this far along the wall from the window's middle, and this far outward (or, below
/// zero, inward), too far to the side for this section?
bool SectionSheet::is_aside(double along, double w) const {
    return along >= std::max(2.0, 0.7 * std::abs(w));
}

std::vector<SectionStand> SectionSheet::stands() const {
    const double middle = window_.left_m + window_.width_m / 2;
    std::vector<SectionStand> out;
    for (const SectionStand& s : content_.stands)
        if (!is_aside(std::abs(dot(s.at - wall_.left_corner, wall_.u) - middle), outward(s.at)))
            out.push_back(s);
    return out;
}

std::vector<Block> SectionSheet::blocks() const {
    std::vector<Block> out;
    const double middle = window_.left_m + window_.width_m / 2;
    for (const room::Building& b : room_.buildings) {
        if (b.footprint.empty()) continue;
        Block block{room::words(b), 1e300, -1e300, ground_ + b.height_m, false};
        double nearest_u = 1e300, least_u = 1e300, most_u = -1e300;
        for (const Point2 p : b.footprint) {
            block.near = std::min(block.near, outward(p));
            block.far = std::max(block.far, outward(p));
            const double u = dot(p - wall_.left_corner, wall_.u) - middle;
            least_u = std::min(least_u, u);
            most_u = std::max(most_u, u);
        }
        nearest_u = least_u > 0 ? least_u : most_u < 0 ? -most_u : 0;
        block.is_aside = nearest_u > window_.width_m / 2;
        if (block.near > thick_ && !is_aside(nearest_u, block.near)) out.push_back(block);
    }
    std::ranges::sort(out, {}, &Block::near);
    return out;
}

void SectionSheet::fit() {
    blocks_ = blocks();
    depth_ = depth_of_room();
    if (const double needed = depth_needed(); depth_ > needed + kBehind) {
        depth_ = needed;
        is_broken_ = true;
    }
    inner_ = -(depth_ + kBackWall);
    outer_ = thick_ + kLeastOutside;
    for (const SectionStand& s : stands_)
        if (const double w = outward(s.at); w > 0 && w < 12) outer_ = std::max(outer_, w + 1);
    if (!blocks_.empty() && blocks_.front().near < kMostOutside)
        outer_ = std::max(outer_, blocks_.front().near + 1.4);
    const double margin = narrow() ? 3 : 8;
    const double tall = room_.height_m + kCeiling;
    k_ = std::min((frame_.width_mm - 2 * margin) / (outer_ - inner_), 110 / (tall - ground_));
    // Scales that a ruler has; a phone has none.
    for (const double one_to : {20, 25, 30, 40, 50, 75, 100, 125, 150, 200, 250, 300, 400, 500})
        if (const double scale = 1000 / one_to; scale <= k_ && !narrow()) {
            k_ = scale;
            break;
        }
    left_ = (frame_.width_mm - k_ * (outer_ - inner_)) / 2;
    // The paper shows to its own edges.
    inner_ -= left_ / k_;
    outer_ += left_ / k_;
    left_ = 0;
    floor_ = 9 + k_ * tall;
    paper_bottom_ = floor_ + std::max(k_ * std::max(-ground_, 0.3) + 9, 2 + kLane * kMostRays);
    labels_ = Labels{{2, 2, frame_.width_mm - 2, paper_bottom_ - 1}};
}

void SectionSheet::draw_outside() {
    // Ground, with strokes of earth below.
    const Point2 from = at(thick_, ground_), to = at(outer_, ground_);
    svg_.line(from, to, {pen::wall});
    for (double x = from.x + 2; x < to.x; x += 4)
        svg_.line({x, from.y}, {x - 1.6, from.y + 2.2}, {pen::fine});
    const Hatch fill{-45, 2.6, 0.2};
    bool first = true;
    for (const Block& b : blocks_) {
        const std::string side = side_of(b);
        if (b.near < outer_ - 0.3) {
            const Point2 a = at(b.near, b.top), c = at(std::min(b.far, outer_ + 1), ground_);
            svg_.rect(a.x, std::max(a.y, 0.0), c.x - a.x, c.y - std::max(a.y, 0.0),
                      {pen::opening, "", fill});
            std::vector<std::string> lines{b.name,
                                           outside_length(b.top - ground_, frame_.units) + " high"};
            if (!side.empty()) lines.push_back(side);
            labels_.put(
                svg_, lines,
                {{std::min((a.x + c.x) / 2, frame_.width_mm - 12), (std::max(a.y, 8.0) + c.y) / 2},
                 0.5,
                 {letters::small, Anchor::start, false, true},
                 true});
        } else if (first) {
            // Too far off to draw: a piece of it at the paper's edge, broken off on both sides.
            const Point2 edge = at(outer_, ground_);
            const double x = edge.x - 6, up = edge.y - 24;
            const std::vector<Point2> broken{{x, edge.y},         {x, up + 9}, {x - 1.5, up + 7.5},
                                             {x + 1.5, up + 4.5}, {x, up + 3}, {x, up}};
            std::vector<Point2> ring = broken;
            ring.push_back({edge.x + 1, up});
            ring.push_back({edge.x + 1, edge.y});
            svg_.shape({ring}, {pen::thin, "", fill, false});
            svg_.polyline(broken, {pen::opening});
            labels_.keep_free({x - 1.6, up, edge.x, edge.y});
            const double rise =
                std::atan2(b.top - head(), b.near - thick_) * 180 / std::numbers::pi;
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
        first = false;
    }
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
    // The jamb beyond, and the glass.
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

/// What the dimension lines of a wider drawing say.
std::string SectionSheet::measures() const {
    std::string text =
        fmt::format("Sill {}, head {}, reveal {}. {}: centre {} up, {} from the wall.",
                    figure(window_.sill_m), figure(head()), figure(reveal()), mark_.name,
                    figure(mark_.height_m), figure(-outward(mark_.at)));
    if (ground_ < -0.02) text += fmt::format(" Floor {} above the ground.", figure(-ground_));
    return text;
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

TitleBlock SectionSheet::block() const {
    TitleBlock b;
    b.place = study_.location().site.name;
    b.drawing = fmt::format("Section through {} and {}, {}", window_.name, mark_.name,
                            site::date_in_words(content_.date));
    if (!rays_.empty())
        b.drawing += ", clocks " +
                     site::utc_offset(study_.location().site.zone.at(rays_.front().at).utc_offset);
    if (!frame_.in_page && !narrow())
        b.drawing += fmt::format(", 1:{:.0f} at full size", 1000 / k_);
    for (const Ray& ray : rays_)
        b.key.push_back({[dash = ray.dash](Svg& svg, double x, double y, double w, double h) {
                             svg.line({x, y + h / 2}, {x + w, y + h / 2}, {pen::object, dash});
                         },
                         fmt::format("rays past head and sill at {}, {} in this plane", ray.clock,
                                     degrees_in_words(profile_deg(ray)))});
    if (std::ranges::any_of(rays_, [](const Ray& r) { return r.on_floor.has_value(); }))
        b.key.push_back({[](Svg& svg, double x, double y, double w, double h) {
                             svg.rect(x, y + h / 2 - 1, w, 2, {pen::thin, "", "#fff"});
                             svg.line({x, y + h / 2}, {x + w, y + h / 2}, {1.2});
                         },
                         "patch on the floor"});
    if (!far_block_.empty()) b.notes.push_back(far_block_);
    if (narrow()) b.notes.push_back(measures());
    if (!unplaced_.empty()) b.notes.push_back(fmt::format("Also: {}.", fmt::join(unplaced_, "; ")));
    if (!rays_.empty() && std::ranges::none_of(rays_, &Ray::lights_mark))
        b.notes.push_back(fmt::format("{} is not lit through this window at {}.", mark_.name,
                                      rays_.size() == 1 ? "this hour" : "these hours"));
    if (is_broken_) b.notes.push_back("The room goes on behind the broken line.");
    if (rays_.empty()) b.notes.push_back("No sun through this window at the times drawn.");
    b.notes.push_back(fmt::format(
        "{}. Square to the wall; rays as they fall on this plane (profile angle): head and sill "
        "are true, what the jambs take away does not show.",
        in_words(frame_.units)));
    return b;
}

}  // namespace

std::vector<SectionStand> stands_of(const site::Location& location) {
    std::vector<SectionStand> out;
    const double ground = location.room ? -location.room->floor_above_ground_m : 0;
    for (const site::Lamp& lamp : location.lamps) {
        const auto height = lamp.height_m ? lamp.height_m : lamp.stand_max_m;
        if (!lamp.at || !height) continue;
        const bool outside = lamp.place == site::Lamp::Place::outside;
        out.push_back({lamp.name, *lamp.at, *height + (outside ? ground : 0), outside});
    }
    return out;
}

std::string draw_section(const study::RoomStudy& study, const SectionContent& content,
                         const DrawingFrame& frame) {
    return SectionSheet{study, content, frame}.draw();
}

}  // namespace keyhour::draw
