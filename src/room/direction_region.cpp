#include "keyhour/room/direction_region.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <span>
#include <unordered_map>

#include "beam.hpp"
#include "keyhour/room/camera_axes.hpp"

namespace keyhour::room {
namespace {

constexpr double degree = std::numbers::pi / 180;
constexpr double root_angle = 4 * degree;
// Steps of the grid: a quarter of a degree is the usual cell; where something hides in one, it is
// cut down as far as a single step, 0.004 degree.
constexpr int unit = 64;
constexpr int root_size = 16 * unit;
constexpr double beyond_reach = 1.5 * degree;  // outlines stay true so far beyond the sun's reach
constexpr double crossing_error = 4e-6;
constexpr double equal = 1e-9;  // 95 % is enough, and so is the whole when 100 % are asked for

struct Domain {
    double x0, x1, y0, y1;
};

/// Where the window's wall is lit: azimuths.
std::pair<double, double> in_front_of(const Room& room, std::size_t window) {
    constexpr double grazing = 0.006 * degree;  // nearer to the wall's plane no light is counted
    const Point2 n = wall_frame(room.floor, room.windows[window].wall).n;
    const double facing = std::atan2(n.x, n.y);
    return {facing - std::numbers::pi / 2 + grazing, facing + std::numbers::pi / 2 - grazing};
}

/// Where besides the key angle is right: spans of azimuth.
std::vector<std::pair<double, double>> azimuth_spans(const Room& room, const RegionRequest& q) {
    const auto [low, high] = in_front_of(room, q.window);
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

/// How finely a value must be looked at.
struct Grain {
    int largest = unit;  ///< cells on an edge, steps of the grid
    int finest = unit;   ///< the same where the value is so near zero that small things count
    double slope = 0;    ///< the value changes by no more than this a radian
    double ridge = 2;    ///< see may_hide
};

/// Cells no larger than this share of a size, seen from a distance.
int cells_for(double size_m, double distance_m) {
    const double steps = 0.8 * size_m / std::max(0.3, distance_m) * (root_size / root_angle);
    int cells = 4 * unit;
    while (cells > unit / 16 && cells > steps)
        cells /= 2;
    return cells;
}

double distance(Point3 a, Point3 b) {
    return std::sqrt(dot(a - b, a - b));
}

/// To the farthest that stands outside, its top counted.
double farthest_outside(const Room& room, Point3 from) {
    double most = 0;
    const auto see = [&](const Ring& ring, double top) {
        for (const Point2 p : ring)
            most = std::max(most, distance(from, {p.x, p.y, top}));
    };
    for (const Building& building : room.buildings)
        see(building.footprint, building.height_m);
    see(room.floor, room.height_m);
    return most;
}

/// Is enough of the mark's silhouette lit, and the sun out of the frame?
class MarkQuestion {
public:
    MarkQuestion(const Scene& scene, const RegionRequest& request) : scene_{scene}, q_{request} {
        if (q_.camera) {
            axes_ = axes(scene.room(), *q_.camera);
            half_across_ = tan(q_.camera->view / 2);
            half_up_ = tan(q_.camera->view_vertical / 2);
        }
        const Mark& mark = scene.room().marks[q_.mark];
        const Window& window = scene.room().windows[q_.window];
        const Point3 centre{mark.at.x, mark.at.y, mark.height_m};
        const double half = mark.box_m
                                ? *std::min_element(mark.box_m->begin(), mark.box_m->end()) / 2
                                : mark.radius_m;
        double farthest = 0;
        for (const Point3 corner : scene.corners(q_.window))
            farthest = std::max(farthest, distance(corner, centre));
        const double near = distance(scene.middle(q_.window), centre);
        const bool has_bars = window.bars.upright + window.bars.level > 0;
        const double finest = has_bars ? std::min(half, 2 * window.bars.width_m) : half;
        edge_ = {cells_for(half, near), cells_for(finest, near),
                 slope(half, farthest + window.reveal_m)};
        const double outside = farthest_outside(scene.room(), centre);
        outside_ = {cells_for(half, outside), cells_for(half, outside), slope(half, outside)};
        outside_.largest = std::min(outside_.largest, unit);
        outside_.finest = std::min(outside_.finest, edge_.finest);
        // Wholly lit or not: flat on the one side, and on the other not made of planes.
        if (q_.coverage > most_partly) {
            edge_.slope = outside_.slope = 1e9;
            edge_.ridge = outside_.ridge = 4;
        }
    }
    /// Positive where the direction is good.
    [[nodiscard]] double value(Point3 sun) const {
        double lit = scene_.coverage(q_.mark, q_.window, sun) - q_.coverage + equal;
        // Of a mark that must be lit wholly, what a disc loses to an edge grows with the 1.5th
        // power of the depth.
        if (q_.coverage > most_partly && lit <= 0) lit = -std::pow(-lit, 2.0 / 3);
        if (q_.camera) lit = std::min(lit, outside_frame(sun));
        return lit > 0 && q_.spoils && q_.spoils(sun) ? -1 : lit;
    }
    /// Positive out of the camera's frame, in tangents of angles off the lens axis.
    [[nodiscard]] double outside_frame(Point3 sun) const noexcept {
        const double forward = dot(sun, axes_.forward);
        if (forward <= 1e-3) return 1;
        return std::max(std::abs(dot(sun, axes_.right)) / forward - half_across_,
                        std::abs(dot(sun, axes_.up)) / forward - half_up_);
    }
    [[nodiscard]] Touch touch(Point3 sun) const noexcept {
        return scene_.touch(q_.mark, q_.window, sun, q_.coverage);
    }
    [[nodiscard]] bool is_lit_between(std::span<const Point3>) const noexcept { return false; }
    [[nodiscard]] const Grain& grain(bool nears_outside) const noexcept {
        return nears_outside ? outside_ : edge_;
    }
    [[nodiscard]] double most() const noexcept { return 1; }
    [[nodiscard]] bool may_be_spoilt() const noexcept { return q_.camera || q_.spoils; }
    [[nodiscard]] bool is_spoilt_in_parts() const noexcept { return q_.spoils != nullptr; }
    [[nodiscard]] bool is_spoilt(Point3 sun) const {
        return (q_.camera && outside_frame(sun) <= 0) || (q_.spoils && q_.spoils(sun));
    }

private:
    static constexpr double most_partly = 0.9999;

    /// What moves past a silhouette takes no more than its width; a plane's outline moves as one,
    /// and planes farther off by what they are farther. The silhouette itself turns, too.
    [[nodiscard]] static double slope(double half_m, double distance_m) {
        return 0.64 * 1.2 * distance_m / half_m + 3;
    }

    const Scene& scene_;
    const RegionRequest& q_;
    CameraAxes axes_;
    double half_across_ = 0, half_up_ = 0;
    Grain edge_, outside_;
};

/// Does any sun come in?
class WindowQuestion {
public:
    WindowQuestion(const Scene& scene, std::size_t window, double least_m2)
        : scene_{scene}, window_{window}, least_m2_{least_m2} {
        const Window& w = scene.room().windows[window];
        const double small = std::min(w.width_m, w.height_m);
        const double large = std::max(w.width_m, w.height_m);
        const double outside = farthest_outside(scene.room(), scene.middle(window));
        edge_ = {4 * unit, 4 * unit, large * (w.reveal_m + large) * 2};
        outside_ = {std::min(unit, cells_for(small / 2, outside)), unit, large * outside * 2};
        outside_.finest = outside_.largest;
    }
    [[nodiscard]] double value(Point3 sun) const {
        return scene_.open_area(window_, sun) - least_m2_;
    }
    [[nodiscard]] Touch touch(Point3 sun) const noexcept {
        return scene_.touch(no_mark, window_, sun, 1);
    }
    /// Also where shadows take a part of the opening each, one here and one there.
    [[nodiscard]] bool is_lit_between(std::span<const Point3> suns) const noexcept {
        return lights_a_spot(scene_, window_, suns);
    }
    [[nodiscard]] const Grain& grain(bool nears_outside) const noexcept {
        return nears_outside ? outside_ : edge_;
    }
    [[nodiscard]] double most() const noexcept { return 1; }
    [[nodiscard]] bool may_be_spoilt() const noexcept { return false; }
    [[nodiscard]] bool is_spoilt_in_parts() const noexcept { return false; }
    [[nodiscard]] bool is_spoilt(Point3) const noexcept { return false; }

private:
    const Scene& scene_;
    std::size_t window_;
    double least_m2_;
    Grain edge_, outside_;
};

/// Traces the outline in one rectangle of azimuth and altitude.
/// @tparam Question  see MarkQuestion
template <class Question>
class Tracer {
public:
    Tracer(const Question& question, const RegionBounds& bounds, const Domain& domain)
        : question_{question}, bounds_{bounds}, domain_{domain} {
        const auto cells = [](double span) {
            return std::max(1, static_cast<int>(std::ceil(span / root_angle)));
        };
        nx_ = cells(domain.x1 - domain.x0) * root_size;
        ny_ = cells(domain.y1 - domain.y0) * root_size;
        step_x_ = (domain.x1 - domain.x0) / nx_;
        step_y_ = (domain.y1 - domain.y0) / ny_;
        columns_.resize(static_cast<std::size_t>(2 * nx_ / unit + 1));
        rows_.resize(static_cast<std::size_t>(2 * ny_ / unit + 1));
        blocks_across_ = (ny_ / unit + 3) / block_size + 1;
        block_of_.assign(
            static_cast<std::size_t>(((nx_ / unit + 3) / block_size + 1) * blocks_across_), -1);
    }

    void trace(std::vector<DirectionRing>& out) {
        for (int i = 0; i < nx_; i += root_size)
            for (int j = 0; j < ny_; j += root_size)
                divide({i, j, root_size, root_size, {}});
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
        std::array<int, 4> nodes{};  ///< ids, counter-clockwise from the lower left
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
        bool is_true = true;           // on the region's own outline, not where it was cut off
        bool leads_along_rim = false;  // to the next, where the rectangle cuts the region off
    };

    struct Place {
        int i, j;
    };
    [[nodiscard]] static bool is_coarse(Place p) { return p.i % unit == 0 && p.j % unit == 0; }
    [[nodiscard]] static std::uint64_t key_of(Place p) {
        return static_cast<std::uint64_t>(p.i) << 32 | static_cast<std::uint32_t>(p.j);
    }
    /// The id of the node at a place. The grid's blocks are made where one is asked for: most of it
    /// lies in the dark, in cells of the largest size. Places between are few.
    [[nodiscard]] int& id_at(Place p) {
        if (!is_coarse(p)) return fine_ids_.try_emplace(key_of(p), -1).first->second;
        const int i = p.i / unit + 1, j = p.j / unit + 1;
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
        if (!is_coarse(p)) {
            if (fine_ids_.empty()) return -1;
            const auto found = fine_ids_.find(key_of(p));
            return found == fine_ids_.end() ? -1 : found->second;
        }
        const int i = p.i / unit + 1, j = p.j / unit + 1;
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
    static Wave wave(std::vector<Wave>& waves, int steps, double from, double step) {
        const auto make = [&] {
            const double angle = from + steps * step;
            return Wave{std::sin(angle), std::cos(angle), true};
        };
        constexpr int half = unit / 2;
        if (steps % half != 0) return make();
        Wave& w = waves[static_cast<std::size_t>(steps / half)];
        if (!w.is_known) w = make();
        return w;
    }
    [[nodiscard]] Point3 towards(Place p) {
        const Wave azimuth = wave(columns_, p.i, domain_.x0, step_x_);
        const Wave altitude = wave(rows_, p.j, domain_.y0, step_y_);
        return {altitude.cosine * azimuth.sine, altitude.cosine * azimuth.cosine, altitude.sine};
    }

    [[nodiscard]] double value(PlanDirection d) const { return question_.value(towards(d)); }

    int node(Place p) {
        int& id = id_at(p);
        if (id >= 0) return id;
        id = static_cast<int>(nodes_.size());
        Node n;
        const Point3 sun = towards(p);
        n.touch = question_.touch(sun);
        n.may_come = bounds_.may_come(sun, beyond_reach);
        nodes_.push_back(n);
        return id;
    }
    [[nodiscard]] Node& node_at(int id) { return nodes_[static_cast<std::size_t>(id)]; }

    double exact(int id, Place p) {
        Node& n = node_at(id);
        if (n.known == Known::exact || n.known == Known::excluded) return n.value;
        n.known = n.may_come ? Known::exact : Known::excluded;
        n.value = n.may_come ? question_.value(towards(p)) : -1;
        return n.value;
    }
    void assume(int id, double value) {
        Node& n = node_at(id);
        if (n.known != Known::nothing) return;
        n.known = Known::assumed;
        n.value = value;
    }
    void assume(const Cell& c, double value) {
        for (const int id : c.nodes)
            assume(id, value);
        if (bulges(c)) assume(node(foot(c)), value);
        cells_.push_back(c);
    }
    [[nodiscard]] static std::array<Place, 4> corners(const Cell& c) {
        return {{{c.i, c.j}, {c.i + c.w, c.j}, {c.i + c.w, c.j + c.h}, {c.i, c.j + c.h}}};
    }
    /// The lower side, level, bulges out of the plane through its ends; in a large cell by more
    /// than may be left out, so its middle is judged with the corners.
    [[nodiscard]] static bool bulges(const Cell& c) { return c.w > 4 * unit && c.w == c.h; }
    [[nodiscard]] static Place foot(const Cell& c) { return {c.i + c.w / 2, c.j}; }
    [[nodiscard]] static Place middle_of(const Cell& c) { return {c.i + c.w / 2, c.j + c.h / 2}; }

    void split(const Cell& c) {
        const int w = c.w / 2, h = c.h / 2;
        divide({c.i, c.j, w, h, {}});
        divide({c.i + w, c.j, w, h, {}});
        divide({c.i, c.j + h, w, h, {}});
        divide({c.i + w, c.j + h, w, h, {}});
    }

    void divide(Cell c) {
        const double half_diagonal = 0.5 * size_of(c.w * step_x_, c.h * step_y_);
        // Nodes on its sides are excluded, so that no outline enters it.
        if (!bounds_.may_come(towards(middle_of(c)), half_diagonal + beyond_reach)) return;
        Touch all = Touch::everything();
        bool reached = true;
        const auto see = [&](int id) {
            const Node& n = node_at(id);
            all = all.and_also(n.touch);
            reached = reached && n.may_come;
        };
        const auto at = corners(c);
        for (std::size_t k = 0; k < 4; ++k)
            see(c.nodes[k] = node(at[k]));
        if (bulges(c)) see(node(foot(c)));
        if (all.is_dark()) return assume(c, -question_.most());
        if (all.is_lit() && reached && !may_be_spoilt(c)) {
            any_lit_ = true;
            return assume(c, question_.most());
        }
        const Grain& grain = question_.grain(all.nears_outside());
        if (c.w > grain.largest)
            return is_lit_between(c, reached) ? assume(c, question_.most()) : split(c);
        for (std::size_t k = 0; k < 4; ++k)
            any_lit_ = exact(c.nodes[k], at[k]) > 0 || any_lit_;
        if (c.w > 1 && reached && hides_something(c, grain, half_diagonal)) return split(c);
        cells_.push_back(c);
    }

    [[nodiscard]] bool is_lit_between(const Cell& c, bool reached) {
        if (!reached || may_be_spoilt(c)) return false;
        std::array<Point3, 5> suns;
        const auto at = corners(c);
        std::ranges::transform(at, suns.begin(), [&](Place p) { return towards(p); });
        suns[4] = towards(foot(c));
        if (!question_.is_lit_between(std::span{suns}.first(bulges(c) ? 5 : 4))) return false;
        any_lit_ = true;
        return true;
    }

    [[nodiscard]] bool may_be_spoilt(const Cell& c) {
        if (!question_.may_be_spoilt()) return false;
        for (const int i : {0, 1, 2})
            for (const int j : {0, 1, 2})
                if (question_.is_spoilt(towards(Place{c.i + i * c.w / 2, c.j + j * c.h / 2})))
                    return true;
        return question_.is_spoilt_in_parts() && c.w > unit;
    }

    /// Four corners and the middle, or two ends and the middle: may the value change its sign
    /// between? Where it is made of planes, a ridge rises above the highest of them by no more than
    /// twice what the middle stands above the mean.
    /// @param ridge  how many times
    [[nodiscard]] static bool may_hide(double least, double most, double mean, double middle,
                                       double ridge) {
        return most <= 0 ? std::max(most, middle) + ridge * std::max(0.0, middle - mean) > 0
                         : std::min(least, middle) - ridge * std::max(0.0, mean - middle) <= 0;
    }

    /// May the value change its sign within a cell whose corners agree, or twice on one side?
    bool hides_something(const Cell& c, const Grain& grain, double half_diagonal) {
        double v[4], least = 1e9, most = -1e9, sum = 0;
        const auto at = corners(c);
        for (std::size_t k = 0; k < 4; ++k) {
            v[k] = node_at(c.nodes[k]).value;
            least = std::min(least, v[k]);
            most = std::max(most, v[k]);
            sum += v[k] / 4;
        }
        if (least > 0 || most <= 0) {
            if (std::max(least, -most) > grain.slope * half_diagonal) return false;
            if (least > 0 && question_.is_spoilt_in_parts() && c.w > unit) return true;
            if (c.w > grain.finest) return true;
            return may_hide(least, most, sum, question_.value(towards(middle_of(c))), grain.ridge);
        }
        for (std::size_t k = 0; k < 4; ++k) {
            const double a = v[k], b = v[(k + 1) % 4];
            if ((a > 0) != (b > 0)) continue;
            if (std::min(std::abs(a), std::abs(b)) > grain.slope * half_diagonal) continue;
            const Place p = at[k], q = at[(k + 1) % 4];
            const double middle = question_.value(towards(Place{(p.i + q.i) / 2, (p.j + q.j) / 2}));
            if (may_hide(std::min(a, b), std::max(a, b), (a + b) / 2, middle, grain.ridge))
                return true;
        }
        return false;
    }

    /// A rim of excluded nodes round the rectangle closes the outlines on its sides.
    void add_rim() {
        const auto exclude = [&](Place p) {
            int& id = id_at(p);
            if (id >= 0) return;
            id = static_cast<int>(nodes_.size());
            Node n;
            n.known = Known::excluded;
            n.value = -1;
            nodes_.push_back(n);
        };
        const auto add = [&](Cell c) {
            const auto at = corners(c);
            for (std::size_t k = 0; k < 4; ++k) {
                exclude(at[k]);
                c.nodes[k] = known_id(at[k]);
            }
            cells_.push_back(c);
        };
        for (int i = 0; i < nx_; i += root_size) {
            add({i, -unit, root_size, unit, {}});
            add({i, ny_, root_size, unit, {}});
        }
        for (int j = 0; j < ny_; j += root_size) {
            add({-unit, j, unit, root_size, {}});
            add({nx_, j, unit, root_size, {}});
        }
        for (const int i : {-unit, nx_})
            for (const int j : {-unit, ny_})
                add({i, j, unit, unit, {}});
    }

    [[nodiscard]] bool is_in_domain(Place p) const {
        return p.i >= 0 && p.j >= 0 && p.i <= nx_ && p.j <= ny_;
    }

    /// The crossing between two neighbouring nodes of unlike sign.
    int crossing(Place in, Place out) {
        const auto a = static_cast<std::uint64_t>(known_id(in));
        const auto b = static_cast<std::uint64_t>(known_id(out));
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

    /// Adds the nodes between two on a cell's side: cells are halved, so a side without a middle
    /// has none.
    void add_between(Place p, Place q) {
        const Place middle{p.i + (q.i - p.i) / 2, p.j + (q.j - p.j) / 2};
        if ((middle.i == p.i && middle.j == p.j) || (middle.i == q.i && middle.j == q.j)) return;
        const int id = known_id(middle);
        if (id < 0) return;
        add_between(p, middle);
        border_.push_back({middle, node_at(id).value > 0});
        add_between(middle, q);
    }

    /// Joins the crossings on a cell's sides: the region to the left.
    void march(const Cell& c) {
        border_.clear();
        const auto at = corners(c);
        for (std::size_t k = 0; k < 4; ++k) {
            border_.push_back({at[k], node_at(c.nodes[k]).value > 0});
            add_between(at[k], at[(k + 1) % 4]);
        }
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
        const bool is_rim = !is_in_domain({c.i, c.j}) || !is_in_domain({c.i + c.w, c.j + c.h});
        const bool is_joined =
            n > 1 && !is_rim && value(this->at(c.i + c.w / 2.0, c.j + c.h / 2.0)) > 0;
        for (std::size_t k = 0; k < n; ++k) {
            Crossing& out = crossings_[static_cast<std::size_t>(outs_[k])];
            out.next = ins_[is_joined ? (k + 1) % n : k];
            out.leads_along_rim = is_rim;
        }
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
                if (from.is_true && to.is_true && !from.leads_along_rim)
                    refine(from.at, to.at, 0, ring);
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

    const Question& question_;
    const RegionBounds& bounds_;
    Domain domain_;
    int nx_ = 0, ny_ = 0;
    double step_x_ = 0, step_y_ = 0;
    bool any_lit_ = false;
    std::vector<Wave> columns_, rows_;
    std::vector<int> block_of_;  // of each square of the grid; -1: none
    int blocks_across_ = 0;
    std::vector<std::array<int, block_size * block_size>> blocks_;  // ids of nodes; -1: none
    std::unordered_map<std::uint64_t, int> fine_ids_;
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

/// Can light get from the window to as much of the mark as is wanted? To more than half of it only
/// with a straight line to its centre; to a little of it round a corner of the walls.
bool may_be_covered(const Scene& scene, const RegionRequest& request) {
    if (request.coverage > 0.5) return scene.faces(request.window, request.mark);
    const Room& room = scene.room();
    const Mark& mark = room.marks[request.mark];
    const WallFrame wall = wall_frame(room.floor, room.windows[request.window].wall);
    return dot(mark.at - wall.left_corner, wall.n) < half_size(mark);
}

}  // namespace

std::vector<DirectionRing> covered_region(const Scene& scene, const RegionRequest& request) {
    std::vector<DirectionRing> out;
    if (!may_be_covered(scene, request)) return out;
    const MarkQuestion question{scene, request};
    for (const auto& [x0, x1] : azimuth_spans(scene.room(), request))
        Tracer{question, request.bounds, {x0, x1, request.bounds.lowest, request.bounds.highest}}
            .trace(out);
    return out;
}

std::vector<DirectionRing> sunlit_region(const Scene& scene, std::size_t window, double least_m2,
                                         const RegionBounds& bounds) {
    std::vector<DirectionRing> out;
    const WindowQuestion question{scene, window, least_m2};
    const auto [x0, x1] = in_front_of(scene.room(), window);
    Tracer{question, bounds, {x0, x1, bounds.lowest, bounds.highest}}.trace(out);
    return out;
}

}  // namespace keyhour::room
