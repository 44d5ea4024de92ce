#pragma once
/// @file
/// On which dates and minutes does the sun come from where a shot's key came from, through the same
/// window, on to the same mark?
///
/// The direction is held over the ground: the room has not turned since the shot, whatever is known
/// of its bearing. That the light reaches the mark is judged at the stated bearing.

#include <optional>
#include <vector>

#include "keyhour/site/lock_plan.hpp"
#include "keyhour/study/mark_light.hpp"
#include "keyhour/study/spans.hpp"

namespace keyhour::study {

/// The key of a shot, as the room's file gives it.
struct ShotLight {
    std::size_t mark = 0, window = 0;   ///< indices into the room's lists
    std::optional<std::size_t> camera;  ///< index into Room::cameras
    LevelVector toward;                 ///< unit vector from the mark to the key, along the ray
    double coverage = 1;                ///< of the mark, through the window, 0..1
    double lx = 0;                      ///< key and fill at the mark; clear sky, likely air
    std::optional<double> kelvin;       ///< of the key
};

/// Usual angle within which a direction counts as the same. Two degrees move a patch by 10 cm in 3
/// m, less than a person moves on a chair, and the sun takes 8 minutes for them. This project's
/// choice.
inline constexpr double usual_match_deg = 2;

struct MatchSettings {
    double within_deg = usual_match_deg;  ///< 0 < within_deg <= 30
    double coverage = 0.95;               ///< of the mark, wanted; more than the shot had is not
    site::WorkingHours hours = site::usual_working_hours;
};

/// The sun at one instant beside a shot's key.
struct MatchMoment {
    Instant at;
    double off_deg = 0;           ///< between the two directions
    double azimuth_off_deg = 0;   ///< -180..180, positive: the sun stands further to the right
    double altitude_off_deg = 0;  ///< positive: higher
    /// How far the light through the window's middle has moved, in a plane through the mark's
    /// centre, square to the shot's key. Right as seen by who looks from the mark to the key.
    double shift_m = 0, shift_right_m = 0, shift_up_m = 0;
};

/// One local date.
struct DateMatch {
    site::LocalDate date;
    std::vector<Span> spans;  ///< direction and light agree, in working hours; ascending
    /// The least angle at which the key reaches the mark, in working hours; nothing: never then.
    std::optional<MatchMoment> nearest;
    /// The same at any hour, where it lies outside of them and is nearer.
    std::optional<MatchMoment> out_of_hours;
    [[nodiscard]] bool agrees() const noexcept { return !spans.empty(); }
};

/// @param first,last  dates, inclusive
/// @return one a date, ascending
/// @pre the study's track reaches two days past the dates; the settings lie in their ranges
[[nodiscard]] std::vector<DateMatch> light_matches(const RoomStudy& study, site::LocalDate first,
                                                   site::LocalDate last, const ShotLight& shot,
                                                   const MatchSettings& settings);

/// The sun at one instant beside the shot.
[[nodiscard]] MatchMoment match_moment(const RoomStudy& study, const ShotLight& shot, Instant at);

/// Angle between two unit vectors, degrees; exact for small ones.
[[nodiscard]] double degrees_between(const LevelVector& a, const LevelVector& b) noexcept;

/// The direction over the ground of one over the plan.
[[nodiscard]] LevelVector over_the_ground(const room::Room& room, room::Point3 toward) noexcept;

/// The window through which direct sun covers most of the mark then; nothing if none does.
[[nodiscard]] std::optional<std::size_t> lighting_window(const RoomStudy& study, std::size_t mark,
                                                         const Moment& m);
/// Share of the mark that direct sun through the window covers then: nothing below the skyline, or
/// past cloth.
[[nodiscard]] double sunlit_share(const RoomStudy& study, std::size_t mark, std::size_t window,
                                  const Moment& m);

/// Whether this lamp can stand in for the sun: outside, and it can be aimed.
[[nodiscard]] bool can_be_key(const site::Lamp& lamp) noexcept;

}  // namespace keyhour::study
