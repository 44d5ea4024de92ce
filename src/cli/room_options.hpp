#pragma once
// A location with a room: from a file, or a rectangular room with one window from a few flags.

#include <memory>
#include <string>
#include <vector>

#include "change_option.hpp"
#include "date_options.hpp"
#include "failure.hpp"
#include "keyhour/ask/room_question.hpp"
#include "keyhour/site/recce.hpp"
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
    ChangeOption what_if;

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

using ask::RoomQuestion;

/// The question about the room and the dates that were asked for.
[[nodiscard]] Answer<std::unique_ptr<RoomQuestion>> ask_room(const RoomOptions& room,
                                                             const DateOptions& dates, Names names);

}  // namespace keyhour::cli
