#pragma once
/// @file
/// A shoot: scenes at places over days, by a crew that stays together, as its file says it.

#include <chrono>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "keyhour/site/location.hpp"
#include "keyhour/site/lock_plan.hpp"
#include "keyhour/site/rigging.hpp"

namespace keyhour::study {

/// The light that a scene is shot in.
enum class LightWanted {
    sun_key,   ///< a clean key by the sun (clean_key.hpp)
    lamp_key,  ///< a lamp outside a window: no sun through that window (sun_free.hpp)
    late,      ///< the evening's late light at a spot, in the sun or by the sky alone
    front,     ///< direct light at a spot from that side of its camera (spot_light.hpp)
    side,
    back,
    direct,    ///< direct light at a spot, from anywhere
    daylight,  ///< the sun above a level horizon
    dusk,      ///< from sunset to the end of civil twilight
    night,     ///< from the end of nautical twilight to its beginning
    any,       ///< no light from outside is needed, or any will do
};

/// Does it need the sun itself, which clouds take away?
[[nodiscard]] constexpr bool needs_sun(LightWanted light) noexcept {
    return light == LightWanted::sun_key || light == LightWanted::late ||
           light == LightWanted::front || light == LightWanted::side ||
           light == LightWanted::back || light == LightWanted::direct;
}

struct ShootPlace {
    std::string name, file;  ///< of the location, as the program opens it
    site::Location location;
    site::Rigging rigging;  ///< its cloth's overlap is the scenes'
};

/// Somebody who is needed before the camera or behind it, and when they can be there.
struct ShootPerson {
    std::string name;
    std::optional<site::WorkingHours> hours;  ///< local; none: the shoot's
    std::vector<std::size_t> days;            ///< of Shoot::days; empty: all
};

/// Indices are those of the place's location, and of the shoot's lists.
struct ShootScene {
    std::string name;
    std::size_t place = 0;
    LightWanted light = LightWanted::any;
    std::optional<std::size_t> mark, camera, window;  ///< of a room
    std::optional<std::size_t> spot;
    std::vector<site::TaskMinutes> set_up;  ///< empty: none
    std::chrono::minutes length{0};         ///< of the shooting, 1 minute to 24 hours
    std::chrono::minutes over_run{0};       ///< the light must last so much longer
    bool repeatable = true;                 ///< no: nothing may move while it lasts, a lock
    bool may_be_dropped = false;
    bool is_cover = false;           ///< kept in reserve: after all that needs sun
    std::vector<std::size_t> after;  ///< scenes that must have ended before
    std::vector<std::size_t> same_day;
    std::optional<std::size_t> same_set_up;
    std::vector<std::size_t> people;
};

/// A move that the file gives its minutes.
struct ShootMove {
    std::size_t from = 0, to = 0;  ///< places; either way
    std::chrono::minutes length{0};
};

/// Defaults: rest and break by Directive 2003/88/EC, articles 3 and 4 (local rules and contracts
/// prevail); the break's length, the slack that is enough, speed and load: common practice, no
/// source.
struct ShootRules {
    site::WorkingHours hours = site::usual_working_hours;
    std::chrono::minutes rest{11 * 60};        ///< from wrap to the next call
    std::chrono::minutes break_after{6 * 60};  ///< longest work without a break
    std::chrono::minutes break_length{30};
    std::chrono::minutes longest_day{13 * 60};  ///< from call to wrap: 24 h less the rest
    std::chrono::minutes enough_slack{60};      ///< more is worth no more
    double speed_kmh = 30;                      ///< of moves by distance
    std::chrono::minutes load{15};              ///< out of one place and into the next
};

struct Shoot {
    std::string name;
    int crew = 1;                       ///< hands at a set-up
    std::vector<site::LocalDate> days;  ///< ascending, each once
    ShootRules rules;
    std::vector<ShootPlace> places;
    std::vector<ShootPerson> people;
    std::vector<ShootScene> scenes;
    std::vector<ShootMove> moves;

    /// All places share one clock.
    [[nodiscard]] const site::Zone& zone() const { return places.front().location.site.zone; }
};

/// Of a scene's set-up by this crew, for the largest crew given that is not above it; whole
/// minutes, up. Nothing if it needs more hands.
[[nodiscard]] std::optional<int> set_up_minutes(const ShootScene& scene, int crew) noexcept;

/// Between two places: as the file says, else the geodesic by the road's detour and the speed, with
/// the load. 0 within one place. Whole minutes, up.
[[nodiscard]] int move_minutes(const Shoot& shoot, std::size_t from, std::size_t to);

}  // namespace keyhour::study
