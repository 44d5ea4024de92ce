#pragma once
/// @file
/// What the recce found of a room's light: the forges that glow in it, and what its meter says of
/// glass and fill. RoomLight tells every level with both.

#include <vector>

#include "keyhour/study/forge_light.hpp"
#include "keyhour/study/mark_light.hpp"
#include "keyhour/study/meter_correction.hpp"

namespace keyhour::study {

/// One location's, worked out once.
class FoundInRoom {
public:
    /// Of location.found.
    /// @pre location.room holds a room
    explicit FoundInRoom(const site::Location& location);

    [[nodiscard]] const MeterCorrection& correction() const noexcept { return correction_; }
    [[nodiscard]] const std::vector<ForgeLight>& forges(std::size_t mark) const {
        return forges_[mark];
    }

    /// All that comes in by the glass's factor, what the room gives back by both; then the forges
    /// into the fill, with their colour. The band of the sum is that of its parts.
    void apply(std::size_t mark, MarkLight& light) const;
    /// The same of a room without a mark, its forges left out.
    void apply(MarkLight& light) const;
    /// What the forges give a mark, straight and by the room, lx.
    [[nodiscard]] double forge_lx(std::size_t mark) const;

private:
    MeterCorrection correction_;
    std::vector<std::vector<ForgeLight>> forges_;  ///< by mark
};

}  // namespace keyhour::study
