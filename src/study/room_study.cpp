#include "keyhour/study/room_study.hpp"

#include <mutex>
#include <utility>

#include "keyhour/study/found_light.hpp"

namespace keyhour::study {

namespace {

room::Room with_marks_as_points(room::Room room) {
    constexpr double point_m = 1e-4;
    for (room::Mark& mark : room.marks) {
        mark.box_m.reset();
        mark.radius_m = point_m;
    }
    return room;
}

}  // namespace

struct RoomStudy::LazyFound {
    std::once_flag once;
    std::optional<FoundInRoom> light;
};

RoomStudy::RoomStudy(const site::Location& location, std::shared_ptr<const SharedTrack> shared)
    : location_{location},
      scene_{*location.room},
      centres_{with_marks_as_points(*location.room)},
      path_{location.site, std::move(shared)},
      bearings_{*location.room},
      found_{location.found.empty() ? nullptr : std::make_shared<LazyFound>()} {}

const FoundInRoom* RoomStudy::found() const {
    if (!found_) return nullptr;
    std::call_once(found_->once, [this] { found_->light.emplace(location_); });
    return &*found_->light;
}

std::vector<std::optional<std::size_t>> RoomStudy::cameras_of(std::size_t mark) const {
    std::vector<std::optional<std::size_t>> out;
    for (std::size_t i = 0; i < room().cameras.size(); ++i)
        if (room().cameras[i].aims_at == mark) out.emplace_back(i);
    if (out.empty()) out.emplace_back(std::nullopt);
    return out;
}

}  // namespace keyhour::study
