#pragma once
/// @file
/// When does a logged shot's light come again, what will differ, and from where would a lamp give
/// it?

#include <memory>
#include <optional>
#include <vector>

#include "keyhour/ask/room_question.hpp"
#include "keyhour/study/lamp_report.hpp"
#include "keyhour/study/light_match.hpp"
#include "keyhour/study/logged_shot.hpp"

namespace keyhour::ask {

/// A logged shot, its names found in the location. Indices hold for the location's lists.
struct MatchRequest {
    Instant shot_at;
    study::ShotKey key = study::ShotKey::sun;  ///< sun or lamp
    std::size_t mark = 0;
    std::optional<std::size_t> window;  ///< else the one that lights the mark best
    std::optional<std::size_t> camera;
    std::optional<std::size_t> lamp;       ///< that stood there, or is to stand in for the sun
    std::optional<room::Point2> lamp_at;   ///< of a shot by lamp
    std::optional<double> lamp_height_m;   ///< above the ground
    std::vector<std::size_t> black_cloth;  ///< windows that it hung in
    study::MatchSettings settings;
};

/// What a moment's level and colour are beside the shot's.
struct MatchChange {
    double lx = 0;                        ///< key and fill at the mark, as computed
    double stops = 0;                     ///< to the shot's computed level; positive: brighter
    std::optional<double> mired;          ///< of the key; positive: warmer
    std::optional<double> key_angle_deg;  ///< at the shot's camera, unsigned
};

struct MatchedDate {
    study::DateMatch match;
    std::optional<MatchChange> change;  ///< at match.nearest
};

/// What a shot's light was, by the room's file.
struct ShotAnswer {
    std::unique_ptr<RoomQuestion> day;  ///< the room on the shot's date
    study::ShotLight light;
    double azimuth_deg = 0, altitude_deg = 0;  ///< of the key; altitude along the ray
    std::optional<double> key_angle_deg;       ///< unsigned, at the shot's camera
    bool is_lit = true;  ///< the key reached some of the mark through the window
    /// The lamp that restores it, if one is at hand: where it stood, or where it is like the sun.
    std::optional<study::LampReport> lamp;
    study::LampQuestion lamp_question;  ///< that it answers
};

/// The answer.
struct MatchAnswer {
    ShotAnswer shot;
    std::unique_ptr<RoomQuestion> dates_asked;
    std::vector<MatchedDate> dates;
};

/// Why there is none.
enum class NoMatch {
    years_not_served,
    no_direction,  ///< the key was neither sun nor lamp
    sun_was_down,
    no_window,      ///< none is named, and none lights the mark then
    no_lamp_place,  ///< a shot by lamp without the lamp's place
};

/// @param location  as read, with a room and a window
/// @pre request's indices lie in the location's lists
[[nodiscard]] tl::expected<ShotAnswer, NoMatch> shot(const site::Location& location,
                                                     const site::Recce& recce,
                                                     const MatchRequest& request);

/// The same, and when it comes again.
/// @pre as shot(); dates.first <= dates.last
[[nodiscard]] tl::expected<MatchAnswer, NoMatch> match(const site::Location& location,
                                                       const DateRange& dates,
                                                       const site::Recce& recce,
                                                       const MatchRequest& request);

}  // namespace keyhour::ask
