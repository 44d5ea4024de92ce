#include "keyhour/room/scene.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "beam.hpp"

namespace keyhour::room {
namespace {

/// Below this the ray runs along the wall, and no light of any use comes in.
constexpr double least_in_front = 1e-4;
constexpr double least_up = 1e-6;
constexpr double touch_m = 1e-9;

Point2 in_window_axes(const WallFrame& f, Point2 p) {
    return {dot(p - f.left_corner, f.u), dot(p - f.left_corner, f.n)};
}

bool is_convex_floor(const Ring& floor) {
    const double sense = signed_area(floor) > 0 ? 1 : -1;
    for (std::size_t i = 0, n = floor.size(); i < n; ++i) {
        const Point2 a = floor[i], b = floor[(i + 1) % n], c = floor[(i + 2) % n];
        if (sense * cross(b - a, c - b) < -touch_m) return false;
    }
    return true;
}

/// Panes along one side: `bars` bars leave bars + 1 panes of equal size.
std::vector<std::pair<double, double>> panes(double from, double to, int bars, double bar) {
    const double pane = (to - from - bars * bar) / (bars + 1);
    std::vector<std::pair<double, double>> out;
    for (int i = 0; i <= bars; ++i) {
        const double start = from + i * (pane + bar);
        out.emplace_back(start, i == bars ? to : start + pane);
    }
    return out;
}

/// Adds the pieces of an upright body that lie where w >= from (sign = 1) or w <= from (sign = -1).
void add_pieces(const WallFrame& frame, const Ring& footprint, double bottom, double top,
                LimitingEdge edge, double from, double sign, std::vector<UprightPiece>& out) {
    for (const Ring& ring : convex_pieces(footprint)) {
        UprightPiece piece{{}, bottom, top, edge};
        for (const Point2 p : ring)
            piece.footprint.push_back(in_window_axes(frame, p));
        UprightPiece kept = clipped(piece, 0, -sign, -sign * from);
        if (kept.footprint.size() >= 3) out.push_back(std::move(kept));
    }
}

}  // namespace

PlanTurn::PlanTurn(Azimuth bearing_of_y) noexcept
    : sin_{sin(bearing_of_y.from_north)}, cos_{cos(bearing_of_y.from_north)} {}

UprightPiece clipped(const UprightPiece& piece, double a, double b, double c) {
    UprightPiece out{{}, piece.bottom, piece.top, piece.edge};
    const std::size_t n = piece.footprint.size();
    const auto beyond = [&](Point2 p) { return a * p.x + b * p.y - c; };
    for (std::size_t i = 0; i < n; ++i) {
        const Point2 p = piece.footprint[i], q = piece.footprint[(i + 1) % n];
        const double dp = beyond(p), dq = beyond(q);
        if (dp <= 0) out.footprint.push_back(p);
        if ((dp < 0 && dq > 0) || (dp > 0 && dq < 0)) {
            if (n == 2 && i == 1) continue;  // a wall's line is walked once
            out.footprint.push_back(p + (dp / (dp - dq)) * (q - p));
        }
    }
    return out;
}

namespace {

/// Does an edge of `cover` have all of `part` outside?
bool apart(const Convex& part, const Convex& cover) noexcept {
    for (int i = 0, j = cover.n - 1; i < cover.n; j = i++) {
        const double dx = cover.x[i] - cover.x[j], dy = cover.y[i] - cover.y[j];
        bool all_outside = true;
        for (int k = 0; k < part.n && all_outside; ++k)
            all_outside = dx * (part.y[k] - cover.y[j]) <= dy * (part.x[k] - cover.x[j]);
        if (all_outside) return true;
    }
    return false;
}

constexpr double crumb_m2 = 1e-13;

/// Is all of it where a x + b y < c?
bool is_within(const Convex& part, double a, double b, double c) noexcept {
    for (int i = 0; i < part.n; ++i)
        if (!(a * part.x[i] + b * part.y[i] - c < 0)) return false;
    return true;
}

}  // namespace

void add_rest(const Convex& part, const Convex& cover, std::vector<Convex>& out) {
    if (cover.n < 3 || apart(part, cover)) {
        out.push_back(part);
        return;
    }
    Convex left = part;  // of the part, inside all edges so far
    for (int i = 0, j = cover.n - 1; i < cover.n && left.n >= 3; j = i++) {
        const double dx = cover.x[i] - cover.x[j], dy = cover.y[i] - cover.y[j];
        const double c = dy * cover.x[j] - dx * cover.y[j];
        if (is_within(left, dy, -dx, c)) continue;  // most edges cut nothing off
        const Convex outside = clip(left, -dy, dx, -c);
        if (outside.n >= 3 && area(outside) > crumb_m2) out.push_back(outside);
        left = clip(left, dy, -dx, c);
    }
}

Scene::Scene(Room room) : room_{std::move(room)}, floor_is_convex_{is_convex_floor(room_.floor)} {
    const double ground = -room_.floor_above_ground_m;
    for (const Window& window : room_.windows) {
        Opening o;
        o.frame = wall_frame(room_.floor, window.wall);
        o.left = window.left_m;
        o.right = window.left_m + window.width_m;
        o.sill = window.sill_m;
        o.head = window.sill_m + window.height_m;
        o.reveal = window.reveal_m;
        o.bar_plane = window.reveal_m - window.bars.set_back_m;
        o.panes_u = panes(o.left, o.right, window.bars.upright, window.bars.width_m);
        o.panes_z = panes(o.sill, o.head, window.bars.level, window.bars.width_m);

        for (std::size_t i = 0; i < room_.buildings.size(); ++i) {
            const Building& b = room_.buildings[i];
            add_pieces(o.frame, b.footprint, ground, ground + b.height_m, {Edge::building, i},
                       o.reveal, 1, o.outside);
        }
        if (!floor_is_convex_)
            add_pieces(o.frame, room_.floor, ground, room_.height_m, {Edge::own_walls, 0},
                       o.reveal + touch_m, 1, o.outside);

        for (std::size_t i = 0; i < room_.objects.size(); ++i)
            add_pieces(o.frame, room_.objects[i].footprint, 0, room_.objects[i].height_m,
                       {Edge::object, i}, 0, -1, o.objects);
        if (!floor_is_convex_) {
            for (std::size_t i = 0; i < room_.floor.size(); ++i) {
                const Point2 a = in_window_axes(o.frame, room_.floor[i]);
                const Point2 b = in_window_axes(o.frame, room_.floor[(i + 1) % room_.floor.size()]);
                if (a.y > -touch_m && b.y > -touch_m) continue;
                UprightPiece line = clipped({{a, b}, 0, room_.height_m, {Edge::wall, i}}, 0, 1, 0);
                if (line.footprint.size() == 2) o.walls.push_back(std::move(line));
            }
        }
        for (const Mark& mark : room_.marks) {
            o.marks.push_back(in_window_axes(o.frame, mark.at));
            o.before.push_back(obstacles_before(o, o.marks.back(), mark));
        }
        openings_.push_back(std::move(o));
    }
}

namespace {

Convex plan_of(const UprightPiece& piece) {
    Convex c;
    for (const Point2 p : piece.footprint)
        c.add(p.x, p.y);
    return c;
}

/// Rays from a mark through an opening, in plan (u, w): what of a floor plan they can meet.
class RaysInPlan {
public:
    /// @param reach  of the mark about `at`
    RaysInPlan(double left, double right, double reveal, Point2 at, double reach)
        : left_{left}, right_{right}, reveal_{reveal}, at_{at}, reach_{reach} {
        Point2 p[6] = {{left, 0},
                       {right, 0},
                       {at.x - reach, at.y - reach},
                       {at.x + reach, at.y - reach},
                       {at.x + reach, at.y + reach},
                       {at.x - reach, at.y + reach}};
        inside_ = hull(p, 6);
    }
    [[nodiscard]] bool may_meet_inside(const Convex& footprint) const noexcept {
        return !apart(footprint, inside_) && !apart(inside_, footprint);
    }
    /// @param footprint  beyond the outer plane
    [[nodiscard]] bool may_meet_outside(const Convex& footprint) const noexcept {
        const double nearest = -(at_.y + reach_), farthest = -(at_.y - reach_);
        if (nearest <= touch_m) return true;  // the mark reaches into the window
        for (const double plane : {0.0, reveal_}) {
            // The ray farthest to a side grazes the jamb there from the mark's other side, from
            // near by if it runs outward.
            const double to_left = left_ - (at_.x + reach_), to_right = right_ - (at_.x - reach_);
            const double left = to_left / (plane + (to_left < 0 ? nearest : farthest));
            const double right = to_right / (plane + (to_right > 0 ? nearest : farthest));
            bool is_left = true, is_right = true;
            for (int i = 0; i < footprint.n; ++i) {
                const double depth = footprint.y[i] - plane;
                is_left = is_left && footprint.x[i] < left_ + left * depth;
                is_right = is_right && footprint.x[i] > right_ + right * depth;
            }
            if (is_left || is_right) return false;
        }
        return true;
    }

private:
    double left_, right_, reveal_;
    Point2 at_;
    double reach_;
    Convex inside_;
};

}  // namespace

Scene::Obstacles Scene::obstacles_before(const Opening& o, Point2 at, const Mark& mark) {
    constexpr double hair_m = 1e-6;
    const double lowest = mark.height_m - (mark.box_m ? (*mark.box_m)[2] / 2 : mark.radius_m);
    const RaysInPlan rays{o.left - hair_m, o.right + hair_m, o.reveal, at,
                          half_size(mark) + hair_m};
    Obstacles out;
    for (std::size_t i = 0; i < o.outside.size(); ++i)
        if (rays.may_meet_outside(plan_of(o.outside[i])))
            out.outside.push_back(static_cast<std::uint32_t>(i));
    const auto choose = [&](const std::vector<UprightPiece>& pieces,
                            std::vector<std::uint32_t>& chosen) {
        for (std::size_t i = 0; i < pieces.size(); ++i)
            // Towards the sun a ray only rises.
            if (pieces[i].top > lowest && rays.may_meet_inside(plan_of(pieces[i])))
                chosen.push_back(static_cast<std::uint32_t>(i));
    };
    choose(o.objects, out.objects);
    choose(o.walls, out.walls);
    return out;
}

double Scene::in_front(std::size_t window, Point3 sun) const noexcept {
    return dot(Point2{sun.x, sun.y}, openings_[window].frame.n);
}

bool Scene::make_beam(std::size_t window, Point3 sun, Beam& beam) const noexcept {
    const Opening& o = openings_[window];
    const Point2 level{sun.x, sun.y};
    beam.sw = dot(level, o.frame.n);
    if (beam.sw < least_in_front || sun.z < least_up) return false;
    beam.su = dot(level, o.frame.u);
    beam.sz = sun.z;
    beam.kx = beam.su / beam.sw;
    beam.kz = beam.sz / beam.sw;
    const double du = o.reveal * beam.kx, dz = o.reveal * beam.kz;
    beam.open = {std::max(o.left, o.left - du), std::min(o.right, o.right - du),
                 std::max(o.sill, o.sill - dz), std::min(o.head, o.head - dz)};
    return !beam.open.is_empty();
}

namespace {

double plain_area(const Convex& c) noexcept {
    return area(c);
}

/// The shadows on one opening, each with a box round it: a pane is cut by those alone that meet it.
class Shadows {
public:
    /// @param within  a box round the shape
    void add(const Convex& shape, const Box2& within) {
        if (shape.n < 3) return;
        shapes_.push_back(shape);
        bounds_.push_back(within);
    }
    /// Of a pane, what none of them takes, m2.
    [[nodiscard]] double leave_of(const Box2& pane) {
        meeting_.clear();
        for (std::size_t i = 0; i < shapes_.size(); ++i) {
            if (common(bounds_[i], pane).is_empty()) continue;
            if (bounds_[i].contains(pane) && holds(shapes_[i], pane)) return 0;
            meeting_.push_back(shapes_[i]);
        }
        const double whole = (pane.x1 - pane.x0) * (pane.y1 - pane.y0);
        if (meeting_.empty()) return whole;
        if (meeting_.size() == 1) return std::max(0.0, whole - area(clip(meeting_[0], pane)));
        return uncovered(outline(pane), meeting_.data(), static_cast<int>(meeting_.size()),
                         plain_area);
    }

private:
    std::vector<Convex> shapes_, meeting_;
    std::vector<Box2> bounds_;
};

}  // namespace

double Scene::open_area(std::size_t window, Point3 sun) const {
    Beam beam;
    if (!make_beam(window, sun, beam)) return 0;
    const Opening& o = openings_[window];
    Shadows shadows;
    for (const UprightPiece& piece : o.outside) {
        const Box2 all = shadow_bounds(piece, beam), box = common(all, beam.open);
        if (box.is_empty()) continue;
        const Convex shape = shadow(piece, beam);
        if (all.contains(beam.open) && holds(shape, beam.open)) return 0;
        shadows.add(clip(shape, beam.open), box);
    }
    double sum = 0;
    for_each_pane(o, beam, [&](const Box2& pane) {
        if (!pane.is_empty()) sum += shadows.leave_of(pane);
    });
    return sum;
}

std::vector<Loss> Scene::opening_losses(std::size_t window, Point3 sun) const {
    const Opening& o = openings_[window];
    std::vector<Loss> out;
    const Point2 level{sun.x, sun.y};
    const double sw = dot(level, o.frame.n), su = dot(level, o.frame.u);
    if (sun.z < least_up) {
        out.push_back({{Edge::horizon, 0}, 1});
        return out;
    }
    if (sw < least_in_front) {
        // The sun has gone behind the wall's plane past the jamb on its side.
        out.push_back({{su > 0 ? Edge::right_jamb : Edge::left_jamb, 0}, 1});
        return out;
    }
    const double width = o.right - o.left, height = o.head - o.sill;
    const double side = std::min(1.0, std::abs(o.reveal * su / sw) / width);
    out.push_back({{su > 0 ? Edge::right_jamb : Edge::left_jamb, 0}, side});
    out.push_back({{Edge::head, 0}, std::min(1.0, o.reveal * sun.z / sw / height)});
    Beam beam;
    if (!make_beam(window, sun, beam)) return out;
    const double open = (beam.open.x1 - beam.open.x0) * (beam.open.y1 - beam.open.y0);
    CoversByEdge covers;
    for (const UprightPiece& piece : o.outside)
        if (!common(shadow_bounds(piece, beam), beam.open).is_empty())
            covers.add(piece.edge, clip(shadow(piece, beam), beam.open));
    covers.for_each_taken(outline(beam.open), plain_area, [&](LimitingEdge edge, double taken) {
        out.push_back({edge, taken / open});
    });
    return out;
}

std::array<double, 4> Scene::distances_within(std::size_t mark, std::size_t window,
                                              Point3 sun) const noexcept {
    const Opening& o = openings_[window];
    const Point2 level{sun.x, sun.y};
    const double sw = dot(level, o.frame.n);
    if (sw < least_in_front || sun.z < least_up) return {-1e3, -1e3, -1e3, -1e3};
    const double kx = dot(level, o.frame.u) / sw, kz = sun.z / sw;
    const Point2 m = o.marks[mark];
    const double u = m.x - m.y * kx, z = room_.marks[mark].height_m - m.y * kz;
    const double du = o.reveal * kx, dz = o.reveal * kz;
    return {u - std::max(o.left, o.left - du), std::min(o.right, o.right - du) - u,
            z - std::max(o.sill, o.sill - dz), std::min(o.head, o.head - dz) - z};
}

double Scene::centre_margin(std::size_t mark, std::size_t window, Point3 sun) const noexcept {
    const auto d = distances_within(mark, window, sun);
    return std::min({d[0], d[1], d[2], d[3]});
}

LimitingEdge Scene::farthest_edge(std::size_t mark, std::size_t window, Point3 sun) const noexcept {
    constexpr Edge edges[] = {Edge::left_jamb, Edge::right_jamb, Edge::sill, Edge::head};
    const auto d = distances_within(mark, window, sun);
    const auto least = std::min_element(d.begin(), d.end());
    if (*least >= 0) return {};
    return {edges[least - d.begin()], 0};
}

bool Scene::faces(std::size_t window, std::size_t mark) const noexcept {
    const Opening& o = openings_[window];
    const Point2 m = o.marks[mark];
    if (m.y >= -touch_m) return false;
    if (floor_is_convex_) return true;
    constexpr int parts = 16;
    for (int i = 0; i <= parts; ++i) {
        // From the wall's inner face, a hair inside, to the mark.
        const Point2 from{o.left + (o.right - o.left) * i / parts, -touch_m};
        const bool is_cut = std::any_of(o.walls.begin(), o.walls.end(), [&](const auto& wall) {
            const Point2 a = wall.footprint[0], b = wall.footprint[1];
            const double a_side = cross(m - from, a - from), b_side = cross(m - from, b - from);
            const double from_side = cross(b - a, from - a), m_side = cross(b - a, m - a);
            return a_side * b_side < 0 && from_side * m_side < 0;
        });
        if (!is_cut) return true;
    }
    return false;
}

Point3 Scene::middle(std::size_t window) const noexcept {
    const Opening& o = openings_[window];
    const Point2 p = o.frame.left_corner + ((o.left + o.right) / 2) * o.frame.u;
    return {p.x, p.y, (o.sill + o.head) / 2};
}

std::vector<Point3> Scene::corners(std::size_t window) const {
    const Opening& o = openings_[window];
    std::vector<Point3> out;
    for (const auto& [u, z] :
         {std::pair{o.left, o.sill}, {o.right, o.sill}, {o.right, o.head}, {o.left, o.head}}) {
        const Point2 p = o.frame.left_corner + u * o.frame.u;
        out.push_back({p.x, p.y, z});
    }
    return out;
}

Surface Scene::surface_behind(std::size_t mark, Point3 sun) const {
    const Mark& m = room_.marks[mark];
    return surface_down_sun({m.at.x, m.at.y, m.height_m}, sun);
}

Surface Scene::surface_down_sun(Point3 from, Point3 sun) const {
    const Point2 at{from.x, from.y};
    // Down the ray: the nearest of floor, walls, objects' tops and sides.
    double best = sun.z > least_up ? from.z / sun.z : 1e300;
    Surface hit{Surface::Kind::floor, 0};
    const auto try_face = [&](Point2 a, Point2 b, double top, Surface surface) {
        const Point2 ab = b - a, d{-sun.x, -sun.y};
        const double det = cross(d, ab);
        if (std::abs(det) < 1e-12) return;
        const double t = cross(a - at, ab) / det;
        const double along = cross(a - at, d) / det;
        const double z = from.z - t * sun.z;
        if (t > touch_m && t < best && along >= 0 && along <= 1 && z >= 0 && z <= top) {
            best = t;
            hit = surface;
        }
    };
    const std::size_t n = room_.floor.size();
    for (std::size_t i = 0; i < n; ++i)
        try_face(room_.floor[i], room_.floor[(i + 1) % n], room_.height_m,
                 {Surface::Kind::wall, i});
    for (std::size_t k = 0; k < room_.objects.size(); ++k) {
        const Object& object = room_.objects[k];
        const Surface surface{Surface::Kind::object, k};
        const std::size_t corners = object.footprint.size();
        for (std::size_t i = 0; i < corners; ++i)
            try_face(object.footprint[i], object.footprint[(i + 1) % corners], object.height_m,
                     surface);
        if (sun.z > least_up && from.z > object.height_m) {
            const double t = (from.z - object.height_m) / sun.z;
            if (t < best && contains(object.footprint, at - t * Point2{sun.x, sun.y})) {
                best = t;
                hit = surface;
            }
        }
    }
    return hit;
}

std::string words(const Surface& surface, const Room& room) {
    switch (surface.kind) {
        case Surface::Kind::floor:
            return "floor";
        case Surface::Kind::wall:
            return "wall " + room.walls[surface.index];
        case Surface::Kind::object:
            return "object " + room.objects[surface.index].name;
    }
    return {};
}

std::string words(const LimitingEdge& edge, const Room& room) {
    switch (edge.kind) {
        case Edge::none:
            return "none";
        case Edge::head:
            return "head";
        case Edge::sill:
            return "sill";
        case Edge::left_jamb:
            return "left jamb";
        case Edge::right_jamb:
            return "right jamb";
        case Edge::bar:
            return "bar";
        case Edge::object:
            return "object " + room.objects[edge.index].name;
        case Edge::building:
            return words(room.buildings[edge.index]);
        case Edge::own_walls:
            return "own walls outside";
        case Edge::wall:
            return "wall " + room.walls[edge.index];
        case Edge::horizon:
            return "horizon";
        case Edge::key_angle:
            return "key angle";
        case Edge::altitude:
            return "altitude";
        case Edge::frame:
            return "camera frame";
        case Edge::cover:
            return "sun through " + room.windows[edge.index].name;
        case Edge::midnight:
            return "midnight";
    }
    return {};
}

}  // namespace keyhour::room
