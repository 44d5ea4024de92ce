#pragma once
/// @file
/// The light at one exterior spot: when direct sun comes and goes and what takes it, from which
/// side it falls, how long shadows are, how bright it is, and what the moon does afterwards.
///
/// Direct light is judged at the spot itself, at its eye height: the light on what stands there.
/// The sun counts as a point, its centre, along the refracted ray.

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "keyhour/light/clear_sky.hpp"
#include "keyhour/site/location.hpp"
#include "keyhour/site/outlook.hpp"
#include "keyhour/study/day.hpp"
#include "keyhour/study/spans.hpp"
#include "keyhour/sun/moon.hpp"

namespace keyhour::study {

/// Every number is a setting; the defaults are common practice, no source.
struct SpotSettings {
    LateLightBand late_light;                         ///< sun -4 to +6 degrees
    LateLightBand low_sun{{}, {Angle::degrees(6)}};   ///< sun 0 to +6 degrees
    double front_below_deg = 60;                      ///< key angle, unsigned
    double back_above_deg = 120;                      ///< side light lies between
    double raking_from_deg = 60, raking_to_deg = 88;  ///< off square to the wall
    double person_m = 1.7, stand_m = 3;               ///< what throws a shadow
    Seconds set_up{20 * 60}, shot{10 * 60};           ///< the shot follows the set-up
    std::optional<double> floor_lx;                   ///< "too dark" by the sky alone
};

/// Direct light from one side of the camera.
struct SideSpan {
    Span span;
    site::Side side = site::Side::front;  ///< front, side or back
};

/// When the set-up must begin so that the shot, right after it, ends before the light goes.
struct SafeStart {
    Span light;                     ///< in which the shot runs
    std::optional<Instant> latest;  ///< nothing if the light is shorter than the shot
    Seconds slack{};  ///< by how much the day may slip: the light's length less the shot's
};

/// The longest of them; null if there is none.
[[nodiscard]] const SafeStart* longest(const std::vector<SafeStart>& starts) noexcept;

/// The moon over the spot at one instant.
struct MoonSight {
    Instant at;
    sun::MoonPosition position;       ///< topocentric
    double illuminated_fraction = 0;  ///< of its disc, 0..1
    bool waxing = false;              ///< its lit part grows
    bool hidden = false;              ///< below the skyline
    double level_lx = 0;              ///< on level ground, clear air; 0 if hidden
};

/// Why a date has no direct light.
enum class NoDirect { has_some, sun_stays_down, stays_in_shade };

/// A date at a spot. Spans ascend.
struct SpotDay {
    site::LocalDate date;
    bool exists = true;  ///< a zone that moves across the date line leaves a date out
    NoDirect no_direct = NoDirect::has_some;
    std::vector<DirectSpan> direct;  ///< at the spot, over all that stands around
    std::vector<SideSpan> sides;     ///< of the direct light, ascending
    std::vector<Span> wanted;        ///< direct light from the side that the spot wants
    std::vector<Span> in_frame, in_frame_upright;  ///< the sun stands in the camera's frame
    std::vector<Span> on_facade, raking;           ///< empty if the spot names no wall
    std::vector<LateLight> late_light, low_sun;    ///< of the settings' two bands
    std::vector<SafeStart> for_wanted;             ///< of `wanted`, one each
    /// Of the evening's late light what the shot wants: the sun from its side; the whole of it
    /// where any light will do.
    std::vector<SafeStart> for_late_light;
    std::optional<Instant> set, civil_dusk, nautical_dusk;  ///< the dusks that follow the set
    std::optional<Instant> below_floor;  ///< evening; if SpotSettings::floor_lx is asked for
    std::vector<sun::Crossing> moon_rise_and_set;  ///< over a level horizon
    sun::Side moon = sun::Side::crosses;           ///< else it stays up, or down, all day
    std::vector<MoonSight> moon_sights;            ///< at civil dusk, nautical dusk and midnight
};

/// Shadows of a person and of a stand, of the settings' heights.
struct Shadow {
    Azimuth toward;                    ///< opposite the sun
    double person_m = 0, stand_m = 0;  ///< lengths on level ground
};

/// Stops lost over the next ten minutes; negative while the light still grows.
struct Fall {
    double low = 0, likely = 0, high = 0;  ///< over the neighbouring airs, ascending
};

/// The light at a spot at one instant.
struct SpotInstant {
    Instant at;
    sun::Position sun;
    bool lit = false;                     ///< the sun's centre is in sight from the spot's eye
    std::string shaded_by;                ///< empty while lit
    double through_trees = 1;             ///< share of the direct light that thin trees let through
    Angle key_angle;                      ///< -180..180; positive: light from camera left
    site::Side side = site::Side::front;  ///< by the settings' key angles
    bool in_frame = false, in_frame_upright = false;  ///< lying and upright
    std::optional<Angle> incidence;  ///< on the spot's wall, 0..180: from 90 on it is in shade
    std::optional<Shadow> shadow;    ///< nothing within half a degree of the horizon and below
    light::SkyBand sky;  ///< of the open sky: the direct part is what a spot in the sun has, before
                         ///< thin trees take their share
    std::optional<Fall> direct_fall, sky_fall;  ///< nothing where there is no light to lose
    MoonSight moon;
};

/// Key angle of light from `azimuth`: 0 from the camera, 180 back light; unsigned sides as in
/// SpotSettings; positive: the light stands to the left of the lens axis, as the camera sees it.
[[nodiscard]] Angle key_angle(Angle camera_bearing, Azimuth azimuth) noexcept;

/// Angle between the light and the outward normal of a vertical wall, 0..180 degrees.
/// @param toward  unit vector to the light
[[nodiscard]] Angle incidence_on_wall(Angle wall_faces, const LevelVector& toward) noexcept;

/// Length of a shadow on level ground: height / tan(altitude). @pre altitude above 0
[[nodiscard]] double shadow_length(double height_m, Altitude altitude) noexcept;

/// One spot prepared for questions.
class SpotLight {
public:
    /// @pre spot < location.spots.size(), and the location outlives this
    SpotLight(const site::Location& location, std::size_t spot,
              std::shared_ptr<const SharedTrack> shared, const SpotSettings& settings = {});

    /// @pre the track covers the date and six hours to either side
    [[nodiscard]] SpotDay on(site::LocalDate date) const;

    /// What the sky gives in a date's late light and low sun.
    void add_sky(SpotDay& day) const;

    /// @pre the track covers t and ten minutes after it
    [[nodiscard]] SpotInstant at(Instant t) const;
    [[nodiscard]] SpotInstant at(Instant t, const site::Outlook& outlook) const;

    [[nodiscard]] MoonSight moon(Instant t, const site::Outlook& outlook) const;

    /// Is any of the sun above a level horizon? @pre the track covers t
    [[nodiscard]] bool sun_is_up(Instant t) const;

    /// The building, or the room, in which the spot stands; empty if it stands in the open.
    [[nodiscard]] std::string stands_in() const;

    [[nodiscard]] const site::Spot& spot() const noexcept { return spot_; }
    [[nodiscard]] const SpotSettings& settings() const noexcept { return settings_; }
    [[nodiscard]] const site::Location& location() const noexcept { return location_; }

private:
    class DateWork;

    const site::Location& location_;
    const site::Spot& spot_;
    SpotSettings settings_;  ///< as given
    std::shared_ptr<const SharedTrack> shared_;
    SunPath path_;  ///< its own skyline is level: outlooks say what is in the way
    sun::Place place_;
};

}  // namespace keyhour::study
