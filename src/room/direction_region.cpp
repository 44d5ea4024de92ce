#include "keyhour/room/direction_region.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <unordered_map>

namespace keyhour::room {
namespace {

constexpr double degree = std::numbers::pi / 180;
constexpr int root_size = 16;  // of the smallest cells: 4 degrees
constexpr double root_angle = 4 * degree;
constexpr double beyond_reach = 1.5 * degree;  // outlines stay true so far beyond the sun's reach
constexpr double crossing_error = 4e-6;
constexpr double equal = 1e-9;  // 95 % is enough, and so is the whole when 100 % are asked for

struct Domain {
    double x0, x1, y0, y1;
};

/// Where the window's wall is lit and the key angle is right: spans of azimuth.
std::vector<std::pair<double, double>> azimuth_spans(const Room& room, const RegionRequest& q) {
    constexpr double grazing = 0.006 * degree;  // nearer to the wall's plane no light is counted
    const Point2 n = wall_frame(room.floor, room.windows[q.window].wall).n;
    const double facing = std::atan2(n.x, n.y);
    const double low = facing - std::numbers::pi / 2 + grazing;
    const double high = facing + std::numbers::pi / 2 - grazing;
    if (!q.camera) return {{low, high}};
    const Point2 lens = q.camera->at - room.marks[q.camera->aims_at].at;
    const double from = std::atan2(lens.x, lens.y);
    const double k0 = q.key_angle_deg[0] * degree, k1 = q.key_angle_deg[1] * degree;
    std::vector<std::pair<double, double>> sides{{from + k0, from + k1}, {from - k1, from - k0}};
    if (k0 <= 0) sides = {{from - k1, from + k1}};
    if (k0 <= 0 && k1 >= std::numbers::pi) return {{low, high}};
    if (k0 > 0 && k1 >= std::numbers::pi) sides = {{from + k0, from + 2 * std::numbers::pi - k0}};
    std::vector<std::pair<double, double>> out;
    for (const auto& [a, b] : sides)
        for (int turn = -2; turn <= 2; ++turn) {
            const double by = turn * 2 * std::numbers::pi;
            const double x0 = std::max(low, a + by), x1 = std::min(high, b + by);
            if (x1 - x0 > 1e-6) out.emplace_back(x0, x1);
        }
    return out;
}

/// Traces the outline in one rectangle of azimuth and altitude.
class Tracer {
public:
    Tracer(const Scene& scene, const RegionRequest& request, const Domain& domain)
        : scene_{scene}, q_{request}, domain_{domain} {
        const auto cells = [](double span) {
            return std::max(1, static_cast<int>(std::ceil(span / root_angle)));
        };
        nx_ = cells(domain.x1 - domain.x0) * root_size;
        ny_ = cells(domain.y1 - domain.y0) * root_size;
        step_x_ = (domain.x1 - domain.x0) / nx_;
        step_y_ = (domain.y1 - domain.y0) / ny_;
        columns_.resize(static_cast<std::size_t>(2 * nx_ + 1));
        rows_.resize(static_cast<std::size_t>(2 * ny_ + 1));
        blocks_across_ = (ny_ + 3) / block_size + 1;
        block_of_.assign(static_cast<std::size_t>(((nx_ + 3) / block_size + 1) * blocks_across_),
                         -1);
        const Mark& mark = scene.room().marks[request.mark];
        const Point3 d = scene.middle(request.window) - Point3{mark.at.x, mark.at.y, mark.height_m};
        edge_limit_ = limit_at(std::sqrt(dot(d, d)));
        double farthest = 0;
        for (const Building& building : scene.room().buildings)
            for (const Point2 corner : building.footprint)
                farthest = std::max(farthest, length(corner - mark.at));
        for (const Point2 corner : scene.room().floor)
            farthest = std::max(farthest, length(corner - mark.at));
        outside_limit_ = limit_at(farthest);
    }

