#pragma once
/// @file
/// A file of the user's own, with its text changed in its place.

#include <string>
#include <string_view>
#include <tl/expected.hpp>

namespace keyhour::file {

/// Could replace_text() put a text in place of this file's? For asking before anything is computed.
/// @return nothing, or why not: read-only, no plain file
[[nodiscard]] tl::expected<void, std::string> may_replace(const std::string& path);

/// Puts a text in place of a file's, beside-and-rename, behind a symbolic link too; on disk before
/// it takes the place. Another name of the file (a hard link) keeps the old text.
/// @param before  what the file must still hold
/// @return nothing, or why not: read-only, no plain file, changed meanwhile, disk full
[[nodiscard]] tl::expected<void, std::string> replace_text(const std::string& path,
                                                           std::string_view before,
                                                           std::string_view after);

}  // namespace keyhour::file
