#pragma once
/// @file
/// Traces the outline of a region of directions, whatever makes a direction good.

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <numeric>
#include <span>
#include <unordered_map>

#include "keyhour/room/direction_region.hpp"
#include "region_grid.hpp"

namespace keyhour::room {

/// Traces the outline in one rectangle of azimuth and altitude.
/// @tparam Question  see MarkQuestion
template <class Question>
class Tracer {
public:
    Tracer(const Question& question, const RegionBounds& bounds, const Domain& domain)
        : question_{question},
          bounds_{bounds},
          domain_{domain},
          nx_{steps_in(domain.x1 - domain.x0)},
          ny_{steps_in(domain.y1 - domain.y0)},
          step_x_{(domain.x1 - domain.x0) / nx_},
          step_y_{(domain.y1 - domain.y0) / ny_} {
        columns_.resize(static_cast<std::size_t>(2 * nx_ / coarse + 1));
        rows_.resize(static_cast<std::size_t>(2 * ny_ / coarse + 1));
        blocks_across_ = (ny_ / coarse + 3) / block_size + 1;
        block_of_.assign(
            static_cast<std::size_t>(((nx_ / coarse + 3) / block_size + 1) * blocks_across_), none);
    }

    void trace(std::vector<DirectionRing>& out) {
        for (int i = 0; i < nx_; i += root_size)
            for (int j = 0; j < ny_; j += root_size)
                divide({i, j, root_size, root_size, {}});
        add_rim();
        for (const Cell& cell : cells_)
            march(cell);
        collect(out);
    }

private:
    static constexpr int block_size = 4;
    static constexpr int none = -1;          // of ids
    static constexpr double wholly_lit = 1;  // the most that a value can be
    struct Cell {
        int i, j, w, h;
        std::array<int, 4> nodes{};  ///< ids, counter-clockwise from the lower left
    };
    enum class Known : std::uint8_t { nothing, assumed, exact, excluded };
    struct Node {
        double value = 0;
        Known known = Known::nothing;
        Touch touch;
    };
    struct Crossing {
        PlanDirection at;
        int next = none;
        bool is_true = true;           // on the region's own outline, not where it was cut off
        bool leads_along_rim = false;  // to the next, where the rectangle cuts the region off
    };

    struct Place {
        int i, j;
    };
    [[nodiscard]] static int steps_in(double span) {
        return std::max(1, static_cast<int>(std::ceil(span / root_angle))) * root_size;
    }
    [[nodiscard]] static bool is_coarse(Place p) { return p.i % coarse == 0 && p.j % coarse == 0; }
    [[nodiscard]] static std::uint64_t key_of(Place p) {
        return static_cast<std::uint64_t>(p.i) << 32 | static_cast<std::uint32_t>(p.j);
    }
    /// The id of the node at a place. The grid's blocks are made where one is asked for: most of it
    /// lies in the dark, in cells of the largest size. Places between are few.
    [[nodiscard]] int& id_at(Place p) {
        if (!is_coarse(p)) return fine_ids_.try_emplace(key_of(p), none).first->second;
        const int i = p.i / coarse + 1, j = p.j / coarse + 1;
        int& block =
            block_of_[static_cast<std::size_t>(i / block_size * blocks_across_ + j / block_size)];
        if (block == none) {
            block = static_cast<int>(blocks_.size());
            blocks_.emplace_back().fill(none);
        }
        return blocks_[static_cast<std::size_t>(block)]
                      [static_cast<std::size_t>(i % block_size * block_size + j % block_size)];
    }
    /// The same, without making anything.
    [[nodiscard]] int known_id(Place p) const {
        if (!is_coarse(p)) {
            const auto found = fine_ids_.find(key_of(p));
            return found == fine_ids_.end() ? none : found->second;
        }
        const int i = p.i / coarse + 1, j = p.j / coarse + 1;
        const int block =
            block_of_[static_cast<std::size_t>(i / block_size * blocks_across_ + j / block_size)];
        if (block == none) return none;
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
        constexpr int half = coarse / 2;
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

    static void exclude(Node& n) {
        n.known = Known::excluded;
        n.value = -wholly_lit;
    }
    int node(Place p) {
        int& id = id_at(p);
        if (id != none) return id;
        id = static_cast<int>(nodes_.size());
        Node n;
        const Point3 sun = towards(p);
        n.touch = question_.touch(sun);
        if (!bounds_.may_come(sun, beyond_reach)) exclude(n);
        nodes_.push_back(n);
        return id;
    }
    [[nodiscard]] Node& node_at(int id) { return nodes_[static_cast<std::size_t>(id)]; }

    void find_value(int id, Place p) {
        Node& n = node_at(id);
        if (n.known == Known::exact || n.known == Known::excluded) return;
        n.known = Known::exact;
        n.value = question_.value(towards(p));
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
    [[nodiscard]] static bool bulges(const Cell& c) { return c.w > 4 * coarse && c.w == c.h; }
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
            reached = reached && n.known != Known::excluded;
        };
        const auto at = corners(c);
        for (std::size_t k = 0; k < 4; ++k)
            see(c.nodes[k] = node(at[k]));
        if (bulges(c)) see(node(foot(c)));
        if (all.is_dark()) return assume(c, -wholly_lit);
        if (all.is_lit() && reached && !may_be_spoilt(c)) return assume(c, wholly_lit);
        const Grain& grain = question_.grain(all.nears_outside());
        if (c.w > grain.largest)
            return is_lit_between(c, reached) ? assume(c, wholly_lit) : split(c);
        for (std::size_t k = 0; k < 4; ++k)
            find_value(c.nodes[k], at[k]);
        if (c.w > 1 && reached && hides_something(c, grain, half_diagonal)) return split(c);
        cells_.push_back(c);
    }

