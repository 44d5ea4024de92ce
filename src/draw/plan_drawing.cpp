#include "plan_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include "figures.hpp"
#include "keyhour/site/compass.hpp"
#include "keyhour/site/magnetic.hpp"
#include "keyhour/site/plan_frame.hpp"
#include "keyhour/site/read_back.hpp"
#include "keyhour/study/patch_day.hpp"
#include "plan_extent.hpp"
#include "plan_symbols.hpp"
#include "tell/sheet_text.hpp"
#include "title_block.hpp"
#include "words/length.hpp"

namespace keyhour::draw {
namespace {

/// How far a patch is followed to see which way it travels.
constexpr Seconds kTravel{600};
/// A sliver is drawn, but not labelled, m2.
constexpr double kLabelled = 0.05;
constexpr double kArrow = 8, kLeastArrow = 3;  // mm
/// More patches than this on the floor: only the largest of each hour gets an arrow.
constexpr std::size_t kArrows = 6;
/// More than this: only the largest of each hour is labelled.
constexpr std::size_t kLabels = 10;
/// Hours on one line under a mark's name.
constexpr std::size_t kLitOnALine = 3;
constexpr std::size_t kFarNamed = 6;  // things beyond the paper that are named
constexpr double kFarArrow = 5;       // mm

constexpr std::array<Hatch, most_plan_hours> kHourHatches{{{45, 1.9, 0.22},
                                                           {-45, 1.9, 0.22},
                                                           {45, 1.5, 0.52, Hatch::Kind::dots},
                                                           {90, 1.3, 0.22},
                                                           {0, 1.3, 0.22},
                                                           {45, 1.9, 0.22, Hatch::Kind::crossed}}};

struct HourPatches {
    Instant at;
    std::string label;
    Hatch hatch;
    study::PatchInstant now, later;
};

class PlanSheet {
public:
    PlanSheet(const site::Location& location, const study::RoomStudy* room,
              const PlanContent& content, const DrawingFrame& frame)
        : location_{location},
          study_{room},
          content_{content},
          frame_{frame},
          extent_{plan_extent(location, frame)},
          svg_{frame, title(), description()},
          labels_{extent_.paper.grown(-1)} {}

    PlanDrawing draw() {
        prepare_hours();
        svg_.begin_clip("paper", extent_.paper.left, extent_.paper.top,
                        extent_.paper.right - extent_.paper.left,
                        extent_.paper.bottom - extent_.paper.top);
        draw_surroundings();
        if (location_.room) draw_room();
        draw_lamps();
        draw_spots();
        svg_.end_group();
        draw_corner_signs();
        draw_far();
        draw_symbols();
        label_all();
        svg_.rect(extent_.paper.left, extent_.paper.top, extent_.paper.right - extent_.paper.left,
                  extent_.paper.bottom - extent_.paper.top, {pen::opening});
        const double bottom = draw_title_block(svg_, extent_.paper.bottom, block());
        return {svg_.finish(bottom), extent_.scale, frame_.width_mm, bottom, numbered_};
    }

private:
    [[nodiscard]] std::string title() const { return "Plan of " + location_.site.name; }
    [[nodiscard]] std::string description() const;
    [[nodiscard]] TitleBlock block() const;
    [[nodiscard]] Point2 at(Point2 p) const { return extent_.at(p); }
    /// A phone's column has no room for all that paper has.
    [[nodiscard]] bool narrow() const { return frame_.width_mm < 130; }
    [[nodiscard]] double k() const { return extent_.scale.mm_per_m; }

