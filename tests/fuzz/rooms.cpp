// Rooms made of bytes: patches, coverages and the day's keys against plain rays. Where a ray and
// its neighbours agree, so must the program.

#include <array>
#include <cmath>
#include <cstdio>
#include <numbers>
#include <utility>
#include <vector>

#include "byte_room.hpp"
#include "keyhour/room/scene.hpp"
#include "keyhour/study/clean_key.hpp"
#include "support/face.hpp"
#include "support/plain_rays.hpp"

using namespace keyhour;
using namespace keyhour::test;

namespace {

constexpr double degree = std::numbers::pi / 180;

[[noreturn]] void fail(const char* what, double here, double rays) {
    std::fprintf(stderr, "%s: %.6f, by rays %.6f\n", what, here, rays);
    __builtin_trap();
}

/// A sun before one of the windows, neither grazing its wall nor the floor.
Point3 byte_sun(Bytes& bytes, const Room& r) {
    const Point2 n = room::wall_frame(r.floor, r.windows[bytes.below(r.windows.size())].wall).n;
    const double aside = bytes.between(-80, 80), height = bytes.between(1, 75);
    return direction(std::atan2(n.y, n.x) + aside * degree, height * degree);
}

bool is_of(const Face& face, const room::Surface& surface) {
    using Kind = room::Surface::Kind;
    if (face.part == Part::floor) return surface.kind == Kind::floor;
    const Kind kind = face.part == Part::wall ? Kind::wall : Kind::object;
    return surface.kind == kind && surface.index == face.index;
}

class PatchJudge {
public:
    PatchJudge(const Room& r, const PlainRays& rays, std::size_t window, Point3 sun,
               const std::vector<room::Patch>& patches)
        : room_{r}, rays_{rays}, window_{window}, sun_{sun}, faces_{faces_of(r)} {
        rings_.resize(faces_.size());
        for (const room::Patch& patch : patches)
            for (const auto& outline : patch.outlines)
                for (std::size_t i = 0; i < faces_.size(); ++i)
                    if (is_of(faces_[i], patch.surface) && off_plane(faces_[i], outline) < 1e-5)
                        rings_[i].push_back(flattened(faces_[i], outline));
    }

    /// Where light through points of the opening lands, and points beside it.
    void operator()(Bytes& bytes) const {
        for (int k = 0; k < 24; ++k) {
            const double across = bytes.unit(), up = bytes.unit();
            const Point3 p =
                in_the_beam(room_, room_.windows[window_], sun_, 1.2 * across - 0.1, up, 0);
            for (std::size_t i = 0; i < faces_.size(); ++i)
                look(i, p);
        }
    }

private:
    /// The point of a face where the light through p would land, if nothing stood between.
    void look(std::size_t i, Point3 p) const {
        const Face& face = faces_[i];
        const double cosine = dot(face.normal, sun_), height = face.height_over(p);
        if (face.against_a_wall || cosine < 0.02 || height <= 0) return;
        const Point2 at = face.flat(p - (height / cosine) * sun_);
        if (!inside({face.outline}, at) || distance_to_edges({face.outline}, at) < 2 * near_m)
            return;
        const bool here = inside(rings_[i], at), by_ray = lit(face, at);
        if (here == by_ray) return;
        // A patch below 1 cm2 is left out, and an edge may be a hair off.
        const double reach = by_ray ? 0.012 : near_m;
        for (int k = 0; k < 16; ++k) {
            const double turn = k * std::numbers::pi / 8, far = k % 2 == 0 ? reach : near_m;
            const Point2 beside = at + Point2{far * std::cos(turn), far * std::sin(turn)};
            if (!inside({face.outline}, beside) || lit(face, beside) != by_ray) return;
        }
        fail("lit", here, by_ray);
    }

    bool lit(const Face& face, Point2 at) const {
        return rays_.lit(face.at(at) + 1e-7 * face.normal, window_, sun_);
    }

