#pragma once
/// @file
/// A date and a time of day as somebody noted them.

#include <string>
#include <tl/expected.hpp>

#include "keyhour/site/zone.hpp"
#include "keyhour/sun/instant.hpp"

namespace keyhour::read {

/// What a time read off a clock says, and how closely.
struct TimeText {
    Instant at;
    bool has_seconds = false;
};

/// "2026-02-10T15:20" on the site's clock; with "+01:00" or "Z" behind it on that one.
/// @return what it says, or what is wrong and what is accepted
[[nodiscard]] tl::expected<TimeText, std::string> read_moment(const std::string& text,
                                                              const site::Zone& zone);

}  // namespace keyhour::read
