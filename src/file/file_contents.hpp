#pragma once
/// @file
/// A whole file into memory, up to a limit, or why not.

#include <cstddef>
#include <string>
#include <tl/expected.hpp>

#include "problem.hpp"

namespace keyhour::file {

/// What a path may lead to. Nothing is waited for but a pipe that the user handed over open.
enum class Taken {
    plain_file,     ///< a regular file only: named in another file, or found in a folder
    what_was_named  ///< also a device, or a pipe of this process: /dev/fd/63, /dev/stdin
};

/// @param what      what the file should be, for complaints: "a location file"
/// @param accepted  the same in full: "accepted: a location file, as written by ..."
/// @return the bytes; a folder, an unreadable file or one of more than `most_bytes` is a problem
[[nodiscard]] tl::expected<std::string, Problem> file_contents(const std::string& path,
                                                               std::size_t most_bytes,
                                                               const std::string& what,
                                                               const std::string& accepted,
                                                               Taken taken);

/// A path written in a file, seen from the folder in which that file lies.
[[nodiscard]] std::string path_beside(const std::string& folder, const std::string& path);

}  // namespace keyhour::file
