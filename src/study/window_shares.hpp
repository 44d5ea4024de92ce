#pragma once
/// @file
/// What a window makes of the light outside, whatever that is: geometry and glass alone.

#include "keyhour/study/mark_light.hpp"
#include "outside_light.hpp"
#include "radians.hpp"

namespace keyhour::study {

/// Light for one unit of each of Outside's illuminances: geometry alone.
struct Shares {
    double direct = 0, blue = 0, grey = 0, ground = 0, building = 0;
    [[nodiscard]] double ground_lx(const Outside& o) const {
        constexpr double half_the_sky = 0.5;
        return ground_reflectance / pi *
               (ground * o.global_lx + building * half_the_sky * o.diffuse_lx());
    }
    [[nodiscard]] double direct_lx(const Outside& o) const { return direct * o.direct_normal_lx; }
    [[nodiscard]] double sky_lx(const Outside& o) const {
        return blue * o.blue_lx + grey * o.grey_lx;
    }
};

/// Everything about one window and instant that does not depend on the air.
struct WindowShares {
    Shares mark, entering;
    double coverage = 0, landing = 0;
};

/// What has come through the glass, before any cover.
[[nodiscard]] Entering arriving(const WindowShares& shares, const Outside& outside);

/// What has passed the cover.
[[nodiscard]] Entering entering(const WindowShares& shares, const Outside& outside,
                                room::Cover cover);

}  // namespace keyhour::study
