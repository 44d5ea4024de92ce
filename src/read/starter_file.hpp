#pragma once
/// @file
/// A commented location file to start from; it is itself a sound location.

#include <string>

namespace keyhour::read {

struct Starter {
    std::string name = "Unnamed Workshop";
    std::string position = "52.9536N 1.1505W";
    std::string time_zone = "Europe/London";
};

/// The text of the file. Any text may stand in the fields: quotes and the like are escaped, but
/// whether a position is one shows only when the file is read.
[[nodiscard]] std::string starter_file(const Starter& starter);

}  // namespace keyhour::read
