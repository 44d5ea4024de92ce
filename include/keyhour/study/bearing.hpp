#pragma once
/// @file
/// Which way a wall faces, from any number of observations.

#include <memory>
#include <optional>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "keyhour/site/location.hpp"
#include "keyhour/study/circle_fit.hpp"
#include "keyhour/study/clock_shift.hpp"
#include "keyhour/study/observation.hpp"
#include "keyhour/study/sun_path.hpp"

namespace keyhour::study {

/// Evidence about one room.
struct BearingQuestion {
    std::size_t wall = 0;                   ///< asked about; index into Room::walls
    std::vector<Observation> observations;  ///< one or more
    /// How far the clock behind all times may be off: it moves them together.
    double clock_within_s = usual_clock_within_s;
    /// Somebody has compared it: no error of it is looked for.
    bool clock_is_checked = false;
};

/// What must be wrong where a corner of a patch does not lie where it should.
enum class Culprit {
    none,              ///< it lies where it should
    clock,             ///< one shift of the clock mends height and bearing
    heights,           ///< the bearing fits, sill or head do not
    clock_or_heights,  ///< either would do; nothing else tells them apart
    bearing_or_left,   ///< the height fits, the bearing or the window's place does not
    more_than_one
};

/// What a patch corner says about the sun's altitude.
struct AltitudeCheck {
    double measured_deg = 0;  ///< from sill or head
    double sun_deg = 0;       ///< apparent, at the time stated
    double sigma_deg = 0;     ///< of their difference
    Culprit culprit = Culprit::none;
    std::optional<double> clock_off_s;  ///< the shift of the time that would mend it
    double edge_m = 0;                  ///< height of sill or head as in the file,
    double edge_would_be_m = 0;         ///< and as the corner has it
};

/// One observation beside the answer.
struct ObservationResult {
    Azimuth faces;                    ///< of the wall asked about, from this observation alone
    std::optional<Azimuth> or_faces;  ///< its other reading
    /// Of a timed one, where an error of the clock is suspected: with its time put right.
    std::optional<Azimuth> if_clock;
    Residual residual;
    std::optional<AltitudeCheck> altitude;
    /// At the answer's bearing the sun was this far behind the wall it is about, degrees.
    std::optional<double> sun_behind_deg;
    /// The same at the bearing that the file states, where its doubt does not explain it.
    std::optional<double> sun_behind_in_file_deg;
    bool behind_skyline = false;  ///< the site's own horizon hid the sun then, as the file has it
};

/// What an error of the clock that is suspected would mean.
struct ClockDoubt {
    ClockTrial trial;
    Azimuth faces;     ///< the wall, if the clock was so much off
    Angle within_95;   ///< of it
    Azimuth if_right;  ///< if the clock was right, as the observations then have it
    Angle if_right_within_95;
};

/// Where an error of the clock is suspected the answer is the range that holds both cases: its
/// middle, its half, and as standard uncertainty what would give that half.
struct BearingAnswer {
    std::size_t wall = 0;                    ///< as asked
    Azimuth faces;                           ///< the wall looks out, from true north
    Azimuth plan;                            ///< bearing of the plan's +y axis that goes with it
    Angle sigma;                             ///< standard uncertainty
    Angle within_95;                         ///< 1.96 of it
    CircleFit fit;                           ///< of the plan's bearing
    std::vector<Sighting> sightings;         ///< what the fit was made of
    std::vector<ObservationResult> results;  ///< one an observation
    std::optional<Azimuth> other;            ///< as likely, told apart by the file's bearing alone
    std::vector<ClockTrial> clock_trials;    ///< the likeliest first; none without a timed one
    std::optional<ClockDoubt> clock;         ///< the clock may have been wrong: nothing is decided
    /// Whether the bearing may go into the file: one wall, one way out, one clock.
    [[nodiscard]] bool is_settled() const noexcept { return !other && !clock; }
};

/// The sun over all observations and a day around them. @return null if a year is not served
[[nodiscard]] std::shared_ptr<const SharedTrack> track_over(
    const std::vector<Observation>& observations);

/// @param path  over the site, from track_over
/// @return the answer, or one message for each observation that can't be: "shadow 2: ...". Where
///         all are sound but contradict each other, and no error of the clock mends it, one message
///         that lists what each says.
[[nodiscard]] tl::expected<BearingAnswer, std::vector<std::string>> bearing_of_wall(
    const site::Location& location, const SunPath& path, const BearingQuestion& question);

}  // namespace keyhour::study
