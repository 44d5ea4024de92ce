#pragma once
/// @file
/// A shot as the light log keeps it: when, where, by what light.

#include <optional>
#include <string>
#include <vector>

#include "keyhour/room/plan.hpp"

namespace keyhour::study {

/// What the key of a shot was: the sun, a lamp outside, or neither (the sky, dusk, night).
enum class ShotKey { sun, lamp, sky };

/// One line of a log. Names are as the log has them and need not stand in the location file any
/// more.
struct LoggedShot {
    int line = 0;        ///< of the log, from 1
    std::string at;      ///< "2026-02-17T13:42:00+00:00", or without offset: the place's clock
    std::string name;    ///< may be empty
    std::string place;   ///< the location file, seen from the log's folder
    std::string mark;    ///< never empty
    std::string camera;  ///< may be empty
    std::string window;  ///< that the key came through; may be empty
    ShotKey key = ShotKey::sun;
    std::string lamp;                                 ///< its name, of a shot by lamp
    std::optional<room::Point2> lamp_at;              ///< on the plan
    std::optional<double> lamp_height_m;              ///< of its middle above the ground
    std::optional<double> azimuth_deg, altitude_deg;  ///< true; the key as seen from the mark
    std::optional<double> computed_lx;                ///< key and fill at the mark, clear sky
    std::optional<double> computed_kelvin;            ///< of the key
    std::optional<double> metered_lx;
    std::optional<double> t_number;
    std::vector<std::string> cloth;  ///< what hung where: names of windows, or in the crew's words
    std::string note;
    std::string file_digest;  ///< of the location file then: 16 hexadecimal digits; may be empty
};

}  // namespace keyhour::study
