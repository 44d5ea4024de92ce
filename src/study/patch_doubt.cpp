#include "keyhour/study/patch_doubt.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "key_doubt_parts.hpp"
#include "keyhour/study/sun_in_room.hpp"

namespace keyhour::study {
namespace {

constexpr double never = std::numeric_limits<double>::infinity();

site::Location without_bars(site::Location location) {
    for (room::Window& w : location.room->windows)
        w.bars = {};
    return location;
}

double distance_to_edge(room::Point3 p, room::Point3 a, room::Point3 b) {
    const room::Point3 along = b - a, to = p - a;
    const double length2 = dot(along, along);
    const double share = length2 > 0 ? std::clamp(dot(to, along) / length2, 0.0, 1.0) : 0;
    const room::Point3 off = to - share * along;
    return std::sqrt(dot(off, off));
}

double distance_to_outline(room::Point3 p, const room::Patch& patch) {
    double nearest = never;
    for (const auto& ring : patch.outlines)
        for (std::size_t i = 0; i < ring.size(); ++i)
            nearest = std::min(nearest, distance_to_edge(p, ring[i], ring[(i + 1) % ring.size()]));
    return nearest;
}

double farthest_corner(const room::Patch& of, const room::Patch& from) {
    double farthest = 0;
    for (const auto& ring : of.outlines)
        for (const room::Point3 p : ring)
            farthest = std::max(farthest, distance_to_outline(p, from));
    return farthest;
}

const room::Patch* on(const std::vector<room::Patch>& patches, room::Surface surface) {
    const auto found = std::find_if(patches.begin(), patches.end(),
                                    [&](const room::Patch& p) { return p.surface == surface; });
    return found == patches.end() ? nullptr : &*found;
}

double displacement(const room::Patch* stated, const room::Patch* moved) {
    if (!stated || !moved) return never;
    return std::max(farthest_corner(*stated, *moved), farthest_corner(*moved, *stated));
}

}  // namespace

class PatchEnsemble::Member {
public:
    Member(const RoomStudy& stated, const Draw& draw)
        : location_{without_bars(moved(stated.location(), draw))},
          study_{location_, stated.path().shared()},
          clock_off_{clock_off(stated.location(), draw)} {}
    Member(const Member&) = delete;
    Member& operator=(const Member&) = delete;
    ~Member() = default;

    /// What lies in the room when the clock shows `at`.
    [[nodiscard]] std::vector<room::Patch> patches(std::size_t window, Instant at) const {
        const Moment m = study_.path().at(at - clock_off_);
        if (m.above_skyline_deg <= 0) return {};
        return study_.scene().patches(window, study_.sun(m));
    }

private:
    site::Location location_;
    RoomStudy study_;
    Seconds clock_off_;
};

PatchEnsemble::PatchEnsemble(const RoomStudy& study, const EnsembleSettings& ensemble)
    : stated_{std::make_unique<const Member>(study, Draw{CubePoint{}, DoubtScale{}})} {
    for (const Draw& draw : draws(ensemble))
        members_.push_back(std::make_unique<const Member>(study, draw));
}

PatchEnsemble::PatchEnsemble(PatchEnsemble&&) noexcept = default;
PatchEnsemble::~PatchEnsemble() = default;

std::vector<std::optional<double>> PatchEnsemble::edge_bands_m(const PatchInstant& instant) const {
    const std::size_t n = instant.patches.size();
    std::vector<std::vector<double>> off(n);
    const auto note = [&](const Member& member, auto each) {
        for (std::size_t i = 0; i < n;) {
            const std::size_t window = instant.patches[i].window;
            const auto patches = member.patches(window, instant.at);
            for (; i < n && instant.patches[i].window == window; ++i)
                each(i, on(patches, instant.patches[i].patch.surface));
        }
    };
    std::vector<std::optional<room::Patch>> stated(n);
    note(*stated_, [&](std::size_t i, const room::Patch* p) {
        if (p) stated[i] = *p;
    });
    for (const auto& member : members_)
        note(*member, [&](std::size_t i, const room::Patch* p) {
            off[i].push_back(displacement(stated[i] ? &*stated[i] : nullptr, p));
        });
    std::vector<std::optional<double>> out(n);
    for (std::size_t i = 0; i < n; ++i) {
        constexpr double share = 0.9, rounding = 1e-9;
        const auto rank = static_cast<std::ptrdiff_t>(
            std::ceil(share * static_cast<double>(off[i].size()) - rounding));
        const auto at = off[i].begin() + std::max<std::ptrdiff_t>(rank, 1) - 1;
        std::nth_element(off[i].begin(), at, off[i].end());
        if (*at < never) out[i] = *at;
    }
    return out;
}

}  // namespace keyhour::study