    void trace(std::vector<DirectionRing>& out) {
        for (int i = 0; i < nx_; i += root_size)
            for (int j = 0; j < ny_; j += root_size)
                divide({i, j, root_size, root_size});
        if (!any_lit_) return;
        add_rim();
        for (const Cell& cell : cells_)
            march(cell);
        collect(out);
    }

private:
    static constexpr int block_size = 4;
    struct Cell {
        int i, j, w, h;
    };
    enum class Known : std::uint8_t { nothing, assumed, exact, excluded };
    struct Node {
        double value = 0;
        Known known = Known::nothing;
        bool may_come = true;
        Touch touch;
    };
    struct Crossing {
        PlanDirection at;
        int next = -1;
        bool is_true = true;  // on the region's own outline, not where it was cut off
    };

    /// Cells on an edge that lies so far off must stay below the mark's own size, seen from there.
    [[nodiscard]] int limit_at(double distance_m) const {
        const Mark& mark = scene_.room().marks[q_.mark];
        const double half = mark.box_m
                                ? *std::min_element(mark.box_m->begin(), mark.box_m->end()) / 2
                                : mark.radius_m;
        const double cells = half / std::max(0.3, distance_m) * (root_size / root_angle);
        return cells > 5 ? 4 : cells > 2.5 ? 2 : 1;
    }

    struct Place {
        int i, j;
    };
    [[nodiscard]] std::uint32_t slot(Place p) const {
        return static_cast<std::uint32_t>((p.i + 1) * (ny_ + 3) + (p.j + 1));
    }
    /// The id of the node at a place. The grid's blocks are made where one is asked for: most of it
    /// lies in the dark, in cells of the largest size.
    [[nodiscard]] int& id_at(Place p) {
        const int i = p.i + 1, j = p.j + 1;
        int& block =
            block_of_[static_cast<std::size_t>(i / block_size * blocks_across_ + j / block_size)];
        if (block < 0) {
            block = static_cast<int>(blocks_.size());
            blocks_.emplace_back().fill(-1);
        }
        return blocks_[static_cast<std::size_t>(block)]
                      [static_cast<std::size_t>(i % block_size * block_size + j % block_size)];
    }
    /// The same, without making anything. @return -1: none
    [[nodiscard]] int known_id(Place p) const {
        const int i = p.i + 1, j = p.j + 1;
        const int block =
            block_of_[static_cast<std::size_t>(i / block_size * blocks_across_ + j / block_size)];
        if (block < 0) return -1;
        return blocks_[static_cast<std::size_t>(block)]
                      [static_cast<std::size_t>(i % block_size * block_size + j % block_size)];
    }
    [[nodiscard]] PlanDirection at(double i, double j) const {
        return {domain_.x0 + i * step_x_, domain_.y0 + j * step_y_};
    }
    [[nodiscard]] static double size_of(double x, double y) { return std::sqrt(x * x + y * y); }
    [[nodiscard]] static Point3 towards(PlanDirection d) {
        const double level = std::cos(d.altitude);
        return {level * std::sin(d.azimuth), level * std::cos(d.azimuth), std::sin(d.altitude)};
    }

    /// Sine and cosine of an angle of the grid; worked out when it is first asked for.
    struct Wave {
        double sine = 0, cosine = 0;
        bool is_known = false;
    };
    static const Wave& wave(std::vector<Wave>& waves, int halves, double from, double step) {
        Wave& w = waves[static_cast<std::size_t>(halves)];
        if (!w.is_known) {
            const double angle = from + halves / 2.0 * step;
            w = {std::sin(angle), std::cos(angle), true};
        }
        return w;
    }
    /// Towards a place of the grid, counted in half steps.
    [[nodiscard]] Point3 towards_halves(int i, int j) {
        const Wave& azimuth = wave(columns_, i, domain_.x0, step_x_);
        const Wave& altitude = wave(rows_, j, domain_.y0, step_y_);
        return {altitude.cosine * azimuth.sine, altitude.cosine * azimuth.cosine, altitude.sine};
    }

    /// Positive where the direction is good.
    [[nodiscard]] double value(PlanDirection d) const { return value(towards(d)); }
    [[nodiscard]] double value(Point3 sun) const {
        if (q_.camera && in_frame(scene_.room(), *q_.camera, sun)) return -1;
        return scene_.coverage(q_.mark, q_.window, sun) - q_.coverage + equal;
    }

