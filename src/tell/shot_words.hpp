#pragma once
/// @file
/// A logged shot in words: for the one who logs it and the one who wants its light again.

#include <optional>
#include <string>

#include "keyhour/site/zone.hpp"
#include "keyhour/study/logged_shot.hpp"
#include "tell/paragraph.hpp"

namespace keyhour::tell {

/// In lx: as metered, or of an exposure value at ISO 100 (ISO 2720, C = 250).
[[nodiscard]] std::optional<double> metered_lx(std::optional<double> lux, std::optional<double> ev);

/// "sun through case window on type case, camera A": names made safe.
[[nodiscard]] std::string key_in_words(const study::LoggedShot& shot);

/// "from SSW, 209 true, 22.5 high".
[[nodiscard]] std::string direction_in_words(double azimuth_deg, double altitude_deg);

/// "computed 60 klx, metered 52 klx, 0.2 stop under that, T8"; empty if nothing is known.
[[nodiscard]] std::string level_in_words(const study::LoggedShot& shot);

/// What `log` says when the line stands in the log.
/// @param is_dark  by the location file the key reached nothing of the mark
[[nodiscard]] Paragraphs logged_page(const study::LoggedShot& shot, const std::string& log,
                                     Instant at, const site::Zone& zone, bool is_dark);

}  // namespace keyhour::tell
