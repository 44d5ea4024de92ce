#include "output_place.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>

#include <cerrno>
#include <charconv>
#include <cstring>
#include <filesystem>
#include <optional>
#include <string_view>

#include "part_files.hpp"

namespace keyhour::file {

namespace fs = std::filesystem;

namespace {

/// The number in /dev/fd/3 and its like. Opened anew it would begin at the file's beginning and
/// write over what is there already.
std::optional<int> own_descriptor(std::string_view path) {
    if (path == "/dev/stdout") return STDOUT_FILENO;
    if (path == "/dev/stderr") return STDERR_FILENO;
    for (const std::string_view folder : {"/dev/fd/", "/proc/self/fd/"}) {
        if (!path.starts_with(folder)) continue;
        path.remove_prefix(folder.size());
        int number = 0;
        const auto read = std::from_chars(path.data(), path.data() + path.size(), number);
        if (read.ec == std::errc{} && read.ptr == path.data() + path.size()) return number;
    }
    return std::nullopt;
}

/// Follows symbolic links also where the last of them leads to nothing.
std::string behind_links(std::string path) {
    constexpr int most_links = 40;  // Linux's own limit
    std::error_code error;
    for (int i = 0; i < most_links && fs::is_symlink(fs::symlink_status(path, error)); ++i)
        path = (fs::path{path}.parent_path() / fs::read_symlink(path, error)).string();
    const fs::path whole = fs::weakly_canonical(path, error);
    return error ? path : whole.string();
}

bool is_locked(const std::string& path) {
    const Descriptor file{::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC)};
    if (!file.is_open()) return false;
    if (::flock(file.get(), LOCK_SH | LOCK_NB) == 0) return false;
    return errno == EWOULDBLOCK;
}

}  // namespace

Descriptor OutputPlace::open_stream() const {
    if (descriptor >= 0) return Descriptor{::fcntl(descriptor, F_DUPFD_CLOEXEC, 3)};
    return Descriptor{::open(target.c_str(), O_WRONLY | O_CLOEXEC)};
}

std::string cannot_be_written(const std::string& path, const std::string& reason) {
    return fmt::format("{}: cannot be written: {}", path, reason);
}

tl::expected<OutputPlace, std::string> output_place(const std::string& path) {
    const auto refused = [&](const char* reason) {
        return tl::unexpected{cannot_be_written(path, reason)};
    };
    if (path.empty()) return refused("the name is empty");
    if (const auto descriptor = own_descriptor(path))
        return OutputPlace{path, OutputPlace::Kind::stream, *descriptor};
    struct stat status {};
    if (::stat(path.c_str(), &status) == 0) {
        if (S_ISDIR(status.st_mode)) return refused("it is a folder");
        if (::access(path.c_str(), W_OK) != 0) return refused(std::strerror(errno));
        if (!S_ISREG(status.st_mode)) return OutputPlace{path, OutputPlace::Kind::stream, -1};
        return OutputPlace{behind_links(path), OutputPlace::Kind::plain, -1};
    }
    if (errno != ENOENT) return refused(std::strerror(errno));
    const std::string target = behind_links(path);
    if (path.ends_with('/')) return refused(std::strerror(ENOENT));
    if (::access(folder_of(target).c_str(), W_OK | X_OK) != 0) return refused(std::strerror(errno));
    return OutputPlace{target, OutputPlace::Kind::absent, -1};
}

bool is_being_written(const OutputPlace& place) {
    return place.kind != OutputPlace::Kind::stream &&
           (is_locked(place.target) || is_locked(place.target + ".resume"));
}

}  // namespace keyhour::file
