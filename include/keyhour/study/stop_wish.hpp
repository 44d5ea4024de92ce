#pragma once
/// @file
/// A stop that the crew want to shoot at, and whether a hold's light allows it.

#include <optional>

#include "keyhour/light/exposure.hpp"
#include "keyhour/study/light_drift.hpp"

namespace keyhour::study {

/// Too much light goes down with neutral density; too little cannot be made.
struct StopWish {
    light::Exposure exposure;          ///< valid
    double t_number = 4;               ///< > 0
    double tolerance_stops = 1.0 / 3;  ///< how far under it the level may lie, >= 0

    /// What the stop asks for at the mark.
    [[nodiscard]] double level_lx() const { return light::level_for_lx(t_number, exposure); }
};

/// What was said about the camera. Without it levels are told as EV at ISO 100 alone.
struct CameraSetting {
    light::Exposure exposure;
    bool is_given = false;
    std::optional<StopWish> wish{};  ///< with the same exposure
};

/// Stops that levels lie over the one wanted, negative: so much is missing; minus infinity in the
/// dark. They are the neutral density that brings them down.
[[nodiscard]] light::Band stops_over(const light::Band& metered_lx, const StopWish& wish);

/// The smaller of both ends: sun is weakest where it is lowest, and lowest at one of them. Likely
/// air; with its low the hazier one.
[[nodiscard]] light::Band weakest_stops(const LightDrift& drift, const StopWish& wish);

/// In likely air, at both ends.
[[nodiscard]] bool allows(const LightDrift& drift, const StopWish& wish);

}  // namespace keyhour::study
