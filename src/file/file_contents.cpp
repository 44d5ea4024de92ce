#include "file_contents.hpp"

#include <fmt/format.h>

#include <array>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>

namespace keyhour::file {

tl::expected<std::string, read::Problem> file_contents(const std::string& path,
                                                       std::size_t most_bytes,
                                                       const std::string& what,
                                                       const std::string& accepted) {
    const auto refused = [&](std::string found, std::string wanted) {
        return tl::unexpected{read::Problem{path, 0, 0, std::move(found), std::move(wanted), {}}};
    };
    std::error_code ignored;
    if (std::filesystem::is_directory(path, ignored)) return refused("this is a folder", accepted);
    errno = 0;
    std::ifstream in{path, std::ios::binary};
    if (!in) {
        const std::string reason = errno != 0 ? std::strerror(errno) : "unknown reason";
        return refused("the file cannot be read: " + reason, accepted);
    }
    // Piece by piece: a device or a pipe has no size to ask for.
    std::string text;
    std::array<char, 16384> piece{};
    while (in && text.size() <= most_bytes) {
        in.read(piece.data(), piece.size());
        text.append(piece.data(), static_cast<std::size_t>(in.gcount()));
    }
    if (in.bad()) return refused("reading the file failed half-way", accepted);
    if (text.size() > most_bytes)
        return refused("the file is too large",
                       fmt::format("{} holds up to {} MiB", what, most_bytes >> 20U));
    return text;
}

std::string path_beside(const std::string& folder, const std::string& path) {
    return (std::filesystem::path{folder} / path).lexically_normal().string();
}

}  // namespace keyhour::file
