#pragma once
// What cloth overlaps its opening.

#include <string>

#include "read/changes.hpp"

namespace keyhour::cli {

/// As the file says, else the usual. @param file  empty: a room by flags
[[nodiscard]] double overlap_of(const std::string& file, const read::Changes& changes = {});

}  // namespace keyhour::cli
