#pragma once
// How the camera is set, and which stop is wanted, from the command line.

#include <optional>
#include <string>

#include "failure.hpp"
#include "keyhour/study/stop_wish.hpp"

namespace keyhour::cli {

class Options;

struct ExposureOptions {
    std::string stop;
    std::optional<double> iso, fps, shutter_deg, meter_constant, tolerance_stops;
    std::optional<double> shutter_part;  ///< of a second, where the shutter is typed as a time

    void offer(Options& command);
    [[nodiscard]] bool is_given() const;
    /// ISO 800, 25 frames a second and 180 degrees stand for what is not given beside something.
    [[nodiscard]] Answer<study::CameraSetting> read() const;

private:
    // "1/50", "1/50 s": kept apart, as its angle hangs on the frames. The angle is a whole turn
    // then.
    std::optional<double> exposure_time(const std::string& text);
};

/// "T4", "4", "T2.8 1/3" (thirds up from there) as a T number; nothing if it is none.
[[nodiscard]] std::optional<double> read_stop(const std::string& text);

}  // namespace keyhour::cli
