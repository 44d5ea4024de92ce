#pragma once
// A location with a room: from a file, or a rectangular room with one window from a few flags.

#include <memory>
#include <string>
#include <vector>

#include "date_options.hpp"
#include "failure.hpp"
#include "keyhour/site/recce.hpp"
#include "keyhour/study/seasonal_study.hpp"
#include "read/quick_room.hpp"
#include "shown_names.hpp"

namespace keyhour::cli {

class Option;
class Options;

struct RoomOptions {
    std::string location;  // file
    read::QuickRoom quick;
    double elevation_m = 0;
    double faces_deg = 0, within_deg = -1;  // not given
    std::string north, camera, units;

    void offer(Options& command);

    /// How it was measured, and the units that its crew reads.
    [[nodiscard]] Answer<site::Recce> recce() const;

    /// A location that has a room, with at least one window.
    [[nodiscard]] Answer<site::Location> read(Names names) const;

private:
    [[nodiscard]] Answer<site::Location> read_file() const;
    [[nodiscard]] Answer<site::Location> read_quick() const;
    [[nodiscard]] std::string missing_flags() const;

    std::vector<const Option*> quick_options_;
};

/// The question, prepared. It stays where it is: the study looks at the location.
struct RoomQuestion {
    site::Location location;  // as on the first date: trees stand among the buildings
    DateRange dates;
    site::Recce recce;  // as the file says, or the flags
    std::unique_ptr<study::SeasonalStudy> seasons;

    /// The room on the first date; names, indices and bearings are those of every date.
    [[nodiscard]] const study::RoomStudy& study() const { return seasons->on(dates.first); }
    [[nodiscard]] const study::RoomStudy& study_on(site::LocalDate date) const {
        return seasons->on(date);
    }

    /// @return null if the years are not served
    [[nodiscard]] static Answer<std::unique_ptr<RoomQuestion>> ask(const RoomOptions& room,
                                                                   const DateOptions& dates,
                                                                   Names names);

    [[nodiscard]] Instant start_of(site::LocalDate date) const;
    [[nodiscard]] Instant end_of(site::LocalDate date) const;
    /// A bearing that gives no window sun all year, where the opposite one would: the question to
    /// ask; else empty.
    [[nodiscard]] std::string reversed() const;

    [[nodiscard]] std::vector<std::string> read_back(site::Units units = site::Units::metres) const;
};

}  // namespace keyhour::cli
