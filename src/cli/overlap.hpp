#pragma once
// What cloth overlaps its opening.

#include <string>

namespace keyhour::cli {

/// As the file says, else the usual. @param file  empty: a room by flags
[[nodiscard]] double overlap_of(const std::string& file);

}  // namespace keyhour::cli
