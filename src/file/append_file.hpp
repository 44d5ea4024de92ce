#pragma once
/// @file
/// One record added at the end of a file that others may add to at the same moment, and that nobody
/// may lose: what stands there is never written over.

#include <functional>
#include <string>
#include <string_view>
#include <tl/expected.hpp>

namespace keyhour::file {

/// What goes to the end of a file that holds `before` now; or why nothing may be added to it.
using AddedText = std::function<tl::expected<std::string, std::string>(std::string_view before)>;

/// Reads the file (none yet: nothing), asks what is to be added, writes that at the end in one call
/// and waits until it is on the disk. All of it under the file's lock (flock), which is waited for
/// ten seconds: who else appends by this function reads what was added here. A write that the disk
/// takes only a part of is taken back, unless somebody has added to it meanwhile.
/// @param most_bytes  a larger file is refused
/// @return or why nothing was added, naming `path`
[[nodiscard]] tl::expected<void, std::string> append_to(const std::string& path,
                                                        std::size_t most_bytes,
                                                        const AddedText& added);

}  // namespace keyhour::file
