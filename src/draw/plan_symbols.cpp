#include "plan_symbols.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace keyhour::draw {
namespace {

/// Points given along and to the right of `toward`.
std::vector<Point2> placed(Point2 at, Point2 toward, std::initializer_list<Point2> points) {
    const Point2 right{-toward.y, toward.x};
    std::vector<Point2> out;
    for (const Point2 p : points)
        out.push_back(at + p.x * toward + p.y * right);
    return out;
}

}  // namespace

bool is_told_apart(double magnetic_east_deg) {
    return std::isfinite(magnetic_east_deg) && std::abs(magnetic_east_deg) >= 2;
}

Point2 turned(Point2 u, double degrees) {
    const double a = degrees * std::numbers::pi / 180;
    return {u.x * std::cos(a) - u.y * std::sin(a), u.x * std::sin(a) + u.y * std::cos(a)};
}

void draw_camera(Svg& svg, Point2 at, Point2 toward) {
    // The lens stands at the place itself.
    svg.shape({placed(at, toward, {{-1.2, -1.3}, {-5.2, -1.3}, {-5.2, 1.3}, {-1.2, 1.3}})},
              {pen::opening, "", "#fff"});
    svg.shape({placed(at, toward, {{-1.2, -0.6}, {0.4, -1.2}, {0.4, 1.2}, {-1.2, 0.6}})},
              {pen::opening, "", "#000"});
}

void draw_lamp(Svg& svg, Point2 at, Point2 toward) {
    const Point2 right{-toward.y, toward.x};
    svg.circle(at, 2.9, {pen::thin, "", "#fff"});
    for (const double turn : {45.0, 135.0})
        svg.line(at - 2.9 * turned(toward, turn), at + 2.9 * turned(toward, turn));
    const auto corners =
        placed(at, toward,
               {{1.9, -1.6}, {-0.7, -1.6}, {-1.9, -0.8}, {-1.9, 0.8}, {-0.7, 1.6}, {1.9, 1.6}});
    svg.shape({corners}, {pen::opening, "", "#fff"});
    svg.line(at + 1.2 * toward - 1.6 * right, at + 1.2 * toward + 1.6 * right, {pen::opening});
}

void draw_hanging_lamp(Svg& svg, Point2 at) {
    svg.circle(at, 1.8, {pen::opening, "", "#fff"});
    svg.circle(at, 0.6, {pen::thin, "", "#000"});
}

void draw_mark(Svg& svg, Point2 at) {
    svg.line(at - Point2{1.8, 1.8}, at + Point2{1.8, 1.8}, {pen::wall});
    svg.line(at - Point2{1.8, -1.8}, at + Point2{1.8, -1.8}, {pen::wall});
}

double draw_scale_bar(Svg& svg, Point2 left_end, double mm_per_m, double most_mm,
                      site::Units units) {
    const bool in_feet = units == site::Units::feet;
    const double mm_per_unit = (in_feet ? 0.3048 : 1) * mm_per_m;
    double step = 0.1;
    for (const double s :
         {0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0})
        if (4 * s * mm_per_unit <= most_mm) step = s;
    const double step_mm = step * mm_per_unit;
    for (int i = 0; i < 4; ++i)
        svg.rect(left_end.x + i * step_mm, left_end.y, step_mm, 1.4,
                 {pen::thin, "", i % 2 == 0 ? "#000" : "#fff"});
    const bool is_short = step_mm < text_width("0.05", letters::small) + 2;
    for (const int i : {0, 1, 2, 4}) {
        if (i == 1 && is_short) continue;
        const char* unit = i < 4 ? "" : in_feet ? " ft" : " m";
        svg.text({left_end.x + i * step_mm, left_end.y - 0.9}, number(i * step) + unit,
                 {letters::small, Anchor::middle});
    }
    return 4 * step_mm;
}

void draw_norths(Svg& svg, Point2 middle, double radius, Point2 north, double magnetic_east_deg) {
    svg.circle(middle, 0.7, {pen::thin, "", "#000"});
    svg.arrow(middle - 0.6 * radius * north, middle + radius * north, {pen::opening}, 3.2);
    svg.text(middle + (radius + 2.2) * north + Point2{0, 1.1}, "N",
             {letters::usual, Anchor::middle, true});
    if (is_told_apart(magnetic_east_deg)) {
        const Point2 magnetic = turned(north, magnetic_east_deg);
        const Point2 side{-magnetic.y, magnetic.x};
        const double hand = magnetic_east_deg < 0 ? -1 : 1;
        svg.line(middle, middle + 0.92 * radius * magnetic, {pen::thin, "1.6 0.8"});
        svg.line(middle + 0.92 * radius * magnetic,
                 middle + 0.72 * radius * magnetic + 0.09 * hand * radius * side, {pen::thin});
    }
}

Box norths_box(double radius, Point2 north, double magnetic_east_deg) {
    Box box{-1, -1, 1, 1};
    const auto take = [&](Point2 p, double round) {
        box = {std::min(box.left, p.x - round), std::min(box.top, p.y - round),
               std::max(box.right, p.x + round), std::max(box.bottom, p.y + round)};
    };
    take(-0.6 * radius * north, 0.5);
    take((radius + 2.2) * north, 1.6);
    if (is_told_apart(magnetic_east_deg))
        take(0.92 * radius * turned(north, magnetic_east_deg), 0.5);
    return box;
}

}  // namespace keyhour::draw
