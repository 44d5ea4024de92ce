#pragma once
/// @file
/// The air that a site's word stands for.

#include "keyhour/light/air.hpp"
#include "keyhour/site/location.hpp"

namespace keyhour::study {

[[nodiscard]] constexpr light::Air air_of(site::AirClass air) noexcept {
    switch (air) {
        case site::AirClass::very_clear:
            return light::very_clear_air;
        case site::AirClass::normal:
            return light::normal_air;
        case site::AirClass::hazy:
            return light::hazy_air;
    }
    return light::normal_air;
}

}  // namespace keyhour::study
