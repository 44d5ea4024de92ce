#pragma once
/// @file
/// Where does the sun fall in the room, instant by instant, how bright is it there, and what does
/// it cross on its way?

#include <map>
#include <optional>
#include <vector>

#include "keyhour/ask/room_question.hpp"
#include "keyhour/study/patch_day.hpp"
#include "keyhour/study/patch_doubt.hpp"
#include "keyhour/study/patch_light.hpp"
#include "keyhour/study/patch_way.hpp"

namespace keyhour::ask {

struct PatchRequest {
    bool light = false;  ///< levels, contrast and beams in haze
    bool doubt = false;  ///< how far edges may be off
};

/// One instant.
struct PatchAnswer {
    study::PatchInstant instant;
    std::optional<study::PatchLight> light;  ///< nothing: not asked
    /// Of each patch by how many metres its edge may be off (PatchEnsemble::edge_bands_m), nothing:
    /// it may not be there; none at all: not asked.
    std::optional<std::vector<std::optional<double>>> bands_m;
};

/// Instant by instant; the light and the rooms of the doubt are prepared once for each season.
class Patches {
public:
    /// @pre the question outlives this
    explicit Patches(const RoomQuestion& question, const PatchRequest& request = {})
        : question_{question}, request_{request} {}

    /// @pre `at` lies on the date, which is one of the question's
    [[nodiscard]] PatchAnswer at(Instant at, site::LocalDate date);

private:
    const RoomQuestion& question_;
    PatchRequest request_;
    std::map<const study::RoomStudy*, study::RoomLight> lights_;
    std::map<const study::RoomStudy*, study::PatchEnsemble> ensembles_;
};

/// Instants of the date, `step` apart from local midnight on, at which the sun stands above the
/// level plane. @pre step > 0
[[nodiscard]] std::vector<Instant> sunlit_instants(const RoomQuestion& question,
                                                   site::LocalDate date, Seconds step);

/// Does any window have sun in it at one of the instants of the first date?
[[nodiscard]] bool any_patch(const RoomQuestion& question, const std::vector<Instant>& instants);

/// What patches cross on one date.
struct WayAnswer {
    const study::RoomStudy& study;  ///< the question's, of the date
    site::Units units;              ///< of the crew
    site::LocalDate date;
    std::vector<study::NamedPoint> points;   ///< as asked
    std::vector<study::Crossing> crossings;  ///< of the date, by window
};

/// study::crossings of each date, ascending.
/// @param points  places that the file does not name
[[nodiscard]] std::vector<WayAnswer> ways(const RoomQuestion& question,
                                          const std::vector<study::NamedPoint>& points);

}  // namespace keyhour::ask
