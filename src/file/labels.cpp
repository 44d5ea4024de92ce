#include "labels.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace keyhour::file {
namespace {

constexpr double kLeading = 1.2;  // of the letters' height, from line to line
constexpr double kUnusable = 1e6;
constexpr double kOnText = 400;  // a mm2 of other text weighs this many mm of distance
constexpr double kLeaderOnText = 30;
constexpr double kWrongSide = 9;
constexpr double kNeedsLeader = 2.5;  // mm beyond what is clear

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

double Labels::cost(const Box& box, double distance) const {
    double sum = distance;
    if (box.left < paper_.left || box.right > paper_.right || box.top < paper_.top ||
        box.bottom > paper_.bottom)
        sum += kUnusable;
    for (const Box& other : taken_)
        sum += kOnText * box.grown(0.4).overlap(other);
    for (const Line& line : lines_)
        sum += line.weight * length_within(line.a, line.b, box.grown(0.2));
    return sum;
}

double Labels::leader_cost(const Box& box, const Wish& wish) const {
    const Point2 end = nearest(box, wish.at);
    if (length(end - wish.at) <= wish.clear_mm + kNeedsLeader) return 0;
    double sum = 0;
    for (const Box& other : taken_)
        sum += kLeaderOnText * length_within(wish.at, end, other);
    return sum;
}

Box Labels::put(Svg& svg, const std::vector<std::string>& lines, const Wish& wish) {
    double w = 0;
    for (const std::string& line : lines)
        w = std::max(w, text_width(line, wish.style.size) * (wish.style.bold ? 1.07 : 1));
    const double leading = wish.style.size * kLeading;
    const double h = leading * static_cast<double>(lines.size());
    Box best;
    double least = 1e300;
    const auto consider = [&](const Box& box, double distance) {
        const double c = cost(box, distance);
        if (c < least - 1e-9) {
            least = c;
            best = box;
        }
    };
    if (wish.on_it)
        consider({wish.at.x - w / 2, wish.at.y - h / 2, wish.at.x + w / 2, wish.at.y + h / 2}, 0);
    for (double off = wish.clear_mm; off <= wish.most_mm; off = off * 1.25 + 0.8)
        for (int i = 0; i < kWays; ++i) {
            const double side =
                wish.toward == Point2{} ? 0.05 * i : kWrongSide * (1 - dot(way(i), wish.toward));
            const Box box = beside(wish.at, way(i), off, w, h);
            consider(box, off + side + leader_cost(box, wish));
        }
    if (!wish.must && least > kOnText) return {};
    taken_.push_back(best);
    const Point2 end = nearest(best, wish.at);
    const double gap = length(end - wish.at);
    if (gap > wish.clear_mm + kNeedsLeader) {
        const Point2 u = (1 / gap) * (end - wish.at);
        svg.line(wish.at + wish.clear_mm * 0.6 * u, end - 0.5 * u, {pen::fine});
        lines_.push_back({wish.at, end, 1});
    }
    const bool to_left = best.middle().x < wish.at.x - w / 3;
    const bool to_right = best.middle().x > wish.at.x + w / 3;
    TextStyle style = wish.style;
    style.anchor = to_left ? Anchor::end : to_right ? Anchor::start : Anchor::middle;
    const double x = to_left ? best.right : to_right ? best.left : best.middle().x;
    for (std::size_t i = 0; i < lines.size(); ++i)
        svg.text({x, best.top + leading * (static_cast<double>(i) + 0.8)}, lines[i], style);
    return best;
}

}  // namespace keyhour::file
