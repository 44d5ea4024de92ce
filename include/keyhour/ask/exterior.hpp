#pragma once
/// @file
/// When is the light outside where a shot wants it, what takes it, and what is left of it? Each
/// place outside on each date, and what facades throw back into the room.

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "keyhour/ask/site_question.hpp"
#include "keyhour/study/countdown.hpp"
#include "keyhour/study/facade_light.hpp"
#include "keyhour/study/seasonal_study.hpp"
#include "keyhour/study/spot_doubt.hpp"
#include "keyhour/study/spot_lamps.hpp"
#include "keyhour/study/spot_light.hpp"

namespace keyhour::ask {

/// A place outside that stands inside a building, or the room.
struct SpotInside {
    std::size_t spot = 0;  ///< index into location.spots
    std::string thing;     ///< in which it stands, as study::SpotLight::stands_in names it
};

/// The places outside that are asked about, prepared. It stays where it is: its answers look at it.
class ExteriorQuestion {
public:
    /// @param spots  indices into location.spots, each once
    /// @return null if the sun's series do not serve these years, as SiteQuestion::prepare
    [[nodiscard]] static std::unique_ptr<ExteriorQuestion> prepare(
        site::Location location, const DateRange& dates, const site::Recce& recce,
        std::vector<std::size_t> spots, const study::SpotSettings& settings);

    [[nodiscard]] const site::Location& location() const noexcept { return site->location; }
    [[nodiscard]] const site::Zone& zone() const noexcept { return site->zone(); }
    [[nodiscard]] bool has_facade() const noexcept { return rooms.has_value(); }

    std::unique_ptr<SiteQuestion> site;
    study::SpotSettings settings;
    std::vector<std::size_t> spots;        ///< as asked
    std::vector<study::SpotLight> lights;  ///< of `spots`, in their order
    std::vector<SpotInside> inside;        ///< direct light is judged as if from inside the thing
    std::optional<study::SeasonalStudy> rooms;  ///< if a facade throws light back into a room
};

/// What is asked of a place on a date beside when its light comes and goes.
struct SpotRequest {
    bool rows = false;              ///< the light at single instants
    std::vector<Instant> instants;  ///< those; empty: whole hours with the sun up
    bool ends = false;              ///< between which times its direct light comes and goes
    bool sky = false;               ///< what the sky gives in late light
};

/// One place outside on one date.
struct SpotAnswer {
    const study::SpotLight& light;  ///< the question's
    study::SpotDay day;
    std::vector<study::SpotInstant> rows;         ///< ascending; empty: not asked
    std::vector<study::SpotEnsemble::Ends> ends;  ///< of each direct light; empty: not asked
    std::vector<study::LampAtSpot> lamps;         ///< lamps of the street, in the file's order
    std::optional<Instant> sky_below;  ///< from when the clear sky gives less than the lamps
};

/// @param spot  index into question.spots
/// @pre the date is one of the question's
[[nodiscard]] SpotAnswer exterior(const ExteriorQuestion& question, std::size_t spot,
                                  site::LocalDate date, const SpotRequest& request = {});

/// Sun that facades throw into the room on a date; none without a room and a facade.
[[nodiscard]] std::vector<study::FacadeLight> thrown_back(const ExteriorQuestion& question,
                                                          site::LocalDate date);

/// What is left of the light that one place's shot wants.
struct SpotCountdown {
    const study::SpotLight& light;  ///< the question's
    study::ShotWish wish;
    std::optional<study::LastStart> last;     ///< nothing: the light is too short for the shot
    std::vector<study::CountdownStep> steps;  ///< to the end of that light
};

struct CountdownAnswer {
    std::vector<SpotCountdown> spots;     ///< in the question's order
    std::optional<Instant> from;          ///< nothing: not asked from when on
    std::vector<study::TimedShot> order;  ///< what still fits from then on
};

/// @param days  of the question's places, one each; without any, or on a date that the zone leaves
///              out, nothing is left to count
/// @param from  without it the steps are those of the light's last two hours
[[nodiscard]] CountdownAnswer countdown(const ExteriorQuestion& question,
                                        std::span<const study::SpotDay> days,
                                        const std::optional<Instant>& from);

}  // namespace keyhour::ask
