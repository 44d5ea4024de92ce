#pragma once
/// @file
/// A location's room prepared for questions: geometry and sun path are worked out once.

#include <memory>
#include <optional>
#include <vector>

#include "keyhour/room/scene.hpp"
#include "keyhour/site/location.hpp"
#include "keyhour/study/bearings.hpp"
#include "keyhour/study/sun_path.hpp"

namespace keyhour::study {

class FoundInRoom;

/// A location prepared for questions about its room.
/// @pre location.room holds a room, and the location outlives this
class RoomStudy {
public:
    /// Prepares the room's two scenes.
    /// @pre shared is not null
    RoomStudy(const site::Location& location, std::shared_ptr<const SharedTrack> shared);

    [[nodiscard]] const site::Location& location() const noexcept { return location_; }
    [[nodiscard]] const room::Room& room() const noexcept { return *location_.room; }
    /// The room prepared for rays.
    [[nodiscard]] const room::Scene& scene() const noexcept { return scene_; }
    /// The same room with every mark shrunk to its centre.
    [[nodiscard]] const room::Scene& centres() const noexcept { return centres_; }
    /// The sun over the site.
    [[nodiscard]] const SunPath& path() const noexcept { return path_; }
    /// The plan's turns within the bearing's doubt.
    [[nodiscard]] const Bearings& bearings() const noexcept { return bearings_; }

    /// Sun direction in the plan's axes at the stated bearing.
    [[nodiscard]] room::Point3 sun(const Moment& m) const noexcept {
        return bearings_.stated.to_plan(m.toward);
    }

    /// What the recce found of its light, worked out when it is first asked for (a few
    /// milliseconds a meter reading). Null where the location has neither forge nor reading.
    [[nodiscard]] const FoundInRoom* found() const;

    /// Cameras that aim at a mark; one "none" if there is no such camera.
    [[nodiscard]] std::vector<std::optional<std::size_t>> cameras_of(std::size_t mark) const;

private:
    const site::Location& location_;
    room::Scene scene_, centres_;
    SunPath path_;
    Bearings bearings_;
    struct LazyFound;
    std::shared_ptr<LazyFound> found_;
};

}  // namespace keyhour::study
