#pragma once
/// @file
/// Files in memory in place of the disk: what a page hands over with its question.

#include <cstddef>
#include <map>
#include <string>
#include <tl/expected.hpp>

#include "problem.hpp"

namespace keyhour::file {

/// While it lives, file_contents() of this thread reads these files and nothing on the disk.
class HeldFiles {
public:
    /// @param texts  by name; a name in a folder is written with '/'
    explicit HeldFiles(std::map<std::string, std::string> texts);
    HeldFiles(const HeldFiles&) = delete;
    HeldFiles& operator=(const HeldFiles&) = delete;
    ~HeldFiles();

    /// Null where the disk is read.
    [[nodiscard]] static const HeldFiles* now() noexcept;

    /// As file_contents().
    [[nodiscard]] tl::expected<std::string, Problem> contents(const std::string& path,
                                                              std::size_t most_bytes,
                                                              const std::string& what,
                                                              const std::string& accepted) const;

private:
    std::map<std::string, std::string> texts_;
    const HeldFiles* before_;
};

}  // namespace keyhour::file
