#pragma once
/// @file
/// What the outside shines into a room with, by cloud and air; and light added up with its colour.

#include <array>
#include <cstddef>
#include <optional>
#include <span>

#include "keyhour/light/clear_sky.hpp"
#include "keyhour/light/overcast.hpp"

namespace keyhour::study {

/// What the outside shines with at one instant: illuminances on a level plane.
struct Outside {
    double direct_normal_lx = 0;
    double blue_lx = 0, grey_lx = 0;  ///< of sky with the clear sky's gradation, and the cloud's
    double global_lx = 0;
    [[nodiscard]] double diffuse_lx() const { return blue_lx + grey_lx; }
};

/// What the outside may be: the second is the likely one.
struct Outsides {
    static constexpr std::size_t most = 7, likely = 1;
    std::array<Outside, most> all{};
    std::size_t count;
    [[nodiscard]] std::span<const Outside> each() const { return std::span{all}.first(count); }
};

/// The clear sky over the neighbouring airs.
struct ClearSkies {
    light::SkyLevels clearer, likely, hazier;
};

[[nodiscard]] Outside clear_outside(const light::SkyLevels& l);

/// Under mean cloud also the mean over the neighbouring airs: clouds that the sun lights make the
/// sky brighter than either a clear or a closed one does, and a mark in the shade has that alone.
[[nodiscard]] Outsides outsides_of(const ClearSkies& clear, const light::SkyState& state,
                                   light::Cloud cloud);

/// Light added up with its colour.
struct Mix {
    light::Tristimulus sum;
    void add(double lx, const light::Tristimulus& of) {
        if (lx > 0 && of.Y > 0) sum = sum + (lx / of.Y) * of;
    }
    /// Nothing where the level is too low for a colour.
    [[nodiscard]] std::optional<double> kelvin() const;
};

/// Of what comes in from outside.
struct Colours {
    light::Tristimulus direct, sky, both;  ///< both: on a level plane
    Colours(const light::SkyLevels& l, double sine_altitude);
};

}  // namespace keyhour::study
