#pragma once
/// @file
/// What document and page of `check` both name: taped lengths with their doubts, what lamps are
/// known by.

#include <variant>
#include <vector>

#include "keyhour/site/doubts.hpp"
#include "keyhour/site/location.hpp"
#include "keyhour/sun/instant.hpp"

namespace keyhour::tell {

struct Taped {
    const char* key;   // as the file calls it
    const char* word;  // as people do
    site::LengthDoubt doubt;
};

inline std::vector<Taped> taped(const room::Window& window) {
    const site::WindowDoubts d = site::doubts(window);
    return {{"left_m", "left", d.left},
            {"width_m", "width", d.width},
            {"sill_m", "sill", d.sill},
            {"height_m", "height", d.height},
            {"reveal_m", "reveal", d.reveal}};
}

inline std::vector<Taped> taped(const room::Mark& mark) {
    const site::MarkDoubts d = site::doubts(mark);
    return {{"at", "place", d.at}, {"height_m", "height", d.height}};
}

inline std::vector<Taped> taped(const room::Camera& camera) {
    return {{"at", "place", site::doubt(camera)}};
}

inline std::vector<Taped> taped(const site::Lamp& lamp) {
    return {{"at", "place", site::doubt(lamp)}};
}

/// Of all that stands outside, the least known place.
inline site::LengthDoubt places_outside(const site::Location& location) {
    site::LengthDoubt most;
    const auto see = [&](const auto& outside) {
        const site::LengthDoubt d = site::place_doubt(outside, location);
        if (d.within_m >= most.within_m) most = d;
    };
    for (const room::Building& b : site::buildings(location))
        see(b);
    for (const site::Tree& t : location.trees)
        see(t);
    return most;
}

/// Heights outside have one doubt for all.
inline bool anything_outside(const site::Location& location) {
    return !site::buildings(location).empty() || !location.trees.empty();
}

inline double in_hours(Seconds time) {
    return time.count() / 3600;
}

inline const char* known_by(const site::Lamp& lamp) {
    if (std::holds_alternative<light::DataSheet>(lamp.photometry)) return "data sheet";
    return std::holds_alternative<site::Lumens>(lamp.photometry) ? "lumens" : "photometry";
}

}  // namespace keyhour::tell
