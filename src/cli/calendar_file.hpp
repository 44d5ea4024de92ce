#pragma once
// The calendar that a new one takes the place of, and when the new one is made.

#include <string>

#include "keyhour/sun/instant.hpp"

namespace keyhour::cli {

/// The calendar that lies there; empty where there is none of ours, or no path.
[[nodiscard]] std::string earlier_calendar(const std::string& path);

/// Now; or SOURCE_DATE_EPOCH, which is how a build that is to give the same bytes again says so.
[[nodiscard]] Instant calendar_made_at();

}  // namespace keyhour::cli