    static constexpr double near_m = 3e-5;
    const Room& room_;
    const PlainRays& rays_;
    std::size_t window_;
    Point3 sun_;
    std::vector<Face> faces_;
    std::vector<std::vector<Ring>> rings_;
};

/// A share by counting, and how far off that count may be.
struct Share {
    double value = 0, doubt = 0;
};

/// One ray at each corner of `cells` x `cells`: a cell whose corners differ is half known.
template <class IsLit>
Share counted(std::size_t cells, const IsLit& is_lit) {
    const double n = static_cast<double>(cells);
    std::vector<int> row(cells + 1), before(cells + 1);
    const auto place = [n](std::size_t i) {
        return 1e-4 + (1 - 2e-4) * static_cast<double>(i) / n;
    };
    Share share;
    for (std::size_t i = 0; i <= cells; ++i) {
        std::swap(row, before);
        for (std::size_t k = 0; k <= cells; ++k)
            row[k] = is_lit(place(i), place(k)) ? 1 : 0;
        for (std::size_t k = 0; i > 0 && k < cells; ++k) {
            const int lit = row[k] + row[k + 1] + before[k] + before[k + 1];
            share.value += lit / (4 * n * n);
            if (lit % 4 != 0) share.doubt += 0.75 / (n * n);
        }
    }
    return share;
}

Share sphere_share(const PlainRays& rays, const Mark& m, std::size_t window, Point3 sun,
                   std::size_t cells) {
    const double level = std::hypot(sun.x, sun.y);
    const Point3 across{-sun.y / level, sun.x / level, 0};
    const Point3 up{-sun.x * sun.z / level, -sun.y * sun.z / level, level};
    return counted(cells, [&](double a, double b) {
        const double r = m.radius_m * std::sqrt(a), turn = 2 * std::numbers::pi * b;
        return rays.lit(Point3{m.at.x, m.at.y, m.height_m} + r * std::cos(turn) * across +
                            r * std::sin(turn) * up +
                            std::sqrt(m.radius_m * m.radius_m - r * r) * sun,
                        window, sun);
    });
}

Share box_share(const PlainRays& rays, const Mark& m, std::size_t window, Point3 sun,
                std::size_t cells) {
    const std::array<Point3, 3> axes{Point3{1, 0, 0}, Point3{0, 1, 0}, Point3{0, 0, 1}};
    Share all;
    double whole = 0;
    for (std::size_t i = 0; i < 3; ++i) {
        const std::size_t j = (i + 1) % 3, k = (i + 2) % 3;
        const double towards = dot(axes[i], sun);
        const double seen = (*m.box_m)[j] * (*m.box_m)[k] * std::abs(towards);
        const Point3 middle = Point3{m.at.x, m.at.y, m.height_m} +
                              (towards > 0 ? 0.5 : -0.5) * (*m.box_m)[i] * axes[i];
        const Share one = counted(cells, [&](double a, double b) {
            return rays.lit(
                middle + (a - 0.5) * (*m.box_m)[j] * axes[j] + (b - 0.5) * (*m.box_m)[k] * axes[k],
                window, sun);
        });
        all.value += seen * one.value, all.doubt += seen * one.doubt, whole += seen;
    }
    return {all.value / whole, all.doubt / whole};
}

/// Beside what a cell leaves open: a bar's shadow or a corner that lies between all rays.
constexpr double between_rays = 0.03;
constexpr std::size_t usual_cells = 20;
/// Where few rays disagree with the program many are asked: the light between two bars may have
/// fallen between those.
constexpr std::size_t many_cells = 200;

Share share_of(const PlainRays& rays, const Mark& m, std::size_t window, Point3 sun,
               std::size_t cells = usual_cells) {
    Share s = m.box_m ? box_share(rays, m, window, sun, cells)
                      : sphere_share(rays, m, window, sun, cells);
    s.doubt += between_rays * static_cast<double>(usual_cells) / static_cast<double>(cells);
    return s;
}

/// Minutes of one date: where rays cover the mark well there is an interval, and where they do not
/// there is none.
void judge_keys(Bytes& bytes, const Room& r, const PlainRays& rays) {
    site::Location l;
    l.site.name = "of bytes";
    l.site.observer = {Angle::degrees(bytes.between(-65, 65)), {}, 0};
    l.room = r;
    const Instant from = Instant::from_unix_s(
        1767225600 + 86400.0 * static_cast<double>(bytes.below(250)));  // of 2026
    const Instant to = from + Seconds{86400};
    const study::RoomStudy study{
        l, study::SharedTrack::make(from - Seconds{86400}, to + Seconds{86400})};
    study::KeySettings settings;
    settings.coverage = bytes.between(0.1, 0.95);
    settings.altitude_deg[0] = 1;
    settings.altitude_deg[1] = 85;
    const auto keys = study::clean_key(study, from - Seconds{3600}, to + Seconds{3600}, settings);
    const auto share = [&](std::size_t mark, std::size_t window, Instant t,
                           std::size_t cells = usual_cells) {
        return share_of(rays, r.marks[mark], window, study.sun(study.path().at(t)), cells);
    };
    /// Of many rays, while a verdict against the program stands.
    const auto is_less = [&](std::size_t mark, std::size_t window, Instant t) {
        for (const std::size_t cells : {usual_cells, many_cells}) {
            const Share s = share(mark, window, t, cells);
            if (s.value + s.doubt >= settings.coverage) return false;
        }
        return true;
    };
    const auto is_more = [&](std::size_t mark, std::size_t window, Instant t) {
        for (const std::size_t cells : {usual_cells, many_cells}) {
            const Share s = share(mark, window, t, cells);
            if (s.value - s.doubt < settings.coverage) return false;
        }
        return true;
    };
    for (int k = 0; k < 12; ++k) {
        // Half of them around an interval's ends.
        Instant t = from + Seconds{bytes.between(0, 86400)};
        if (k % 2 == 0 && !keys.empty()) {
            const study::Span& span = keys[bytes.below(keys.size())].possible;
            t = (k % 4 == 0 ? span.from : span.to) + Seconds{bytes.between(-900, 900)};
        }
        const double altitude = std::asin(study.path().at(t).toward.up) / degree;
        if (altitude < 2 || altitude > 84) continue;
        for (std::size_t m = 0; m < r.marks.size(); ++m)
            for (std::size_t w = 0; w < r.windows.size(); ++w) {
                bool in = false, near_end = false;
                for (const study::KeyInterval& key : keys) {
                    if (key.mark != m || key.window != w || !key.span) continue;
                    in = in || (t >= key.span->from && t <= key.span->to);
                    for (const Instant end : {key.span->from, key.span->to})
                        near_end = near_end || std::abs((end - t).count()) < 2;
                }
                if (near_end) continue;
                if (in && is_less(m, w, t)) fail("a key", 1, share(m, w, t, many_cells).value);
                if (in || !is_more(m, w, t)) continue;
                // Intervals below a minute are left out.
                bool long_enough = true;
                for (const double s : {-45.0, -30.0, -15.0, 15.0, 30.0, 45.0})
                    long_enough = long_enough && is_more(m, w, t + Seconds{s});
                if (long_enough) fail("no key", 0, share(m, w, t, many_cells).value);
            }
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t n) {
    Bytes bytes{{data, n}};
    const bool asks_keys = bytes.below(4) == 0;
    const Room r = byte_room(bytes);
    if (r.windows.empty()) return 0;
    const PlainRays rays{r};
    if (asks_keys) {
        judge_keys(bytes, r, rays);
        return 0;
    }
    const Point3 sun = byte_sun(bytes, r);
    const room::Scene scene{r};
    for (std::size_t w = 0; w < r.windows.size(); ++w) {
        if (scene.in_front(w, sun) < 0.02) continue;
        PatchJudge{r, rays, w, sun, scene.patches(w, sun)}(bytes);
        for (std::size_t m = 0; m < r.marks.size(); ++m) {
            const double coverage = scene.coverage(m, w, sun);
            const auto agrees = [&](const Share& by_rays) {
                return std::abs(coverage - by_rays.value) <= by_rays.doubt;
            };
            if (agrees(share_of(rays, r.marks[m], w, sun))) continue;
            const Share many = share_of(rays, r.marks[m], w, sun, many_cells);
            if (!agrees(many)) fail("coverage", coverage, many.value);
        }
    }
    return 0;
}
