#pragma once
// The zones that the program carries, as bytes.

#include <string_view>

namespace keyhour::site {

/// A ZoneArchive's bytes, or none.
[[nodiscard]] std::string_view zone_archive_bytes();

}  // namespace keyhour::site
