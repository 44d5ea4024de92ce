#include "keyhour/ask/visit.hpp"

namespace keyhour::ask {

std::vector<VisitDay> visit(std::span<const BriefPlace> places,
                            const study::VisitSettings& settings) {
    std::vector<VisitDay> out;
    if (places.empty()) return out;
    for (std::size_t d = 0; d < places.front().dates.size(); ++d) {
        std::vector<study::VisitRoom> rooms;
        for (const BriefPlace& place : places) {
            study::VisitRoom room{place.place, {}};
            for (const BriefHold& hold : place.dates[d].holds)
                room.holds.push_back(hold.span);
            rooms.push_back(std::move(room));
        }
        out.push_back({places.front().dates[d].date, study::plan_visit(rooms, settings)});
    }
    return out;
}

}  // namespace keyhour::ask
