#pragma once
/// @file
/// How level, ratio and colour move while a hold lasts.

#include <optional>
#include <utility>

#include "keyhour/study/mark_light.hpp"
#include "keyhour/study/spans.hpp"
#include "keyhour/study/sun_path.hpp"

namespace keyhour::study {

/// How the light moves while a hold lasts.
struct LightDrift {
    MarkLight at_start, at_end;
    [[nodiscard]] double key_stops() const;  ///< of the key's level, positive when it rises
    [[nodiscard]] std::optional<double> ratio_stops() const;  ///< of key to fill
    [[nodiscard]] std::optional<double> key_mired() const;    ///< positive: the key grows warmer
    /// Of the key, over both ends: the lowest and highest that the air may make it.
    [[nodiscard]] light::Band air_alone() const;
};

/// Where a hold's light is looked at: a second inside, as its ends may be where the sun goes.
[[nodiscard]] std::pair<Instant, Instant> inside(const Span& hold);

/// @param from,to  of the hold; looked at as above
[[nodiscard]] LightDrift drift(const RoomLight& light, const SunPath& path, std::size_t mark,
                               std::size_t key_window, Instant from, Instant to);

}  // namespace keyhour::study
