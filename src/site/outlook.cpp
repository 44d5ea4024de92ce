#include "keyhour/site/outlook.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "keyhour/site/plan_frame.hpp"

namespace keyhour::site {
namespace {

using room::Point2;

Outlook::Kind kind_of(const Horizon& far, const HorizonSource& source) {
    if (far.is_level()) return Outlook::Kind::level;
    return source.kind == HorizonSource::Kind::terrain ? Outlook::Kind::terrain
                                                       : Outlook::Kind::profile;
}

const char* words_of(Outlook::Kind far) {
    return far == Outlook::Kind::level     ? "horizon"
           : far == Outlook::Kind::terrain ? "ridge"
                                           : "skyline";
}

}  // namespace

const char* far_words(const Horizon& far, const HorizonSource& source) noexcept {
    return words_of(kind_of(far, source));
}

Outlook::Outlook(const Location& location, room::Point3 eye, const Horizon& far, LocalDate date)
    : eye_{eye},
      turn_{PlanFrame{location}.bearing_of_y()},
      far_{far},
      far_kind_{kind_of(far, location.site.horizon_source)} {
    const double ground = ground_m(location);
    const auto& all = buildings(location);
    for (std::size_t i = 0; i < all.size(); ++i) {
        building_words_.push_back(room::words(all[i]));
        // A location in_season() holds its trees twice; here they stand as trees.
        if (all[i].kind == room::Building::Kind::building)
            add(all[i].footprint, ground + all[i].height_m, Kind::building, i, 1);
    }
    for (std::size_t i = 0; i < location.trees.size(); ++i) {
        const Tree& tree = location.trees[i];
        tree_names_.push_back(tree.name);
        add(tree.footprint, ground + tree.height_m, Kind::tree, i,
            is_closed(tree, date) ? 1 : opacity_on(tree, date));
    }
    if (location.room) add(location.room->floor, location.room->height_m, Kind::own_walls, 0, 1);
}

Outlook::Outlook(const Location& location, const Spot& spot, LocalDate date)
    : Outlook{location, eye_of(location, spot),
              spot.horizon ? *spot.horizon : location.site.horizon, date} {}

void Outlook::add(const room::Ring& footprint, double top_m, Kind kind, std::size_t index,
                  double opacity) {
    if (footprint.size() < 3) return;
    const Point2 eye{eye_.x, eye_.y};
    Prism made;
    made.top = top_m - eye_.z;
    made.kind = kind;
    made.index = index;
    made.opacity = opacity;
    made.around = room::contains(footprint, eye);
    for (const Point2 p : footprint) {
        made.footprint.push_back(p - eye);
        made.middle = made.middle + (1.0 / static_cast<double>(footprint.size())) * (p - eye);
    }
    for (const Point2 p : made.footprint)
        made.radius = std::max(made.radius, room::length(p - made.middle));
    (opacity < 1 ? thin_ : closed_).push_back(std::move(made));
}

/// The stretch of a ray from the eye over the footprint: from its first to its last edge.
bool Outlook::crosses(const Prism& prism, Point2 direction, double& nearest,
                      double& farthest) noexcept {
    nearest = std::numeric_limits<double>::infinity();
    farthest = 0;
    // Most things stand aside: their circle tells.
    if (std::abs(cross(direction, prism.middle)) > prism.radius ||
        dot(direction, prism.middle) < -prism.radius)
        return false;
    const std::size_t n = prism.footprint.size();
    const auto meet = [&](double distance) {
        if (distance < 0) return;
        nearest = std::min(nearest, distance);
        farthest = std::max(farthest, distance);
    };
    for (std::size_t i = 0; i < n; ++i) {
        const Point2 a = prism.footprint[i], b = prism.footprint[(i + 1) % n];
        const double a_side = cross(direction, a), b_side = cross(direction, b);
        if (a_side == 0) meet(dot(direction, a));  // both corners of an edge along the ray
        if (b_side == 0) meet(dot(direction, b));
        if ((a_side < 0) != (b_side < 0) && a_side != b_side)
            meet(dot(direction, a + (a_side / (a_side - b_side)) * (b - a)));
    }
    return nearest <= farthest;
}

Outlook::Top Outlook::top_at(Azimuth bearing) const noexcept {
    Top best;
    best.kind = far_kind_;
    if (far_kind_ != Kind::level) best.altitude = far_.altitude_at(bearing);
    const room::Point3 level = turn_.to_plan({sin(bearing.from_north), cos(bearing.from_north), 0});
    for (const Prism& prism : closed_) {
        double nearest = 0, farthest = 0;
        Angle altitude;
        if (prism.around && prism.top > 0) {
            altitude = Angle::degrees(90);
        } else if (crosses(prism, {level.x, level.y}, nearest, farthest)) {
            // What stands above the eye is highest at its near edge, what lies below at its far
            // one.
            altitude = Angle::radians(std::atan2(prism.top, prism.top > 0 ? nearest : farthest));
        } else {
            continue;
        }
        if (altitude > best.altitude.above_horizon) best = {{altitude}, prism.kind, prism.index};
    }
    return best;
}

double Outlook::passes(Azimuth bearing, Altitude altitude) const noexcept {
    double share = 1;
    const room::Point3 level = turn_.to_plan({sin(bearing.from_north), cos(bearing.from_north), 0});
    const double rise = tan(altitude.above_horizon);
    for (const Prism& prism : thin_) {
        double nearest = 0, farthest = 0;
        if (!crosses(prism, {level.x, level.y}, nearest, farthest)) continue;
        if (prism.around) nearest = 0;
        if (std::min(rise * nearest, rise * farthest) < prism.top) share *= 1 - prism.opacity;
    }
    return share;
}

std::string Outlook::words(const Top& top) const {
    switch (top.kind) {
        case Kind::level:
        case Kind::profile:
        case Kind::terrain:
            return words_of(top.kind);
        case Kind::building:
            return building_words_[top.index];
        case Kind::tree:
            return "tree " + tree_names_[top.index];
        case Kind::own_walls:
            return "own walls outside";
    }
    return {};
}

}  // namespace keyhour::site
