#include "keyhour/study/forge_light.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "keyhour/light/configuration_factor.hpp"
#include "keyhour/light/inter_reflection.hpp"
#include "radians.hpp"
#include "room/vectors.hpp"
#include "room_surfaces.hpp"
#include "way_between.hpp"

namespace keyhour::study {

using room::Point3;

namespace {

/// Luminance behind the opening, cd/m2: level = luminance x pi x configuration factor.
double luminance_cd_m2(const site::Forge& f) {
    const double factor = light::parallel_factor(
        {-f.width_m / 2, f.width_m / 2, -f.height_m / 2, f.height_m / 2, f.metered_at_m});
    return f.metered_lx / (pi * factor);
}

/// The opening's width, level, and its height, as vectors.
struct Sides {
    Point3 across, up;
};

Sides sides_of(const site::Forge& f) {
    const double level = std::hypot(f.facing.x, f.facing.y);
    // Of one that looks straight up the width lies along the plan's x.
    const Point3 across =
        level < 1e-9 ? Point3{1, 0, 0} : Point3{-f.facing.y / level, f.facing.x / level, 0};
    return {across, room::cross3(f.facing, across)};
}

/// Mean over floor, walls and ceiling, by area; windows are the forge's least concern.
light::RoomReflectances reflectances_of(const room::Room& room) {
    double around = 0;
    for (std::size_t i = 0; i < room.floor.size(); ++i)
        around += length(room.floor[(i + 1) % room.floor.size()] - room.floor[i]);
    const double floor = std::abs(room::signed_area(room.floor)), walls = around * room.height_m;
    const std::array surfaces{light::ReflectingArea{floor, room.reflectance.floor},
                              light::ReflectingArea{walls, room.reflectance.walls},
                              light::ReflectingArea{floor, room.reflectance.ceiling}};
    const double mean = light::mean_reflectance(surfaces);
    return {2 * floor + walls, mean, mean, mean};
}

}  // namespace

double forge_level_lx(const site::Forge& forge, Point3 at) {
    const Point3 ahead = at - forge.at;
    if (dot(ahead, forge.facing) <= 0) return 0;
    const Sides s = sides_of(forge);
    const Point3 toward = room::unit(forge.at - at);
    std::array<light::Ray, 4> corners{};
    constexpr std::array<std::array<double, 2>, 4> signs{{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}}};
    for (std::size_t i = 0; i < 4; ++i) {
        const Point3 c = forge.at + (signs[i][0] * forge.width_m / 2) * s.across +
                         (signs[i][1] * forge.height_m / 2) * s.up - at;
        corners[i] = {c.x, c.y, c.z};
    }
    return luminance_cd_m2(forge) * pi *
           light::polygon_factor(corners, {toward.x, toward.y, toward.z});
}

std::vector<ForgeLight> forge_light(const room::Room& room, const std::vector<site::Forge>& forges,
                                    std::size_t mark) {
    std::vector<ForgeLight> out;
    const room::Mark& m = room.marks[mark];
    const Point3 at{m.at.x, m.at.y, m.height_m};
    for (const site::Forge& f : forges) {
        ForgeLight l{
            .name = f.name, .blocked = what_stands_between(room, f.at, at), .kelvin = f.kelvin};
        if (!l.blocked) l.mark_lx = forge_level_lx(f, at);
        const light::RoomReflectances r = reflectances_of(room);
        const double lumens = luminance_cd_m2(f) * pi * f.width_m * f.height_m;
        l.given_back_lx = light::sphere_lx(lumens, r.mean, r);
        out.push_back(l);
    }
    return out;
}

double at_mark_lx(const std::vector<ForgeLight>& forges) {
    double sum = 0;
    for (const ForgeLight& f : forges)
        sum += f.mark_lx;
    return sum;
}

double given_back_lx(const std::vector<ForgeLight>& forges) {
    double sum = 0;
    for (const ForgeLight& f : forges)
        sum += f.given_back_lx;
    return sum;
}

}  // namespace keyhour::study
