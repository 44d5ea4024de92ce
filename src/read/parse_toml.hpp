#pragma once
/// @file
/// A text into a tree, with every syntax error in it told.

#include "fields.hpp"
#include "source_text.hpp"

namespace keyhour::read {

/// The parsed file. toml++ stops at the first error; so each broken statement is noted, blanked
/// out, and the rest parsed again.
[[nodiscard]] toml::table parse_toml(SourceText& source, Findings& findings);

}  // namespace keyhour::read
