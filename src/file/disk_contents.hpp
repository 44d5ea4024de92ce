#pragma once
// file_contents() of a file on the disk: the part of it that needs an operating system.

#include "file_contents.hpp"

namespace keyhour::file {

[[nodiscard]] tl::expected<std::string, Problem> disk_contents(const std::string& path,
                                                               std::size_t most_bytes,
                                                               const std::string& what,
                                                               const std::string& accepted,
                                                               Taken taken);

}  // namespace keyhour::file