    /// For questions that nothing spoils.
    [[nodiscard]] bool is_lit_between(const Cell& c, bool reached) {
        if (!reached) return false;
        std::array<Point3, 5> suns;
        const auto at = corners(c);
        std::ranges::transform(at, suns.begin(), [&](Place p) { return towards(p); });
        suns[4] = towards(foot(c));
        return question_.is_lit_between(suns);
    }

    [[nodiscard]] bool may_be_spoilt(const Cell& c) {
        if (!question_.may_be_spoilt()) return false;
        for (const int i : {0, 1, 2})
            for (const int j : {0, 1, 2})
                if (question_.is_spoilt(towards(Place{c.i + i * c.w / 2, c.j + j * c.h / 2})))
                    return true;
        return question_.is_spoilt_in_parts() && c.w > coarse;
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
        std::array<double, 4> v;
        const auto at = corners(c);
        for (std::size_t k = 0; k < 4; ++k) {
            v[k] = node_at(c.nodes[k]).value;
        }
        const auto [least, most] = std::ranges::minmax(v);
        if (least > 0 || most <= 0) {
            // What spoils is a yes or no: no value near zero announces it.
            if (least > 0 && question_.is_spoilt_in_parts() && c.w > coarse) return true;
            if (std::max(least, -most) > grain.slope * half_diagonal) return false;
            if (c.w > grain.finest) return true;
            return may_hide(least, most, std::accumulate(v.begin(), v.end(), 0.0) / 4,
                            question_.value(towards(middle_of(c))), grain.ridge);
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
        const auto add_node = [&](Place p) {
            int& id = id_at(p);
            if (id != none) return;
            id = static_cast<int>(nodes_.size());
            exclude(nodes_.emplace_back());
        };
        const auto add = [&](Cell c) {
            const auto at = corners(c);
            for (std::size_t k = 0; k < 4; ++k) {
                add_node(at[k]);
                c.nodes[k] = known_id(at[k]);
            }
            cells_.push_back(c);
        };
        for (int i = 0; i < nx_; i += root_size) {
            add({i, -coarse, root_size, coarse, {}});
            add({i, ny_, root_size, coarse, {}});
        }
        for (int j = 0; j < ny_; j += root_size) {
            add({-coarse, j, coarse, root_size, {}});
            add({nx_, j, coarse, root_size, {}});
        }
        for (const int i : {-coarse, nx_})
            for (const int j : {-coarse, ny_})
                add({i, j, coarse, coarse, {}});
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
            if (ni.known == Known::excluded || no.known == Known::excluded) {
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
        if (id == none) return;
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
                if (from.next == none) break;
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
        if (near == 0 && f_near / (f_near - f_far) * far < chord_error) return;
        const PlanDirection on = here > 0 ? root(off(near), f_near, off(far), f_far)
                                          : root(off(-far), f_far, off(-near), f_near);
        refine(p, on, depth + 1, ring);
        ring.push_back(on);
        refine(on, r, depth + 1, ring);
    }

    const Question& question_;
    const RegionBounds& bounds_;
    Domain domain_;
    int nx_, ny_;
    double step_x_, step_y_;
    std::vector<Wave> columns_, rows_;
    std::vector<int> block_of_;  // of each square of the grid
    int blocks_across_ = 0;
    std::vector<std::array<int, block_size * block_size>> blocks_;  // ids of nodes
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

}  // namespace keyhour::room