    int node(int i, int j) {
        int& id = id_at({i, j});
        if (id >= 0) return id;
        id = static_cast<int>(nodes_.size());
        Node n;
        const Point3 sun = towards_halves(2 * i, 2 * j);
        n.touch = scene_.touch(q_.mark, q_.window, sun, q_.coverage);
        n.may_come = q_.may_come(sun, beyond_reach);
        nodes_.push_back(n);
        return id;
    }
    [[nodiscard]] Node& node_at(int id) { return nodes_[static_cast<std::size_t>(id)]; }

    double exact(int i, int j) {
        Node& n = node_at(node(i, j));
        if (n.known == Known::exact || n.known == Known::excluded) return n.value;
        n.known = n.may_come ? Known::exact : Known::excluded;
        n.value = n.may_come ? value(towards_halves(2 * i, 2 * j)) : -1;
        return n.value;
    }
    void assume(const Cell& c, double value) {
        for (const auto& [i, j] : corners(c)) {
            Node& n = node_at(node(i, j));
            if (n.known != Known::nothing) continue;
            n.known = Known::assumed;
            n.value = value;
        }
        cells_.push_back(c);
    }
    [[nodiscard]] static std::array<std::pair<int, int>, 4> corners(const Cell& c) {
        return {{{c.i, c.j}, {c.i + c.w, c.j}, {c.i + c.w, c.j + c.h}, {c.i, c.j + c.h}}};
    }

    void split(const Cell& c) {
        const int w = c.w / 2, h = c.h / 2;
        divide({c.i, c.j, w, h});
        divide({c.i + w, c.j, w, h});
        divide({c.i, c.j + h, w, h});
        divide({c.i + w, c.j + h, w, h});
    }

    void divide(const Cell& c) {
        const double reach = 0.5 * size_of(c.w * step_x_, c.h * step_y_) + beyond_reach;
        if (!q_.may_come(middle_of(c), reach)) return assume(c, -1);
        Touch all = Touch::everything();
        bool reached = true;
        for (const auto& [i, j] : corners(c)) {
            const Node& n = node_at(node(i, j));
            all = all.and_also(n.touch);
            reached = reached && n.may_come;
        }
        if (all.is_dark()) return assume(c, -q_.coverage);
        if (all.is_lit() && reached && !may_be_in_frame(c)) {
            any_lit_ = true;
            return assume(c, 1 - q_.coverage + equal);
        }
        if (c.w > 1 && c.w > (all.nears_outside() ? outside_limit_ : edge_limit_)) return split(c);
        if (c.w > 1 && hides_something(c)) return split(c);
        for (const auto& [i, j] : corners(c))
            any_lit_ = exact(i, j) > 0 || any_lit_;
        cells_.push_back(c);
    }

    [[nodiscard]] Point3 middle_of(const Cell& c) {
        return towards_halves(2 * c.i + c.w, 2 * c.j + c.h);
    }

    [[nodiscard]] bool may_be_in_frame(const Cell& c) {
        if (!q_.camera) return false;
        for (const int i : {0, 1, 2})
            for (const int j : {0, 1, 2})
                if (in_frame(scene_.room(), *q_.camera,
                             towards_halves(2 * c.i + i * c.w, 2 * c.j + j * c.h)))
                    return true;
        return false;
    }

    /// May the value change its sign within a cell whose corners agree?
    bool hides_something(const Cell& c) {
        double least = 1e9, most = -1e9, sum = 0;
        for (const auto& [i, j] : corners(c)) {
            const double v = exact(i, j);
            least = std::min(least, v);
            most = std::max(most, v);
            sum += v / 4;
        }
        if (least <= 0 && most > 0) return false;
        const double nearest = most <= 0 ? -most : least;
        if (nearest > 1.5 * (most - least) + 0.05) return false;
        const double middle = value(middle_of(c));
        const double bend = std::abs(middle - sum);
        return most <= 0 ? std::max(most, middle) + bend > 0 : std::min(least, middle) - bend <= 0;
    }

