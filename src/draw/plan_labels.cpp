#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "figures.hpp"
#include "keyhour/site/compass.hpp"
#include "plan_sheet.hpp"
#include "words/clock.hpp"

namespace keyhour::draw {
namespace {

/// More patches than this: only the largest of each hour is labelled.
constexpr std::size_t kLabels = 10;
/// Hours on one line under a mark's name.
constexpr std::size_t kLitOnALine = 3;
constexpr double kFarArrow = 5;  // mm
/// More of a name on patches is hard to read on their hatches.
constexpr double kMostOnPatches = 0.2;

}  // namespace

/// Words at their place. Where no clean place is left a number stands there, and the words below
/// the plan.
void PlanSheet::name(const std::vector<std::string>& lines, Labels::Wish wish) {
    wish.must = false;
    wish.style.halo = true;
    wish.off_patches = true;
    wish.most_on_patches = kMostOnPatches;
    if (labels_.put(svg_, lines, wish).is_empty()) number(lines, wish);
}

void PlanSheet::number(const std::vector<std::string>& lines, const Labels::Wish& wish) {
    numbered_.push_back(fmt::format("{}", fmt::join(lines, ", ")));
    labels_.put_number(svg_, numbered_.size(), wish);
}

std::vector<std::string> PlanSheet::words_of(std::size_t window, bool tall) const {
    const room::Window& w = location_.room->windows[window];
    const std::string size = size_figure(w.width_m, w.height_m, frame_.units);
    const std::string sill = "sill " + figure(w.sill_m, frame_.units);
    std::vector<std::string> lines{w.name};
    if (tall)
        lines.insert(lines.end(), {size, sill});
    else if (!narrow())
        lines.push_back(size + ", " + sill);
    if (w.cover == room::Cover::sheer) lines[0] += " (sheer)";
    if (w.cover == room::Cover::blackout) lines[0] += " (blackout)";
    for (const study::CoverNeed& c : content_.covers)
        if (c.window == window)
            lines.push_back("COVER " + words::clock_outward(c.span, location_.site.zone));
    return lines;
}

/// Outside before their openings. Where the words of one do not find room, all of that wall have
/// numbers.
void PlanSheet::label_windows(std::size_t wall) {
    const room::Room& room = *location_.room;
    const room::WallFrame f = wall_frame(room.floor, wall);
    std::vector<std::pair<std::size_t, Labels::Wish>> wishes;
    for (std::size_t i = 0; i < room.windows.size(); ++i) {
        const room::Window& w = room.windows[i];
        if (w.wall != wall) continue;
        const Point2 middle = at(f.left_corner + (w.left_m + w.width_m / 2) * f.u +
                                 (wall_thickness(room, wall) + 0.4 / k()) * f.n);
        Labels::Wish wish{middle, 1.2, {letters::small}, false, 14, false, on_paper(f.n)};
        wish.same_side = wish.style.halo = true;
        wishes.emplace_back(i, wish);
    }
    const Labels labels_before = labels_;
    const Svg svg_before = svg_;
    for (const bool tall : {false, true}) {
        if (tall && narrow()) continue;
        const bool all = std::ranges::all_of(wishes, [&](const auto& each) {
            return !labels_.put(svg_, words_of(each.first, tall), each.second).is_empty();
        });
        if (all) return;
        labels_ = labels_before;
        svg_ = svg_before;
    }
    for (const auto& [window, wish] : wishes)
        number(words_of(window, false), wish);
}

/// The middle of the wall's longest piece without an opening, m from its left corner.
double PlanSheet::solid_middle(std::size_t wall) const {
    const room::Room& room = *location_.room;
    std::vector<std::pair<double, double>> gaps;
    for (const room::Window& w : room.windows)
        if (w.wall == wall) gaps.emplace_back(w.left_m, w.left_m + w.width_m);
    std::ranges::sort(gaps);
    const double width = wall_frame(room.floor, wall).width_m;
    gaps.emplace_back(width, width);
    double from = 0, longest = 0, middle = width / 2;
    for (const auto& [left, right] : gaps) {
        if (left - from > longest) {
            longest = left - from;
            middle = (from + left) / 2;
        }
        from = std::max(from, right);
    }
    return middle;
}

void PlanSheet::label_walls() {
    const room::Room& room = *location_.room;
    for (std::size_t wall = 0; wall < room.walls.size(); ++wall) {
        const bool is_bearing_wall = wall == room.bearing.wall;
        if (narrow() && !is_bearing_wall) continue;
        const room::WallFrame f = wall_frame(room.floor, wall);
        const Point2 middle = at(f.left_corner + solid_middle(wall) * f.u +
                                 (wall_thickness(room, wall) + 0.4 / k()) * f.n);
        const Azimuth faces = wall_faces(room, wall);
        const std::vector<std::string> lines{
            fmt::format("{} wall", room.walls[wall]),
            fmt::format("faces {} {:.0f}", site::compass_letters(faces),
                        std::fmod(std::round(faces.from_north.in_degrees()), 360))};
        Labels::Wish wish{middle, 1.2, {letters::small}, false, 18, false, on_paper(f.n)};
        wish.same_side = true;
        // The foot says it of the wall whose bearing was taken.
        if (is_bearing_wall)
            labels_.put(svg_, lines, wish);
        else
            name(lines, wish);
    }
}

/// An arrow at the paper's edge towards each thing beyond it, nearest first.
void PlanSheet::draw_far() {
    std::ranges::stable_sort(far_, {}, &Far::distance);
    const Box edge_box = extent_.paper.grown(-1.7);
    const Point2 middle = edge_box.middle();
    const double wide = edge_box.right - middle.x, tall = edge_box.bottom - middle.y;
    for (std::size_t i = 0; i < std::min(far_.size(), kFarNamed); ++i) {
        const Point2 u = far_[i].toward;
        const double to_side = wide / std::max(std::abs(u.x), 1e-9);
        const double to_end = tall / std::max(std::abs(u.y), 1e-9);
        const Point2 edge = middle + std::min(to_side, to_end) * u;
        const Point2 along = to_side < to_end ? Point2{0, 1} : Point2{1, 0};
        bool placed = false;
        for (int step = 0; step < 40 && !placed; ++step) {  // 0, 2, -2, 4, -4, ... mm aside
            const int pairs = (step + 1) / 2;
            const double aside = 2.0 * pairs * (step % 2 == 0 ? -1 : 1);
            const Point2 head = edge + aside * along, tail = head - kFarArrow * u;
            const Box box{std::min(head.x, tail.x) - 0.7, std::min(head.y, tail.y) - 0.7,
                          std::max(head.x, tail.x) + 0.7, std::max(head.y, tail.y) + 0.7};
            if (!labels_.is_clean(box)) continue;
            placed = true;
            svg_.arrow(tail, head, {pen::object}, 2.2);
            labels_.keep_free(box);
            Labels::Wish wish{tail, 1, {letters::small}, false, 22, false, -1.0 * u};
            wish.same_side = true;
            far_labels_.push_back({{far_[i].label}, wish});
        }
        if (!placed) unplaced_.push_back(far_[i].label);
    }
}

/// Its name, and those of the drawn hours that light it at its own height.
std::vector<std::string> PlanSheet::words_of_mark(std::size_t mark) const {
    std::vector<std::string> lines{location_.room->marks[mark].name};
    std::size_t lit = 0;
    for (const HourPatches& hour : hours_) {
        if (std::ranges::none_of(hour.now.coverages, [&](const study::MarkCoverage& c) {
                return c.mark == mark && c.fraction >= study::KeySettings{}.coverage;
            }))
            continue;
        if (lit % kLitOnALine == 0)
            lines.push_back((lit == 0 ? "lit " : "") + hour.label);
        else
            lines.back() += ", " + hour.label;
        ++lit;
    }
    return lines;
}

/// Its name and hours; where they have no room off the patches its name alone, the hours below the
/// plan.
void PlanSheet::name_mark(const std::vector<std::string>& lines, Labels::Wish wish) {
    wish.must = false;
    wish.off_patches = true;
    wish.most_on_patches = kMostOnPatches;
    if (!labels_.put(svg_, lines, wish).is_empty()) return;
    wish.most_on_patches = 1;
    const bool is_named = lines.size() > 1 && !labels_.put(svg_, {lines.front()}, wish).is_empty();
    if (is_named)
        lit_marks_.push_back(fmt::format("{}.", fmt::join(lines, " ")));
    else
        number(lines, wish);
}

void PlanSheet::label_marks_and_cameras() {
    TextStyle halo{letters::usual};
    halo.halo = true;
    for (std::size_t i = 0; i < location_.room->marks.size(); ++i) {
        const room::Mark& m = location_.room->marks[i];
        TextStyle bold = halo;
        bold.bold = true;
        const double round = m.box_m ? (*m.box_m)[0] / 2 : m.radius_m;
        name_mark(words_of_mark(i), {at(m.at), std::max(2.8, round * k() + 1), bold, false, 20});
    }
    for (const room::Camera& c : location_.room->cameras)
        name({c.name == "camera" ? c.name : "camera " + c.name},
             {at(c.at) - 2.4 * aim_of(c), 3.1, halo, false, 14});
}

/// The largest patch of an hour before names, the others where there is room.
void PlanSheet::label_hours(bool largest) {
    for (const Wanted& w : hour_labels_) {
        if (w.largest != largest || !labels_.put(svg_, w.lines, w.wish).is_empty() || !largest)
            continue;
        Labels::Wish farther = w.wish;
        farther.most_mm = 40;
        labels_.put(svg_, w.lines, farther);
    }
}

void PlanSheet::label_objects() {
    TextStyle small{letters::small};
    small.halo = true;
    for (const room::Object& o : location_.room->objects) {
        std::vector<std::string> lines{o.name, figure(o.height_m, frame_.units) + " high"};
        if (narrow()) lines.pop_back();
        name(lines, {centroid(extent_.at(o.footprint)), 0.5, small, true, 18});
    }
}

void PlanSheet::label_all() {
    if (location_.room) {
        for (std::size_t wall = 0; wall < location_.room->walls.size(); ++wall)
            label_windows(wall);
        label_marks_and_cameras();
        label_hours(true);
    }
    for (const auto* list : {&lamp_labels_, &spot_labels_})
        for (const Wanted& w : *list)
            name(w.lines, w.wish);
    if (location_.room) {
        label_objects();
        label_walls();
    }
    for (const auto* list : {&far_labels_, &building_labels_})
        for (const Wanted& w : *list)
            if (w.must)
                name(w.lines, w.wish);
            else {
                Labels::Wish wish = w.wish;
                wish.must = false;
                labels_.put(svg_, w.lines, wish);
            }
    if (!narrow() && floor_patches() <= kLabels) label_hours(false);
}

}  // namespace keyhour::draw
