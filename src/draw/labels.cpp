#include "labels.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "plan_extent.hpp"

namespace keyhour::draw {
namespace {

constexpr double kLeading = 1.2;  // of the letters' height, from line to line
constexpr double kOffPaper = 1e8;
constexpr double kUnclean = 1e5;  // on other text, a symbol, or a line that is forbidden
constexpr double kOnPatch = 12;   // a mm2 of a patch
constexpr double kOnText = 400;   // a mm2 of other text weighs this many mm of distance
constexpr double kAcross = 100;   // a mm of a forbidden line
constexpr double kLeaderOnText = 400, kLeaderOnLeader = 15, kLeaderOnLine = 3;
constexpr double kWrongSide = 9;
constexpr double kNeedsLeader = 2.5;  // mm beyond what is clear
constexpr double kFarthestNumber = 60;

/// Directions round a place: to the right first, as one reads.
constexpr int kWays = 16;

Point2 way(int i) {
    // 0, 1, -1, 2, -2, ... sixteenths of a turn
    const int step = (i + 1) / 2 * (i % 2 == 0 ? -1 : 1);
    const double a = 2 * std::numbers::pi * step / kWays;
    return {std::cos(a), std::sin(a)};
}

/// A box of this size beside `at`, its near edge or corner `off` away.
Box beside(Point2 at, Point2 towards, double off, double w, double h) {
    const double stretch = 1 / std::max(std::abs(towards.x), std::abs(towards.y));
    const double cx = at.x + towards.x * off + towards.x * stretch * w / 2;
    const double cy = at.y + towards.y * off + towards.y * stretch * h / 2;
    return {cx - w / 2, cy - h / 2, cx + w / 2, cy + h / 2};
}

Point2 nearest(const Box& box, Point2 p) {
    return {std::clamp(p.x, box.left, box.right), std::clamp(p.y, box.top, box.bottom)};
}

bool cross_each_other(Point2 a, Point2 b, Point2 c, Point2 d) {
    const auto side = [](Point2 p, Point2 q, Point2 r) { return cross(q - p, r - p); };
    return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}

}  // namespace

double Box::overlap(const Box& o) const {
    const double w = std::min(right, o.right) - std::max(left, o.left);
    const double h = std::min(bottom, o.bottom) - std::max(top, o.top);
    return w > 0 && h > 0 ? w * h : 0;
}

double length_within(Point2 a, Point2 b, const Box& box) {
    double from = 0, to = 1;
    const Point2 d = b - a;
    const auto cut = [&](double p, double q) {  // p * t <= q, after Liang and Barsky
        if (p < 0) from = std::max(from, q / p);
        if (p > 0) to = std::min(to, q / p);
        if (p == 0 && q < 0) to = -1;
    };
    cut(-d.x, a.x - box.left);
    cut(d.x, box.right - a.x);
    cut(-d.y, a.y - box.top);
    cut(d.y, box.bottom - a.y);
    return to > from ? (to - from) * length(d) : 0;
}

void Labels::avoid(const std::vector<Point2>& ring, double weight) {
    for (std::size_t i = 0; i < ring.size(); ++i)
        avoid(ring[i], ring[(i + 1) % ring.size()], weight);
}

void Labels::forbid(const std::vector<Point2>& ring) {
    for (std::size_t i = 0; i < ring.size(); ++i)
        forbid(ring[i], ring[(i + 1) % ring.size()]);
}

bool Labels::is_clean(const Box& box) const {
    return cost(box, 0, kUnclean) < kUnclean;
}

Labels::Line::Line(Point2 from, Point2 to, double w)
    : a{from},
      b{to},
      weight{w},
      bounds{std::min(a.x, b.x), std::min(a.y, b.y), std::max(a.x, b.x), std::max(a.y, b.y)} {}

// Every place that every label might take is asked for: only what meets its box is looked at, and a
// sum that has lost is not finished.
double Labels::cost(const Box& box, double distance, double most) const {
    double sum = distance;
    if (box.left < paper_.left || box.right > paper_.right || box.top < paper_.top ||
        box.bottom > paper_.bottom)
        sum += kOffPaper;
    const Box clear = box.grown(0.4), off_line = box.grown(0.3), off_faint = box.grown(0.2);
    taken_.each(clear, [&](const Taken& other) {
        if (const double area = clear.overlap(other.bounds); area > 0)
            sum += kUnclean + kOnText * area;
        return sum > most;
    });
    for (const auto* lines : {&barred_, &leaders_})
        lines->each(off_line, [&](const Line& line) {
            if (const double run = length_within(line.a, line.b, off_line); run > 0)
                sum += kUnclean + kAcross * run;
            return sum > most;
        });
    lines_.each(off_faint, [&](const Line& line) {
        sum += line.weight * length_within(line.a, line.b, off_faint);
        return sum > most;
    });
    return sum;
}

/// mm2 of patches under the box.
double Labels::on_patches(const Box& box) const {
    double sum = 0;
    for (const auto& ring : shaded_)
        sum += std::abs(room::signed_area(clipped(ring, box)));
    return sum;
}

double Labels::leader_cost(const Box& box, const Wish& wish, double most) const {
    const Point2 end = nearest(box, wish.at);
    double sum = 0;
    if (wish.same_side) {
        const Line straight{wish.at, box.middle(), 0};
        barred_.each(straight.bounds, [&](const Line& line) {
            if (cross_each_other(straight.a, straight.b, line.a, line.b)) sum += kUnclean;
            return sum > most;
        });
    }
    if (length(end - wish.at) <= wish.clear_mm + kNeedsLeader) return sum;
    const Point2 from = wish.at + (0.9 * wish.clear_mm / length(end - wish.at)) * (end - wish.at);
    const Line leader{from, end, 0};
    taken_.each(leader.bounds, [&](const Taken& other) {
        sum += kLeaderOnText * length_within(from, end, other.bounds);
        return sum > most;
    });
    const auto add_crossings = [&](const BoxIndex<Line>& lines, double weight) {
        lines.each(leader.bounds, [&](const Line& line) {
            if (cross_each_other(from, end, line.a, line.b)) sum += weight;
            return sum > most;
        });
    };
    add_crossings(leaders_, kLeaderOnLeader);
    add_crossings(barred_, kLeaderOnLine);
    return sum;
}

Labels::Place Labels::find(double w, double h, const Wish& wish) const {
    Place best{{}, 1e300};
    const auto consider = [&](const Box& box, double distance) {
        if (distance >= best.cost - 1e-9) return;
        const double c = cost(box, distance, best.cost);
        if (c >= best.cost - 1e-9) return;
        double all = c + leader_cost(box, wish, best.cost);
        if (wish.off_patches && all < best.cost) all += kOnPatch * on_patches(box);
        if (all < best.cost - 1e-9) best = {box, all};
    };
    if (wish.on_it)
        consider({wish.at.x - w / 2, wish.at.y - h / 2, wish.at.x + w / 2, wish.at.y + h / 2}, 0);
    for (double off = wish.clear_mm; off <= wish.most_mm; off = off * 1.25 + 0.8)
        for (int i = 0; i < kWays; ++i) {
            const double side =
                wish.toward == Point2{} ? 0.05 * i : kWrongSide * (1 - dot(way(i), wish.toward));
            consider(beside(wish.at, way(i), off, w, h), off + side);
        }
    return best;
}

/// The place is this label's from now on; a leader where it stands away from what it labels.
void Labels::take(Svg& svg, const Box& box, const Wish& wish) {
    taken_.add({box});
    const Point2 end = nearest(box, wish.at);
    const double gap = length(end - wish.at);
    if (gap <= wish.clear_mm + kNeedsLeader) return;
    const Point2 u = (1 / gap) * (end - wish.at);
    svg.line(wish.at + wish.clear_mm * 0.6 * u, end - 0.5 * u, {pen::fine});
    leaders_.add({wish.at + wish.clear_mm * 0.6 * u, end - 0.5 * u, 1});
}

Box Labels::put(Svg& svg, const std::vector<std::string>& lines, const Wish& wish) {
    double w = 0;
    for (const std::string& line : lines)
        w = std::max(w, text_width(line, wish.style.size, wish.style.bold));
    const double leading = wish.style.size * kLeading;
    const auto [best, cost] = find(w, leading * static_cast<double>(lines.size()), wish);
    if (!wish.must &&
        (cost > kOnText || on_patches(best) > wish.most_on_patches * best.overlap(best)))
        return {};
    take(svg, best, wish);
    const bool to_left = best.middle().x < wish.at.x - w / 3;
    const bool to_right = best.middle().x > wish.at.x + w / 3;
    TextStyle style = wish.style;
    style.anchor = to_left ? Anchor::end : to_right ? Anchor::start : Anchor::middle;
    const double x = to_left ? best.right : to_right ? best.left : best.middle().x;
    for (std::size_t i = 0; i < lines.size(); ++i)
        svg.text({x, best.top + leading * (static_cast<double>(i) + 0.8)}, lines[i], style);
    return best;
}

Box Labels::put_number(Svg& svg, std::size_t number, Wish wish) {
    wish.most_mm = std::max(wish.most_mm, kFarthestNumber);
    const Box box = find(2 * number_ring, 2 * number_ring, wish).box;
    take(svg, box, wish);
    draw_number(svg, box.middle(), number);
    return box;
}

void draw_number(Svg& svg, Point2 middle, std::size_t number) {
    svg.circle(middle, number_ring, {pen::thin, "", "#fff"});
    svg.text(middle + Point2{0, 0.36 * letters::small}, std::to_string(number),
             {letters::small, Anchor::middle});
}

}  // namespace keyhour::draw
