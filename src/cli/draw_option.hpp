#pragma once
// --draw and --ascii of the commands about a room.

#include <optional>

#include "failure.hpp"
#include "keyhour/study/clean_key.hpp"
#include "room_options.hpp"

namespace keyhour::cli {

class Options;

struct DrawOption {
    bool draw = false, ascii = false;

    void offer(Options& command);

    /// What speaks against drawing: a range of dates, or JSON.
    [[nodiscard]] std::optional<Failure> misplaced(const DateRange& dates, bool json) const;

    /// The plan with the patches of the hours (without any: of whole hours), then the strip.
    void print(std::ostream& out, const RoomQuestion& q, const study::KeySettings& settings,
               std::vector<Instant> hours) const;
};

}  // namespace keyhour::cli