    /// A rim of excluded nodes round the rectangle closes the outlines on its sides.
    void add_rim() {
        const auto exclude = [&](int i, int j) {
            int& id = id_at({i, j});
            if (id >= 0) return;
            id = static_cast<int>(nodes_.size());
            Node n;
            n.known = Known::excluded;
            n.value = -1;
            nodes_.push_back(n);
        };
        const auto add = [&](const Cell& c) {
            for (const auto& [i, j] : corners(c))
                exclude(i, j);
            cells_.push_back(c);
        };
        for (int i = 0; i < nx_; i += root_size) {
            add({i, -1, root_size, 1});
            add({i, ny_, root_size, 1});
        }
        for (int j = 0; j < ny_; j += root_size) {
            add({-1, j, 1, root_size});
            add({nx_, j, 1, root_size});
        }
        for (const int i : {-1, nx_})
            for (const int j : {-1, ny_})
                add({i, j, 1, 1});
    }

    [[nodiscard]] bool is_in_domain(Place p) const {
        return p.i >= 0 && p.j >= 0 && p.i <= nx_ && p.j <= ny_;
    }

    /// The crossing between two neighbouring nodes of unlike sign.
    int crossing(Place in, Place out) {
        const std::uint64_t a = slot(in), b = slot(out);
        const std::uint64_t key = std::min(a, b) << 32 | std::max(a, b);
        const auto [found, is_new] =
            known_crossings_.try_emplace(key, static_cast<int>(crossings_.size()));
        if (!is_new) return found->second;
        Crossing c;
        const PlanDirection p = at(in.i, in.j);
        if (!is_in_domain(out)) {
            c.at = p;
            c.is_true = false;
        } else {
            const PlanDirection r = at(out.i, out.j);
            const Node& ni = node_at(known_id(in));
            const Node& no = node_at(known_id(out));
            if (ni.known == Known::excluded || no.known == Known::excluded || !ni.may_come ||
                !no.may_come) {
                c.at = {(p.azimuth + r.azimuth) / 2, (p.altitude + r.altitude) / 2};
                c.is_true = false;
            } else {
                c.at = root(p, ni.value, r, no.value);
            }
        }
        crossings_.push_back(c);
        return found->second;
    }

    /// Where the value changes its sign between a good direction and a bad one: false position
    /// (Illinois), with a bisection every third step, as the value may jump.
    [[nodiscard]] PlanDirection root(PlanDirection good, double at_good, PlanDirection bad,
                                     double at_bad) const {
        const double dx = bad.azimuth - good.azimuth, dy = bad.altitude - good.altitude;
        const double size = size_of(dx, dy);
        double g = 0, b = 1, fg = at_good, fb = at_bad;
        for (int i = 0; i < 60 && (b - g) * size > crossing_error; ++i) {
            double share = fg / (fg - fb);
            if (i % 3 == 2) share = 0.5;
            const double least = std::min(0.5, 0.4 * crossing_error / ((b - g) * size));
            const double s = g + std::clamp(share, least, 1 - least) * (b - g);
            const double f = value(PlanDirection{good.azimuth + s * dx, good.altitude + s * dy});
            if (f > 0) {
                g = s;
                fg = f;
                fb /= 2;
            } else {
                b = s;
                fb = f;
                fg /= 2;
            }
        }
        const double s = (g + b) / 2;
        return {good.azimuth + s * dx, good.altitude + s * dy};
    }

    /// Joins the crossings on a cell's sides: the region to the left.
    void march(const Cell& c) {
        border_.clear();
        const auto walk = [&](int i, int j, int di, int dj, int n) {
            for (int k = 0; k < n; ++k) {
                const int id = known_id({i + k * di, j + k * dj});
                if (id >= 0) border_.push_back({{i + k * di, j + k * dj}, node_at(id).value > 0});
            }
        };
        walk(c.i, c.j, 1, 0, c.w);
        walk(c.i + c.w, c.j, 0, 1, c.h);
        walk(c.i + c.w, c.j + c.h, -1, 0, c.w);
        walk(c.i, c.j + c.h, 0, -1, c.h);
        ins_.clear();
        outs_.clear();
        bool first_is_out = false;
        for (std::size_t k = 0; k < border_.size(); ++k) {
            const auto &p = border_[k], &r = border_[(k + 1) % border_.size()];
            if (p.is_good == r.is_good) continue;
            if (ins_.empty() && outs_.empty()) first_is_out = p.is_good;
            if (p.is_good)
                outs_.push_back(crossing(p.place, r.place));
            else
                ins_.push_back(crossing(r.place, p.place));
        }
        const std::size_t n = outs_.size();
        if (n == 0) return;
        // Good arc k runs from ins_[k] to outs_[k], both counted from an "in".
        if (first_is_out) std::rotate(outs_.begin(), outs_.begin() + 1, outs_.end());
        const bool is_joined = n > 1 && is_in_domain({c.i, c.j}) &&
                               is_in_domain({c.i + c.w, c.j + c.h}) && value(middle_of(c)) > 0;
        for (std::size_t k = 0; k < n; ++k)
            crossings_[static_cast<std::size_t>(outs_[k])].next = ins_[is_joined ? (k + 1) % n : k];
    }

