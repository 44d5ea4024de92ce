#pragma once
/// @file
/// What meter readings of the recce say about a room's glass and about what it gives back.
///
/// A reading inside is compared with what an incident meter turned to the brightest window should
/// have read there under the sky that was noted. With the sun on the place it speaks of the glass
/// (dirt, a coating, another pane than the file's): a factor on all that comes in. In the shade it
/// speaks of the fill: a factor on what the room gives back. The air of that day may explain a
/// difference too: the figure takes the share, in stops, that its own doubt has of both squared
/// (least squares; that low and high of a band lie two standard deviations off is this project's
/// choice). A reading outside within half an hour and under the same sky tells that day's air, and
/// leaves all but 0.15 stop to the room.
///
/// At most: glass 0.6 to 1.1 of itself, fill half to twice; several readings by their geometric
/// mean. A reading beyond what air and these can explain corrects nothing, and is asked about.
/// What stays: sky and sun as the models have them, geometry, forges, lamps and exteriors.

#include <vector>

#include "keyhour/light/clear_sky.hpp"
#include "keyhour/site/location.hpp"

namespace keyhour::study {

/// One reading beside what was expected of it.
struct MeterVerdict {
    enum class Of { outside, glass, fill, nothing };
    site::MeterReading reading;
    light::Band expected_lx;  ///< over the airs
    double stops = 0;         ///< the reading over the likely one
    Of of = Of::nothing;      ///< which figure it corrects; nothing: beyond what can be
    double factor = 1;        ///< on that figure, by this reading alone
};

struct MeterCorrection {
    double glass = 1, fill = 1;
    std::vector<MeterVerdict> verdicts;  ///< those outside first
    [[nodiscard]] bool corrects() const { return glass != 1 || fill != 1; }
};

/// Of location.found. Costs a few ms for each reading inside; none where there is no reading.
/// @pre location.room holds a room
[[nodiscard]] MeterCorrection meter_correction(const site::Location& location);

}  // namespace keyhour::study