    void prepare_hours();
    void draw_surroundings();
    void draw_building(const room::Ring& footprint, const Stroke& stroke, bool is_tree,
                       const std::string& label, bool must);
    void name(const std::vector<std::string>& lines, Labels::Wish wish);
    void number(const std::vector<std::string>& lines, const Labels::Wish& wish);
    [[nodiscard]] std::size_t floor_patches() const;
    [[nodiscard]] bool is_largest(const HourPatches& hour, const study::WindowPatch& p) const;
    void draw_room();
    void draw_walls();
    void draw_opening(const room::Window& window);
    void draw_cover(const room::Window& window);
    void draw_patches(const HourPatches& hour);
    void draw_wall_patch(const HourPatches& hour, const study::WindowPatch& p);
    void draw_travel(const HourPatches& hour, const study::WindowPatch& p);
    void draw_fields();
    void draw_symbols();
    void draw_lamps();
    [[nodiscard]] std::optional<Point2> lamp_aim(const site::Lamp& lamp) const;
    [[nodiscard]] bool is_on_paper(Point2 p) const;
    [[nodiscard]] double off_room(const room::Ring& there) const;
    void go_beyond(Point2 at, double away, const std::string& label);
    [[nodiscard]] double magnetic_east_deg() const;
    [[nodiscard]] std::string norths_in_words() const;
    void draw_corner_signs();
    void draw_far();
    void label_all();
    void label_hours(bool largest);
    void label_marks_and_cameras();
    void name_mark(const std::vector<std::string>& lines, Labels::Wish wish);
    [[nodiscard]] std::vector<std::string> words_of_mark(std::size_t mark) const;
    void label_objects();
    [[nodiscard]] std::vector<std::string> words_of(std::size_t window, bool tall) const;
    void label_windows(std::size_t wall);
    void label_walls();
    void draw_spots();
    [[nodiscard]] Point2 aim_of(const room::Camera& camera) const;
    [[nodiscard]] Point2 on_paper(Azimuth bearing) const;
    [[nodiscard]] static Point2 on_paper(Point2 u) { return {u.x, -u.y}; }
    [[nodiscard]] double solid_middle(std::size_t wall) const;
    [[nodiscard]] double sight(Point2 from, Point2 u) const;

    const site::Location& location_;
    const study::RoomStudy* study_;
    const PlanContent& content_;
    const DrawingFrame& frame_;
    PlanExtent extent_;
    Svg svg_;
    Labels labels_;
    std::vector<HourPatches> hours_;
    struct WallBar {
        std::size_t wall, lane;
        double from, to;
    };
    std::vector<WallBar> bars_;

