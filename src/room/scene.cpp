#include "keyhour/room/scene.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "beam.hpp"
#include "opening_maker.hpp"

namespace keyhour::room {
namespace {

std::vector<Point2> longest_scratch(const Room& room) {
    std::size_t most = room.floor.size();
    for (const Building& b : room.buildings)
        most = std::max(most, b.footprint.size());
    for (const Object& o : room.objects)
        most = std::max(most, o.footprint.size());
    return std::vector<Point2>(most);
}

}  // namespace

Scene::Scene(Room room) : room_{std::move(room)} {
    const double ground = -room_.floor_above_ground_m;
    std::vector<Point2> scratch = longest_scratch(room_);
    BodyOf<OwnList> body;
    body.floor = room_.floor;
    body.height_m = room_.height_m;
    for (std::size_t i = 0; i < room_.buildings.size(); ++i) {
        const Building& b = room_.buildings[i];
        body.add(b.footprint, ground, ground + b.height_m, {Edge::building, i}, scratch,
                 body.buildings);
    }
    if (!is_convex_floor(room_.floor))
        body.add(room_.floor, ground, room_.height_m, {Edge::own_walls, 0}, scratch, body.own);
    for (std::size_t i = 0; i < room_.objects.size(); ++i)
        body.add(room_.objects[i].footprint, 0, room_.objects[i].height_m, {Edge::object, i},
                 scratch, body.objects);
    for (const Window& window : room_.windows) {
        Opening& o = openings_.emplace_back();
        prepare_opening(o, window, body);
        for (const Mark& mark : room_.marks)
            add_mark(o, mark, half_size(mark));
    }
}

double Scene::in_front(std::size_t window, Point3 sun) const noexcept {
    return dot(Point2{sun.x, sun.y}, openings_[window].frame.n);
}

bool Scene::make_beam(std::size_t window, Point3 sun, Beam& beam) const noexcept {
    return make_rays(openings_[window], sun, beam);
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
    return make_beam(window, sun, beam) ? past_outside(openings_[window], beam) : 0;
}

double Scene::past_outside(const Opening& o, const Beam& beam) {
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

OpenAreas Scene::open_areas(std::size_t window, Point3 toward) const {
    const Opening& o = openings_[window];
    Beam beam;
    if (!make_rays_at_any_height(o, toward, beam)) return {};
    OpenAreas out;
    for_each_pane(o, beam, [&](const Box2& pane) {
        if (!pane.is_empty()) out.panes_m2 += (pane.x1 - pane.x0) * (pane.y1 - pane.y0);
    });
    out.free_m2 = o.outside.empty() ? out.panes_m2 : past_outside(o, beam);
    return out;
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
        covers.add(piece.edge, shadow_within(piece, beam, beam.open));
    covers.for_each_taken(outline(beam.open), plain_area, [&](LimitingEdge edge, double taken) {
        out.push_back({edge, taken / open});
    });
    return out;
}

std::array<double, 4> Scene::distances_within(std::size_t mark, std::size_t window,
                                              Point3 sun) const noexcept {
    const Opening& o = openings_[window];
    return room::distances_within(o, o.marks[mark], room_.marks[mark].height_m, sun);
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
    double best = 1e300;  // the floor is met where nothing else is
    Surface hit{Surface::Kind::floor, 0};
    const auto try_face = [&](Point2 a, Point2 b, double top, Surface surface) {
        const Point2 ab = b - a, d{-sun.x, -sun.y};
        const double det = cross(d, ab);
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
        const double t = (from.z - object.height_m) / sun.z;
        if (t > touch_m && t < best && contains(object.footprint, at - t * Point2{sun.x, sun.y})) {
            best = t;
            hit = surface;
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
