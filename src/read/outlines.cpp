#include "outlines.hpp"

#include <algorithm>
#include <cmath>
#include <polyclipping/clipper.hpp>

namespace keyhour::read {
namespace {

using room::Ring;

constexpr double per_m = 1e6;
constexpr ClipperLib::cInt beyond_all = 1'000'000'000'000;  // 1000 km, in micrometres

ClipperLib::Path path_of(const Ring& ring) {
    ClipperLib::Path out;
    for (const room::Point2 p : ring)
        out.emplace_back(std::llround(p.x * per_m), std::llround(p.y * per_m));
    return out;
}

Ring ring_from(const ClipperLib::Path& path) {
    Ring out;
    for (const auto& p : path)
        out.push_back({static_cast<double>(p.X) / per_m, static_cast<double>(p.Y) / per_m});
    return out;
}

double area_m2(const Ring& first, const Ring& second, ClipperLib::ClipType wanted) {
    ClipperLib::Clipper clipper;
    clipper.AddPath(path_of(first), ClipperLib::ptSubject, true);
    clipper.AddPath(path_of(second), ClipperLib::ptClip, true);
    ClipperLib::Paths result;
    clipper.Execute(wanted, result, ClipperLib::pftEvenOdd, ClipperLib::pftEvenOdd);
    double area = 0;
    for (const auto& outline : result)
        area += ClipperLib::Area(outline);
    return std::abs(area) / (per_m * per_m);
}

/// The part of outlines to one side of an upright line.
ClipperLib::Paths beside(const ClipperLib::Paths& paths, ClipperLib::cInt x, bool left) {
    const ClipperLib::cInt from = left ? -beyond_all : x, to = left ? x : beyond_all;
    ClipperLib::Clipper clipper;
    clipper.AddPaths(paths, ClipperLib::ptSubject, true);
    clipper.AddPath({{from, -beyond_all}, {to, -beyond_all}, {to, beyond_all}, {from, beyond_all}},
                    ClipperLib::ptClip, true);
    ClipperLib::Paths out;
    clipper.Execute(ClipperLib::ctIntersection, out, ClipperLib::pftEvenOdd,
                    ClipperLib::pftEvenOdd);
    return out;
}

void add_pieces(const ClipperLib::Paths& paths, std::vector<Ring>& out) {
    ClipperLib::Clipper clipper;
    clipper.AddPaths(paths, ClipperLib::ptSubject, true);
    ClipperLib::PolyTree tree;
    clipper.Execute(ClipperLib::ctUnion, tree, ClipperLib::pftEvenOdd, ClipperLib::pftEvenOdd);
    for (const ClipperLib::PolyNode* node = tree.GetFirst(); node; node = node->GetNext()) {
        if (node->IsHole()) continue;
        if (node->Childs.empty()) {
            out.push_back(ring_from(node->Contour));
            continue;
        }
        ClipperLib::Paths whole{node->Contour};
        for (const ClipperLib::PolyNode* hole : node->Childs)
            whole.push_back(hole->Contour);
        const auto [left, right] =
            std::minmax_element(whole[1].begin(), whole[1].end(),
                                [](const auto& a, const auto& b) { return a.X < b.X; });
        const ClipperLib::cInt middle = left->X + (right->X - left->X) / 2;
        if (middle == left->X) {  // thinner than a micrometre: no hole
            out.push_back(ring_from(node->Contour));
            continue;
        }
        add_pieces(beside(whole, middle, true), out);
        add_pieces(beside(whole, middle, false), out);
    }
}

}  // namespace

double shared_area_m2(const Ring& first, const Ring& second) {
    return area_m2(first, second, ClipperLib::ctIntersection);
}

double area_outside_m2(const Ring& first, const Ring& second) {
    return area_m2(first, second, ClipperLib::ctDifference);
}

std::vector<Ring> without_holes(const Ring& outer, const std::vector<Ring>& holes) {
    if (holes.empty()) return {outer};
    ClipperLib::Paths paths{path_of(outer)};
    for (const Ring& hole : holes)
        paths.push_back(path_of(hole));
    std::vector<Ring> out;
    add_pieces(paths, out);
    return out;
}

}  // namespace keyhour::read