    struct Wanted {
        std::vector<std::string> lines;
        Labels::Wish wish;
        bool must = true;     ///< a number, if there is no room for words
        bool largest = true;  ///< of an hour's patches
    };
    std::vector<Wanted> hour_labels_, building_labels_, lamp_labels_, spot_labels_, far_labels_;
    struct Far {
        double distance;
        Point2 toward;
        std::string label;
    };
    std::vector<Far> far_;
    std::vector<std::string> numbered_, unplaced_;
    std::vector<std::string> lit_marks_;  ///< when, where beside the mark there is no room to say
};

/// Words at their place. Where no clean place is left a number stands there, and the words below
/// the plan.
void PlanSheet::name(const std::vector<std::string>& lines, Labels::Wish wish) {
    wish.must = false;
    wish.style.halo = true;
    wish.off_patches = true;
    if (labels_.put(svg_, lines, wish).is_empty()) number(lines, wish);
}

void PlanSheet::number(const std::vector<std::string>& lines, const Labels::Wish& wish) {
    numbered_.push_back(fmt::format("{}", fmt::join(lines, ", ")));
    labels_.put_number(svg_, numbered_.size(), wish);
}

std::string PlanSheet::description() const {
    std::string text =
        fmt::format("Lighting plan, {}, seen from above.", site::date_in_words(content_.date));
    if (location_.room) {
        const room::Room& room = *location_.room;
        text += fmt::format(" {} windows, {} marks, {} cameras. {}.", room.windows.size(),
                            room.marks.size(), room.cameras.size(),
                            site::wall_in_words(room, room.bearing.wall));
    }
    if (study_ == nullptr) return text;
    for (const Instant t : content_.hours) {
        text += fmt::format(" {}:", site::whole_minutes(t, location_.site.zone));
        const auto now = study::patches_at(*study_, t);
        for (const study::WindowPatch& p : now.patches)
            text += fmt::format(" {} on {} through {};", words::area(p.patch.area_m2, frame_.units),
                                room::words(p.patch.surface, study_->room()),
                                study_->room().windows[p.window].name);
        if (now.patches.empty()) text += " no sun in the room;";
        text.back() = '.';
    }
    return text;
}

Point2 PlanSheet::on_paper(Azimuth bearing) const {
    const double a =
        (bearing.from_north - site::PlanFrame{location_}.bearing_of_y().from_north).in_radians();
    return {std::sin(a), -std::cos(a)};
}

void PlanSheet::prepare_hours() {
    if (study_ == nullptr) return;
    for (std::size_t i = 0; i < std::min(content_.hours.size(), kHourHatches.size()); ++i) {
        const Instant t = content_.hours[i];
        hours_.push_back({t, site::whole_minutes(t, location_.site.zone), kHourHatches[i],
                          study::patches_at(*study_, t), study::patches_at(*study_, t + kTravel)});
    }
}

// --- outside ------------------------------------------------------------------------------------

void PlanSheet::draw_building(const room::Ring& footprint, const Stroke& stroke, bool is_tree,
                              const std::string& label, bool must) {
    if (footprint.size() < 3) return;
    const auto seen = clipped(extent_.at(footprint), extent_.paper.grown(-0.6));
    if (seen.size() >= 3 && std::abs(room::signed_area(seen)) > 4) {
        svg_.shape({extent_.at(footprint)}, stroke);
        const Point2 middle = centroid(seen);
        if (is_tree) svg_.circle(middle, 0.6, {pen::thin, "", "#000"});
        labels_.forbid(seen);
        building_labels_.push_back(
            {{label}, {middle, is_tree ? 1.5 : 0.5, {letters::small}, !is_tree, 25}, must});
        return;
    }
    go_beyond(at(centroid(footprint)), off_room(footprint), label);
}

/// How far a thing stands from the room's nearest wall, from the site without a room, m.
double PlanSheet::off_room(const room::Ring& there) const {
    if (!location_.room) return length(centroid(there));
    return distance_between(location_.room->floor, there);
}

bool PlanSheet::is_on_paper(Point2 p) const {
    const Box inner = extent_.paper.grown(-4);
    return p.x > inner.left && p.x < inner.right && p.y > inner.top && p.y < inner.bottom;
}

/// Told at the paper's edge.
void PlanSheet::go_beyond(Point2 there, double away, const std::string& label) {
    const Point2 way = there - extent_.paper.middle();
    if (length(way) < 1) return;
    far_.push_back({away, (1 / length(way)) * way,
                    fmt::format("{}, {} off", label, outside_length(away, frame_.units, 0))});
}

void PlanSheet::draw_surroundings() {
    const auto& all = site::buildings(location_);
    std::size_t own = 0;
    for (const room::Building& b : all)
        own += b.kind == room::Building::Kind::building ? 1 : 0;
    own -= std::min(own, location_.imported_buildings);
    std::size_t i = 0;
    for (const room::Building& b : all) {
        if (b.kind != room::Building::Kind::building) continue;
        draw_building(b.footprint, {pen::object, "", "#fff"}, false,
                      b.name + ", " + outside_length(b.height_m, frame_.units) + " high",
                      i++ < own);
    }
    for (const site::Tree& t : location_.trees)
        draw_building(t.footprint, {pen::thin, is_closed(t, content_.date) ? "" : "1.5 1"}, true,
                      fmt::format("{}, {} high{}", t.name, outside_length(t.height_m, frame_.units),
                                  is_closed(t, content_.date) ? "" : ", lets sun through"),
                      true);
}

// --- the room -----------------------------------------------------------------------------------

void PlanSheet::draw_room() {
    const room::Room& room = *location_.room;
    svg_.shape({extent_.at(outer_faces(room))}, {pen::thin, "", "#fff", false});
    for (const room::Object& o : room.objects) {
        svg_.shape({extent_.at(o.footprint)}, {pen::object});
        labels_.forbid(extent_.at(o.footprint));
    }
    svg_.begin_group("patches");
    for (const HourPatches& hour : hours_)
        draw_patches(hour);
    svg_.end_group();
    svg_.begin_group("now");
    svg_.end_group();
    draw_walls();
    for (const room::Window& w : room.windows)
        draw_opening(w);
    for (const study::CoverNeed& c : content_.covers)
        draw_cover(room.windows[c.window]);
    for (const HourPatches& hour : hours_)
        for (const study::WindowPatch& p : hour.now.patches)
            draw_travel(hour, p);
    draw_fields();
}

/// The faces of each wall, broken where openings are, and the jambs.
void PlanSheet::draw_walls() {
    const room::Room& room = *location_.room;
    const room::Ring outer = outer_faces(room);
    const std::size_t n = room.floor.size();
    for (std::size_t wall = 0; wall < n; ++wall) {
        const room::WallFrame f = wall_frame(room.floor, wall);
        const double t = wall_thickness(room, wall);
        std::vector<std::pair<double, double>> gaps;
        for (const room::Window& w : room.windows)
            if (w.wall == wall) gaps.emplace_back(w.left_m, w.left_m + w.width_m);
        std::ranges::sort(gaps);
        const auto along = [&](Point2 p) { return dot(p - f.left_corner, f.u); };
        const auto face = [&](double from, double to, double out) {
            const auto point = [&](double u) { return at(f.left_corner + u * f.u + out * f.n); };
            for (const auto& [left, right] : gaps) {
                if (left > from) svg_.line(point(from), point(left), {pen::wall});
                from = std::max(from, right);
            }
            if (to > from) svg_.line(point(from), point(to), {pen::wall});
        };
        // Half a line longer, so that two of them make a whole corner.
        const double half = pen::wall / 2 / k();
        face(-half, f.width_m + half, 0);
        const double a = along(outer[wall]), b = along(outer[(wall + 1) % n]);
        face(std::min(a, b) - half, std::max(a, b) + half, t);
        for (const auto& [left, right] : gaps)
            for (const double u : {left, right})
                svg_.line(at(f.left_corner + u * f.u), at(f.left_corner + u * f.u + t * f.n),
                          {pen::wall});
    }
    labels_.forbid(extent_.at(room.floor));
    labels_.forbid(extent_.at(outer));
    // A middle line, so that no word fits into a thick wall.
    for (std::size_t i = 0; i < n; ++i)
        labels_.forbid(at(0.5 * (room.floor[i] + outer[i])),
                       at(0.5 * (room.floor[(i + 1) % n] + outer[(i + 1) % n])));
}

/// Sill lines at both faces, the glass, its bars, and what hangs in it.
void PlanSheet::draw_opening(const room::Window& window) {
    const room::WallFrame f = wall_frame(location_.room->floor, window.wall);
    const auto point = [&](double u, double w) { return at(f.left_corner + u * f.u + w * f.n); };
    const double left = window.left_m, right = left + window.width_m;
    const double thick = wall_thickness(*location_.room, window.wall);
    for (const double w : {0.0, thick})
        svg_.line(point(left, w), point(right, w), {pen::fine});
    const double glass = window.reveal_m - window.bars.set_back_m;
    if (window.glass != room::Glass::none) {
        svg_.line(point(left, glass - 0.25 / k()), point(right, glass - 0.25 / k()), {pen::thin});
        svg_.line(point(left, glass + 0.25 / k()), point(right, glass + 0.25 / k()), {pen::thin});
    }
    for (int i = 1; i <= window.bars.upright; ++i) {
        const double pane = (window.width_m - window.bars.upright * window.bars.width_m) /
                            (window.bars.upright + 1);
        const double u = left + i * pane + (i - 0.5) * window.bars.width_m;
        svg_.line(point(u, glass - 0.8 / k()), point(u, glass + 0.8 / k()),
                  {std::max(pen::opening, window.bars.width_m * k())});
    }
    if (window.cover == room::Cover::sheer)
        svg_.line(point(left, 0.06), point(right, 0.06), {pen::opening, "0.6 0.6"});
    if (window.cover == room::Cover::blackout)
        svg_.line(point(left, 0.06), point(right, 0.06), {1.1});
}

void PlanSheet::draw_cover(const room::Window& window) {
    const room::WallFrame f = wall_frame(location_.room->floor, window.wall);
    const auto point = [&](double u) { return at(f.left_corner + u * f.u + (-1.1 / k()) * f.n); };
    svg_.line(point(window.left_m), point(window.left_m + window.width_m), {1.3, "3 0.8"});
}

// --- patches ------------------------------------------------------------------------------------

std::vector<std::vector<Point2>> flat(const std::vector<std::vector<room::Point3>>& outlines,
                                      double z, const PlanExtent& extent) {
    std::vector<std::vector<Point2>> rings;
    for (const auto& outline : outlines) {
        if (std::any_of(outline.begin(), outline.end(),
                        [&](const room::Point3& p) { return std::abs(p.z - z) > 1e-6; }))
            continue;
        std::vector<Point2>& ring = rings.emplace_back();
        for (const room::Point3& p : outline)
            ring.push_back(extent.at(Point2{p.x, p.y}));
    }
    return rings;
}

bool is_labelled(const study::WindowPatch& p) {
    return p.patch.surface.kind == room::Surface::Kind::floor && p.patch.area_m2 >= kLabelled;
}

std::size_t PlanSheet::floor_patches() const {
    std::size_t sum = 0;
    for (const HourPatches& hour : hours_)
        sum += static_cast<std::size_t>(std::ranges::count_if(hour.now.patches, is_labelled));
    return sum;
}

/// Of those on the floor.
bool PlanSheet::is_largest(const HourPatches& hour, const study::WindowPatch& p) const {
    return std::ranges::none_of(hour.now.patches, [&](const study::WindowPatch& other) {
        return is_labelled(other) && other.patch.area_m2 > p.patch.area_m2;
    });
}

void PlanSheet::draw_patches(const HourPatches& hour) {
    const room::Room& room = *location_.room;
    for (const study::WindowPatch& p : hour.now.patches) {
        const room::Surface& surface = p.patch.surface;
        if (surface.kind == room::Surface::Kind::wall) {
            draw_wall_patch(hour, p);
            continue;
        }
        const bool on_floor = surface.kind == room::Surface::Kind::floor;
        const auto rings =
            flat(p.patch.outlines, on_floor ? 0 : room.objects[surface.index].height_m, extent_);
        svg_.shape(rings, {pen::object, "", hour.hatch});
        for (const auto& ring : rings)
            labels_.shade(ring);
        if (!on_floor || rings.empty() || p.patch.area_m2 < kLabelled) continue;
        const Point2 middle = at({p.patch.centroid.x, p.patch.centroid.y});
        TextStyle style{letters::usual};
        style.bold = style.halo = true;
        Labels::Wish wish{middle, 1.5, style, false, 14, false};
        wish.same_side = true;
        hour_labels_.push_back({{hour.label}, wish, false, is_largest(hour, p)});
    }
}

/// Along the wall's inner face; where hours overlap, each has a lane of its own.
void PlanSheet::draw_wall_patch(const HourPatches& hour, const study::WindowPatch& p) {
    const std::size_t wall = p.patch.surface.index;
    const room::WallFrame f = wall_frame(location_.room->floor, wall);
    double from = 1e300, to = -1e300;
    for (const auto& ring : p.patch.outlines)
        for (const room::Point3& q : ring) {
            const double u = dot(Point2{q.x, q.y} - f.left_corner, f.u);
            from = std::min(from, u);
            to = std::max(to, u);
        }
    std::size_t lane = 0;
    for (bool moved = true; moved;) {
        moved = false;
        for (const WallBar& bar : bars_)
            if (bar.wall == wall && bar.lane == lane && bar.from < to && from < bar.to) {
                ++lane;
                moved = true;
            }
    }
    bars_.push_back({wall, lane, from, to});
    const double near = (0.6 + 2.1 * static_cast<double>(lane)) / k(), deep = near + 1.8 / k();
    const auto point = [&](double u, double w) { return at(f.left_corner + u * f.u + (-w) * f.n); };
    const std::vector<std::vector<Point2>> bar{
        {point(from, near), point(to, near), point(to, deep), point(from, deep)}};
    svg_.shape(bar, {pen::thin, "", "#fff", false});  // over patches on the floor
    svg_.shape(bar, {pen::thin, "", hour.hatch});
    TextStyle style{letters::small};
    style.halo = true;
    const double middle = (from + to) / 2;
    // One that goes on from the floor has its label there.
    if (std::ranges::any_of(hour.now.patches, [&](const study::WindowPatch& other) {
            return is_labelled(other) && other.window == p.window;
        }))
        return;
    Labels::Wish wish{point(middle, deep), 0.8, style, false, 8, false};
    wish.same_side = true;
    hour_labels_.push_back({{hour.label}, wish, false, false});
}

void PlanSheet::draw_travel(const HourPatches& hour, const study::WindowPatch& p) {
    if (!is_labelled(p)) return;
    if ((narrow() || floor_patches() > kArrows) && !is_largest(hour, p)) return;
    for (const study::WindowPatch& next : hour.later.patches) {
        if (next.window != p.window || !(next.patch.surface == p.patch.surface)) continue;
        const Point2 from{p.patch.centroid.x, p.patch.centroid.y};
        const Point2 way = Point2{next.patch.centroid.x, next.patch.centroid.y} - from;
        if (length(way) < 0.005) continue;
        // Not through a wall.
        const double room_mm = 0.85 * k() * sight(from, (1 / length(way)) * way);
        const double run =
            std::min(narrow() ? kArrow * 0.6 : kArrow, std::max(room_mm, kLeastArrow));
        const Point2 u{way.x / length(way), -way.y / length(way)};
        const Point2 start = at(from) - std::max(0.0, run - room_mm) * u;
        svg_.circle(start, 0.55, {pen::thin, "", "#000"});
        svg_.arrow(start, start + run * u, {pen::object}, 2.4);
        labels_.avoid(start, start + run * u, 4);
    }
}

// --- cameras, lamps, spots ----------------------------------------------------------------------

/// How far one sees from a point of the room along u before a wall stands in the way, m.
double PlanSheet::sight(Point2 from, Point2 u) const {
    double least = 30;
    const room::Ring& floor = location_.room->floor;
    for (std::size_t i = 0; i < floor.size(); ++i) {
        const Point2 a = floor[i], d = floor[(i + 1) % floor.size()] - a;
        const double det = cross(u, d);
        if (std::abs(det) < 1e-12) continue;
        const double t = cross(a - from, d) / det, s = cross(a - from, u) / det;
        if (t > 1e-6 && s >= 0 && s <= 1) least = std::min(least, t);
    }
    return least;
}

void PlanSheet::draw_fields() {
    const room::Room& room = *location_.room;
    for (const room::Camera& c : room.cameras) {
        Point2 aim = room.marks[c.aims_at].at - c.at;
        if (length(aim) < 1e-9) continue;
        aim = (1 / length(aim)) * aim;
        const double half = c.view.in_degrees() / 2;
        for (const double turn : {-half, half}) {
            const Point2 u = turned(aim, turn);
            const Point2 end = c.at + sight(c.at, u) * u;
            svg_.line(at(c.at), at(end), {pen::thin, "4 1 0.6 1"});
            labels_.avoid(at(c.at), at(end), 0.6);
        }
    }
}

/// A lamp outside works through the nearest opening, one inside on the nearest mark.
std::optional<Point2> PlanSheet::lamp_aim(const site::Lamp& lamp) const {
    std::vector<Point2> aims;
    if (lamp.place == site::Lamp::Place::outside)
        for (const room::Window& w : location_.room->windows) {
            const room::WallFrame f = wall_frame(location_.room->floor, w.wall);
            if (w.cover == room::Cover::open)
                aims.push_back(f.left_corner + (w.left_m + w.width_m / 2) * f.u);
        }
    else
        for (const room::Mark& m : location_.room->marks)
            aims.push_back(m.at);
    const auto nearest =
        std::ranges::min_element(aims, {}, [&](Point2 p) { return length(p - *lamp.at); });
    if (nearest == aims.end() || length(*nearest - *lamp.at) < 1e-6) return std::nullopt;
    return *nearest;
}

void PlanSheet::draw_lamps() {
    for (const site::Lamp& lamp : location_.lamps) {
        if (!lamp.at) continue;
        const Point2 here = at(*lamp.at);
        std::string label = lamp.name;
        if (lamp.height_m) label += ", " + words::length(*lamp.height_m, frame_.units, 1) + " up";
        if (!is_on_paper(here)) {
            go_beyond(here, off_room({*lamp.at, *lamp.at, *lamp.at}), label);
            continue;
        }
        labels_.keep_free({here.x - 2.9, here.y - 2.9, here.x + 2.9, here.y + 2.9});
        if (std::holds_alternative<site::Lumens>(lamp.photometry) || !location_.room) {
            draw_hanging_lamp(svg_, here);
        } else {
            const auto aim = lamp_aim(lamp);
            const Point2 toward =
                aim ? (1 / length(at(*aim) - here)) * (at(*aim) - here) : Point2{0, -1};
            if (const auto* sheet = std::get_if<light::DataSheet>(&lamp.photometry); sheet && aim) {
                const double reach = 1.25 * length(at(*aim) - here);
                for (const double side : {-0.5, 0.5}) {
                    const Point2 end =
                        here + reach * turned(toward, side * sheet->beam.in_degrees());
                    svg_.line(here, end, {pen::thin, "1.2 0.8"});
                    labels_.avoid(here, end, 0.6);
                }
                label += fmt::format(", beam {:.0f} degrees", sheet->beam.in_degrees());
            }
            draw_lamp(svg_, here, toward);
        }
        lamp_labels_.push_back({{label}, {here, 3.8, {letters::small}}});
    }
}

void PlanSheet::draw_spots() {
    for (const site::Spot& spot : location_.spots) {
        const Point2 place = site::on_plan(location_, spot), here = at(place);
        const Point2 toward = on_paper({wrapped_turn(spot.camera_bearing)});
        if (!is_on_paper(here)) {
            go_beyond(here, off_room({place, place, place}), "outside: " + spot.name);
            continue;
        }
        for (const double side : {-0.5, 0.5}) {
            const Point2 end = here + 14.0 * turned(toward, side * spot.view.in_degrees());
            svg_.line(here, end, {pen::thin, "4 1 0.6 1"});
            labels_.avoid(here, end, 0.6);
        }
        draw_camera(svg_, here, toward);
        labels_.keep_free({here.x - 3, here.y - 3, here.x + 3, here.y + 3});
        spot_labels_.push_back({{"outside: " + spot.name}, {here, 3.8, {letters::small}}});
    }
}

// --- labels, signs, foot ------------------------------------------------------------------------

/// NaN where the model of the field does not serve.
double PlanSheet::magnetic_east_deg() const {
    const double year = static_cast<int>(content_.date.year()) +
                        (static_cast<unsigned>(content_.date.month()) - 0.5) / 12;
    const auto d = site::declination(location_.site.observer, year);
    return d ? d->in_degrees() : std::numeric_limits<double>::quiet_NaN();
}

std::string PlanSheet::norths_in_words() const {
    const double east = magnetic_east_deg();
    if (!std::isfinite(east)) return "N: true north.";
    return fmt::format("N: true north; {}magnetic north {:.1f} degrees {} of it.",
                       is_told_apart(east) ? "dashed beside it, " : "", std::abs(east),
                       east < 0 ? "west" : "east");
}

void PlanSheet::draw_corner_signs() {
    const double radius = narrow() ? 4.5 : 8;
    const Point2 north = on_paper(Azimuth{});
    const Box sign = norths_box(radius, north, magnetic_east_deg());
    const Point2 middle{extent_.paper.right - 1.5 - sign.right, extent_.paper.top + 1.5 - sign.top};
    draw_norths(svg_, middle, radius, north, magnetic_east_deg());
    labels_.keep_free(
        {middle.x + sign.left, middle.y + sign.top, middle.x + sign.right, middle.y + sign.bottom});
    const Point2 bar{extent_.paper.left + 5, extent_.paper.bottom - 4};
    const double width = draw_scale_bar(svg_, bar, k(), narrow() ? 40 : 60, frame_.units);
    labels_.keep_free({bar.x - 3, bar.y - 4.5, bar.x + width + 6, bar.y + 3});
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
            lines.push_back("COVER " + tell::span_outward(c.span, location_.site.zone));
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
            const double aside = 2.0 * ((step + 1) / 2) * (step % 2 == 0 ? -1 : 1);
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

Point2 PlanSheet::aim_of(const room::Camera& c) const {
    const Point2 way = at(location_.room->marks[c.aims_at].at) - at(c.at);
    return length(way) > 1e-9 ? (1 / length(way)) * way : way;
}

void PlanSheet::draw_symbols() {
    if (!location_.room) return;
    for (const room::Mark& m : location_.room->marks) {
        const Point2 c = at(m.at);
        const Point2 half = m.box_m ? Point2{(*m.box_m)[0] / 2 * k(), (*m.box_m)[1] / 2 * k()}
                                    : Point2{m.radius_m * k(), m.radius_m * k()};
        if (m.box_m)
            svg_.rect(c.x - half.x, c.y - half.y, 2 * half.x, 2 * half.y, {pen::opening});
        else
            svg_.circle(c, half.x, {pen::opening});
        draw_mark(svg_, c);
        const Point2 reach{std::max(half.x, 2.2), std::max(half.y, 2.2)};
        labels_.keep_free({c.x - reach.x, c.y - reach.y, c.x + reach.x, c.y + reach.y});
    }
    for (const room::Camera& c : location_.room->cameras) {
        draw_camera(svg_, at(c.at), aim_of(c));
        const Point2 lens = at(c.at) + 0.4 * aim_of(c), back = at(c.at) - 5.2 * aim_of(c);
        labels_.keep_free(Box{std::min(lens.x, back.x), std::min(lens.y, back.y),
                              std::max(lens.x, back.x), std::max(lens.y, back.y)}
                              .grown(1.3));
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

/// Its name and hours; where they have no room its name alone, the hours below the plan.
void PlanSheet::name_mark(const std::vector<std::string>& lines, Labels::Wish wish) {
    wish.must = false;
    wish.off_patches = true;
    if (!labels_.put(svg_, lines, wish).is_empty()) return;
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

TitleBlock PlanSheet::block() const {
    TitleBlock b;
    b.place = location_.site.name;
    b.drawing = "Plan, " + site::date_in_words(content_.date);
    const site::Zone& zone = location_.site.zone;
    if (!hours_.empty())
        b.drawing += ", clocks " + site::utc_offset(zone.at(hours_.front().at).utc_offset);
    if (!frame_.in_page && !narrow())
        b.drawing += fmt::format(", 1:{} at full size", draw::number(extent_.one_to));
    for (const HourPatches& hour : hours_)
        b.key.push_back({[hatch = hour.hatch](Svg& svg, double x, double y, double w, double h) {
                             svg.rect(x, y, w, h, {pen::thin, "", hatch});
                         },
                         "sun at " + hour.label});
    if (!hours_.empty())
        b.key.push_back({[](Svg& svg, double x, double y, double w, double h) {
                             svg.circle({x + 0.6, y + h / 2}, 0.55, {pen::thin, "", "#000"});
                             svg.arrow({x, y + h / 2}, {x + w, y + h / 2}, {pen::object}, 2.4);
                         },
                         "the patch travels this way"});
    if (!bars_.empty())
        b.key.push_back({[](Svg& svg, double x, double y, double w, double h) {
                             svg.line({x, y + 0.4}, {x + w, y + 0.4}, {pen::wall});
                             svg.rect(x + 1.5, y + 0.9, w - 3, h - 1.6);
                         },
                         "sun on a wall"});
    if (location_.room) {
        b.key.push_back({[](Svg& svg, double x, double y, double w, double h) {
                             draw_mark(svg, {x + w / 2, y + h / 2});
                         },
                         "mark"});
        if (!content_.covers.empty())
            b.key.push_back({[](Svg& svg, double x, double y, double w, double h) {
                                 svg.line({x, y + h / 2}, {x + w, y + h / 2}, {1.3, "3 0.8"});
                             },
                             "cover to hang while the key is used"});
        b.notes.push_back(site::wall_in_words(*location_.room, location_.room->bearing.wall));
        if (hours_.empty())
            b.notes.push_back("No direct sun lands in the room on this date.");
        else if (!location_.room->marks.empty())
            b.notes.push_back(
                fmt::format("Patches lie on floor, objects and walls; a mark is judged at its "
                            "height (lit: {:.0f} "
                            "% of it in the sun).",
                            100 * study::KeySettings{}.coverage));
        b.notes.insert(b.notes.end(), lit_marks_.begin(), lit_marks_.end());
        const bool has_sizes = !narrow() && !location_.room->windows.empty();
        b.notes.push_back(
            fmt::format("{} {}{}.", norths_in_words(), in_words(frame_.units),
                        has_sizes ? "; sizes of openings are clear width x height" : ""));
    } else {
        b.notes.push_back(fmt::format("{} {}.", norths_in_words(), in_words(frame_.units)));
    }
    if (!frame_.in_page) b.numbered = numbered_;
    if (!unplaced_.empty())
        b.notes.push_back(fmt::format("Beyond the paper's edge: {}.", fmt::join(unplaced_, "; ")));
    if (far_.size() > kFarNamed)
        b.notes.push_back(
            fmt::format("{} more stand beyond the paper's edge.", far_.size() - kFarNamed));
    return b;
}

}  // namespace

PlanDrawing draw_plan(const site::Location& location, const study::RoomStudy* room,
                      const PlanContent& content, const DrawingFrame& frame) {
    return PlanSheet{location, room, content, frame}.draw();
}

}  // namespace keyhour::draw