    void collect(std::vector<DirectionRing>& out) {
        std::vector<bool> done(crossings_.size(), false);
        for (std::size_t start = 0; start < crossings_.size(); ++start) {
            if (done[start]) continue;
            DirectionRing ring;
            std::size_t k = start;
            do {
                done[k] = true;
                const Crossing& from = crossings_[k];
                if (from.next < 0) break;
                const Crossing& to = crossings_[static_cast<std::size_t>(from.next)];
                ring.push_back(from.at);
                if (from.is_true && to.is_true) refine(from.at, to.at, 0, ring);
                k = static_cast<std::size_t>(from.next);
            } while (!done[k]);
            if (ring.size() > 2) out.push_back(std::move(ring));
        }
    }

    /// Adds points between p and r until the chords lie on the outline.
    void refine(PlanDirection p, PlanDirection r, int depth, DirectionRing& ring) const {
        const double dx = r.azimuth - p.azimuth, dy = r.altitude - p.altitude;
        const double size = size_of(dx, dy);
        if (size < 1e-4 || depth > 7) return;
        const PlanDirection mid{p.azimuth + dx / 2, p.altitude + dy / 2};
        const auto off = [&](double s) {  // s to the right, where the region ends
            return PlanDirection{mid.azimuth + s * dy / size, mid.altitude - s * dx / size};
        };
        const double here = value(mid);
        const double way = here > 0 ? 1 : -1;
        // The nearest point across the outline, by steps that grow.
        double near = 0, f_near = here, far = 2 * chord_error, f_far = 0;
        const double most = 0.75 * size;  // a right angle's corner lies half a chord away
        for (;; far = std::min(4 * far, most)) {
            f_far = value(off(way * far));
            if ((f_far > 0) != (here > 0)) break;
            if (far >= most) return;
            near = far;
            f_near = f_far;
        }
        const double share = near == 0 ? std::abs(f_near) / std::abs(f_near - f_far) : 1;
        if (near == 0 && share * far < chord_error) return;
        const PlanDirection on = here > 0 ? root(off(near), f_near, off(far), f_far)
                                          : root(off(-far), f_far, off(-near), f_near);
        refine(p, on, depth + 1, ring);
        ring.push_back(on);
        refine(on, r, depth + 1, ring);
    }

    const Scene& scene_;
    const RegionRequest& q_;
    Domain domain_;
    int nx_ = 0, ny_ = 0, edge_limit_ = 4, outside_limit_ = 1;
    double step_x_ = 0, step_y_ = 0;
    bool any_lit_ = false;
    std::vector<Wave> columns_, rows_;
    std::vector<int> block_of_;  // of each square of the grid; -1: none
    int blocks_across_ = 0;
    std::vector<std::array<int, block_size * block_size>> blocks_;  // ids of nodes; -1: none
    std::vector<Node> nodes_;
    std::vector<Cell> cells_;
    std::vector<Crossing> crossings_;
    std::unordered_map<std::uint64_t, int> known_crossings_;
    struct Bordering {
        Place place;
        bool is_good;
    };
    std::vector<Bordering> border_;
    std::vector<int> ins_, outs_;
};

}  // namespace

std::vector<DirectionRing> covered_region(const Scene& scene, const RegionRequest& request) {
    std::vector<DirectionRing> out;
    if (!scene.faces(request.window, request.mark)) return out;
    for (const auto& [x0, x1] : azimuth_spans(scene.room(), request))
        Tracer{scene, request, {x0, x1, request.lowest, request.highest}}.trace(out);
    return out;
}

}  // namespace keyhour::room
