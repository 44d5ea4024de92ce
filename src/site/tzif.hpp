#pragma once
// The bytes of a zone file understood: TZif, versions 1 to 4. Source: RFC 8536, section 3; the
// parts that it has in common with RFC 9636.

#include <optional>
#include <string>
#include <string_view>
#include <tl/expected.hpp>

#include "zone_source.hpp"

namespace keyhour::site {

/// The last line of a TZif file (RFC 8536, section 3.3): a POSIX TZ string, or empty.
[[nodiscard]] std::string last_line_of_zone_file(std::string_view bytes);

/// What keeps these bytes from being a TZif file, such as "does not begin with \"TZif\""; nothing
/// if they are one.
[[nodiscard]] std::optional<std::string> fault_of_zone_file(std::string_view bytes);

/// The file's changes and its rule; a rule that cannot be read leaves the last offset listed.
/// @return or the file's fault
[[nodiscard]] tl::expected<NamedZone, std::string> zone_in(std::string_view bytes);

}  // namespace keyhour::site
