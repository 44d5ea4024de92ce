#pragma once
/// @file
/// A whole file into memory, up to a limit, or why not.

#include <cstddef>
#include <string>
#include <tl/expected.hpp>

#include "read/problem.hpp"

namespace keyhour::file {

/// @param what      what the file should be, for complaints: "a location file"
/// @param accepted  the same in full: "accepted: a location file, as written by ..."
/// @return the bytes; a folder, an unreadable file or one of more than `most_bytes` is a problem
[[nodiscard]] tl::expected<std::string, read::Problem> file_contents(const std::string& path,
                                                                     std::size_t most_bytes,
                                                                     const std::string& what,
                                                                     const std::string& accepted);

/// A path written in a file, seen from the folder in which that file lies.
[[nodiscard]] std::string path_beside(const std::string& folder, const std::string& path);

}  // namespace keyhour::file
