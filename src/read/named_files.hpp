#pragma once
/// @file
/// Location files that nobody named one by one, and the files that they lead to.

#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "problem.hpp"

namespace keyhour::read {

/// location_text() of a file found in a folder: a pipe or a device is a problem, never waited for.
[[nodiscard]] tl::expected<std::string, Problem> plain_location_text(const std::string& path);

/// @param path  of a location file
/// @return the path itself, and every file that a text in it names as seen from its folder:
/// skyline,
///         buildings, photometry, a tile; of a folder of tiles the files in it. A file that cannot
///         be read or is no TOML names none.
[[nodiscard]] std::vector<std::string> files_read(const std::string& path);

}  // namespace keyhour::read
