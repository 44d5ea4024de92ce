#pragma once
// The lock that a light sheet is about: as the location file plans it, or by flags.

#include <optional>
#include <string>

#include "failure.hpp"
#include "keyhour/site/location.hpp"
#include "options.hpp"

namespace keyhour::cli {

struct LockOptions {
    double minutes = 0;  // not given
    std::string start, end, key_window, lamp;

    void offer(Options& command);

    /// Writes what the flags say into the location's plan; without any it stays as it is.
    [[nodiscard]] std::optional<Failure> plan(site::Location& location) const;
};

}  // namespace keyhour::cli
