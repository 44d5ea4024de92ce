#pragma once
/// @file
/// A key's light with the forges that glow in the room, and as the recce's meter corrects it.

#include <map>

#include "keyhour/study/forge_light.hpp"
#include "keyhour/study/key_light.hpp"
#include "keyhour/study/meter_correction.hpp"

namespace keyhour::study {

/// One location's, worked out once.
class FoundInRoom {
public:
    /// @pre location.room holds a room; both outlive this
    FoundInRoom(const site::Location& location, const site::FoundLight& found);

    [[nodiscard]] const MeterCorrection& correction() const noexcept { return correction_; }
    [[nodiscard]] const std::vector<ForgeLight>& forges(std::size_t mark) const {
        return forges_[mark];
    }

    /// All that comes in by the glass's factor, what the room gives back by both; then the forges
    /// into the fill, with their colour. The band of the sum is that of its parts.
    void apply(std::size_t mark, MarkLight& light) const;
    void apply(std::size_t mark, LightDrift& drift) const;
    void apply(std::size_t mark, KeyLight& light) const;

private:
    MeterCorrection correction_;
    std::vector<std::vector<ForgeLight>> forges_;  ///< by mark
};

}  // namespace keyhour::study
