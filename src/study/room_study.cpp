#include "keyhour/study/room_study.hpp"

#include <utility>

namespace keyhour::study {

RoomStudy::RoomStudy(const site::Location& location, std::shared_ptr<const SharedTrack> shared)
    : location_{location},
      scene_{*location.room},
      path_{location.site, std::move(shared)},
      bearings_{*location.room} {}

std::vector<std::optional<std::size_t>> RoomStudy::cameras_of(std::size_t mark) const {
    std::vector<std::optional<std::size_t>> out;
    for (std::size_t i = 0; i < room().cameras.size(); ++i)
        if (room().cameras[i].aims_at == mark) out.emplace_back(i);
    if (out.empty()) out.emplace_back(std::nullopt);
    return out;
}

}  // namespace keyhour::study
